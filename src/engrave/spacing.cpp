#include "spacing.h"

#include <algorithm>
#include <map>
#include <set>

#include "accidentals.h"
#include "broken_bars.h"
#include "cue_staff.h"
#include "even_values.h"
#include "rows.h"
#include "tunesheaf/engrave/common_signs.h"

namespace tunesheaf::engrave {

namespace {

struct Extent {
  Length left, right;  // both positive, away from the column
  bool held = false;   // a chord whose ties end here
};

/// Width of a duration: base x ratio per doubling, straight between doublings (no transcendental functions, so that
/// every processor finds the same).
double width_of(Fraction duration, Fraction shortest, const style::EngravingStyle& e) {
  Fraction share = duration / shortest;
  double width = e.spacing_base;
  while (share >= Fraction(2)) {
    share = share / Fraction(2);
    width *= e.spacing_ratio;
  }
  while (share < Fraction(1)) {
    share = share * Fraction(2);
    width /= e.spacing_ratio;
  }
  return width * (1 + (e.spacing_ratio - 1) * (share.to_double() - 1));
}

Fraction shortest_of(const std::vector<StaffPlan>& plans) {
  Fraction shortest(1, 8);
  for (const StaffPlan& plan : plans) {
    for (const StaffBar& bar : plan.bars) {
      for (const Chord& chord : bar.chords) {
        if (!chord.rest) shortest = min(shortest, chord.duration);
      }
    }
  }
  return max(shortest, Fraction(1, 16));
}

bool centred(const StaffBar& bar) {
  return bar.repeat_sign || (bar.silent && bar.chords.size() == 1 && bar.chords.front().whole_bar_rest);
}

bool held_chord(const Chord& chord) {
  return chord.heads.size() > 1 &&
         std::any_of(chord.heads.begin(), chord.heads.end(), [](const Head& head) { return head.tied_from; });
}

int rest_bars(const SectionMusic& music, int bar) {
  return music.plans.front().bars[static_cast<std::size_t>(bar)].rest_bars;
}

/// Words that need room, sorted by bar once.
struct BarWords {
  std::vector<const score::Harmony*> harmony;
  std::map<int, std::vector<const score::Word*>> lyrics;  // by part, -1 for the chart
  std::set<Fraction> moves;                               ///< of vibrato bars: each has its shape and its figure
};

std::vector<BarWords> words_by_bar(const SectionMusic& music) {
  std::vector<BarWords> bars(music.section.bars.size());
  for (const score::Harmony& h : music.section.harmony) {
    if (rest_bars(music, h.at.bar) == 0) bars.at(static_cast<std::size_t>(h.at.bar)).harmony.push_back(&h);
  }
  const auto add = [&](const std::vector<score::Word>& words, int part) {
    for (const score::Word& w : words) {
      if (w.kind == score::WordKind::Lyric) bars.at(static_cast<std::size_t>(w.at.bar)).lyrics[part].push_back(&w);
      if (w.kind == score::WordKind::Arm) bars.at(static_cast<std::size_t>(w.at.bar)).moves.insert(w.at.onset);
    }
  };
  add(music.section.words, -1);
  int part = -1;
  for (const StaffPlan& plan : music.plans) {
    if (plan.part == part) continue;
    part = plan.part;
    if (part >= 0) add(music.section.parts[static_cast<std::size_t>(part)].words, part);
  }
  return bars;
}

constexpr double kLead = 1.0;  ///< sp of white at least between a bar line and the first ink

class BarSpacer {
 public:
  BarSpacer(SectionMusic& music, const BarWords& words, int bar, Fraction shortest)
      : music_(music), words_(words), bar_(bar), shortest_(shortest), sp_(music.inks.sp) {}

  BarSpacing run() {
    if (rest_bars(music_, bar_) < 0) {  // the first bar of its run stands for it
      out_.onsets.emplace_back();
      out_.ink_left.emplace_back();
      out_.springs.emplace_back();
      return std::move(out_);
    }
    collect_columns();
    out_.ink_left.resize(out_.onsets.size());
    springs();
    optical();
    for (const StaffPlan& plan : music_.plans) staff_rods(plan);
    text_rods();
    finish();
    return std::move(out_);
  }

 private:
  const score::Bar& bar() const { return music_.section.bars[static_cast<std::size_t>(bar_)]; }
  const StaffBar& staff_bar(const StaffPlan& plan) const { return plan.bars[static_cast<std::size_t>(bar_)]; }
  std::size_t column(Fraction onset) const {
    return static_cast<std::size_t>(std::lower_bound(out_.onsets.begin(), out_.onsets.end(), onset) -
                                    out_.onsets.begin());
  }

  void collect_columns() {
    std::vector<Fraction>& onsets = out_.onsets;
    onsets.push_back(Fraction());
    for (const StaffPlan& plan : music_.plans) {
      if (centred(staff_bar(plan))) continue;
      for (const Chord& chord : staff_bar(plan).chords) onsets.push_back(chord.onset);
    }
    for (const StaffPlan& plan : music_.plans)
      for (const ClefChange& change : plan.clefs)
        if (change.at.bar == bar_ && change.at.onset < bar().length) onsets.push_back(change.at.onset);
    const auto add = [&](score::Place at) {
      if (at.onset < bar().length) onsets.push_back(at.onset);
    };
    for (const score::Harmony* h : words_.harmony) add(h->at);
    for (const auto& [part, words] : words_.lyrics) {
      for (const score::Word* w : words) add(w->at);
    }
    for (const Fraction& move : words_.moves) add({bar_, move});
    std::sort(onsets.begin(), onsets.end());
    onsets.erase(std::unique(onsets.begin(), onsets.end()), onsets.end());
  }

  void springs() {
    for (std::size_t i = 0; i < out_.onsets.size(); ++i) {
      const Fraction from = out_.onsets[i];
      const Fraction to = i + 1 < out_.onsets.size() ? out_.onsets[i + 1] : bar().length;
      Fraction least = to - from;
      bool any = false;
      for (const StaffPlan& plan : music_.plans) {
        for (const Chord& chord : staff_bar(plan).chords) {
          if (chord.onset >= to || chord.onset + chord.duration <= from) continue;
          if (!any || chord.duration < least) least = chord.duration;
          any = true;
        }
      }
      const double share = ((to - from) / least).to_double();
      const Length natural = sp_ * (width_of(least, shortest_, music_.inks.style.engraving) * share);
      out_.springs.push_back({natural, natural, Length{}});
    }
  }

  /// What the eye sees between two columns: stems that face each other look near, stems that turn their backs look far,
  /// and a stem beside a bar line wants a little more white (Gould 2011). Staves that disagree outvote one another.
  void optical() {
    const std::size_t count = out_.onsets.size();
    std::vector<double> votes(count + 1), voters(count + 1);
    for (const StaffPlan& plan : music_.plans) {
      const StaffBar& bar = staff_bar(plan);
      if (plan.kind == StaffKind::Tab || plan.slashes || centred(bar)) continue;
      const Chord* before = nullptr;
      for (const Chord& chord : bar.chords) {
        if (!chord.lone || chord.hidden) continue;
        const std::size_t c = column(chord.onset);
        const bool stem = !chord.rest && chord.has_stem;
        const bool next = before != nullptr && column(before->onset) + 1 == c;
        if (next) voters[c] += 1;
        if (next && stem && !before->rest && before->has_stem && before->stem_up != chord.stem_up) {
          votes[c] += before->stem_up ? 1 : -1;
        }
        if (c == 0) voters[0] += 1;
        if (c == 0 && stem && !chord.stem_up) votes[0] += 1;
        if (c + 1 == count) voters[count] += 1;
        if (c + 1 == count && stem && chord.stem_up && !chord.flag()) votes[count] += 1;
        before = &chord;
      }
    }
    const auto more = [&](std::size_t c, double most) {
      return voters[c] > 0 ? sp_ * (most * votes[c] / voters[c]) : Length{};
    };
    constexpr double kStems = 0.3, kBarLine = 0.2;  // sp
    lead_more_ = more(0, kBarLine);
    for (std::size_t c = 1; c < count; ++c) out_.springs[c - 1].natural += more(c, kStems);
    out_.springs[count - 1].natural += more(count, kBarLine);
  }

  void staff_rods(const StaffPlan& plan) {
    if (const int bars = rest_bars(music_, bar_); bars > 0) {
      rod(0, out_.onsets.size(), sp_ * 8 + clef_at_line(plan, bar_ + bars) + bar_line_width(music_, bar_ + bars - 1));
      return;
    }
    const Length clef = clef_at_line(plan, bar_ + 1);
    if (centred(staff_bar(plan))) {
      rod(0, out_.onsets.size(), sp_ * 5 + clef);
      return;
    }
    std::map<std::size_t, Extent> ink;
    for (const ClefChange& change : plan.clefs)
      if (change.at.bar == bar_ && Fraction() < change.at.onset) ink[column(change.at.onset)] = {};
    for (const Chord& chord : staff_bar(plan).chords) {
      if (chord.hidden || (chord.rest && plan.kind == StaffKind::Tab && !plan.rhythm)) continue;
      Extent& extent = ink[column(chord.onset)];
      extent.left = std::max(extent.left, -chord.left);
      extent.right = std::max(extent.right, chord.right);
      extent.held = extent.held || (plan.kind != StaffKind::Tab && held_chord(chord));
    }
    for (const Chord& chord : staff_bar(plan).chords) {
      const std::size_t c = column(chord.onset);
      if (ink.count(c) == 0) continue;
      out_.ink_left[c] = std::max(out_.ink_left[c], ink[c].left);
      own_left_[{c, plan.part}] = std::max(own_left_[{c, plan.part}], ink[c].left);
      if (chord.grace_width == Length{}) continue;
      Length& grace = grace_[{c, plan.part}];
      grace = std::max(grace, chord.grace_width);
    }
    for (const ClefChange& change : plan.clefs) {
      if (change.at.bar != bar_ || !(Fraction() < change.at.onset)) continue;
      const std::pair at(column(change.at.onset), plan.part);
      own_left_.try_emplace(at, Length{});
      grace_[at] += clef_change_width(change.clef, music_.inks);
    }
    inks_.push_back({plan.part, std::move(ink), clef});
  }

  /// A clef that holds from the next bar on stands before the bar line.
  Length clef_at_line(const StaffPlan& plan, int next) const {
    for (const ClefChange& change : plan.clefs)
      if (change.at == score::Place{next, Fraction()}) return clef_change_width(change.clef, music_.inks);
    return {};
  }

  /// Grace notes stand in front of all ink of their part, so that they are aligned on its staves; other parts are not
  /// held apart by them.
  void rods_of(int part, const std::map<std::size_t, Extent>& ink, Length clef) {
    const Length gap = sp_ * 0.45, for_ties = sp_ * 1.2;  // ties within a chord lie between the heads
    for (auto it = ink.begin(); it != ink.end(); ++it) {
      const auto next = std::next(it);
      if (next == ink.end()) {
        rod(it->first, out_.onsets.size(), it->second.right + sp_ * 0.7 + clef + bar_line_width(music_, bar_));
      } else {
        const Length before = left_of(part, next->first, next->second.left);
        rod(it->first, next->first, it->second.right + (next->second.held ? for_ties : gap) + before);
      }
    }
  }
  Length left_of(int part, std::size_t c, Length own) const {
    const auto grace = grace_.find({c, part});
    return grace == grace_.end() ? own : own_left_.at({c, part}) + grace->second;
  }

  void text_rods() {
    const auto& style = music_.inks.style;
    const Length half = music_.inks.sign(MusicSign::NoteheadBlack).box.width / 2;
    if (music_.request.chord_names) {
      std::map<std::size_t, Length> names;  // widths by column: all parts' names share a row
      for (const score::Harmony* h : words_.harmony) {
        const bool shown = std::any_of(music_.plans.begin(), music_.plans.end(),
                                       [&](const StaffPlan& plan) { return h->concerns(plan.part); });
        if (!shown) continue;
        Length& width = names[column(h->at.onset)];
        const text::Line line = music_.inks.shaper.line(
            harmony_text(*h, music_.timeline, way_of_names(music_.plans, bar_)), text_style(style.chord));
        width = std::max(width, line.width);
      }
      for (auto it = names.begin(); it != names.end(); ++it) {
        const auto next = std::next(it);
        const bool last = next == names.end();
        rod(it->first, last ? out_.onsets.size() : next->first, it->second - (last ? half : Length{}) + sp_ * 0.6);
      }
    }
    for (const auto& [part, words] : words_.lyrics) lyric_rods(words);
    move_rods();
    lesson_rod();
    if (!music_.request.beat_count || rest_bars(music_, bar_) != 0) return;
    for (const layout::Rod& r : count_rods(music_, bar_, out_.onsets)) rod(r.from, r.to, r.length);
  }

  /// Beats that only the bar moves on stand apart as those with notes do.
  void move_rods() {
    constexpr double kMove = 4.2;
    for (auto it = words_.moves.begin(); it != words_.moves.end(); ++it) {
      const auto next = std::next(it);
      rod(column(*it), next == words_.moves.end() ? out_.onsets.size() : column(*next), sp_ * kMove);
    }
  }

  /// The word in the bracket over the teacher's own bars (bars.cpp).
  void lesson_rod() {
    if (bar().from != song::Authority::Lesson || music_.section.from == song::Authority::Lesson) return;
    const Length word = music_.inks.shaper.line(kLessonWord, text_style(music_.inks.style.small)).width;
    rod(0, out_.onsets.size(), word + sp_ * 0.7 + bar_line_width(music_, bar_));
  }

  /// Syllables keep clear of one another and of the bar lines, and leave room for their hyphens.
  void lyric_rods(const std::vector<const score::Word*>& words) {
    struct Sung {
      Length half;
      Length dash;  ///< wide, where the word goes on
    };
    const auto width_of = [&](const std::string& text) {
      return music_.inks.shaper.line(text, text_style(music_.inks.style.lyric)).width;
    };
    std::map<std::size_t, Sung> ink;
    for (const score::Word* w : words) {
      const bool hyphen = w->text.size() > 1 && w->text.back() == '-';
      Sung& sung = ink[column(w->at.onset)];
      sung.half = std::max(sung.half, width_of(hyphen ? w->text.substr(0, w->text.size() - 1) : w->text) / 2);
      if (hyphen) sung.dash = width_of("-");
    }
    const Length white = sp_ * 0.3;
    for (auto it = ink.begin(); it != ink.end(); ++it) {
      const auto next = std::next(it);
      const Length dash = it->second.dash > Length{} ? it->second.dash + white : Length{};
      if (next == ink.end()) {
        rod(it->first, out_.onsets.size(), it->second.half + dash + white + bar_line_width(music_, bar_));
      } else {
        rod(it->first, next->first, it->second.half + std::max(sp_ * 0.8, dash + white) + next->second.half);
      }
    }
    if (ink.empty()) return;
    const auto& [first, sung] = *ink.begin();
    const Length left = sung.half + white;
    if (first == 0) {
      lyric_left_ = std::max(lyric_left_, left);
    } else {
      rod(0, first, left - sp_ * kLead);
    }
  }

  void rod(std::size_t from, std::size_t to, Length length) {
    if (to == from + 1) {
      out_.springs[from].minimum = std::max(out_.springs[from].minimum, length);
    } else if (to > from) {
      out_.rods.push_back({from, to, length});
    }
  }

  void finish() {
    for (const StaffInk& staff : inks_) rods_of(staff.part, staff.ink, staff.clef);
    Length small;  // grace notes before the bar's first column
    for (const auto& [at, width] : grace_) {
      out_.before_grace[at] = own_left_.at(at);
      if (at.first == 0) small = std::max(small, own_left_.at(at) + width);
    }
    constexpr double kWhiteBeforeGrace = 0.6;  // sp
    out_.lead = std::max({sp_ * kLead + lead_more_ + out_.ink_left[0], sp_ * kWhiteBeforeGrace + small, lyric_left_});
    out_.springs = layout::SpringLine(out_.springs, out_.rods).springs();
    out_.rods.clear();
    std::vector<const StaffBar*> bars;
    for (const StaffPlan& plan : music_.plans)
      if (!staff_bar(plan).repeat_sign) bars.push_back(&staff_bar(plan));
    even_out(out_.springs, out_.onsets, bars);
    out_.measure = layout::SpringLine(out_.springs, {}).measure();
    out_.measure.minimum += out_.lead;
    out_.measure.natural += out_.lead;
  }

  SectionMusic& music_;
  const BarWords& words_;
  int bar_;
  Fraction shortest_;
  Length sp_, lyric_left_, lead_more_;
  BarSpacing out_;
  struct StaffInk {
    int part;
    std::map<std::size_t, Extent> ink;
    Length clef;  ///< at the bar line
  };
  std::vector<StaffInk> inks_;
  std::map<std::pair<std::size_t, int>, Length> own_left_, grace_;  ///< by column and part
};

}  // namespace

bool shows_key(const StaffPlan& plan) {
  return plan.kind != StaffKind::Tab && !plan.drums && !plan.slashes;
}

bool shows_meter(const StaffPlan& plan) {
  return plan.kind != StaffKind::Tab || plan.alone;
}

Length key_width(int fifths, int before, Inks& inks) {
  const int count = fifths != 0 ? std::abs(fifths) : std::abs(before);
  if (count == 0) return {};
  const MusicSign sign = fifths > 0 ? MusicSign::Sharp : fifths < 0 ? MusicSign::Flat : MusicSign::Natural;
  const Length width = inks.sign(sign).box.width;
  return width * count + inks.sp * (0.12 * (count - 1));
}

namespace {
Length number_width(int number, text::MusicFont& music, Length sp) {
  Length width;
  for (const auto& [x, digit] : music.time_number(number, sp)) width = std::max(width, x + digit->advance);
  return width;
}
}  // namespace

Length top_width(const theory::Meter& meter, text::MusicFont& music, Length sp) {
  if (meter.grouping.size() < 2) return number_width(meter.count, music, sp);
  const Length plus = music.sign(MusicSign::TimePlus, sp).advance * kPlusSize + sp * (2 * kPlusGap);
  Length width = plus * static_cast<double>(meter.grouping.size() - 1);
  for (const int group : meter.grouping) width += number_width(group, music, sp);
  return width;
}

Length meter_width(const theory::Meter& meter, Inks& inks) {
  if (meter.sign == theory::MeterSign::kCommon) return inks.sign(MusicSign::TimeCommon).box.width;
  if (meter.sign == theory::MeterSign::kCut) return inks.sign(MusicSign::TimeCut).box.width;
  return std::max(top_width(meter, inks.music, inks.sp), number_width(meter.unit, inks.music, inks.sp));
}

Length bar_line_width(const SectionMusic& music, int bar) {
  const style::EngravingStyle& e = music.inks.style.engraving;
  if (piece_at(music.request, bar).continued) return {};
  const score::BarLine line = bar_line_at(music.request.signs, music.section, bar);
  double width = e.thin_bar;
  if (line == score::BarLine::Double) width = 2 * e.thin_bar + e.bar_gap;
  if (line == score::BarLine::Final) width = e.thin_bar + e.bar_gap + e.thick_bar;
  if (line == score::BarLine::RepeatEnd) width = e.thin_bar + e.bar_gap + e.thick_bar + e.repeat_dot_gap + 0.5;
  return music.inks.sp * width;
}

namespace {

/// Whether the repeat that begins here comes back from a bar in another meter or key: what changes then stands within
/// the repeat, where it is met each time (Gould 2011).
bool returns_changed(const score::Section& section, int bar, bool (*differ)(const score::Bar&, const score::Bar&)) {
  const auto first = static_cast<std::size_t>(bar);
  if (!section.bars[first].repeat_begin) return false;
  for (std::size_t b = first; b < section.bars.size(); ++b) {
    if (section.bars[b].end == score::BarLine::RepeatEnd && differ(section.bars[b], section.bars[first])) return true;
  }
  return false;
}

bool another_meter(const score::Bar& a, const score::Bar& b) {
  return !(a.meter == b.meter);
}
bool another_key(const score::Bar& a, const score::Bar& b) {
  return !(a.key == b.key);
}

}  // namespace

LeadIn lead_in(const SectionMusic& music, int bar, bool system_start) {
  const score::Bar& b = music.section.bars[static_cast<std::size_t>(bar)];
  Inks& inks = music.inks;
  const Length sp = inks.sp;
  const style::EngravingStyle& e = inks.style.engraving;
  LeadIn in;
  Length x;
  Length clef, key, meter;
  if (music.request.opening == Opening::Bare) {
    constexpr double kBareWhite = 2.8;  // sp, for the labels of marks
    in.end = bar == 0 ? sp * kBareWhite : Length{};
    return in;
  }
  for (const StaffPlan& plan : music.plans) {
    if (system_start && plan.mirrored) {
      const StringLetters of{music.timeline, music.section, inks.shaper, inks.style};
      for (const text::Line& letter : string_letters(plan, of, bar)) clef = std::max(clef, letter.width);
    } else if (system_start && plan.clef == ClefShape::Tab) {
      clef = std::max(clef, inks.music.tab_clef(sp * (plan.height() * 0.8)).box.width);
    } else if (system_start && plan.clef != ClefShape::None) {
      clef = std::max(clef, inks.sign(MusicSign::GClef).box.width);
    }
    const int fifths = plan.fifths(bar), before = plan.fifths_before(bar);
    const bool changes = b.show_key && (bar == 0 || before != fifths);
    if (shows_key(plan) && (system_start || changes)) {
      key = std::max(key, key_width(fifths, b.show_key ? before : 0, inks));
    }
    if (shows_meter(plan) && b.show_meter) meter = std::max(meter, meter_width(b.meter, inks));
  }
  const Length cue = system_start ? cue_opening(music, bar) : Length{};
  if (clef > Length{} || cue > Length{}) {
    in.has_clef = true;
    in.clef = sp * 0.7;
    x = in.clef + clef;
  }
  const auto place = [&](Length width, bool& has, Length& left) {
    if (width == Length{}) return;
    has = true;
    left = x + sp * 0.8;
    x = left + width;
  };
  // At the left of a system the key stands in its place by the clef all the same.
  const bool key_within = !system_start && returns_changed(music.section, bar, another_key);
  const bool meter_within = returns_changed(music.section, bar, another_meter);
  if (!key_within) place(key, in.has_key, in.key);
  if (!meter_within && !key_within) place(meter, in.has_meter, in.meter);
  if (b.repeat_begin) {
    in.has_repeat = true;
    const bool alone = !in.has_clef && !in.has_key && !in.has_meter;
    in.repeat = alone ? -(sp * e.thin_bar) : x + sp * 0.9;
    x = in.repeat + sp * (e.thick_bar + e.bar_gap + e.thin_bar + e.repeat_dot_gap + 0.5);
    if (key_within) place(key, in.has_key, in.key);
    if (meter_within || key_within) place(meter, in.has_meter, in.meter);
    if (key_within || meter_within) x += sp * 0.3;
  } else if (in.has_clef || in.has_key || in.has_meter) {
    x += sp * 0.3;
  }
  in.end = std::max(x, cue);
  return in;
}

Coming coming(const SectionRequest& request, const StaffPlan& plan, int next_bar) {
  const score::Section& here = request.timeline->sections[static_cast<std::size_t>(request.section)];
  Coming out;
  if (next_bar < static_cast<int>(here.bars.size())) {
    out.bar = &here.bars[static_cast<std::size_t>(next_bar)];
    out.fifths = plan.fifths(next_bar);
    out.before = plan.fifths_before(next_bar);
    out.key = shows_key(plan) && out.bar->show_key && out.fifths != out.before;
    out.meter = shows_meter(plan) && out.bar->show_meter;
    return out;
  }
  if (request.next_section < 0 || plan.part < 0) return out;
  const score::Section& next = request.timeline->sections[static_cast<std::size_t>(request.next_section)];
  if (next.bars.empty()) return out;
  out.bar = &next.bars.front();
  out.before = plan.fifths(next_bar - 1);
  out.fifths = score::staff_key(next, next.parts[static_cast<std::size_t>(plan.part)], 0).key.fifths();
  out.key = shows_key(plan) && out.fifths != out.before;
  out.meter = shows_meter(plan) && !(out.bar->meter == here.bars.back().meter);
  return out;
}

LeadIn courtesy(const SectionMusic& music, int next_bar) {
  LeadIn in;
  Length key, meter;
  for (const StaffPlan& plan : music.plans) {
    const Coming next = coming(music.request, plan, next_bar);
    if (next.key) key = std::max(key, key_width(next.fifths, next.before, music.inks));
    if (next.meter) meter = std::max(meter, meter_width(next.bar->meter, music.inks));
  }
  const Length sp = music.inks.sp;
  Length x;
  if (key > Length{}) {
    in.has_key = true;
    in.key = x + sp * 0.6;
    x = in.key + key;
  }
  if (meter > Length{}) {
    in.has_meter = true;
    in.meter = x + sp * 0.8;
    x = in.meter + meter;
  }
  in.end = x > Length{} ? x + sp * 0.5 : x;
  return in;
}

std::vector<BarSpacing> space_bars(SectionMusic music) {
  const Fraction shortest = shortest_of(music.plans);
  const std::vector<BarWords> words = words_by_bar(music);
  std::vector<BarSpacing> bars;
  for (int bar = 0; bar < static_cast<int>(music.section.bars.size()); ++bar) {
    bars.push_back(BarSpacer(music, words[static_cast<std::size_t>(bar)], bar, shortest).run());
  }
  return bars;
}

}  // namespace tunesheaf::engrave
