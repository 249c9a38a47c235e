#include "vocabulary.h"

#include <algorithm>
#include <unordered_map>

#include "tunesheaf/base/number.h"

namespace tunesheaf::song {
namespace {

using Index = std::unordered_map<std::string, const LanguageEntry*>;

std::string place_and_word(std::string_view place, std::string_view word) {
  return std::string(place) + '\n' + std::string(word);
}

const Index& key_index() {
  static const Index index = [] {
    Index made;
    for (const LanguageEntry& entry : language()) {
      if (entry.kind == EntryKind::Key) made.emplace(place_and_word(entry.where, entry.word), &entry);
    }
    return made;
  }();
  return index;
}

const Index& index_of(EntryKind kind) {
  static const auto build = [](EntryKind wanted) {
    Index made;
    for (const LanguageEntry& entry : language()) {
      if (entry.kind == wanted) made.emplace(entry.word, &entry);
    }
    return made;
  };
  static const Index lanes = build(EntryKind::Lane);
  static const Index words = build(EntryKind::FormWord);
  return kind == EntryKind::Lane ? lanes : words;
}

const LanguageEntry* look_up(EntryKind kind, std::string_view word) {
  const Index& index = index_of(kind);
  const auto found = index.find(std::string(word));
  return found == index.end() ? nullptr : found->second;
}

std::optional<int> string_number(std::string_view text) {
  if (text.empty() || text.size() > 2 || text.front() < '1' || text.front() > '9') return std::nullopt;
  const auto number = base::parse_integer(text);
  if (!number || *number < 1 || *number > kMostStrings) return std::nullopt;
  return static_cast<int>(*number);
}

bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

}  // namespace

std::optional<LaneMatch> find_lane(std::string_view name) {
  constexpr std::string_view kThumb = "thumb ";
  if (const auto number = string_number(name)) return LaneMatch{look_up(EntryKind::Lane, "1 ... 12"), *number};
  if (name.substr(0, kThumb.size()) == kThumb) {
    if (const auto number = string_number(name.substr(kThumb.size()))) {
      return LaneMatch{look_up(EntryKind::Lane, "thumb N"), *number};
    }
    return std::nullopt;
  }
  const LanguageEntry* entry = look_up(EntryKind::Lane, name);
  if (entry == nullptr || entry->word == "1 ... 12") return std::nullopt;
  return LaneMatch{entry, 0};
}

const std::vector<std::string>& lane_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> made;
    for (const LanguageEntry& entry : language()) {
      if (entry.kind != EntryKind::Lane) continue;
      if (entry.word == "1 ... 12" || entry.word == "thumb N") {
        for (int n = 1; n <= kMostStrings; ++n) {
          made.push_back((entry.word == "thumb N" ? "thumb " : "") + std::to_string(n));
        }
      } else {
        made.emplace_back(entry.word);
      }
    }
    return made;
  }();
  return names;
}

const LanguageEntry* find_key(std::string_view place, std::string_view word) {
  const auto found = key_index().find(place_and_word(place, word));
  return found == key_index().end() ? nullptr : found->second;
}

const LanguageEntry* find_form_word(std::string_view text) {
  return look_up(EntryKind::FormWord, text);
}

const std::vector<std::string>& form_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> made;
    for (const LanguageEntry& entry : language()) {
      if (entry.kind == EntryKind::FormWord) made.emplace_back(entry.word);
    }
    return made;
  }();
  return words;
}

std::string_view sign_group(LaneKind kind) {
  switch (kind) {
    case LaneKind::String:
    case LaneKind::Thumb:
    case LaneKind::FretOf:
      return "string lanes";
    case LaneKind::StringOf:
      return "string";
    case LaneKind::Strum:
      return "strum";
    case LaneKind::Pluck:
      return "pluck";
    case LaneKind::Pick:
      return "pick";
    case LaneKind::Finger:
      return "finger";
    case LaneKind::Arm:
      return "arm";
    case LaneKind::Bow:
      return "bow";
    case LaneKind::Retune:
      return "retune";
    case LaneKind::Mark:
      return "spans";
    case LaneKind::Notes:
    case LaneKind::Right:
    case LaneKind::Left:
      return "notes";
    case LaneKind::Kit:
      return "drums";
    case LaneKind::Hits:
      return "hits";
    case LaneKind::Lyric:
      return "lyric";
    case LaneKind::Chords:
      return "chords";
    case LaneKind::See:
      return "see";
    case LaneKind::Hold:
      return "hold";
    default:
      return "";
  }
}

std::vector<const LanguageEntry*> signs_of(LaneKind kind) {
  std::vector<const LanguageEntry*> signs;
  const std::string_view group = sign_group(kind);
  if (group.empty()) return signs;
  for (const LanguageEntry& entry : language()) {
    if (entry.kind == EntryKind::Sign && entry.where == group) signs.push_back(&entry);
  }
  return signs;
}

std::vector<std::string> choices_of(const LanguageEntry& entry) {
  return split_blanks(entry.choices);
}

bool is_choice(const LanguageEntry& entry, std::string_view word) {
  const auto words = choices_of(entry);
  return std::find(words.begin(), words.end(), word) != words.end();
}

std::vector<std::string> split_blanks(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : text) {
    if (!is_blank(c)) {
      word += c;
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  if (!word.empty()) words.push_back(std::move(word));
  return words;
}

std::string single_blanks(std::string_view text) {
  std::string joined;
  for (const std::string& word : split_blanks(text)) {
    if (!joined.empty()) joined += ' ';
    joined += word;
  }
  return joined;
}

}  // namespace tunesheaf::song
