#include "tunesheaf/song/read.h"

#include <algorithm>
#include <cctype>

#include "fields.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::song {
namespace {

using diag::Kind;
using E = const yaml::Entry&;

template <class T>
void read_list(Context& context, const yaml::Entry& entry, std::vector<T>& list,
               T (*read_one)(Context&, const yaml::Entry&)) {
  read_named(context, entry, [&](const yaml::Entry& item) { list.push_back(read_one(context, item)); });
}

const std::vector<Field<Song>>& song_fields() {
  static const std::vector<Field<Song>> fields{
      {"song",
       [](Context& c, E e, Song& s) {
         if (const auto text = read_text(c, e.key, e.value)) s.title = *text;
       }},
      {"by", [](Context& c, E e, Song& s) { s.by = read_text(c, e.key, e.value); }},
      {"lesson", [](Context& c, E e, Song& s) { s.lesson = read_text(c, e.key, e.value); }},
      {"revision", [](Context& c, E e, Song& s) { s.revision = read_text(c, e.key, e.value); }},
      {"video", [](Context& c, E e, Song& s) { s.video = read_address(c, e.key, e.value); }},
      {"credits", [](Context& c, E e, Song& s) { s.credits = read_text(c, e.key, e.value); }},
      {"language", [](Context& c, E e, Song& s) { s.language = read_language(c, e.key, e.value); }},
      {"about", [](Context& c, E e, Song& s) { s.about = read_text(c, e.key, e.value); }},
      {"style", [](Context& c, E e, Song& s) { s.style = read_text(c, e.key, e.value); }},
      {"key", [](Context& c, E e, Song& s) { s.key = read_text(c, e.key, e.value); }},
      {"meter", [](Context& c, E e, Song& s) { s.meter = read_text(c, e.key, e.value); }},
      {"tempo", [](Context& c, E e, Song& s) { s.tempo = read_tempo(c, e.key, e.value); }},
      {"feel", [](Context& c, E e, Song& s) { s.feel = read_feel(c, e.key, e.value); }},
      {"pick-up", [](Context& c, E e, Song& s) { s.pick_up = read_pick_up(c, e.key, e.value); }},
      {"counts in", [](Context& c, E e, Song& s) { s.counts_in = read_text(c, e.key, e.value); }},
      {"starts", [](Context& c, E e, Song& s) { s.starts = read_names(c, e.key, e.value, "names of parts"); }},
      {"recordings", [](Context& c, E e, Song& s) { read_list(c, e, s.recordings, &read_recording); }},
      {"parts", [](Context& c, E e, Song& s) { read_list(c, e, s.parts, &read_part); }},
      {"shapes", [](Context& c, E e, Song& s) { read_list(c, e, s.shapes, &read_shape); }},
      {"patterns", [](Context& c, E e, Song& s) { read_list(c, e, s.patterns, &read_pattern); }},
      {"sections", [](Context& c, E e, Song& s) { read_list(c, e, s.sections, &read_section); }},
      {"form", [](Context& c, E e, Song& s) {
         s.form_span = e.value.span;
         s.form = read_form(c, e.value);
       }}};
  return fields;
}

std::string bare(std::string_view text) {
  std::string made;
  for (const char c : text) {
    if (c != '.' && c != ' ' && c != '-') made += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return made;
}

/// "tune x2", "2 x tune": a count where the form has none.
bool counts_times(const std::vector<std::string>& words) {
  const auto is_count = [](std::string word) {
    const bool sign = word.size() > 1 && (word.front() == 'x' || word.back() == 'x');
    if (!sign) return false;
    word.erase(word.front() == 'x' ? 0 : word.size() - 1, 1);
    return word.find_first_not_of("0123456789") == std::string::npos;
  };
  if (words.size() < 2) return false;
  if (is_count(words.front()) || is_count(words.back())) return true;
  const bool apart = words.size() > 2 && words[words.size() - 2] == "x";
  return apart && words.back().find_first_not_of("0123456789") == std::string::npos;
}

FormEntry sign_entry(std::string_view word, Text text) {
  FormEntry entry;
  entry.text = std::move(text);
  if (word == "segno") entry.word = FormWord::Segno;
  if (word == "coda") entry.word = FormWord::Coda;
  if (word == "to coda") entry.word = FormWord::ToCoda;
  if (word == "fine") entry.word = FormWord::Fine;
  if (word == "fade") entry.word = FormWord::Fade;
  if (word.substr(0, 4) == "D.S.") entry.word = FormWord::DalSegno;
  if (word.substr(0, 4) == "D.C.") entry.word = FormWord::DaCapo;
  if (word.size() > 8 && word.substr(5) == "al coda") entry.until = Until::Coda;
  if (word.size() > 8 && word.substr(5) == "al fine") entry.until = Until::Fine;
  return entry;
}

void read_form_item(Context& context, const yaml::Node& item, std::vector<FormEntry>& form) {
  const Text text{single_blanks(item.text), item.span};
  const bool section =
      std::find(context.sections.begin(), context.sections.end(), text.value) != context.sections.end();
  if (const LanguageEntry* sign = find_form_word(text.value)) {
    form.push_back(sign_entry(sign->word, text));
    if (section && sign->word == "coda") form.push_back({FormWord::Section, Until::None, text});
    return;
  }
  if (!section) {
    for (const std::string& word : form_words()) {
      if (bare(word) != bare(text.value)) continue;
      context.fault(Kind::WrongFormWord, item.span, diag::quoted(item.text) + " is written otherwise",
                    "the signs of the form are " + list_words(form_words()), "write \"" + word + "\"");
      form.push_back(sign_entry(word, text));
      return;
    }
    if (counts_times(split_blanks(text.value))) {
      context.fault(Kind::WrongFormWord, item.span, diag::quoted(item.text) + " holds a count",
                    "how often a section is played stands in the section (`times: 2`); the form names what is printed",
                    "put `times` in the section, or name it here as often as it is printed");
      return;
    }
  }
  form.push_back({FormWord::Section, Until::None, text});
}

}  // namespace

void gather_names(Context& context, const yaml::Node& root) {
  const auto each = [&](std::string_view key, auto&& take) {
    const yaml::Entry* entry = root.find(key);
    if (entry == nullptr || entry->value.kind != yaml::NodeKind::Mapping) return;
    for (const yaml::Entry& item : entry->value.entries) take(single_blanks(item.key.text));
  };
  each("shapes", [&](std::string name) { context.shapes.add(name); });
  each("patterns", [&](std::string name) { context.patterns.add(name); });
  each("parts", [&](std::string name) { context.parts.push_back(std::move(name)); });
  each("recordings", [&](std::string name) { context.recordings.push_back(std::move(name)); });
  each("sections", [&](std::string name) { context.sections.push_back(std::move(name)); });
}

std::vector<FormEntry> read_form(Context& context, const yaml::Node& value) {
  std::vector<FormEntry> form;
  if (value.kind != yaml::NodeKind::Sequence || value.items.empty()) {
    context.fault(Kind::WrongValue, value.span, "`form` holds no list",
                  "the form is the printed order of sections and signs",
                  "write it like `form: [verse, chorus, verse]`");
    return form;
  }
  for (const yaml::Node& item : value.items) {
    if (item.kind != yaml::NodeKind::Scalar || single_blanks(item.text).empty()) {
      context.fault(Kind::WrongValue, item.span, "an item of `form` is no name",
                    "the form is a plain list of sections and signs", "write the name of a section, or a sign");
      continue;
    }
    read_form_item(context, item, form);
  }
  return form;
}

std::optional<Song> read_with(Context& context, const yaml::Node& root) {
  if (root.kind != yaml::NodeKind::Mapping) {
    context.fault(Kind::WrongValue, root.span, "the file holds no keys",
                  "a song is told by its keys, each with a colon",
                  "begin with `song:` and its title, as `tunesheaf new` writes it");
    return std::nullopt;
  }
  const yaml::Node& mended = mend_keys(context, "song", root, {});
  gather_names(context, mended);
  Song song;
  yaml::Node nowhere;
  nowhere.span = root.span;
  read_fields(context, "song", nowhere, mended, song_fields(), song);
  return song;
}

std::optional<Song> read(const yaml::Node& root, const source::File& file, diag::Sink& sink) {
  Context context{file, sink};
  return read_with(context, root);
}

}  // namespace tunesheaf::song
