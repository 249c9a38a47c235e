#include "fields.h"

#include <algorithm>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::song {
namespace {

using diag::Kind;

/// "a shape", "the song": a place of the table in a sentence.
std::string place_words(std::string_view place) {
  if (place == "song") return "the song";
  if (place == "capo") return "a capo";
  if (place == "bars") return "a part's music";
  if (place == "times") return "`times`";
  if (place == "ending") return "an ending";
  return "a " + std::string(place);
}

/// A sentence of the table inside another one.
std::string small_first(std::string_view sentence) {
  std::string text(sentence);
  if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z') text[0] = static_cast<char>(text[0] - 'A' + 'a');
  if (!text.empty() && text.back() == '.') text.pop_back();
  return text;
}

/// What a section needs before all else: music, of the first part where there is one.
std::string first_lane(const Context& context) {
  if (context.parts.empty()) return "chart: |` and under it `chords | C | G |";
  return diag::shown(context.parts.front()) + ": |` and under it `notes | C4 : - : E4 : - |";
}

bool holds_bar_line(const yaml::Entry& entry) {
  return entry.key.text.find('|') != std::string::npos ||
         (entry.value.kind == yaml::NodeKind::Scalar && entry.value.style == yaml::ScalarStyle::Plain &&
          entry.value.text.find('|') != std::string::npos && find_lane(single_blanks(entry.key.text)));
}

bool holds(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

/// The key or name that an unknown one is a slip of.
std::optional<std::string> meant_key(std::string_view place, const yaml::Entry& entry,
                                     const std::vector<std::string>& other_names) {
  const std::string& typed = entry.key.text;
  if (find_key(place, typed) != nullptr || holds(other_names, single_blanks(typed)) || holds_bar_line(entry))
    return std::nullopt;
  const auto meant = word_meant_by(EntryKind::Key, typed);
  if (meant && find_key(place, *meant) != nullptr) return meant;
  std::vector<std::string> known = keys_at(place);
  known.insert(known.end(), other_names.begin(), other_names.end());
  return base::nearest_word(typed, known);
}

}  // namespace

std::string nearest_remedy(std::string_view word, const std::vector<std::string>& known, std::string otherwise) {
  if (const auto near = base::nearest_word(word, known)) return "did you mean \"" + *near + "\"?";
  if (!known.empty() && known.size() <= 8) {
    std::vector<std::string> quoted;
    for (const std::string& name : known) quoted.push_back(diag::quoted(name));
    return "known here: " + list_words(quoted);
  }
  return otherwise;
}

const yaml::Node& mend_keys(Context& context, std::string_view place, const yaml::Node& value,
                            const std::vector<std::string>& other_names) {
  yaml::Node* mended = nullptr;
  for (std::size_t i = 0; i < value.entries.size(); ++i) {
    const yaml::Entry& entry = value.entries[i];
    const auto meant = meant_key(place, entry, other_names);
    if (!meant || (mended ? *mended : value).find(*meant) != nullptr) continue;
    unknown_key(context, place, entry, other_names);
    if (!mended) mended = &context.mended.emplace_back(value);
    mended->entries[i].key.text = *meant;
  }
  return mended ? *mended : value;
}

void unknown_key(Context& context, std::string_view place, const yaml::Entry& entry,
                 const std::vector<std::string>& other_names) {
  if (holds_bar_line(entry)) {
    context.fault(Kind::LanesWithoutBar, entry.key.span, "a lane stands where " + place_words(place) + " has its keys",
                  "lanes stand under a key that ends with |, each line on its own",
                  "write | behind the key above, after its colon");
    return;
  }
  std::vector<std::string> known = keys_at(place);
  known.insert(known.end(), other_names.begin(), other_names.end());
  // A part that is called otherwise under `parts` is one slip, in however many sections it plays.
  if (const auto near = base::nearest_word(entry.key.text, known); near && holds(other_names, *near)) {
    if (holds(context.parts_misnamed, entry.key.text)) return;
    context.parts_misnamed.push_back(entry.key.text);
  }
  std::string elsewhere;
  for (const LanguageEntry& other : language()) {
    if (other.kind == EntryKind::Key && other.word == entry.key.text && elsewhere.empty()) {
      elsewhere = "; it belongs to " + place_words(other.where);
    }
  }
  const auto meant = word_meant_by(EntryKind::Key, entry.key.text);
  const bool here = meant && find_key(place, *meant) != nullptr;
  const std::string otherwise = "`reference " + std::string(place) + "` lists the keys known here";
  context.fault(Kind::UnknownKey, entry.key.span,
                place_words(place) + " has no key " + diag::quoted(entry.key.text) + elsewhere,
                "every word must be one that is known; nothing is passed over",
                here ? "the key is called \"" + *meant + "\" here" : nearest_remedy(entry.key.text, known, otherwise));
}

bool expect_keys(Context& context, std::string_view place, const yaml::Node& key, const yaml::Node& value) {
  if (value.kind == yaml::NodeKind::Mapping) return true;
  const std::vector<std::string> keys = keys_at(place);
  std::string example;
  for (const LanguageEntry& entry : language()) {
    if (entry.kind == EntryKind::Key && entry.where == place && (entry.required || example.empty())) {
      example = std::string(entry.example);
      if (entry.required) break;
    }
  }
  if (place == "section") example = first_lane(context);
  const std::string name = "`" + diag::shown(key.text) + "`";
  const std::string what =
      value.kind == yaml::NodeKind::Null ? "nothing stands behind " + name : name + " holds no keys";
  context.fault(value.kind == yaml::NodeKind::Null ? Kind::MissingKey : Kind::WrongValue,
                value.kind == yaml::NodeKind::Null ? key.span : value.span, what,
                place_words(place) + " is told by its keys" + (keys.size() <= 8 ? ": " + list_words(keys) : ""),
                "write them below it, indented, such as `" + example + "`");
  return false;
}

void missing_keys(Context& context, std::string_view place, const yaml::Node& key, const yaml::Node& value) {
  for (const LanguageEntry& entry : language()) {
    if (entry.kind != EntryKind::Key || entry.where != place || !entry.required) continue;
    if (value.find(entry.word) != nullptr) continue;
    const Span at = key.text.empty() ? Span{value.span.file, value.span.begin, value.span.begin} : key.span;
    const std::string whose = key.text.empty() ? "the song" : diag::quoted(key.text);
    context.fault(Kind::MissingKey, at, whose + " has no `" + std::string(entry.word) + "`",
                  place_words(place) + " needs it: " + small_first(entry.meaning),
                  "add a line such as `" + std::string(entry.example) + "`");
  }
}

void read_named(Context& context, const yaml::Entry& entry, const std::function<void(const yaml::Entry&)>& read) {
  const std::string name = "`" + diag::shown(entry.key.text) + "`";
  const LanguageEntry* row = find_key("song", entry.key.text);
  if (row == nullptr) row = find_key("section", entry.key.text);
  if (entry.value.kind != yaml::NodeKind::Mapping || entry.value.entries.empty()) {
    const bool empty = entry.value.kind != yaml::NodeKind::Scalar && entry.value.kind != yaml::NodeKind::Sequence;
    context.fault(empty ? Kind::MissingKey : Kind::WrongValue, empty ? entry.key.span : entry.value.span,
                  empty ? "nothing stands under " + name : name + " holds no names",
                  name + " holds names of your own, each with what it is",
                  row == nullptr ? "write at least one" : "write it like `" + std::string(row->example) + "`");
    return;
  }
  std::unordered_set<std::string> seen;
  for (const yaml::Entry& item : entry.value.entries) {
    const std::string item_name = single_blanks(item.key.text);
    const bool sign = item_name == "-" || item_name == "." || item_name == "%" || item_name == "%%";
    if (item_name.empty() || sign) {
      context.fault(Kind::NameIsWord, item.key.span,
                    sign ? diag::quoted(item_name) + " is a sign of the lanes" : "a name is empty",
                    "a name is what lanes and the form call a thing by", "choose a name with letters in it");
      continue;
    }
    if (!seen.insert(item_name).second) {
      context.fault(Kind::NameTwice, item.key.span, "there are two of the name " + diag::quoted(item_name),
                    "blanks count as one, so these names are the same", "give one of them another name");
      continue;
    }
    read(item);
  }
}

}  // namespace tunesheaf::song
