// The lesson in plain sentences. In: a Timeline and what of it is wanted. Out: a Reading: headings, paragraphs, lists
// and bars, in the order a listener needs them (tuning, shapes, form, then section by section). Invariant: what we say
// holds letters, digits and the punctuation of sentences, no signs of music; every onset, string, fret and finger of
// the Timeline can be told from it, where a repeat names the bars it repeats. Read next: aloud/print.h, aloud/words.h.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tunesheaf/score/timeline.h"

namespace tunesheaf::aloud {

/// `lead` is said by the program, in English; `writers` are words of the song file that follow it.
struct Sentence {
  std::string lead, writers;
  std::string address;  ///< of a link; empty for none
};

enum class BlockKind : std::uint8_t {
  Title,       ///< once, at the top
  Heading,     ///< listed in the table of contents
  Subheading,  ///< a part within a section
  Text,        ///< a paragraph
  List,        ///< one item a sentence
  Bar          ///< what happens in a bar, or in several that are said at once
};

struct Block {
  BlockKind kind = BlockKind::Text;
  std::vector<Sentence> sentences;  ///< of a title or heading: one
  bool music = false;               ///< a heading of a section of the song
};

struct Reading {
  std::string title;
  std::string language;  ///< of the writer's words: "en", "de-AT"
  std::vector<Block> blocks;
};

/// Indices into the Timeline; the caller has looked the names up.
struct Request {
  std::optional<int> part, section;
  std::optional<std::pair<int, int>> bars;  ///< printed numbers, first and last
};

Reading read(const score::Timeline& song, const Request& request);

}  // namespace tunesheaf::aloud
