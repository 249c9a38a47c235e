#include <algorithm>

#include "context.h"
#include "fields.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/song/values.h"

namespace tunesheaf::song {
namespace {

using diag::Kind;

/// A text that is there; the fault says what is wanted, with an example.
const std::string* scalar_text(Context& context, const yaml::Node& key, const yaml::Node& value,
                               std::string_view wanted, std::string_view example) {
  const std::string name = "`" + diag::shown(key.text) + "`";
  const std::string remedy = "write it like `" + diag::shown(key.text) + ": " + std::string(example) + "`";
  if (value.kind == yaml::NodeKind::Null ||
      (value.kind == yaml::NodeKind::Scalar && single_blanks(value.text).empty())) {
    context.fault(Kind::WrongValue, key.span, "nothing stands behind " + name, name + " takes " + std::string(wanted),
                  remedy + ", or leave the key out");
    return nullptr;
  }
  if (value.kind != yaml::NodeKind::Scalar) {
    const std::string what = value.kind == yaml::NodeKind::Sequence ? "a list" : "keys of its own";
    context.fault(Kind::WrongValue, value.span, name + " holds " + what, name + " takes " + std::string(wanted),
                  remedy);
    return nullptr;
  }
  return &value.text;
}

template <class Parse>
auto read_parsed(Context& context, const yaml::Node& key, const yaml::Node& value, std::string_view wanted,
                 std::string_view example, const Parse& parse)
    -> std::optional<Spanned<typename std::decay_t<decltype(*parse(std::string_view{}))>>> {
  using Value = typename std::decay_t<decltype(*parse(std::string_view{}))>;
  const std::string* text = scalar_text(context, key, value, wanted, example);
  if (text == nullptr) return std::nullopt;
  if (auto parsed = parse(single_blanks(*text))) return Spanned<Value>{*parsed, value.span};
  context.fault(Kind::WrongValue, value.span, diag::quoted(*text) + " is not understood",
                "`" + diag::shown(key.text) + "` takes " + std::string(wanted),
                "write it like `" + diag::shown(key.text) + ": " + std::string(example) + "`");
  return std::nullopt;
}

std::string example_of(std::string_view place, std::string_view word) {
  const LanguageEntry* entry = find_key(place, word);
  if (entry == nullptr) return "...";
  const std::size_t colon = entry->example.find(": ");
  return std::string(colon == std::string_view::npos ? entry->example : entry->example.substr(colon + 2));
}

}  // namespace

Span inner_span(const Context& context, const yaml::Node& scalar, std::size_t offset, std::size_t length) {
  const std::string_view slice = context.file.slice(scalar.span);
  std::size_t lead = 0;
  if (slice.size() == scalar.text.size() + 2 && slice.substr(1, scalar.text.size()) == scalar.text) {
    lead = 1;
  } else if (slice != scalar.text) {
    return scalar.span;
  }
  const auto begin = scalar.span.begin + static_cast<std::uint32_t>(lead + std::min(offset, scalar.text.size()));
  const auto room = static_cast<std::uint32_t>(scalar.text.size() - std::min(offset, scalar.text.size()));
  return {scalar.span.file, begin, begin + std::min(room, static_cast<std::uint32_t>(length))};
}

std::optional<Text> read_text(Context& context, const yaml::Node& key, const yaml::Node& value) {
  const std::string* text = scalar_text(context, key, value, "a text", "some words");
  if (text == nullptr) return std::nullopt;
  std::string trimmed = *text;
  while (!trimmed.empty() && (trimmed.back() == '\n' || trimmed.back() == ' ')) trimmed.pop_back();
  return Text{std::move(trimmed), value.span};
}

std::optional<Text> read_language(Context& context, const yaml::Node& key, const yaml::Node& value) {
  return read_parsed(context, key, value, "a language tag: a language of two or three letters, as in en, fr, de-AT",
                     "en", [](std::string_view text) -> std::optional<std::string> {
                       if (is_language_tag(text)) return std::string(text);
                       return std::nullopt;
                     });
}

std::optional<Text> read_address(Context& context, const yaml::Node& key, const yaml::Node& value) {
  return read_parsed(context, key, value, "an address that begins with https:// or http:// and holds no blanks",
                     "https://example.org/lessons/14", [](std::string_view text) -> std::optional<std::string> {
                       if (is_web_address(text)) return std::string(text);
                       return std::nullopt;
                     });
}

std::optional<Spanned<int>> read_integer(Context& context, const yaml::Node& key, const yaml::Node& value, int least,
                                         int most) {
  const std::string wanted = "a whole number from " + std::to_string(least) + " to " + std::to_string(most);
  return read_parsed(context, key, value, wanted, std::to_string(std::max(least, std::min(most, 2))),
                     [&](std::string_view text) -> std::optional<int> {
                       const bool digits = text.find_first_not_of("0123456789") == std::string_view::npos;
                       const auto number = base::parse_integer(text);
                       if (!digits || !number || *number < least || *number > most) return std::nullopt;
                       return static_cast<int>(*number);
                     });
}

std::optional<Spanned<bool>> read_yes_no(Context& context, const yaml::Node& key, const yaml::Node& value) {
  return read_parsed(context, key, value, "yes or no", "yes", [](std::string_view text) -> std::optional<bool> {
    if (text == "yes") return true;
    if (text == "no") return false;
    return std::nullopt;
  });
}

std::optional<Seconds> read_time(Context& context, const yaml::Node& key, const yaml::Node& value) {
  return read_parsed(context, key, value, "minutes and seconds", "1:56",
                     [](std::string_view text) { return parse_time(text); });
}

std::optional<Spanned<TempoMark>> read_tempo(Context& context, const yaml::Node& key, const yaml::Node& value) {
  return read_parsed(context, key, value, "beats a minute from 10 to 600, with a note value if need be, or words",
                     "dotted quarter 60", [](std::string_view text) { return parse_tempo(text); });
}

std::optional<Spanned<Feel>> read_feel(Context& context, const yaml::Node& key, const yaml::Node& value) {
  return read_parsed(context, key, value, "straight, or swing with its ratio", "swing 16ths 3:2",
                     [](std::string_view text) { return parse_feel(text); });
}

std::optional<Spanned<theory::Interval>> read_transposition(Context& context, const yaml::Node& key,
                                                            const yaml::Node& value) {
  return read_parsed(context, key, value,
                     "up or down and an interval, from what sounds to what is read, or `not at all`",
                     "up a major second", [](std::string_view text) { return parse_transposition(text); });
}

std::optional<Text> read_pick_up(Context& context, const yaml::Node& key, const yaml::Node& value) {
  const auto good = read_parsed(context, key, value, "a number of beats, or a share of a whole note", "1 beat",
                                [](std::string_view text) { return parse_pick_up(text); });
  if (!good) return std::nullopt;
  return Text{single_blanks(value.text), value.span};
}

std::optional<Authority> read_authority(Context& context, const yaml::Node& key, const yaml::Node& value) {
  const auto read = read_parsed(context, key, value, "recording or lesson", "lesson",
                                [](std::string_view text) -> std::optional<Authority> {
                                  if (text == "recording") return Authority::Recording;
                                  if (text == "lesson") return Authority::Lesson;
                                  return std::nullopt;
                                });
  if (!read) return std::nullopt;
  return read->value;
}

std::optional<Text> read_choice(Context& context, std::string_view place, const yaml::Node& key,
                                const yaml::Node& value) {
  const LanguageEntry* entry = find_key(place, key.text);
  const std::vector<std::string> words = choices_of(*entry);
  const std::string* text = scalar_text(context, key, value, list_words(words, " or "), example_of(place, key.text));
  if (text == nullptr) return std::nullopt;
  const std::string word = single_blanks(*text);
  if (is_choice(*entry, word)) return Text{word, value.span};
  context.fault(Kind::WrongValue, value.span, diag::quoted(*text) + " is not understood",
                "`" + diag::shown(key.text) + "` takes " + list_words(words, " or "),
                nearest_remedy(word, words, "write one of these words"));
  return std::nullopt;
}

namespace {

/// The items of a list; nothing, and a fault, where it is empty or holds more than plain texts.
std::optional<std::vector<Text>> list_items(Context& context, const yaml::Node& key, const yaml::Node& list,
                                            std::string_view wanted) {
  const std::string takes = "`" + diag::shown(key.text) + "` takes " + std::string(wanted);
  if (list.items.empty()) {
    context.fault(Kind::WrongValue, list.span, "the list behind `" + diag::shown(key.text) + "` is empty", takes,
                  "fill it, or leave the key out");
    return std::nullopt;
  }
  std::vector<Text> items;
  for (const yaml::Node& item : list.items) {
    if (item.kind != yaml::NodeKind::Scalar || single_blanks(item.text).empty()) {
      context.fault(Kind::WrongValue, item.span, "an item of `" + diag::shown(key.text) + "` is no plain text", takes,
                    "write one word for each item");
      return std::nullopt;
    }
    items.push_back({single_blanks(item.text), item.span});
  }
  return items;
}

/// The stretches of a text between these separators, without the blanks at their ends, each with its place.
std::vector<Text> pieces_of(const Context& context, const yaml::Node& value, const char* separators) {
  const std::string& text = value.text;
  std::vector<Text> pieces;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(separators, at), text.size());
    const std::size_t begin = std::min(text.find_first_not_of(" \t\n", at), end);
    std::size_t last = end;
    while (last > begin && std::string_view(" \t\n").find(text[last - 1]) != std::string_view::npos) --last;
    if (last > begin)
      pieces.push_back({text.substr(begin, last - begin), inner_span(context, value, begin, last - begin)});
    at = end + 1;
  }
  return pieces;
}

}  // namespace

std::vector<Text> read_names(Context& context, const yaml::Node& key, const yaml::Node& value,
                             std::string_view wanted) {
  std::vector<Text> names;
  if (value.kind == yaml::NodeKind::Sequence) {
    names = list_items(context, key, value, wanted).value_or(std::vector<Text>{});
  } else if (scalar_text(context, key, value, wanted, "guitar") != nullptr) {
    names = pieces_of(context, value, ",");
  }
  std::vector<Text> once;
  for (Text& name : names) {
    name.value = single_blanks(name.value);
    const auto same = [&](const Text& other) { return other.value == name.value; };
    if (std::none_of(once.begin(), once.end(), same)) {
      once.push_back(std::move(name));
      continue;
    }
    context.fault(Kind::NameTwice, name.span, diag::quoted(name.value) + " is named twice",
                  "`" + diag::shown(key.text) + "` names each once", "take one of the two away");
  }
  return once;
}

std::optional<std::vector<Text>> read_words(Context& context, const yaml::Node& key, const yaml::Node& value,
                                            std::string_view wanted) {
  if (value.kind == yaml::NodeKind::Sequence) return list_items(context, key, value, wanted);
  if (scalar_text(context, key, value, wanted, "5 4") == nullptr) return std::nullopt;
  return pieces_of(context, value, " \t\n");
}

std::vector<Spanned<int>> read_strings(Context& context, const yaml::Node& key, const yaml::Node& value) {
  std::vector<Spanned<int>> strings;
  const auto words = read_words(context, key, value, "numbers of strings");
  if (!words) return strings;
  for (const Text& word : *words) {
    const auto match = find_lane(word.value);
    const bool number = match && match->string > 0 && match->entry->lane == LaneKind::String;
    const auto same = [&](const Spanned<int>& other) { return number && other.value == match->string; };
    if (!number || std::any_of(strings.begin(), strings.end(), same)) {
      context.fault(Kind::WrongValue, word.span,
                    number ? "string " + word.value + " is named twice" : diag::quoted(word.value) + " is no string",
                    "strings are numbered 1 to 12; 1 is the last of the tuning list",
                    "write their numbers with blanks between them, such as `" + diag::shown(key.text) + ": 5 4`");
      continue;
    }
    strings.push_back({match->string, word.span});
  }
  return strings;
}

}  // namespace tunesheaf::song
