#include <algorithm>
#include <cctype>
#include <set>

#include "context.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/song/language.h"
#include "vocabulary.h"

namespace tunesheaf::song {
namespace {

constexpr std::size_t kPageWidth = 100;  // columns
constexpr std::size_t kIndent = 6;

/// Words broken into lines, each with the same indent.
void paragraph(std::string& out, std::string_view text, std::size_t indent) {
  std::size_t column = 0;
  for (const std::string& word : split_blanks(text)) {
    if (column > 0 && indent + column + 1 + base::display_columns(word) > kPageWidth) {
      out += '\n';
      column = 0;
    }
    if (column == 0) {
      out.append(indent, ' ');
    } else {
      out += ' ';
      ++column;
    }
    out += word;
    column += base::display_columns(word);
  }
  out += '\n';
}

std::string kind_words(const LanguageEntry& entry) {
  const std::string where(entry.where);
  switch (entry.kind) {
    case EntryKind::Key:
      return "key of " + (where == "song"   ? "the song"
                          : where == "bars" ? "a part's music"
                          : where == "times"
                              ? "`times`"
                              : (std::string("aeiou").find(where[0]) != std::string::npos ? "an " : "a ") + where);
    case EntryKind::Lane:
      return "lane (" + where + ")";
    case EntryKind::Sign:
      return where == "every lane" ? "sign on every lane" : "sign (" + where + ")";
    case EntryKind::FormWord:
      return "in the form";
  }
  return {};
}

void print_entry(std::string& out, const LanguageEntry& entry) {
  out += std::string(entry.word) + "  -  " + kind_words(entry);
  if (!entry.value.empty()) out += ": " + std::string(entry.value);
  if (entry.required) out += " (needed)";
  out += '\n';
  paragraph(out, entry.meaning, kIndent);
  if (!entry.choices.empty()) paragraph(out, "one of: " + list_words(choices_of(entry), " or "), kIndent);
  out.append(kIndent, ' ');
  out += std::string(entry.example) + "\n";
}

void heading(std::string& out, const std::string& text) {
  if (!out.empty()) out += '\n';
  out += text + "\n" + std::string(text.size(), '=') + "\n";
}

std::string group_heading(const LanguageEntry& entry) {
  const std::string where(entry.where);
  switch (entry.kind) {
    case EntryKind::Key: {
      if (where == "song") return "Keys of the song";
      if (where == "bars") return "Keys of a part's music";
      if (where == "times") return "Keys of times";
      return "Keys of " + std::string(std::string("aeiou").find(where[0]) != std::string::npos ? "an " : "a ") + where;
    }
    case EntryKind::Lane:
      return "Lanes: " + where;
    case EntryKind::Sign:
      return where == "every lane" ? "Signs on every lane" : "Signs: " + where;
    case EntryKind::FormWord:
      return "Words of the form";
  }
  return {};
}

std::string whole_reference() {
  std::string out;
  std::string last;
  for (const LanguageEntry& entry : language()) {
    const std::string group = group_heading(entry);
    if (group != last) heading(out, group);
    last = group;
    print_entry(out, entry);
  }
  return out;
}

bool is_string_number(std::string_view word) {
  const auto match = find_lane(word);
  return match && match->string > 0;
}

/// Everything the word can mean: the entry itself, the group of that name, a string by number, a sign with any fret.
std::vector<const LanguageEntry*> entries_for(const std::string& word) {
  std::vector<const LanguageEntry*> found;
  const auto take = [&](const LanguageEntry& entry) {
    if (std::find(found.begin(), found.end(), &entry) == found.end()) found.push_back(&entry);
  };
  for (const LanguageEntry& entry : language()) {
    if (entry.word == word) take(entry);
  }
  if (is_string_number(word)) take(*find_lane(word)->entry);
  for (const LanguageEntry& entry : language()) {
    if (entry.where == word) take(entry);
    const auto lane = find_lane(word);
    if (lane && entry.kind == EntryKind::Sign && entry.where == sign_group(lane->entry->lane)) take(entry);
  }
  return found;
}

bool is_letter(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0;
}

/// True when `text` holds the word as a word of its own or its plural; capitals do not count.
bool speaks_of(std::string_view text, const std::string& word) {
  const auto same = [](char a, char b) {
    return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
  };
  auto at = text.begin();
  while ((at = std::search(at, text.end(), word.begin(), word.end(), same)) != text.end()) {
    auto after = at + static_cast<std::ptrdiff_t>(word.size());
    if (after != text.end() && *after == 's') ++after;
    if ((at == text.begin() || !is_letter(*(at - 1))) && (after == text.end() || !is_letter(*after))) return true;
    ++at;
  }
  return false;
}

/// Entries that explain the word under another name: "tie", "bend", "triplet".
std::vector<const LanguageEntry*> entries_about(const std::string& word) {
  std::vector<const LanguageEntry*> found;
  for (const LanguageEntry& entry : language()) {
    if (entry.word != word && (speaks_of(entry.value, word) || speaks_of(entry.meaning, word))) found.push_back(&entry);
  }
  return found;
}

/// One line of words to look up next; empty when there are none.
std::string see_also(const std::vector<const LanguageEntry*>& shown, const std::string& word) {
  std::string line;
  std::set<std::string_view> seen;
  for (const LanguageEntry* entry : shown) seen.insert(entry->word);
  std::size_t count = 0;
  for (const LanguageEntry* entry : entries_about(word)) {
    if (entry->kind == EntryKind::Key || !seen.insert(entry->word).second || ++count > 8) continue;
    line += (line.empty() ? "See also: " : ", ") + std::string(entry->word);
  }
  return line.empty() ? line : line + "\n";
}

std::string unknown_word(const std::string& word) {
  auto near = word_meant_by(EntryKind::Lane, word);
  if (!near) near = word_meant_by(EntryKind::Key, word);
  if (const auto about = entries_about(word); !near && !about.empty()) {
    std::string out = diag::quoted(word) + " is no word to type; these speak of it:\n\n";
    for (std::size_t i = 0; i < about.size() && i < 12; ++i) print_entry(out, *about[i]);
    return out;
  }
  std::vector<std::string> known;
  std::set<std::string_view> seen;
  for (const LanguageEntry& entry : language()) {
    for (const std::string_view candidate : {entry.word, entry.where}) {
      if (seen.insert(candidate).second) known.emplace_back(candidate);
    }
  }
  std::string out = "The song language has no word " + diag::quoted(word) + ".";
  if (!near) near = base::nearest_word(word, known);
  if (near) {
    out += " The nearest is \"" + *near + "\":\n\n";
    for (const LanguageEntry* entry : entries_for(*near)) print_entry(out, *entry);
    return out;
  }
  return out + " Without a word, the reference lists everything there is.\n";
}

}  // namespace

std::string print_reference(std::string_view word) {
  const std::string wanted = single_blanks(word);
  if (wanted.empty()) return whole_reference();
  const auto entries = entries_for(wanted);
  if (entries.empty()) return unknown_word(wanted);
  std::string out;
  for (const LanguageEntry* entry : entries) print_entry(out, *entry);
  return out + see_also(entries, wanted);
}

}  // namespace tunesheaf::song
