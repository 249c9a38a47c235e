#include "rows.h"

#include <algorithm>
#include <functional>
#include <set>

#include "tunesheaf/engrave/common_signs.h"
#include "tunesheaf/theory/chord.h"

namespace tunesheaf::engrave {

std::string harmony_text(const score::Harmony& harmony, const score::Timeline& timeline, theory::Interval way) {
  const auto print = [&](const theory::ChordName& name) {
    const auto moved = way == theory::Interval{} ? std::nullopt : theory::transposed(name, way);
    return theory::print(moved ? *moved : name, theory::Accidentals::Signs);
  };
  if (harmony.none) return "N.C.";
  if (!harmony.stated.empty()) {
    const auto parsed = theory::parse_chord(harmony.stated);
    return parsed ? print(*parsed) : harmony.stated;
  }
  if (harmony.shape >= 0 && harmony.shape < static_cast<int>(timeline.shapes.size())) {
    const score::ShapeUse& shape = timeline.shapes[static_cast<std::size_t>(harmony.shape)];
    if (shape.ear) return print(*shape.ear);
    if (shape.ear_is_claim && !shape.ear_text.empty()) return shape.ear_text;
    return shape.name.value;
  }
  return harmony.name ? print(*harmony.name) : std::string();
}

Length take_row(StaffContext& staff, Side side, const std::vector<std::pair<Length, Length>>& stretches, Length ascent,
                Length descent, double gap) {
  Length reach;
  layout::Contour& contour = side == Side::Above ? staff.above : staff.below;
  for (const auto& [x0, x1] : stretches) reach = std::max(reach, contour.reach(x0, x1));
  const Length near = reach + staff.space(gap);
  for (const auto& [x0, x1] : stretches) contour.add(x0, x1, near + ascent + descent);
  return side == Side::Above ? -(near + descent) : near + ascent;
}

std::optional<Length> draw_row(StaffContext& staff, Side side, const std::vector<RowText>& texts, base::Colour colour,
                               double gap, const std::vector<std::pair<Length, Length>>& beside) {
  if (texts.empty()) return std::nullopt;
  std::vector<std::pair<Length, Length>> stretches = beside;
  Length ascent, descent;
  for (const RowText& t : texts) {
    stretches.emplace_back(t.left - staff.space(0.2), t.left + t.line.width + staff.space(0.2));
    // Beside small staves the white of a row is less than what tall letters rise over the usual.
    ascent = std::max({ascent, t.line.ascent * 0.78, -t.line.ink.top() - staff.space(gap * 0.5)});
    descent = std::max(descent, std::max(t.line.ink.bottom(), t.line.descent * 0.5));
  }
  const Length baseline = take_row(staff, side, stretches, ascent, descent, gap);
  for (const RowText& t : texts) staff.words(t.tag, t.line, {t.left, baseline}, colour);
  return baseline;
}

namespace {

using score::Word;
using score::WordKind;

/// Numbers of remarks in rings, all of a staff in one row; those at one place stand side by side. More than a row holds
/// stand in several, the first at the top.
class RemarkRow {
 public:
  explicit RemarkRow(StaffContext& staff) : staff_(staff) {}

  void add(const std::vector<Word>& words) {
    for (const Word& w : words) {
      if (w.kind != WordKind::RemarkRef || !staff_.system.holds(w.at)) continue;
      std::size_t index = 0;
      for (std::size_t from = 0; from <= w.text.size(); ++index) {
        const std::size_t comma = std::min(w.text.find(',', from), w.text.size());
        ring(w, w.text.substr(from, comma - from), index);
        from = comma + 1;
      }
    }
  }

  void draw() {
    if (rings_.empty()) return;
    std::stable_sort(rings_.begin(), rings_.end(), [](const Ring& a, const Ring& b) { return a.x < b.x; });
    std::vector<std::vector<Ring>> rows(1);
    Length taken;
    for (Ring& ring : rings_) {
      const Length width = ring.half * 2 + staff_.space(kBetweenRings);
      if (taken + width > right() - staff_.system.left) {
        rows.emplace_back();
        taken = {};
      }
      taken += width;
      rows.back().push_back(std::move(ring));
    }
    for (auto row = rows.rbegin(); row != rows.rend(); ++row) draw(*row);
  }

 private:
  struct Ring {
    const Word* word;
    text::Line line;
    RemarkAnchor anchor;
    Length x;
    Length half, radius;  ///< of its width and of its height
  };

  static constexpr double kBetweenRings = 0.25;  ///< sp
  Length right() const { return staff_.system.right + staff_.space(1); }

  /// What is too near moves right; what would run out of the system moves left.
  void draw(std::vector<Ring>& row) {
    const Length gap = staff_.space(kBetweenRings);
    for (std::size_t i = 1; i < row.size(); ++i)
      row[i].x = std::max(row[i].x, row[i - 1].x + row[i - 1].half + gap + row[i].half);
    Length edge = right(), radius;
    for (auto ring = row.rbegin(); ring != row.rend(); ++ring) {
      ring->x = std::min(ring->x, edge - ring->half);
      edge = ring->x - ring->half - gap;
      radius = std::max(radius, ring->radius);
    }
    std::vector<std::pair<Length, Length>> stretches;
    for (const Ring& r : row) stretches.emplace_back(r.x - r.half - gap, r.x + r.half + gap);
    const Length middle = take_row(staff_, Side::Above, stretches, radius, radius, 0.5);
    for (const Ring& r : row) put(r, middle);
  }

  void ring(const Word& w, const std::string& words, std::size_t index) {
    if (words.empty()) return;
    const text::Line line = staff_.shape(words, staff_.system.style.small);
    const Length tall = line.ink.height > Length{} ? line.ink.height : line.ascent;
    RemarkAnchor anchor;
    anchor.remark = index < w.remarks.size() ? w.remarks[index] : w.remark;
    anchor.bar = w.at.bar;
    for (const char c : words) {
      if (c >= '0' && c <= '9') anchor.number = anchor.number * 10 + (c - '0');
    }
    // Those of two figures are wider, not higher.
    const Length radius = tall / 2 + staff_.space(0.32), half = std::max(line.width / 2 + staff_.space(0.32), radius);
    rings_.push_back({&w, line, anchor, staff_.system.x_of(w.at), half, radius});
  }

  void put(const Ring& r, Length y) {
    const StaffContext::Tag tag{"remark-number", r.word->origin, staff_.subject()};
    const base::Colour colour = staff_.system.style.accent;
    staff_.put(
        {{r.x - r.half, y - r.radius},
         "remark-ring",
         layout::Layer::Ink,
         tag.origin,
         tag.subject,
         layout::RectShape{{r.half + r.half, r.radius + r.radius},
                           std::nullopt,
                           layout::Stroke{std::max(staff_.space(0.11), kThinnest), colour, layout::Cap::Butt, {}},
                           r.radius}});
    staff_.words(tag, r.line, {r.x - r.line.width / 2, y - (r.line.ink.top() + r.line.ink.bottom()) / 2}, colour);
    RemarkAnchor anchor = r.anchor;
    anchor.at = {r.x, y};
    staff_.remarks.push_back(anchor);
  }

  StaffContext& staff_;
  std::vector<Ring> rings_;
};

/// Directions in words: beyond the signs of the notes and the lines of techniques.
void spoken(StaffContext& staff, const std::vector<Word>& words) {
  const SystemContext& system = staff.system;
  for (const Word& w : words) {
    if (!system.holds(w.at)) continue;
    if (w.kind != WordKind::Say && w.kind != WordKind::Cue && w.kind != WordKind::Retune) continue;
    style::TypeRole role = w.kind == WordKind::Cue ? system.style.small : system.style.direction;
    role.italic = true;
    if (w.kind == WordKind::Retune) role.weight = 700;  // something to do before the next note
    const layout::Kind kind = w.kind == WordKind::Say   ? layout::Kind("direction")
                              : w.kind == WordKind::Cue ? layout::Kind("cue")
                                                        : layout::Kind("retune");
    staff.words_in_lines({kind, w.origin, staff.subject()}, system.x_of(w.at) - staff.space(0.6), w.text, role);
  }
}

}  // namespace

void draw_part_rows_above(StaffContext& staff) {
  if (staff.music() != nullptr) spoken(staff, staff.words());
}

void draw_part_rows_below(StaffContext& staff) {
  if (staff.music() == nullptr) return;
  draw_lyrics(staff, staff.words());
  draw_dynamics(staff, staff.words(), staff.marks());
}

namespace {

void add_counted(StaffContext& staff, int bar, std::vector<RowText>& row) {
  const SystemContext& system = staff.system;
  const StaffContext::Tag tag{"count", system.section.bars[static_cast<std::size_t>(bar)].origin, staff.subject()};
  std::vector<std::pair<RowText, bool>> words;  // and whether it may give way
  for (const SpokenWord& one :
       spoken_words({staff.plan, system.section, system.request, bar}, system.shaper, system.style)) {
    const Length left = system.x_of({bar, one.at}) - one.line.width / 2;
    words.emplace_back(RowText{left, one.line, tag}, one.gives_way);
  }
  const Length room = staff.space(0.3);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const RowText& text = words[i].first;
    const bool meets_left = i > 0 && !row.empty() && row.back().left + row.back().line.width + room > text.left;
    const bool meets_right = i + 1 < words.size() && text.left + text.line.width + room > words[i + 1].first.left;
    if (words[i].second && (meets_left || meets_right)) continue;
    row.push_back(text);
  }
}

}  // namespace

void draw_count(StaffContext& staff, bool first_part) {
  const SystemContext& system = staff.system;
  std::vector<RowText> row;
  std::set<int> counted;  // bars whose count the song states
  const auto add = [&](const std::vector<Word>& words) {
    for (const Word& w : words) {
      if (w.kind != WordKind::Count || !system.holds(w.at)) continue;
      counted.insert(w.at.bar);
      const text::Line line = staff.shape(w.text, system.style.label);
      row.push_back({system.x_of(w.at) - line.width / 2, line, {"count", w.origin, staff.subject()}});
    }
  };
  if (staff.music() != nullptr) add(staff.words());
  if (row.empty() && first_part) add(system.said_by(-1).words);  // the chart counts for all
  if (first_part && system.request.beat_count) {
    for (int bar = system.first_bar; bar < system.last_bar; ++bar) {
      if (staff.plan.bars[static_cast<std::size_t>(bar)].rest_bars == 0 && counted.count(bar) == 0)
        add_counted(staff, bar, row);
    }
  }
  draw_row(staff, Side::Below, row, system.style.ink, 0.7);
}

void draw_chart_rows(StaffContext& top) {
  draw_lyrics(top, top.system.said_by(-1).words);
  draw_dynamics(top, top.system.said_by(-1).words, {});
  if (top.music() == nullptr) {
    draw_bows(top);
    draw_holds(top);
  }
  spoken(top, top.system.said_by(-1).words);
}

std::vector<score::Harmony> harmony_of_system(const SystemContext& system, const std::vector<int>& parts) {
  // The chart speaks for all; then the parts from top to bottom.
  const auto rank = [&](int part) {
    return part < 0 ? -1 : std::find(parts.begin(), parts.end(), part) - parts.begin();
  };
  std::vector<score::Harmony> all;
  for (const score::Harmony& h : system.said.harmony) {
    const bool ours = std::any_of(parts.begin(), parts.end(), [&](int part) { return h.concerns(part); });
    if (!system.holds(h.at) || !ours) continue;
    if (!harmony_text(h, system.timeline).empty()) all.push_back(h);
  }
  std::stable_sort(all.begin(), all.end(), [&](const score::Harmony& a, const score::Harmony& b) {
    return a.at != b.at ? a.at < b.at : rank(a.part) < rank(b.part);
  });
  std::vector<score::Harmony> said;
  for (const score::Harmony& h : all) {
    const bool other = !said.empty() && said.back().part != h.part;
    if (other && said.back().at == h.at) continue;
    if (other && harmony_text(said.back(), system.timeline) == harmony_text(h, system.timeline)) continue;
    said.push_back(h);
  }
  return said;
}

void draw_chord_names(StaffContext& staff, const std::vector<score::Harmony>& harmony) {
  const SystemContext& system = staff.system;
  const Length half = staff.measure(MusicSign::NoteheadBlack).box.width / 2;
  std::vector<RowText> row;
  for (const score::Harmony& h : harmony) {
    const theory::Interval way = way_of_names(*system.plans, h.at.bar);
    const text::Line line = staff.shape(harmony_text(h, system.timeline, way), system.style.chord);
    row.push_back({system.x_of(h.at) - half, line, {"chord-name", h.origin, staff.subject()}});
  }
  draw_row(staff, Side::Above, row, system.style.ink, 0.7);
}

void draw_remark_numbers(StaffContext& staff, Speaker speaker) {
  RemarkRow row(staff);
  if (speaker == Speaker::PartAndChart) row.add(staff.system.said_by(-1).words);
  if (staff.music() != nullptr) row.add(staff.words());
  row.draw();
}

}  // namespace tunesheaf::engrave
