#include "tunesheaf/song/language.h"

#include "tables.h"
#include "vocabulary.h"

namespace tunesheaf::song {

const std::vector<LanguageEntry>& language() {
  static const std::vector<LanguageEntry> table = [] {
    std::vector<LanguageEntry> all;
    add_keys(all);
    add_lanes(all);
    add_signs(all);
    add_form_words(all);
    return all;
  }();
  return table;
}

std::vector<std::string> keys_at(std::string_view place) {
  std::vector<std::string> keys;
  for (const LanguageEntry& entry : language()) {
    if (entry.kind == EntryKind::Key && entry.where == place) keys.emplace_back(entry.word);
  }
  return keys;
}

}  // namespace tunesheaf::song
