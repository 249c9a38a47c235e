// What the hands use: fingers of the fretting hand (over the heads, or under a tab that stands alone), fingers of the
// picking hand and strokes of the pick (under a tab, over a notation staff without one), strings of a partial strum.
#include <algorithm>
#include <map>

#include "marks.h"
#include "rows.h"

namespace tunesheaf::engrave {

void draw_stacks(Hands& hands, Side side, const std::vector<Stack>& stacks, double gap) {
  std::size_t rows = 0;
  for (const Stack& s : stacks) rows = std::max(rows, s.lines.size());
  StaffContext& staff = hands.staff;
  for (std::size_t row = 0; row < rows; ++row) {
    std::vector<std::pair<Length, Length>> stretches;
    Length ascent, descent;
    for (const Stack& s : stacks) {
      if (row >= s.lines.size()) continue;
      const text::Line& line = s.lines[row];
      stretches.emplace_back(s.x - line.width / 2 - hands.space(0.15), s.x + line.width / 2 + hands.space(0.15));
      // Of the face, not of the letters: the lines of a column stand evenly.
      ascent = std::max({ascent, line.ascent * 0.62, -line.ink.top()});
      descent = std::max({descent, line.descent * 0.55, line.ink.bottom()});
    }
    const Length y = take_row(staff, side, stretches, ascent, descent, row == 0 ? gap : 0.2);
    for (const Stack& s : stacks) {
      if (row >= s.lines.size()) continue;
      staff.words(s.tags[row], s.lines[row], {s.x - s.lines[row].width / 2, y}, hands.system.style.ink);
    }
  }
}

namespace {

/// Notes of one moment with something to say of them, the top line of the tab (or the highest pitch) first.
struct Said {
  const Played* played;
  int note;
};
std::map<score::Place, std::vector<Said>> by_moment(const Hands& hands, bool (*wanted)(const score::Note&)) {
  std::map<score::Place, std::vector<Said>> moments;
  for (const Played& p : hands.played) {
    if (!p.begins || p.chord->slash) continue;
    for (std::size_t n = 0; n < p.event->notes.size(); ++n) {
      if (wanted(p.event->notes[n]) && !p.event->notes[n].tied_from) {
        moments[p.from].push_back({&p, static_cast<int>(n)});
      }
    }
  }
  for (auto& [place, said] : moments) {
    std::stable_sort(said.begin(), said.end(), [&plan = hands.staff.plan](const Said& a, const Said& b) {
      const score::Note& x = a.played->note(a.note);
      const score::Note& y = b.played->note(b.note);
      if (x.string > 0 && y.string > 0) return plan.line_of(x.string) < plan.line_of(y.string);
      return x.midi > y.midi;
    });
  }
  return moments;
}

std::string finger_text(int finger) {
  return finger == 5 ? "T" : std::to_string(finger);
}

void fretting_under_tab(Hands& hands) {
  std::vector<Stack> stacks;
  for (const auto& [place, said] : by_moment(hands, [](const score::Note& n) { return n.finger > 0; })) {
    Stack stack{said.front().played->x, {}, {}};
    for (const Said& s : said) {
      stack.lines.push_back(hands.label(finger_text(s.played->note(s.note).finger)));
      stack.tags.push_back(hands.tag("fretting-finger", *s.played->event, s.note));
    }
    stacks.push_back(std::move(stack));
  }
  draw_stacks(hands, Side::Below, stacks, 0.6);
}

/// Over the staff, where no figure passes for an accidental; a chord's in a column, the lowest note's nearest the
/// staff.
void fretting_over_staff(Hands& hands) {
  std::vector<Stack> stacks;
  for (const auto& [place, said] : by_moment(hands, [](const score::Note& n) { return n.finger > 0; })) {
    Stack stack{said.front().played->x, {}, {}};
    for (auto s = said.rbegin(); s != said.rend(); ++s) {
      stack.lines.push_back(hands.label(finger_text(s->played->note(s->note).finger)));
      stack.tags.push_back(hands.tag("fretting-finger", *s->played->event, s->note));
    }
    stacks.push_back(std::move(stack));
  }
  draw_stacks(hands, Side::Above, stacks, 0.45);
}

}  // namespace

void draw_fingers(Hands& hands) {
  if (hands.staff.plan.drums) return;
  if (!hands.tab) {
    fretting_over_staff(hands);
  } else if (hands.staff.plan.alone) {
    fretting_under_tab(hands);
  }
  if (!hands.words) return;
  std::vector<Stack> stacks;
  for (const auto& [place, said] : by_moment(hands, [](const score::Note& n) { return n.pluck != 0; })) {
    Stack stack{said.front().played->x, {}, {}};
    for (const Said& s : said) {
      const char letter = s.played->note(s.note).pluck;
      const bool slap = letter == 'T' || letter == 'P';
      // Italic as all letters of the picking hand; S for the slap of the thumb, since T over a tab is a tap.
      stack.lines.push_back(hands.phrase(std::string(1, letter == 'T' ? 'S' : letter)));
      stack.tags.push_back(
          hands.tag(slap ? layout::Kind("slap-pop") : layout::Kind("picking-finger"), *s.played->event, s.note));
    }
    if (!hands.tab) {  // over a staff the row next to it belongs to the lowest note
      std::reverse(stack.lines.begin(), stack.lines.end());
      std::reverse(stack.tags.begin(), stack.tags.end());
    }
    stacks.push_back(std::move(stack));
  }
  draw_stacks(hands, hands.tab ? Side::Below : Side::Above, stacks, 0.55);
}

namespace {

/// The lowest fret at which a string of the part has this sound.
int lowest_fret(const score::Part& part, const theory::Tuning& tuning, int midi) {
  int lowest = 100;
  for (int string = 1; string <= tuning.count(); ++string) {
    const int fret = midi - tuning.string(string).midi() - part.capo;
    if (fret >= 0) lowest = std::min(lowest, fret);
  }
  return lowest;
}

/// A string's number in its ring.
struct Ring {
  Length x;
  text::Line line;
  StaffContext::Tag tag;
};

void draw_ring(Hands& hands, const Ring& r, Length middle, Length radius) {
  hands.staff.put({{r.x - radius, middle - radius},
                   "string-ring",
                   layout::Layer::Ink,
                   r.tag.origin,
                   r.tag.subject,
                   layout::RectShape{{radius + radius, radius + radius},
                                     std::nullopt,
                                     layout::Stroke{hands.space(0.11), hands.system.style.ink, layout::Cap::Butt, {}},
                                     radius}});
  hands.staff.words(r.tag, r.line, {r.x - r.line.width / 2, middle - (r.line.ink.top() + r.line.ink.bottom()) / 2},
                    hands.system.style.ink);
}

}  // namespace

void draw_string_numbers(Hands& hands) {
  const score::Part* part = hands.staff.part();
  if (hands.tab || !hands.words || part == nullptr || part->tuning.count() == 0) return;
  if (part->instrument.family != theory::Family::Fretted) return;
  std::map<int, int> said;  // by voice: the string that was named last and is still in use
  std::vector<Ring> rings;
  for (const Played& p : hands.played) {
    if (!p.begins || p.chord->slash || p.event->notes.size() != 1) continue;
    const score::Note& note = p.note(0);
    const bool told = note.dead || note.tied_from || note.harmonic != song::HarmonicKind::None || note.string < 1 ||
                      note.fret <= lowest_fret(*part, score::tuning_at(*part, *hands.staff.music(), p.from), note.midi);
    int& last = said[p.chord->voice];
    if (told || last == note.string) {
      if (told) last = 0;
      continue;
    }
    last = note.string;
    rings.push_back({p.x, hands.label(std::to_string(note.string)), hands.tag("string-number", *p.event, 0)});
  }
  Length radius = hands.space(0.85);  // wider on small staves, whose letters are not set smaller
  for (const Ring& r : rings)
    radius = std::max(radius, std::max(r.line.width, r.line.ink.height) / 2 + hands.space(0.25));
  const Length reach = radius + hands.space(0.12);
  while (!rings.empty()) {  // of two voices that begin together one has its ring over the other's
    std::vector<std::pair<Length, Length>> stretches;
    std::vector<Ring> row, later;
    for (Ring& r : rings) {
      const bool free = stretches.empty() || r.x - reach >= stretches.back().second;
      if (free) stretches.emplace_back(r.x - reach, r.x + reach);
      (free ? row : later).push_back(std::move(r));
    }
    const Length middle = take_row(hands.staff, Side::Above, stretches, radius, radius, 0.4);
    for (const Ring& r : row) draw_ring(hands, r, middle, radius);
    rings = std::move(later);
  }
}

void draw_pick_strokes(Hands& hands) {
  if (!hands.words || hands.staff.plan.drums) return;
  StaffContext& staff = hands.staff;
  const double size = 0.85;
  struct Pick {
    Length left;
    MusicSign sign;
    StaffContext::Tag tag;
  };
  std::vector<Pick> picks;
  std::vector<std::pair<Length, Length>> stretches;
  score::Place last{-1, {}};
  for (const Played& p : hands.played) {
    // A rolled or brushed chord shows its direction by the arrow beside it.
    if (!p.begins || p.chord->slash || p.event->rolled || p.event->brushed || p.from == last) continue;
    if (p.event->stroke == song::StrokeDirection::None) continue;
    last = p.from;
    const MusicSign sign = p.event->stroke == song::StrokeDirection::Down ? MusicSign::DownBow : MusicSign::UpBow;
    const Rect box = staff.measure(sign, size).box;
    picks.push_back({p.x - box.width / 2 - box.x, sign, hands.tag("pick-stroke", *p.event)});
    stretches.emplace_back(p.x - box.width / 2, p.x + box.width / 2);
  }
  if (picks.empty()) return;
  Length height;
  for (const Pick& pick : picks) height = std::max(height, staff.measure(pick.sign, size).box.height);
  const Side side = hands.tab ? Side::Below : Side::Above;
  const Length bottom = take_row(staff, side, stretches, height, Length{}, 0.6);
  for (const Pick& pick : picks) {
    staff.sign(pick.tag, pick.sign, {pick.left, bottom - staff.measure(pick.sign, size).box.bottom()}, size);
  }
}

std::string strings_of_strum(const score::Timeline& timeline, const score::Event& event) {
  if (!event.strum || event.shape < 0 || event.notes.empty()) return {};
  const theory::Shape& shape = timeline.shapes[static_cast<std::size_t>(event.shape)].shape;
  const auto sounding =
      std::count_if(shape.frets.begin(), shape.frets.end(), [](const auto& f) { return f.has_value(); });
  if (static_cast<std::ptrdiff_t>(event.notes.size()) >= sounding) return {};
  const auto [low, high] = std::minmax_element(event.notes.begin(), event.notes.end(),
                                               [](const auto& a, const auto& b) { return a.string < b.string; });
  const bool up = event.stroke == song::StrokeDirection::Up;
  const int first = up ? low->string : high->string, last = up ? high->string : low->string;
  if (first < 1) return {};
  return last == first ? std::to_string(first) : std::to_string(first) + "\u2013" + std::to_string(last);
}

void draw_partial_strokes(Hands& hands) {
  if (!hands.staff.plan.slashes) return;
  std::vector<Hands::Letter> letters, downs, ups;
  for (const Played& p : hands.played) {
    if (p.begins && p.event->brushed && p.chord->slash) {
      letters.push_back({p.x, hands.label("brush"), hands.tag("brush", *p.event)});
    }
    if (!p.begins) continue;
    const std::string words = strings_of_strum(hands.system.timeline, *p.event);
    if (words.empty()) continue;
    const bool up = p.event->stroke == song::StrokeDirection::Up;
    (up ? ups : downs).push_back({p.x, hands.label(words), hands.tag("partial-stroke", *p.event)});
  }
  hands.letters_above(std::move(letters), 0.35);
  // Over the whole system at one height; where neighbours have no room side by side, each direction at its own.
  if (hands.have_room(downs, ups)) {
    downs.insert(downs.end(), ups.begin(), ups.end());
    ups.clear();
  }
  hands.letters_level(std::move(ups), 0.35);
  hands.letters_level(std::move(downs), 0.35);
}

}  // namespace tunesheaf::engrave
