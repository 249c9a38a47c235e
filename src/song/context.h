// What every reading function shares. In: the file, the sink, the names that the song itself gives. Out: faults with
// places. Invariant: names are gathered before anything else is read, since lanes may use them before their place.
// Read next: fields.h, lanes.h.
#pragma once
#include <deque>
#include <string>
#include <string_view>
#include <vector>

#include "name_book.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/song/song.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::song {

struct Context {
  const source::File& file;
  diag::Sink& sink;
  NameBook shapes{}, patterns{};
  std::vector<std::string> parts{}, recordings{}, sections{};
  std::vector<const yaml::Node*> lane_blocks{};  ///< every value that was read as lanes, for tidying
  std::deque<yaml::Node> mended{};               ///< mappings with a misspelt key read as the one that is meant
  std::vector<std::string> parts_misnamed{};     ///< names of parts that are not, each said once

  void fault(diag::Kind kind, Span span, std::string situation, std::string rule, std::string remedy) {
    sink.add(kind, span, std::move(situation), std::move(rule), std::move(remedy));
  }
};

/// The place of `length` bytes from `offset` in a scalar's text; the whole scalar where folding or escapes moved them.
Span inner_span(const Context& context, const yaml::Node& scalar, std::size_t offset, std::size_t length);

/// "did you mean ...?" as a remedy: the nearest of `known`, or all of them when there are few, or `otherwise`.
std::string nearest_remedy(std::string_view word, const std::vector<std::string>& known, std::string otherwise);

// Scalars. Each adds a fault and returns nothing when the node is not what is wanted; `key` names it in the message.
std::optional<Text> read_text(Context& context, const yaml::Node& key, const yaml::Node& value);
std::optional<Text> read_language(Context& context, const yaml::Node& key, const yaml::Node& value);
std::optional<Text> read_address(Context& context, const yaml::Node& key, const yaml::Node& value);
std::optional<Spanned<int>> read_integer(Context& context, const yaml::Node& key, const yaml::Node& value, int least,
                                         int most);
std::optional<Spanned<bool>> read_yes_no(Context& context, const yaml::Node& key, const yaml::Node& value);
std::optional<Seconds> read_time(Context& context, const yaml::Node& key, const yaml::Node& value);
std::optional<Spanned<TempoMark>> read_tempo(Context& context, const yaml::Node& key, const yaml::Node& value);
std::optional<Spanned<Feel>> read_feel(Context& context, const yaml::Node& key, const yaml::Node& value);
std::optional<Spanned<theory::Interval>> read_transposition(Context& context, const yaml::Node& key,
                                                            const yaml::Node& value);
std::optional<Text> read_pick_up(Context& context, const yaml::Node& key, const yaml::Node& value);
std::optional<Authority> read_authority(Context& context, const yaml::Node& key, const yaml::Node& value);
/// The key "from".
inline void read_from(Context& context, const yaml::Entry& entry, Authority& from) {
  if (const auto read = read_authority(context, entry.key, entry.value)) from = *read;
}
/// One of the words of the key's entry in the table.
std::optional<Text> read_choice(Context& context, std::string_view place, const yaml::Node& key,
                                const yaml::Node& value);

/// Words between blanks, or the items of a list, each with its place; nothing when the node is neither.
std::optional<std::vector<Text>> read_words(Context& context, const yaml::Node& key, const yaml::Node& value,
                                            std::string_view wanted);
/// One name, or several in a list or with commas between them; each once.
std::vector<Text> read_names(Context& context, const yaml::Node& key, const yaml::Node& value, std::string_view wanted);
std::vector<Spanned<int>> read_strings(Context& context, const yaml::Node& key, const yaml::Node& value);

// Parts of a song, each in a file of its own.
std::optional<Song> read_with(Context& context, const yaml::Node& root);
void gather_names(Context& context, const yaml::Node& root);
void read_frets(Context& context, const yaml::Node& key, const yaml::Node& value, ShapeDef& shape);
void read_fingers(Context& context, const yaml::Node& key, const yaml::Node& value, ShapeDef& shape);
RecordingDef read_recording(Context& context, const yaml::Entry& entry);
PartDef read_part(Context& context, const yaml::Entry& entry);
ShapeDef read_shape(Context& context, const yaml::Entry& entry);
PatternDef read_pattern(Context& context, const yaml::Entry& entry);
SectionDef read_section(Context& context, const yaml::Entry& entry);
std::vector<FormEntry> read_form(Context& context, const yaml::Node& value);
std::vector<Stanza> read_lanes(Context& context, const yaml::Node& key, const yaml::Node& value);
/// Lanes alone, or the keys of "bars".
PartContent read_content(Context& context, const yaml::Entry& entry);

}  // namespace tunesheaf::song
