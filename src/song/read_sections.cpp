#include <algorithm>

#include "fields.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/song/values.h"

namespace tunesheaf::song {
namespace {

using diag::Kind;
using E = const yaml::Entry&;

bool is_part(const Context& context, std::string_view name) {
  return std::find(context.parts.begin(), context.parts.end(), name) != context.parts.end();
}

/// "first", "last", "3", "3-4".
bool read_bars(Exception& exception) {
  const std::string& text = exception.where.value;
  if (text == "first" || text == "last") {
    exception.first = exception.last = text == "first" ? 1 : -1;
    return true;
  }
  const std::size_t dash = text.find('-');
  const auto number = [](std::string_view digits) {
    const auto exact = digits.size() <= 4 ? parse_exact(digits) : std::nullopt;
    return exact && exact->den() == 1 ? static_cast<int>(exact->num()) : 0;
  };
  const std::string_view view = text;
  exception.first = number(view.substr(0, dash));
  exception.last = dash == std::string::npos ? exception.first : number(view.substr(dash + 1));
  return exception.first >= 1 && exception.last >= exception.first;
}

void read_exceptions(Context& context, const yaml::Entry& entry, PartContent& content) {
  if (entry.value.kind != yaml::NodeKind::Mapping || entry.value.entries.empty()) {
    const bool null = entry.value.kind == yaml::NodeKind::Null;
    context.fault(Kind::WrongValue, null ? entry.key.span : entry.value.span, "`except` names no bars",
                  "it holds bars (first, last, 3 or 3-4), each with the lanes that change",
                  "write it like `except: {last: \"1 | 0 |\"}`, or leave it out");
    return;
  }
  for (const yaml::Entry& item : entry.value.entries) {
    Exception exception;
    exception.where = text_of(item.key);
    if (!read_bars(exception)) {
      context.fault(Kind::WrongValue, item.key.span, diag::quoted(item.key.text) + " names no bars",
                    "bars are told as first, last, 3 or 3-4, counted within the section", "write one of these");
      continue;
    }
    exception.stanzas = read_lanes(context, item.key, item.value);
    content.except.push_back(std::move(exception));
  }
}

void read_count_or_keys(Context& context, const yaml::Entry& entry, Times& times) {
  times.span = entry.value.span;
  if (entry.value.kind != yaml::NodeKind::Mapping) {
    if (const auto count = read_integer(context, entry.key, entry.value, 1, 99)) times.count = count->value;
    return;
  }
  static const std::vector<Field<Times>> fields{
      {"until", [](Context& c, E e, Times& t) { t.until = read_text(c, e.key, e.value); }},
      {"about", [](Context& c, E e, Times& t) {
         if (const auto count = read_integer(c, e.key, e.value, 1, 99)) t.count = count->value;
       }}};
  read_fields(context, "times", entry.key, entry.value, fields, times);
}

void read_places(Context& context, const yaml::Entry& entry, std::vector<RecordingTime>& at) {
  if (entry.value.kind != yaml::NodeKind::Mapping) {
    if (const auto time = read_time(context, entry.key, entry.value)) at.push_back({std::nullopt, *time});
    return;
  }
  for (const yaml::Entry& item : entry.value.entries) {
    if (const auto time = read_time(context, item.key, item.value)) at.push_back({text_of(item.key), *time});
  }
}

void read_endings(Context& context, const yaml::Entry& entry, SectionDef& section) {
  read_named(context, entry, [&](const yaml::Entry& item) {
    Ending ending;
    ending.label = text_of(item.key);
    ending.passes = parse_passes(ending.label.value);
    if (ending.passes.empty()) {
      context.fault(Kind::WrongValue, item.key.span, diag::quoted(item.key.text) + " names no passes",
                    "an ending is told by the passes it ends: 1, 2, 3-4", "write the number of the pass");
      return;
    }
    static const std::vector<Field<Ending>> fields{
        {"chart", [](Context& c, E e, Ending& n) { n.parts.push_back(read_content(c, e)); }}};
    const OtherKey<Ending> part = [&](const yaml::Entry& inner, Ending& target) {
      if (!is_part(context, single_blanks(inner.key.text))) return false;
      target.parts.push_back(read_content(context, inner));
      return true;
    };
    read_fields(context, "ending", item.key, item.value, fields, ending, part, context.parts);
    section.endings.push_back(std::move(ending));
  });
}

void read_remarks(Context& context, const yaml::Entry& entry, SectionDef& section) {
  static const std::vector<Field<Remark>> fields{
      {"text",
       [](Context& c, E e, Remark& r) {
         if (const auto text = read_text(c, e.key, e.value)) r.text = *text;
       }},
      {"from", [](Context& c, E e, Remark& r) { read_from(c, e, r.from); }},
      {"instead of", [](Context& c, E e, Remark& r) { r.instead_of = read_text(c, e.key, e.value); }}};
  read_named(context, entry, [&](const yaml::Entry& item) {
    Remark remark;
    remark.letter = text_of(item.key);
    if (item.value.kind == yaml::NodeKind::Mapping) {
      read_fields(context, "remark", item.key, item.value, fields, remark);
    } else if (const auto text = read_text(context, item.key, item.value)) {
      remark.text = *text;
    }
    section.remarks.push_back(std::move(remark));
  });
}

const std::vector<Field<SectionDef>>& section_fields() {
  using S = SectionDef;
  static const std::vector<Field<S>> fields{
      {"letter", [](Context& c, E e, S& s) { s.letter = read_text(c, e.key, e.value); }},
      {"video", [](Context& c, E e, S& s) { s.video = read_time(c, e.key, e.value); }},
      {"at", [](Context& c, E e, S& s) { read_places(c, e, s.at); }},
      {"says", [](Context& c, E e, S& s) { s.says = read_text(c, e.key, e.value); }},
      {"times", [](Context& c, E e, S& s) { read_count_or_keys(c, e, s.times); }},
      {"endings", [](Context& c, E e, S& s) { read_endings(c, e, s); }},
      {"like", [](Context& c, E e, S& s) { s.like = read_text(c, e.key, e.value); }},
      {"pick-up", [](Context& c, E e, S& s) { s.pick_up = read_pick_up(c, e.key, e.value); }},
      {"meter", [](Context& c, E e, S& s) { s.meter = read_text(c, e.key, e.value); }},
      {"key", [](Context& c, E e, S& s) { s.key = read_text(c, e.key, e.value); }},
      {"tempo", [](Context& c, E e, S& s) { s.tempo = read_tempo(c, e.key, e.value); }},
      {"feel", [](Context& c, E e, S& s) { s.feel = read_feel(c, e.key, e.value); }},
      {"rings", [](Context& c, E e, S& s) { s.rings = read_yes_no(c, e.key, e.value); }},
      {"from", [](Context& c, E e, S& s) { read_from(c, e, s.from); }},
      {"instead of", [](Context& c, E e, S& s) { s.instead_of = read_text(c, e.key, e.value); }},
      {"remarks", [](Context& c, E e, S& s) { read_remarks(c, e, s); }},
      {"chart", [](Context& c, E e, S& s) { s.parts.push_back(read_content(c, e)); }}};
  return fields;
}

}  // namespace

PartContent read_content(Context& context, const yaml::Entry& entry) {
  static const std::vector<Field<PartContent>> fields{
      {"lanes", [](Context& c, E e, PartContent& p) { p.stanzas = read_lanes(c, e.key, e.value); }},
      {"except", [](Context& c, E e, PartContent& p) { read_exceptions(c, e, p); }},
      {"rings", [](Context& c, E e, PartContent& p) { p.rings = read_yes_no(c, e.key, e.value); }},
      {"from", [](Context& c, E e, PartContent& p) { read_from(c, e, p.from); }}};
  PartContent content;
  content.part = text_of(entry.key);
  if (entry.value.kind == yaml::NodeKind::Mapping) {
    read_fields(context, "bars", entry.key, entry.value, fields, content);
  } else {
    content.stanzas = read_lanes(context, entry.key, entry.value);
  }
  return content;
}

SectionDef read_section(Context& context, const yaml::Entry& entry) {
  SectionDef section;
  section.name = text_of(entry.key);
  section.times.span = entry.key.span;
  const LanguageEntry* sign = find_form_word(section.name.value);
  if (sign != nullptr && sign->word != "coda") {
    context.fault(Kind::NameIsWord, entry.key.span,
                  "a section is called " + diag::quoted(section.name.value) + ", which is a sign of the form",
                  "the form holds names of sections and signs side by side", "give the section another name");
  }
  const OtherKey<SectionDef> part = [&](const yaml::Entry& inner, SectionDef& target) {
    if (!is_part(context, single_blanks(inner.key.text))) return false;
    target.parts.push_back(read_content(context, inner));
    return true;
  };
  read_fields(context, "section", entry.key, entry.value, section_fields(), section, part, context.parts);
  return section;
}

}  // namespace tunesheaf::song
