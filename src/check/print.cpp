// The `checked` phase.
#include <sstream>

#include "tunesheaf/check/checked.h"

namespace tunesheaf::check {
namespace {

void print_music(std::ostringstream& out, const CheckedData& data, const CheckedMusic& music, const std::string& name) {
  if (music.lanes.empty() && music.shapes.empty() && music.chords.empty() && music.tunings.empty()) return;
  out << "  " << name << "\n";
  const auto place = [](int bar, Fraction onset) { return std::to_string(bar + 1) + ":" + onset.text(); };
  for (const TunedFrom& from : music.tunings) {
    out << "    tuned " << place(from.bar, from.onset) << " " << theory::print(from.tuning);
    for (const int string : from.strings) out << (string == from.strings.front() ? " turned " : ",") << string;
    out << (from.always ? "" : " on some ways") << "\n";
  }
  for (const InForce& shape : music.shapes)
    out << "    shape " << place(shape.bar, shape.onset) << " "
        << (shape.index < 0 ? std::string("none") : data.shapes[static_cast<std::size_t>(shape.index)].def->name.value)
        << "\n";
  for (const ChordAt& chord : music.chords)
    out << "    chord " << place(chord.bar, chord.onset) << " " << (chord.none ? "none" : chord.text) << "\n";
  for (const PlacedLane& lane : music.lanes) {
    out << "    lane " << lane.name << (lane.from_pattern ? " from-pattern" : "") << (lane.lower ? " lower" : "")
        << (lane.rings ? " rings" : "") << "\n";
    for (const PlacedCell& cell : lane.cells) {
      out << "      " << place(cell.bar, cell.onset) << " for " << cell.length.text();
      if (cell.string != 0) out << " string " << cell.string;
      if (std::holds_alternative<song::SilenceCell>(cell.cell->content)) out << " silence";
      out << " at-byte " << cell.cell->span.begin << "\n";
    }
  }
}

void print_section(std::ostringstream& out, const CheckedData& data, const CheckedSection& section) {
  out << "section " << section.def->name.value << " times " << section.times << " body " << section.body_bars;
  if (section.like >= 0) out << " like " << data.sections[static_cast<std::size_t>(section.like)].def->name.value;
  if (!section.in_form) out << " not-in-form";
  out << "\n";
  for (std::size_t b = 0; b < section.bars.size(); ++b) {
    const CheckedBar& bar = section.bars[b];
    out << "  bar " << b + 1 << " " << theory::print_meter(bar.meter) << " length " << bar.length.text();
    if (bar.key) out << " key " << theory::print(*bar.key);
    if (bar.pick_up) out << " pick-up";
    if (bar.ending >= 0) out << " ending " << section.endings[static_cast<std::size_t>(bar.ending)].def->label.value;
    if (bar.from == song::Authority::Lesson) out << " from-lesson";
    out << "\n";
  }
  print_music(out, data, section.chart, "chart");
  for (std::size_t p = 0; p < section.parts.size(); ++p)
    print_music(out, data, section.parts[p], "part " + data.parts[p].def->name.value);
}

}  // namespace

std::string print(const CheckedSong& checked) {
  const CheckedData& data = *checked;
  std::ostringstream out;
  out << "song " << data.song->title.value << " meter " << theory::print_meter(data.meter);
  if (data.key) out << " key " << theory::print(*data.key);
  out << " page-capo " << data.page_capo << "\n";
  for (const CheckedPart& part : data.parts) {
    out << "part " << part.def->name.value << " instrument " << part.instrument.name;
    if (part.strings() > 0) out << " tuning " << theory::print(part.tuning);
    if (!part.capo.none()) out << " capo " << part.capo.fret << (part.capo.full() ? "" : " partial");
    out << (part.notation ? " notation" : "") << (part.tab ? " tab" : "") << (part.rings ? " rings" : "") << "\n";
  }
  for (const CheckedShape& shape : data.shapes) {
    out << "shape " << shape.def->name.value << " frets " << theory::print_frets(shape.shape) << " part "
        << shape.part + 1;
    if (shape.part >= 0 && !shape.tuning.same_pitches(data.parts[static_cast<std::size_t>(shape.part)].tuning))
      out << " tuned " << theory::print(shape.tuning);
    out << " thumb";
    for (const int string : shape.thumb) out << " " << string;
    if (shape.computed) out << " name " << theory::print(*shape.computed);
    out << "\n";
  }
  for (const CheckedSection& section : data.sections) print_section(out, data, section);
  for (const CheckedStep& step : data.form) out << "form " << step.entry.text.value << "\n";
  for (const CheckedPass& pass : data.played)
    out << "played " << data.sections[static_cast<std::size_t>(pass.section)].def->name.value << " bar " << pass.bar + 1
        << " pass " << pass.pass << "\n";
  return out.str();
}

}  // namespace tunesheaf::check
