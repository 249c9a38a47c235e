#include "cue_staff.h"

#include <algorithm>
#include <string>

#include "broken_bars.h"

namespace tunesheaf::engrave {

namespace {

constexpr double kCueSize = 0.65;                              ///< of the staff it stands over
constexpr double kBefore = 0.6, kBetween = 0.7, kAfter = 1.3;  ///< sp of the cue, around its clef and key

Inks small_inks(const Inks& inks) {
  return {inks.style, inks.shaper, inks.music, inks.sp * kCueSize, {}};
}

/// Clef and key with which a cue begins, from the left end of its lines.
LeadIn opening_of(const StaffPlan& plan, int bar, Inks& inks) {
  LeadIn in;
  Length x = inks.sp * kBefore;
  in.has_clef = plan.clef != ClefShape::None;
  in.clef = x;
  if (in.has_clef)
    x += inks.sign(plan.clef == ClefShape::Percussion ? MusicSign::PercussionClef : MusicSign::GClef).box.width;
  const Length key = shows_key(plan) ? key_width(plan.fifths(bar), 0, inks) : Length{};
  in.has_key = key > Length{};
  in.key = x + inks.sp * kBetween;
  if (in.has_key) x = in.key + key;
  in.end = x + inks.sp * kAfter;
  return in;
}

/// How far the ink of a bar's first onset reaches to the left of its column.
Length ink_before(const StaffBar& bar) {
  Length left;
  for (const Chord& chord : bar.chords)
    if (chord.onset == Fraction() && !chord.hidden) left = std::min(left, chord.left);
  return -left;
}

std::string words_of(const StaffPlan& plan, const score::Timeline& timeline) {
  const std::string name = timeline.parts[static_cast<std::size_t>(plan.part)].name.value;
  const int octaves = plan.cue->octaves;
  if (octaves == 0) return name;
  return name + ", sounds " + (std::abs(octaves) == 1 ? "an octave" : std::to_string(std::abs(octaves)) + " octaves") +
         (octaves > 0 ? " higher" : " lower");
}

/// One cue on one system, in the coordinates of its own small staff.
class CueDrawer {
 public:
  CueDrawer(const SystemContext& system, StaffPlan& plan, const LeadIn& lead)
      : small_(system),
        plan_(plan),
        from_(std::max(plan.cue->first, system.first_bar)),
        to_(std::min(plan.cue->behind, system.last_bar)),
        lead_(lead) {
    small_.sp = system.sp * kCueSize;
  }

  void draw() {
    Inks inks{small_.style, small_.shaper, small_.music, small_.sp, {}};
    StaffContext staff(small_, plan_);
    begin(staff, inks);
    lines(staff);
    draw_notes(staff, plan_, inks);
    draw_stems(staff, plan_);
    draw_ties(staff, plan_);
    draw_articulations(staff, plan_);
    draw_tuplets(staff, plan_);
    name(staff);
    items_ = std::move(staff.items);
    for (const layout::Item& item : items_) {
      const Rect box = layout::box_of(item);
      right_ = std::max(right_, box.right());
    }
  }

  /// From the top of its lines to the reader's: over all that stands on that staff, and a staff's white away from it.
  Length apart(const StaffContext& reader) const {
    const Length white = reader.space(1.5), gap = reader.space(0.6);
    Length apart = small_.sp * plan_.height() + white;
    for (const layout::Item& item : items_) {
      const Rect box = layout::box_of(item);
      apart = std::max(apart, box.bottom() + gap + reader.above.reach(box.left(), box.right()));
    }
    return apart;
  }

  void put(StaffContext& reader, Length apart) {
    for (layout::Item& item : items_) {
      item.at.y -= apart;
      item.kind = layout::Kind::interned("cue-" + std::string(item.kind.name()));
      reader.put(std::move(item));
    }
  }

  Length left() const { return std::min(left_, name_left_); }
  Length right() const { return right_; }

 private:
  /// Where it begins within the system it has clef and key before its first note; where it goes on, at the left.
  void begin(StaffContext& staff, Inks& inks) {
    LeadIn in = opening_of(plan_, from_, inks);
    if (from_ == plan_.cue->first) {
      const StaffBar& bar = plan_.bars[static_cast<std::size_t>(from_)];
      left_ = small_.x_of({from_, Fraction()}) - ink_before(bar) - in.end;
      draw_lead_in(staff, in, from_, left_, true);
    } else {
      left_ = small_.left;
      const Length more = lead_.clef - in.clef;
      in.clef += more;
      in.key += more;
      if (lead_.has_clef) draw_lead_in(staff, in, from_, left_, true);
    }
  }

  /// Whose it is, where it begins; near the end of a system earlier, and in two lines where it is longer than that.
  void name(StaffContext& staff) {
    const Length first = small_.left + staff.space(0.4);  // beside the line that joins the staves
    const std::string words = words_of(plan_, small_.timeline);
    const std::size_t comma = words.rfind(", ");
    std::vector<std::string> lines{words};
    const auto width_of = [&](const std::string& line) { return staff.shape(line, small_.style.small).width; };
    if (width_of(words) > small_.right - first && comma != std::string::npos)
      lines = {words.substr(comma + 2), words.substr(0, comma + 1)};  // the lower one first
    Length widest;
    for (const std::string& line : lines) widest = std::max(widest, width_of(line));
    const Length at = std::max(first, std::min(left_, small_.right - widest));
    for (const std::string& line : lines) {
      staff.words_in_row({"name", plan_.cue->origin, staff.subject()}, Side::Above, at, StaffContext::Anchor::Left,
                         staff.shape(line, small_.style.small), small_.style.ink, 0.5);
    }
    name_left_ = at;
  }

  void lines(StaffContext& staff) {
    const auto bar_end = [&](int bar) { return small_.bar_end[static_cast<std::size_t>(bar - small_.first_bar)]; };
    const style::EngravingStyle& e = small_.style.engraving;
    const Length right = bar_end(to_ - 1), over = staff.space(plan_.bar_line_overhang());
    for (int line = 1; line <= plan_.lines; ++line) {
      staff.line({"line", plan_.cue->origin, staff.subject(-1, line)}, {left_, staff.line_y(line)},
                 {right, staff.line_y(line)}, e.staff_line, layout::Cap::Butt, {}, layout::Layer::Line);
    }
    for (int bar = from_; bar < to_; ++bar) {
      if (piece_at(small_.request, bar).continued) continue;
      const Length x = bar_end(bar) - staff.space(e.thin_bar / 2);
      staff.line({"bar-line", plan_.cue->origin, staff.subject()}, {x, -over}, {x, staff.height() + over}, e.thin_bar,
                 layout::Cap::Butt, {}, layout::Layer::Line);
    }
  }

  SystemContext small_;
  StaffPlan& plan_;
  int from_, to_;
  const LeadIn& lead_;
  Length left_, name_left_, right_;
  std::vector<layout::Item> items_;
};

/// Cues that stand beside one another over one reader, at one height.
void put_row(StaffContext& reader, std::vector<CueDrawer>& row) {
  Length apart;
  for (const CueDrawer& cue : row) apart = std::max(apart, cue.apart(reader));
  for (CueDrawer& cue : row) cue.put(reader, apart);
  row.clear();
}

}  // namespace

std::vector<BarSpacing> CueStaves::space(const SectionMusic& music) {
  if (plans_.empty()) return space_bars(music);
  Inks inks = small_inks(music.inks);
  std::vector<StaffPlan> all = music.plans;
  for (StaffPlan& plan : plans_) {
    layout_chords(plan, music.timeline, inks);
    all.push_back(plan);
    const Length opening = opening_of(plan, plan.cue->first, inks).end;
    for (Chord& chord : all.back().bars[static_cast<std::size_t>(plan.cue->first)].chords)
      if (chord.onset == Fraction()) chord.left -= opening;
  }
  return space_bars({music.request, music.timeline, music.section, all, music.inks});
}

void CueStaves::draw(const SystemContext& system, std::deque<StaffContext>& staves, const LeadIn& lead) {
  StaffContext* over = nullptr;
  std::vector<CueDrawer> row;
  for (StaffPlan& plan : plans_) {  // in order of their readers
    if (plan.cue->first >= system.last_bar || plan.cue->behind <= system.first_bar) continue;
    const auto reader = std::find_if(staves.begin(), staves.end(),
                                     [&](const StaffContext& s) { return s.plan.part == plan.cue->reader; });
    if (reader == staves.end()) continue;
    CueDrawer cue(system, plan, lead);
    cue.draw();
    const bool beside = row.empty() || cue.left() >= row.back().right();
    if (!row.empty() && (over != &*reader || !beside)) put_row(*over, row);
    over = &*reader;
    row.push_back(std::move(cue));
  }
  if (!row.empty()) put_row(*over, row);
}

Length cue_opening(const SectionMusic& music, int bar) {
  Length widest;
  if (music.cues == nullptr) return widest;
  Inks inks = small_inks(music.inks);
  for (const StaffPlan& plan : *music.cues)
    if (plan.cue->first < bar && bar < plan.cue->behind && plan.clef != ClefShape::None)
      widest = std::max(widest, opening_of(plan, bar, inks).end);
  return widest;
}

}  // namespace tunesheaf::engrave
