// Look-ups in the one table. In: a word as typed. Out: its entry, or nothing. Invariant: every look-up takes constant
// time, whatever the size of the table. Read next: tunesheaf/song/language.h.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/lists.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::song {

using base::list_words;

inline constexpr int kMostStrings = 12;

/// A lane's entry, and the number of its string (0 when the name has none).
struct LaneMatch {
  const LanguageEntry* entry = nullptr;
  int string = 0;
};

/// `name` with single blanks.
std::optional<LaneMatch> find_lane(std::string_view name);
/// Names as they are typed, for hints: "1", "thumb 4", "palm mute".
const std::vector<std::string>& lane_names();

const LanguageEntry* find_key(std::string_view place, std::string_view word);
const LanguageEntry* find_form_word(std::string_view text);
const std::vector<std::string>& form_words();

/// The language's word for what another habit calls `typed` ("hi-hat": hat); for hints only.
std::optional<std::string> word_meant_by(EntryKind kind, std::string_view typed);

/// The group under which the signs of a lane stand in the table ("string lanes", "drums").
std::string_view sign_group(LaneKind kind);
/// The signs of a lane, those of every lane left out.
std::vector<const LanguageEntry*> signs_of(LaneKind kind);

/// Words of an entry's `choices`.
std::vector<std::string> choices_of(const LanguageEntry& entry);
bool is_choice(const LanguageEntry& entry, std::string_view word);

/// Blanks at the ends dropped, runs of blanks made one.
std::string single_blanks(std::string_view text);
/// Parts between blanks.
std::vector<std::string> split_blanks(std::string_view text);

}  // namespace tunesheaf::song
