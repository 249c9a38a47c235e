#include "fields.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::song {
namespace {

using diag::Kind;
using E = const yaml::Entry&;

void read_capo(Context& context, const yaml::Entry& entry, PartDef& part) {
  CapoDef capo;
  if (entry.value.kind != yaml::NodeKind::Mapping) {
    const auto fret = read_integer(context, entry.key, entry.value, 0, 24);
    if (!fret) return;
    capo.fret = *fret;
    part.capo = capo;
    return;
  }
  static const std::vector<Field<CapoDef>> fields{
      {"fret",
       [](Context& c, E e, CapoDef& d) {
         if (const auto fret = read_integer(c, e.key, e.value, 1, 24)) d.fret = *fret;
       }},
      {"strings", [](Context& c, E e, CapoDef& d) { d.strings = read_strings(c, e.key, e.value); }}};
  read_fields(context, "capo", entry.key, entry.value, fields, capo);
  if (capo.fret.value > 0) part.capo = capo;
}

/// A part is called by its name inside sections, where the language has words of its own.
void check_part_name(Context& context, const yaml::Entry& entry) {
  const std::string name = single_blanks(entry.key.text);
  if (find_key("section", name) == nullptr && find_key("bars", name) == nullptr) return;
  context.fault(Kind::NameIsWord, entry.key.span,
                "a part is called " + diag::quoted(name) + ", which is a word of the language",
                "a part's name is a key of every section it plays in, so it may not be one of the section's own",
                "give the part another name, such as \"" + name + " 1\"");
}

}  // namespace

RecordingDef read_recording(Context& context, const yaml::Entry& entry) {
  using Row = Field<RecordingDef>;
  static const std::vector<Row> fields{
      {"sounds", [](Context& c, E e, RecordingDef& r) { r.sounds = read_text(c, e.key, e.value); }},
      {"tempo", [](Context& c, E e, RecordingDef& r) { r.tempo = read_tempo(c, e.key, e.value); }},
      {"key", [](Context& c, E e, RecordingDef& r) { r.key = read_text(c, e.key, e.value); }},
      {"note", [](Context& c, E e, RecordingDef& r) { r.note = read_text(c, e.key, e.value); }}};
  RecordingDef recording;
  recording.name = text_of(entry.key);
  // A recording may be a bare name: it sounds as the page says.
  if (entry.value.kind != yaml::NodeKind::Null) {
    read_fields(context, "recording", entry.key, entry.value, fields, recording);
  }
  return recording;
}

PartDef read_part(Context& context, const yaml::Entry& entry) {
  using Row = Field<PartDef>;
  static const std::vector<Row> fields{
      {"instrument",
       [](Context& c, E e, PartDef& p) {
         if (const auto text = read_text(c, e.key, e.value)) p.instrument = *text;
       }},
      {"short", [](Context& c, E e, PartDef& p) { p.short_name = read_text(c, e.key, e.value); }},
      {"tuning", [](Context& c, E e, PartDef& p) { p.tuning = read_text(c, e.key, e.value); }},
      {"capo", [](Context& c, E e, PartDef& p) { read_capo(c, e, p); }},
      {"clef", [](Context& c, E e, PartDef& p) { p.clef = read_choice(c, "part", e.key, e.value); }},
      {"transposes", [](Context& c, E e, PartDef& p) { p.transposes = read_transposition(c, e.key, e.value); }},
      {"stand in for", [](Context& c, E e, PartDef& p) { p.stands_in_for = read_text(c, e.key, e.value); }},
      {"rings", [](Context& c, E e, PartDef& p) { p.rings = read_yes_no(c, e.key, e.value); }},
      {"staff", [](Context& c, E e, PartDef& p) { p.staff = read_choice(c, "part", e.key, e.value); }},
      {"scale length", [](Context& c, E e, PartDef& p) { p.scale_length = read_text(c, e.key, e.value); }},
      {"frets", [](Context& c, E e, PartDef& p) { p.fret_count = read_integer(c, e.key, e.value, 1, 36); }}};
  PartDef part;
  part.name = text_of(entry.key);
  part.instrument.span = entry.key.span;
  check_part_name(context, entry);
  read_fields(context, "part", entry.key, entry.value, fields, part);
  return part;
}

}  // namespace tunesheaf::song
