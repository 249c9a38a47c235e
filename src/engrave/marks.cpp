#include "marks.h"

#include <algorithm>

#include "draw.h"
#include "rows.h"
#include "tunesheaf/score/heard.h"

namespace tunesheaf::engrave {

using song::Arrival;

namespace {

/// Tab, where the part has one here; else the notation. Never the lower staff of keys.
bool carries_words(const StaffPlan& plan, const score::Part* part) {
  if (plan.kind == StaffKind::Tab) return true;
  if (plan.kind != StaffKind::Notation || plan.part < 0) return false;
  return plan.alone || part == nullptr || part->tuning.count() == 0;
}

}  // namespace

Hands::Hands(StaffContext& staff_context) : staff(staff_context), system(staff_context.system) {
  tab = staff.plan.kind == StaffKind::Tab;
  words = carries_words(staff.plan, staff.part());
  const int bars = static_cast<int>(staff.plan.bars.size());
  for (int b = system.first_bar; b < system.last_bar; ++b) {
    const StaffBar& bar = staff.plan.bars[static_cast<std::size_t>(b)];
    if (bar.repeat_sign) continue;
    collect(bar);
    join(bar);
  }
  // A slide or an arc into the next system begins on this one; its arrival stands in one of the next bars.
  for (int b = system.last_bar; b < std::min(bars, system.last_bar + 2); ++b) {
    join(staff.plan.bars[static_cast<std::size_t>(b)]);
  }
  std::stable_sort(played.begin(), played.end(), [](const Played& a, const Played& b) { return a.from < b.from; });
}

void Hands::collect(const StaffBar& bar) {
  for (const Chord& chord : bar.chords) {
    if (chord.rest || chord.event < 0 || find(chord.event) != nullptr) continue;
    Played p;
    p.event = &event(chord.event);
    p.chord = &chord;
    p.begins = chord.attack;
    p.from = p.event->at;
    p.to = after(p.from, p.event->duration);
    p.x = p.left = p.right = p.begins ? system.x_of({chord.bar, chord.onset}) : system.content_left;
    for (const DrawnNote* n : staff.of_event(chord.event)) {
      p.left = std::min(p.left, n->box.left());
      p.right = std::max(p.right, n->box.right());
    }
    if (p.begins && chord.slash) {
      const Length half = staff.measure(MusicSign::NoteheadSlash).box.width / 2;
      p.left = p.x - half;
      p.right = p.x + half;
    }
    played.push_back(p);
  }
}

void Hands::join(const StaffBar& bar) {
  for (const Chord& chord : bar.chords) {
    if (chord.rest || chord.event < 0 || !chord.attack || chord.slash) continue;
    const score::Event& e = event(chord.event);
    for (std::size_t n = 0; n < e.notes.size(); ++n) {
      const score::Link& link = e.notes[n].more->link;
      if (link.kind == Arrival::Struck || e.notes[n].tied_from) continue;
      const bool beyond = chord.bar >= system.last_bar;
      if (beyond && (link.from_event < 0 || find(link.from_event) == nullptr)) continue;
      joined.push_back({link.from_event, link.from_note, e.id, static_cast<int>(n), link.kind, chord.voice});
    }
  }
}

score::Place Hands::after(score::Place at, Fraction duration) const {
  Fraction left = at.onset + duration;
  const auto& bars = system.section.bars;
  while (at.bar < static_cast<int>(bars.size()) && left >= bars[static_cast<std::size_t>(at.bar)].length) {
    left = left - bars[static_cast<std::size_t>(at.bar)].length;
    ++at.bar;
  }
  return {at.bar, left};
}

const Played* Hands::find(int id) const {
  // Events are met in the order of their ids within a voice; the latest are asked for most.
  for (auto p = played.rbegin(); p != played.rend(); ++p) {
    if (p->event->id == id) return &*p;
  }
  return nullptr;
}

StaffContext::Tag Hands::tag(layout::Kind kind, const score::Event& e, int note) const {
  Span origin = e.origin;
  if (note >= 0 && e.notes[static_cast<std::size_t>(note)].origin.length() > 0) {
    origin = e.notes[static_cast<std::size_t>(note)].origin;
  }
  return {kind, origin, staff.subject(e.id, note)};
}

score::Place Hands::place(const score::Event& e, Fraction share) const {
  return after(e.at, e.duration * share);
}

Length Hands::end_of(const Played& p) const {
  const auto span = staff.clip(p.from, p.to);
  return span ? span->to : p.right;
}

text::Line Hands::label(const std::string& words_printed) const {
  return staff.shape(words_printed, system.style.small);
}

text::Line Hands::phrase(const std::string& words_printed) const {
  style::TypeRole role = system.style.note;
  role.italic = true;
  return staff.shape(words_printed, role);
}

Length Hands::beside_bar_line(Length middle, Length width) const {
  if (staff.plan.alone) return middle;
  const Length reach = width / 2 + space(0.25);
  const auto behind = [&](std::size_t bar, Length line) {  // or behind the dots of a repeat that begins there
    const bool repeats = bar < system.bar_left.size() &&
                         system.section.bars[static_cast<std::size_t>(system.first_bar) + bar].repeat_begin;
    return repeats ? std::max(line, system.bar_left[bar] - space(0.6)) : line;
  };
  middle = std::max(middle, behind(0, system.left) + reach);
  for (std::size_t i = 0; i < system.bar_right.size(); ++i) {
    const Length end = behind(i + 1, system.bar_end[i]);
    if (middle + reach <= system.bar_right[i] || middle - reach >= end) continue;
    return middle >= end ? end + reach : system.bar_right[i] - reach;
  }
  return middle;
}

void Hands::letters_above(std::vector<Letter> letters, double gap) {
  for (Letter& letter : letters) {
    if (letter.else_at && reads_on(letter)) letter.x = *letter.else_at;
    letter.x = beside_bar_line(letter.x, letter.line.width);
  }
  std::stable_sort(letters.begin(), letters.end(), [](const Letter& a, const Letter& b) { return a.x < b.x; });
  while (!letters.empty()) {
    std::vector<Letter> later, row;
    for (Letter& letter : letters) {
      const bool meets = !row.empty() && stretch_of(letter).first < stretch_of(row.back()).second;
      (meets ? later : row).push_back(std::move(letter));
    }
    // Neighbours at about one height share a baseline; what is far from its arc under a high neighbour does not.
    for (auto from = row.begin(); from != row.end();) {
      Length low = reach_over(*from), high = low;
      auto to = std::next(from);
      for (; to != row.end(); ++to) {
        const Length reach = reach_over(*to);
        if (std::max(high, reach) - std::min(low, reach) > space(1.2)) break;
        low = std::min(low, reach);
        high = std::max(high, reach);
      }
      put_letters({from, to}, gap);
      from = to;
    }
    letters = std::move(later);
  }
}

void Hands::letters_level(std::vector<Letter> letters, double gap) {
  for (Letter& letter : letters) letter.x = beside_bar_line(letter.x, letter.line.width);
  if (have_room(letters, {})) {
    if (!letters.empty()) put_letters(letters, gap);
  } else {
    letters_above(std::move(letters), gap);
  }
}

bool Hands::have_room(const std::vector<Letter>& some, const std::vector<Letter>& others) const {
  std::vector<std::pair<Length, Length>> stretches;
  for (const auto* letters : {&some, &others})
    for (const Letter& letter : *letters) stretches.push_back(stretch_of(letter));
  std::sort(stretches.begin(), stretches.end());
  for (std::size_t i = 1; i < stretches.size(); ++i)
    if (stretches[i].first < stretches[i - 1].second) return false;
  return true;
}

std::pair<Length, Length> Hands::stretch_of(const Letter& letter) const {
  const Length half = letter.line.width / 2 + space(0.25);
  return {letter.x - half, letter.x + half};
}

Length Hands::reach_over(const Letter& letter) const {
  const auto [x0, x1] = stretch_of(letter);
  return staff.above.reach(x0, x1);
}

/// Beside the amount of a bend a letter would be read as a part of it.
bool Hands::reads_on(const Letter& letter) const {
  const auto [x0, x1] = stretch_of(letter);
  return std::any_of(staff.obstacles.begin(), staff.obstacles.end(), [&](const Obstacle& o) {
    return o.kind == layout::Kind("bend-amount") && o.box.left() < x1 + space(1) && o.box.right() > x0 - space(1);
  });
}

void Hands::put_letters(const std::vector<Letter>& letters, double gap) {
  std::vector<std::pair<Length, Length>> stretches;
  Length ascent, descent;
  for (const Letter& letter : letters) {
    stretches.push_back(stretch_of(letter));
    ascent = std::max(ascent, -letter.line.ink.top());
    descent = std::max(descent, letter.line.ink.bottom());
  }
  const Length y = take_row(staff, Side::Above, stretches, ascent, descent, gap);
  for (const Letter& letter : letters) {
    staff.words(letter.tag, letter.line, {letter.x - letter.line.width / 2, y}, system.style.ink);
  }
}

MarkRoom mark_room(const score::Event& event, StaffKind kind) {
  MarkRoom room;
  double small_heads = 0, bends = 0;
  const bool before =
      event.kind == score::EventKind::Notes &&
      std::any_of(event.notes.begin(), event.notes.end(), [](const auto& n) { return score::slides_in(n); });
  if (event.kind == score::EventKind::Rest) return room;
  const bool tab = kind == StaffKind::Tab;
  if (event.rolled || event.brushed) room.left = before ? 2.7 : 1.3;
  for (const score::Note& note : event.notes) {
    if (event.kind != score::EventKind::Notes) break;
    const Arrival how = note.more->link.kind;
    if (score::slides_in(note) || how == Arrival::TapFrettingHand ||
        (how == Arrival::HammerOn && note.more->link.from_event < 0)) {
      room.left = std::max(room.left, 1.4);
    }
    if (how == Arrival::LegatoSlide || how == Arrival::ShiftSlide) room.left = std::max(room.left, 1.2);
    if (how == Arrival::HammerOn || how == Arrival::PullOff) room.left = std::max(room.left, tab ? 0.55 : 0.0);
    if (note.slide_off != song::SlideOff::None) room.right = std::max(room.right, 1.5);
    if (tab && note.prebend && event.notes.size() > 1) room.left = std::max(room.left, 1.0);
    if (note.more->bend.size() > 1) {
      double stages = 0;
      const auto& bend = note.more->bend;
      for (std::size_t i = 1; i < bend.size(); ++i) {
        if (bend[i].semitones != bend[i - 1].semitones) stages += 1;
        const bool released = tab && bend[i].semitones <= Fraction() && bend[i - 1].semitones > Fraction();
        if (!released) continue;
        stages += 0.7;                                                                // for its figure
        if (i >= 2 && bend[i - 2].semitones == bend[i - 1].semitones) stages += 0.5;  // for the hold before it
      }
      // On notation each move has a small head, and those of a chord stand beside one another.
      if (!tab && note.prebend) stages += 1;
      small_heads += tab ? 0 : stages;
      bends = std::max(bends, (tab ? stages * 1.9 : small_heads * 2.5 + (stages == 0 ? 0 : 0.4)) +
                                  (note.vibrato == song::Vibrato::None ? 0 : 2.4));
    }
  }
  room.right += bends;  // what slides off stands beyond them
  return room;
}

void draw_marks_beside(Hands& hands) {
  draw_figures_beside(hands);
  draw_rolls(hands);
  if (hands.tab) {
    draw_slides_beside(hands);
    return draw_bends_down(hands);
  }
  draw_bent_heads(hands);
  draw_slides_beside(hands);
  draw_slides(hands);
}

void draw_marks(Hands& hands, bool first_of_part) {
  draw_legato(hands);
  if (hands.tab) {
    draw_bends(hands);
    draw_slides(hands);
  }
  draw_drum_signs(hands);
  if (first_of_part) draw_bows(hands.staff);
  draw_note_signs(hands);
  draw_fingers(hands);
  draw_sticking(hands);
  draw_string_numbers(hands);
  draw_pick_strokes(hands);
  draw_partial_strokes(hands);
  draw_arm(hands);
  draw_span_signs(hands);
}

}  // namespace tunesheaf::engrave
