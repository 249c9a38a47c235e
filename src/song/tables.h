// The four parts of the one table, joined in language.cpp. Each entry's example is read by a test at the place it
// speaks of, so the reference cannot say what the reader does not do. Read next: vocabulary.h.
#pragma once
#include <vector>

#include "tunesheaf/song/language.h"

namespace tunesheaf::song {

void add_keys(std::vector<LanguageEntry>& table);
void add_lanes(std::vector<LanguageEntry>& table);
void add_signs(std::vector<LanguageEntry>& table);
void add_form_words(std::vector<LanguageEntry>& table);

}  // namespace tunesheaf::song
