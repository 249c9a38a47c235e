// The one table of the song language: every key, lane and sign. In: nothing. Out: entries from which reading, the
// nearest-word hints, the JSON Schema, the written reference and the tests are all made. Invariant: the reader accepts
// nothing that is not here, and reads everything that is. Read next: song/read.h.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace tunesheaf::song {

enum class EntryKind : unsigned char { Key, Lane, Sign, FormWord };

struct LanguageEntry {
  EntryKind kind{};
  std::string_view word;     ///< the key, lane name, or sign as typed ("h5")
  std::string_view where;    ///< for keys: "song", "part", "shape", "section", …; for signs: the lanes they stand on
  std::string_view value;    ///< what may stand behind it, in words
  std::string_view meaning;  ///< one or two plain sentences
  std::string_view example;  ///< one line that is valid at that place
};

const std::vector<LanguageEntry>& language();
/// Entries whose word matches, or all; printed for people.
std::string print_reference(std::string_view word);
/// JSON Schema, draft 2020-12.
std::string json_schema();

}  // namespace tunesheaf::song
