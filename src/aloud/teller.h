// What all chapters of a reading share. In: the Timeline and the request. Out: blocks, appended in order. Invariant:
// only parts and bars that were asked for are spoken of. Read next: aloud/reading.h, and read.cpp, which calls the
// chapters one after another.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/aloud/reading.h"
#include "tunesheaf/aloud/words.h"
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::aloud {

using base::Fraction;

struct Teller {
  const score::Timeline& song;
  const Request& request;
  Reading& out;

  bool wants_part(int part) const { return !request.part || *request.part == part; }
  bool wants_section(int section) const { return !request.section || *request.section == section; }
  bool wants_bar(const score::Bar& bar) const {
    return !request.bars || (bar.number >= request.bars->first && bar.number <= request.bars->second);
  }
  /// The whole song, or one part of it all the way through.
  bool whole() const { return !request.section && !request.bars; }
  const score::Part& part(int index) const { return song.parts[static_cast<std::size_t>(index)]; }

  void heading(const std::string& text, bool music = false) {
    out.blocks.push_back({BlockKind::Heading, {{text, "", ""}}, music});
  }
  void subheading(const std::string& text) { out.blocks.push_back({BlockKind::Subheading, {{text, "", ""}}}); }
  /// Empty lists of sentences leave no block.
  void block(BlockKind kind, std::vector<Sentence> sentences) {
    if (!sentences.empty()) out.blocks.push_back({kind, std::move(sentences)});
  }
};

void tell_head(Teller& teller);
void tell_tunings(Teller& teller);
void tell_shapes(Teller& teller);
void tell_form(Teller& teller);
void tell_sections(Teller& teller);

/// The shapes that the wanted bars and parts use, in the order of the song.
std::vector<int> shapes_wanted(const Teller& teller);
/// ", the teacher's own, instead of a held F sharp", or empty.
std::string authority_words(song::Authority from, const std::string& instead_of);

}  // namespace tunesheaf::aloud
