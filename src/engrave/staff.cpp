#include <algorithm>

#include "accidentals.h"
#include "draw.h"

namespace tunesheaf::engrave {

using layout::Layer;

void draw_lines(StaffContext& staff) {
  const SystemContext& system = staff.system;
  const layout::Stroke stroke{staff.space(system.style.engraving.staff_line), system.style.ink, layout::Cap::Butt, {}};
  for (int line = 1; line <= staff.plan.lines; ++line) {
    staff.items.push_back({{system.left, staff.line_y(line)},
                           staff.plan.kind == StaffKind::Tab ? layout::Kind("tab-line") : layout::Kind("staff-line"),
                           Layer::Line,
                           staff.part() != nullptr ? staff.part()->origin : Span{},
                           {staff.plan.number, -1, line},
                           layout::LineShape{{system.right - system.left, Length{}}, stroke}});
  }
}

namespace {

int clef_position(ClefShape clef) {  // of the line its note stands on
  switch (clef) {
    case ClefShape::Treble:
    case ClefShape::Treble8:
      return -2;
    case ClefShape::Bass:
    case ClefShape::Bass8:
      return 2;
    case ClefShape::Tenor:
      return 2;
    default:
      return 0;
  }
}

MusicSign clef_sign(ClefShape clef) {
  switch (clef) {
    case ClefShape::Treble8:
      return MusicSign::GClef8Below;
    case ClefShape::Bass:
    case ClefShape::Bass8:
      return MusicSign::FClef;
    case ClefShape::Alto:
    case ClefShape::Tenor:
      return MusicSign::CClef;
    case ClefShape::Percussion:
      return MusicSign::PercussionClef;
    default:
      return MusicSign::GClef;
  }
}

/// The 8 of a bass clef hangs clear under the staff: the clef itself ends above the bottom line.
void eight_below(StaffContext& staff, StaffContext::Tag tag, Length middle) {
  style::TypeRole role = staff.system.style.direction;
  role.italic = true;
  role.size = staff.system.sp * 1.6;
  const text::Line eight = staff.shape("8", role);
  const Length top = staff.height() + staff.space(0.35);
  staff.words(tag, eight, {middle - eight.width / 2, top - eight.ink.top()}, staff.system.style.ink,
              layout::Layer::Ink);
}

constexpr double kSmallClef = 0.75;  ///< size of a clef within the music

/// At each line of a mirrored tab the note of its string, in place of the clef.
void draw_string_letters(StaffContext& staff, Length x, int bar) {
  const SystemContext& system = staff.system;
  const StaffContext::Tag tag{"string-letter", staff.part() != nullptr ? staff.part()->origin : Span{},
                              staff.subject()};
  const std::vector<text::Line> letters =
      string_letters(staff.plan, {system.timeline, system.section, system.shaper, system.style}, bar);
  Length width;
  for (const text::Line& letter : letters) width = std::max(width, letter.width);
  for (std::size_t i = 0; i < letters.size(); ++i) {
    const text::Line& letter = letters[i];
    const Length y = staff.string_y(static_cast<int>(i) + 1), left = x + (width - letter.width) / 2;
    const Length baseline = y - (letter.ink.top() + letter.ink.bottom()) / 2, pad = staff.space(0.15);
    staff.knock_out({left - pad, baseline + letter.ink.top(), letter.width + pad + pad, letter.ink.height});
    staff.words(tag, letter, {left, baseline}, system.style.ink);
  }
}

void draw_clef(StaffContext& staff, Length x, ClefShape clef, int bar) {
  const StaffContext::Tag tag{"clef", staff.part() != nullptr ? staff.part()->origin : Span{}, staff.subject()};
  if (clef == ClefShape::None) return;
  if (staff.plan.mirrored) return draw_string_letters(staff, x, bar);
  if (clef == ClefShape::Tab) {
    const text::Sign sign = staff.system.music.tab_clef(staff.height() * 0.8);
    const Point at{x, staff.height() / 2};
    if (sign.run) {
      staff.put(
          {at, tag.kind, Layer::Ink, tag.origin, tag.subject, layout::GlyphsShape{*sign.run, staff.system.style.ink}});
    } else {
      staff.fill(tag, sign.path, at);
    }
    return;
  }
  const Rect drawn = staff.sign(tag, clef_sign(clef), {x, staff.position_y(clef_position(clef))});
  if (clef == ClefShape::Bass8) eight_below(staff, tag, drawn.x + drawn.width * 0.42);
}

/// Half spaces over the middle line of the accidentals of a signature, in order, for the treble clef; the other clefs
/// put them on the same letters (Gould 2011).
std::vector<int> key_positions(ClefShape clef, int fifths) {
  static const int kSharps[] = {4, 1, 5, 2, -1, 3, 0}, kFlats[] = {0, 3, -1, 2, -2, 1, -3};
  static const int kTenorSharps[] = {-2, 2, -1, 3, 0, 4, 1};
  std::vector<int> positions;
  const int shift = clef == ClefShape::Bass || clef == ClefShape::Bass8 ? -2
                    : clef == ClefShape::Alto                           ? -1
                    : clef == ClefShape::Tenor                          ? 1
                                                                        : 0;
  for (int i = 0; i < std::min(7, std::abs(fifths)); ++i) {
    if (fifths > 0) {
      positions.push_back(clef == ClefShape::Tenor ? kTenorSharps[i] : kSharps[i] + shift);
    } else {
      positions.push_back(kFlats[i] + shift);
    }
  }
  return positions;
}

void draw_number(StaffContext& staff, int number, Length x, Length width, Length y, Span origin, double size = 0.96) {
  // A touch below 2 sp: the round digits of the two numbers must not meet on the middle line.
  const auto digits = staff.system.music.time_number(number, staff.system.sp * size);
  Length total;
  for (const auto& [dx, sign] : digits) total = std::max(total, dx + sign->advance);
  const Length left = x + (width - total) / 2;
  for (const auto& [dx, sign] : digits) {
    const StaffContext::Tag tag{"meter", origin, staff.subject()};
    const Point at{left + dx, y};
    if (sign->run) {
      staff.put(
          {at, tag.kind, Layer::Ink, origin, tag.subject, layout::GlyphsShape{*sign->run, staff.system.style.ink}});
    } else {
      staff.fill(tag, sign->path, at);
    }
  }
}

}  // namespace

std::vector<text::Line> string_letters(const StaffPlan& plan, const StringLetters& of, int bar) {
  const auto p = static_cast<std::size_t>(plan.part);
  const theory::Tuning& tuning = score::tuning_at(of.timeline.parts[p], of.section.parts[p], {bar, Fraction()});
  std::vector<text::Line> letters;
  for (int string = 1; string <= tuning.count(); ++string) {
    const theory::Pitch note = tuning.string(string).pitch();
    letters.push_back(of.shaper.line(theory::print(note.name, theory::Accidentals::Signs), text_style(of.style.small)));
  }
  return letters;
}

void draw_key(StaffContext& staff, ClefShape clef, int fifths, int before, Length x, Span origin) {
  const int shown = fifths != 0 ? fifths : before;
  if (shown == 0 || !shows_key(staff.plan)) return;
  const MusicSign sign = fifths == 0 ? MusicSign::Natural : fifths > 0 ? MusicSign::Sharp : MusicSign::Flat;
  for (const int position : key_positions(clef, shown)) {
    staff.sign({"key-signature", origin, staff.subject()}, sign, {x, staff.position_y(position)});
    x += staff.measure(sign).box.width + staff.space(0.12);
  }
}

void draw_meter(StaffContext& staff, const theory::Meter& meter, Length x, Length width, Span origin) {
  if (!shows_meter(staff.plan)) return;
  const Length middle = staff.height() / 2;
  const StaffContext::Tag tag{"meter", origin, staff.subject()};
  if (meter.sign == theory::MeterSign::kCommon || meter.sign == theory::MeterSign::kCut) {
    staff.sign(tag, meter.sign == theory::MeterSign::kCommon ? MusicSign::TimeCommon : MusicSign::TimeCut, {x, middle});
    return;
  }
  const bool grouped = meter.grouping.size() > 1;  // three figures and two plus signs: with air between them
  const double size = grouped ? 0.9 : 0.96;
  draw_number(staff, meter.unit, x, width, middle + staff.space(1), origin, size);
  if (!grouped) {
    draw_number(staff, meter.count, x, width, middle - staff.space(1), origin);
    return;
  }
  // The groups as stated: how a bar of unequal beats is counted is told by its meter.
  x += (width - top_width(meter, staff.system.music, staff.system.sp)) / 2;
  for (std::size_t i = 0; i < meter.grouping.size(); ++i) {
    if (i > 0) {
      const text::Sign& plus = staff.measure(MusicSign::TimePlus, kPlusSize);
      const Length low = plus.box.y + plus.box.height / 2;
      staff.sign(tag, MusicSign::TimePlus, {x + staff.space(kPlusGap), middle - staff.space(1) - low}, kPlusSize);
      x += plus.advance + staff.space(2 * kPlusGap);
    }
    Length digits;
    for (const auto& [dx, sign] : staff.system.music.time_number(meter.grouping[i], staff.system.sp)) {
      digits = std::max(digits, dx + sign->advance);
    }
    draw_number(staff, meter.grouping[i], x, digits, middle - staff.space(1), origin, size);
    x += digits;
  }
}

void draw_lead_in(StaffContext& staff, const LeadIn& in, int bar, Length x, bool system_start) {
  const score::Bar& b = staff.system.section.bars[static_cast<std::size_t>(bar)];
  const ClefShape clef = staff.plan.clef_at({bar, Fraction()});
  if (in.has_clef && system_start) draw_clef(staff, x + in.clef, clef, bar);
  if (in.has_key && (system_start || b.show_key)) {
    draw_key(staff, clef, staff.plan.fifths(bar), b.show_key ? staff.plan.fifths_before(bar) : 0, x + in.key, b.origin);
  }
  if (in.has_meter && b.show_meter) {
    Inks inks{staff.system.style, staff.system.shaper, staff.system.music, staff.system.sp, {}};
    draw_meter(staff, b.meter, x + in.meter, meter_width(b.meter, inks), b.origin);
  }
}

void draw_courtesy(StaffContext& staff, const SectionMusic& music) {
  const SystemContext& system = staff.system;
  const LeadIn in = courtesy(music, system.last_bar);
  const Coming next = coming(system.request, staff.plan, system.last_bar);
  const Length x = system.bar_end.back();
  if (next.key) {
    const ClefShape clef = staff.plan.clef_at({system.last_bar, Fraction()});
    draw_key(staff, clef, next.fifths, next.before, x + in.key, next.bar->origin);
  }
  if (next.meter) {
    draw_meter(staff, next.bar->meter, x + in.meter, meter_width(next.bar->meter, music.inks), next.bar->origin);
  }
}

Length clef_change_width(ClefShape clef, Inks& inks) {
  return inks.sign(clef_sign(clef)).box.width * kSmallClef + inks.sp * 1.1;
}

void draw_clef_changes(StaffContext& staff, Inks& inks) {
  const SystemContext& system = staff.system;
  for (const ClefChange& change : staff.plan.clefs) {
    const bool at_line = change.at.onset == Fraction();
    const int bar = at_line ? change.at.bar - 1 : change.at.bar;  // before the bar line it stands in the bar before
    if (bar < system.first_bar || bar >= system.last_bar) continue;
    Length right;
    if (at_line) {
      right = system.bar_right[static_cast<std::size_t>(bar - system.first_bar)] - staff.space(0.4);
    } else {
      right = system.grace_end(change.at, staff.plan.part);
      Length grace;
      for (const Chord& chord : staff.plan.bars[static_cast<std::size_t>(bar)].chords)
        if (chord.onset == change.at.onset) grace = std::max(grace, chord.grace_width);
      right -= grace + staff.space(0.55);
    }
    const MusicSign sign = clef_sign(change.clef);
    const Length width = inks.sign(sign).box.width * kSmallClef;
    staff.sign({"clef-change", change.origin, staff.subject()}, sign,
               {right - width, staff.position_y(clef_position(change.clef))}, kSmallClef);
  }
}

std::vector<std::vector<Placed>> chords_by_voice(StaffPlan& plan, const SystemContext& system) {
  std::map<int, std::vector<Placed>> voices;
  for (int bar = system.first_bar; bar < system.last_bar; ++bar) {
    StaffBar& staff_bar = plan.bars[static_cast<std::size_t>(bar)];
    if (staff_bar.repeat_sign || staff_bar.rest_bars != 0) continue;
    for (Chord& chord : staff_bar.chords) {
      if (!chord.hidden) voices[chord.voice].push_back({&staff_bar, &chord});
    }
  }
  std::vector<std::vector<Placed>> sorted;
  for (auto& [number, chords] : voices) sorted.push_back(std::move(chords));
  return sorted;
}

std::vector<Placed> place_chords(StaffPlan& plan, const SystemContext& system) {
  std::vector<Placed> all;
  for (const auto& voice : chords_by_voice(plan, system)) {
    for (const Placed& placed : voice) {
      placed.chord->x = system.x_of({placed.chord->bar, placed.chord->onset});
      all.push_back(placed);
    }
  }
  return all;
}

}  // namespace tunesheaf::engrave
