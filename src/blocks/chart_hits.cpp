// Rhythm under chord names: slash heads with stems, flags, dots and rests, for the hits that all play together.
#include <algorithm>
#include <functional>

#include "chart_pen.h"
#include "tunesheaf/theory/rhythm.h"

namespace tunesheaf::blocks {
namespace {

using text::MusicSign;
using theory::NoteValue;

std::vector<theory::RhythmSpan> spans_of(const ChartBar& bar, const std::vector<ChartHit>& hits) {
  std::vector<theory::RhythmSpan> spans;
  Fraction at;
  for (std::size_t i = 0; i < hits.size(); ++i) {
    const ChartHit& hit = hits[i];
    if (at < hit.onset) spans.push_back({at, hit.onset - at, true, false, false, -1});
    spans.push_back({hit.onset, hit.duration, false, false, false, static_cast<int>(i)});
    at = hit.onset + hit.duration;
  }
  if (at < bar.length) spans.push_back({at, bar.length - at, true, false, false, -1});
  return spans;
}

MusicSign head_sign(NoteValue value) {
  if (value < NoteValue::kHalf) return MusicSign::NoteheadSlashWhole;
  return value == NoteValue::kHalf ? MusicSign::NoteheadSlashHalf : MusicSign::NoteheadSlash;
}

std::optional<MusicSign> flag_sign(NoteValue value) {
  switch (theory::flag_count(value)) {
    case 0:
      return std::nullopt;
    case 1:
      return MusicSign::Flag8Up;
    case 2:
      return MusicSign::Flag16Up;
    case 3:
      return MusicSign::Flag32Up;
    default:
      return MusicSign::Flag64Up;
  }
}

MusicSign rest_sign(NoteValue value) {
  switch (value) {
    case NoteValue::kBreve:
      return MusicSign::RestDoubleWhole;
    case NoteValue::kWhole:
      return MusicSign::RestWhole;
    case NoteValue::kHalf:
      return MusicSign::RestHalf;
    case NoteValue::kQuarter:
      return MusicSign::RestQuarter;
    case NoteValue::kEighth:
      return MusicSign::Rest8;
    case NoteValue::k16th:
      return MusicSign::Rest16;
    default:
      return MusicSign::Rest32;
  }
}

constexpr double kDot = 0.8, kBeforeDot = 0.35, kGhostGap = 0.1;  // in staff spaces

/// Where the ink of a head with its flag ends: its dots stand behind that.
Length head_end(const Setting& setting, const theory::SpelledPiece& piece, Length space) {
  const text::Sign& head = setting.music.sign(head_sign(piece.value), space);
  const auto flag = flag_sign(piece.value);
  if (!flag || piece.beam >= 0) return head.advance;
  return std::max(head.advance, head.stem_up.x + setting.music.sign(*flag, space).box.right());
}

bool is_muted(const theory::SpelledPiece& piece, const std::vector<ChartHit>& hits) {
  const auto id = static_cast<std::size_t>(piece.id);
  return !piece.rest && piece.id >= 0 && id < hits.size() && hits[id].muted;
}

/// Muted strokes have crosses, as on a staff.
MusicSign head_of(const theory::SpelledPiece& piece, const std::vector<ChartHit>& hits) {
  if (!is_muted(piece, hits)) return head_sign(piece.value);
  if (piece.value < NoteValue::kHalf) return MusicSign::NoteheadXWhole;
  return piece.value == NoteValue::kHalf ? MusicSign::NoteheadXHalf : MusicSign::NoteheadXBlack;
}

bool is_ghost(const theory::SpelledPiece& piece, const std::vector<ChartHit>& hits) {
  const auto id = static_cast<std::size_t>(piece.id);
  return !piece.rest && !piece.tie_from_previous && piece.id >= 0 && id < hits.size() && hits[id].ghost;
}

Length ghost_width(const Setting& setting, Length space) {
  return setting.music.sign(MusicSign::ParenthesisLeft, space).advance + space * kGhostGap;
}

/// Before the first hit or after the last.
bool plays_on(const ChartBar& bar, Fraction onset) {
  return onset < bar.plays_until || (bar.plays_from && *bar.plays_from <= onset);
}

/// What stands in a row: a piece or a beat on which the band plays on; `lead` is its ink left of its place.
struct RowMark {
  Fraction onset;
  const theory::SpelledPiece* piece = nullptr;
  Length lead, width;  ///< the white behind it included
};

/// Pieces, and slashes for the beats that are played on: no rests stand there.
std::vector<RowMark> row_marks(const Setting& setting, const ChartBar& bar, const std::vector<ChartHit>& hits,
                               const theory::Spelling& spelling, Length space) {
  constexpr double kWhite = 0.45;
  std::vector<RowMark> out;
  for (const theory::BarSpan& beat : bar.meter.beats()) {
    if (!plays_on(bar, beat.onset)) continue;
    const Length width = setting.music.sign(MusicSign::NoteheadSlash, space).advance;
    out.push_back({beat.onset, nullptr, {}, width + space * kWhite});
  }
  for (const theory::SpelledPiece& piece : spelling.pieces) {
    if (piece.rest && plays_on(bar, piece.onset)) continue;  // the band plays there
    RowMark mark{piece.onset, &piece, {}, {}};
    if (piece.rest) {
      mark.width = setting.music.sign(rest_sign(piece.value), space).advance;
    } else {
      mark.width = head_end(setting, piece, space) + space * (kDot * piece.dots);
    }
    if (is_ghost(piece, hits)) {
      mark.lead = ghost_width(setting, space);
      mark.width += mark.lead;
    }
    mark.width += space * kWhite;
    out.push_back(mark);
  }
  std::stable_sort(out.begin(), out.end(), [](const RowMark& a, const RowMark& b) { return a.onset < b.onset; });
  return out;
}

Length marks_width(const std::vector<RowMark>& marks) {
  Length sum;
  for (const RowMark& mark : marks) sum += mark.lead + mark.width;
  return sum;
}

/// Where an onset stands.
using PlaceOf = std::function<Length(Fraction)>;

struct Row {
  Length space;   ///< of a staff
  Length middle;  ///< of the heads
  Colour colour;
};

class HitRow {
 public:
  HitRow(Frame& frame, const Setting& setting, const ChartBar& bar, const std::vector<ChartHit>& hits, PlaceOf place,
         Row row)
      : frame_(frame), setting_(setting), bar_(bar), hits_(hits), place_(std::move(place)), row_(row) {}

  void draw() {
    const theory::BarShape shape{bar_.length, bar_.pick_up ? theory::BarAlign::kEnd : theory::BarAlign::kStart};
    const auto spelled = theory::spell_bar(bar_.meter, shape, spans_of(bar_, hits_));
    if (!spelled) return;
    spelling_ = &*spelled;
    xs_.resize(spelled->pieces.size());
    settle();
    for (std::size_t i = 0; i < xs_.size(); ++i) {
      const theory::SpelledPiece& piece = spelled->pieces[i];
      if (!piece.rest) {
        note(i);
      } else if (!plays_on(bar_, piece.onset)) {
        rest(xs_[i], rest_sign(piece.value));
      }
    }
    beams();
  }

 private:
  Length sign(Point at, MusicSign which, Kind kind) {
    return put_sign(frame_, setting_, at, which, row_.space, kind, row_.colour);
  }
  /// There is no staff: a whole rest hangs from a short line of its own, a half rest sits on one.
  void rest(Length x, MusicSign which) {
    const Length width = sign({x, row_.middle}, which, "chart-rest");
    if (which != MusicSign::RestWhole && which != MusicSign::RestHalf) return;
    const Length beyond = row_.space * 0.3;
    rule(frame_, {x - beyond, row_.middle}, width + beyond * 2, row_.space * 0.16, row_.colour, "chart-rest-line");
  }
  Length stem_top() const { return row_.middle - row_.space * 3.2; }
  Length stem_width() const { return std::max(row_.space * 0.14, Length::pt(0.6)); }
  Length stem_x(std::size_t at) const {
    return xs_[at] + setting_.music.sign(head_of(spelling_->pieces[at], hits_), row_.space).stem_up.x;
  }

  /// Every piece at its onset, or as little beside it as keeps it clear of its neighbours; slashes are drawn.
  void settle() {
    const std::vector<RowMark> marks = row_marks(setting_, bar_, hits_, *spelling_, row_.space);
    std::vector<Length> xs;
    Length free = place_(Fraction{});
    for (const RowMark& mark : marks) {
      xs.push_back(std::max(place_(mark.onset), free + mark.lead));
      free = xs.back() + mark.width;
    }
    Length limit = std::max(place_(bar_.length), place_(Fraction{}) + marks_width(marks));
    for (std::size_t i = marks.size(); i-- > 0;) {
      xs[i] = std::min(xs[i], limit - marks[i].width);
      limit = xs[i] - marks[i].lead;
      if (marks[i].piece == nullptr) {
        sign({xs[i], row_.middle}, MusicSign::NoteheadSlash, "chart-slash");
      } else {
        xs_[static_cast<std::size_t>(marks[i].piece - spelling_->pieces.data())] = xs[i];
      }
    }
  }

  void note(std::size_t at) {
    const theory::SpelledPiece& piece = spelling_->pieces[at];
    const Length x = xs_[at];
    const text::Sign head = setting_.music.sign(head_of(piece, hits_), row_.space);
    sign({x, row_.middle}, head_of(piece, hits_), "chart-hit");
    Length end = x + (piece.dots > 0 ? head_end(setting_, piece, row_.space) : head.advance);
    for (int dot = 0; dot < piece.dots; ++dot) {
      end += row_.space * kBeforeDot;
      end += sign({end, row_.middle - row_.space * 0.5}, MusicSign::AugmentationDot, "chart-hit-dot");
    }
    const Point foot{x + head.stem_up.x, row_.middle + head.stem_up.y};
    if (theory::has_stem(piece.value)) {
      const layout::Stroke stem{stem_width(), row_.colour, {}, {}};
      const Point up{{}, stem_top() - foot.y};
      frame_.items.push_back({foot, "chart-stem", layout::Layer::Ink, bar_.origin, {}, layout::LineShape{up, stem}});
      const auto flag = flag_sign(piece.value);
      if (flag && piece.beam < 0) sign({foot.x, stem_top()}, *flag, "chart-flag");
    }
    const auto id = static_cast<std::size_t>(piece.id);
    const bool begins = !piece.tie_from_previous && piece.id >= 0 && id < hits_.size();
    if (begins) manner(hits_[id], x, x + head.advance, foot.x, theory::has_stem(piece.value));
    if (is_ghost(piece, hits_)) {
      sign({x - ghost_width(setting_, row_.space), row_.middle}, MusicSign::ParenthesisLeft, "chart-ghost");
      const Length right = std::max(end, x + head_end(setting_, piece, row_.space)) + row_.space * kGhostGap;
      sign({right, row_.middle}, MusicSign::ParenthesisRight, "chart-ghost");
    }
    if (piece.tie_to_next) tie(at + 1 < xs_.size() ? xs_[at + 1] : place_(piece.end()), end);
  }

  /// How it is struck: short and held at the head, strength and holds over the stem.
  void manner(const ChartHit& hit, Length left, Length right, Length stem, bool has_stem) {
    const Length under = row_.middle + row_.space * 1.5, middle = (left + right) / 2;
    if (hit.accents.staccato) centred(middle, under, MusicSign::Staccato);
    if (hit.accents.tenuto)
      centred(middle, under + (hit.accents.staccato ? row_.space * 0.5 : Length{}), MusicSign::Tenuto);
    Length over = (has_stem ? stem_top() : row_.middle - row_.space) - row_.space * 0.9;
    const Length x = has_stem ? stem : middle;
    const auto stack = [&](bool there, MusicSign which) {
      if (!there) return;
      centred(x, over, which);
      over -= row_.space * 1.2;
    };
    stack(hit.accents.accent, MusicSign::Accent);
    stack(hit.accents.marcato, MusicSign::MarcatoAbove);
    stack(hit.accents.fermata, MusicSign::FermataAbove);
  }

  void centred(Length x, Length y, MusicSign which) {
    const Length width = setting_.music.sign(which, row_.space).advance;
    sign({x - width / 2, y}, which, "chart-accent");
  }

  void tie(Length to, Length end) {
    const Length y = row_.middle + row_.space * 1.3;
    if (to <= end) return;
    layout::PathShape shape{
        text::slur({end - row_.space * 0.4, y}, {to, y}, row_.space * 0.6, row_.space * 0.08, row_.space * 0.2),
        row_.colour, std::nullopt};
    frame_.items.push_back({{}, "chart-tie", layout::Layer::Ink, bar_.origin, {}, std::move(shape)});
  }

  /// Level beams, the first at the stems' ends, the others below it.
  void beams() {
    const auto& pieces = spelling_->pieces;
    for (const theory::Beam& beam : spelling_->beams) {
      for (int level = 0; level < beam.levels; ++level) {
        std::optional<Length> from;
        for (int p = beam.first; p <= beam.last; ++p) {
          const auto index = static_cast<std::size_t>(p);
          const theory::SpelledPiece& piece = pieces[index];
          const Length x = stem_x(index), hook = row_.space * 1.1;
          switch (piece.beam_marks[static_cast<std::size_t>(level)]) {
            case theory::BeamMark::kBegin:
              from = x;
              break;
            case theory::BeamMark::kEnd:
              if (from) beam_line(*from, x, level);
              from.reset();
              break;
            case theory::BeamMark::kHookForward:
              beam_line(x, x + hook, level);
              break;
            case theory::BeamMark::kHookBack:
              beam_line(x - hook, x, level);
              break;
            case theory::BeamMark::kContinue:
            case theory::BeamMark::kNone:
              break;
          }
        }
      }
    }
  }

  void beam_line(Length from, Length to, int level) {
    layout::RectShape shape;
    shape.size = {to - from + stem_width(), row_.space * 0.5};
    shape.fill = row_.colour;
    const Point at{from - stem_width() / 2, stem_top() + row_.space * (0.75 * level)};
    frame_.items.push_back({at, "chart-beam", layout::Layer::Ink, bar_.origin, {}, shape});
  }

  Frame& frame_;
  const Setting& setting_;
  const ChartBar& bar_;
  const std::vector<ChartHit>& hits_;
  PlaceOf place_;
  Row row_;
  const theory::Spelling* spelling_ = nullptr;
  std::vector<Length> xs_;  ///< of the pieces, from the left
};

constexpr double kRowSpaces = 6.2;  // height of the row in staff spaces
constexpr double kMiddle = 4.75;    // of the heads under its top

Length hit_space(Length chord_size) {
  return hits_height(chord_size) * (1 / kRowSpaces);
}

Length row_width(const Setting& setting, const ChartBar& bar, const std::vector<ChartHit>& hits, Length space) {
  if (hits.empty()) return {};
  const auto spelled = theory::spell_bar(bar.meter, {bar.length, theory::BarAlign::kStart}, spans_of(bar, hits));
  return spelled ? marks_width(row_marks(setting, bar, hits, *spelled, space)) : Length{};
}

}  // namespace

Length hits_width(const Setting& setting, const ChartBar& bar, Length chord_size) {
  return row_width(setting, bar, bar.hits, hit_space(chord_size));
}

Length strum_width(const Setting& setting, const ChartBar& bar, Length space) {
  return row_width(setting, bar, bar.strum, space);
}

Length put_strum(Frame& frame, const Setting& setting, const ChartBar& bar, Point at, Length width, Length space) {
  const auto place = [&](Fraction onset) {
    return at.x + width * (onset.to_double() / std::max(bar.length.to_double(), 1e-9));
  };
  HitRow(frame, setting, bar, bar.strum, place, {space, at.y + space * 4, setting.style.ink}).draw();
  return space * 5.4;
}

void put_hits(Frame& frame, const Setting& setting, const ChartBar& bar, const BarPlaces& places, Length top,
              Length chord_size) {
  const Length space = hit_space(chord_size);
  const auto place = [&](Fraction onset) { return places.x_of(onset); };
  HitRow(frame, setting, bar, bar.hits, place, {space, top + space * kMiddle, setting.style.ink}).draw();
}

}  // namespace tunesheaf::blocks
