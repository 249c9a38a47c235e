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

/// What a piece takes in a row, with the white behind it; a flag reaches beyond its head.
Length piece_width(const Setting& setting, const theory::SpelledPiece& piece, Length space) {
  constexpr double kWhite = 0.45, kDot = 0.8;
  if (piece.rest) return setting.music.sign(rest_sign(piece.value), space).advance + space * kWhite;
  const text::Sign& head = setting.music.sign(head_sign(piece.value), space);
  Length end = head.advance + space * (kDot * piece.dots);
  const auto flag = flag_sign(piece.value);
  if (flag && piece.beam < 0) end = std::max(end, head.stem_up.x + setting.music.sign(*flag, space).box.right());
  return end + space * kWhite;
}

Length pieces_width(const Setting& setting, const theory::Spelling& spelling, Length space) {
  Length sum;
  for (const theory::SpelledPiece& piece : spelling.pieces) sum += piece_width(setting, piece, space);
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
    settle();
    slashes();
    for (std::size_t i = 0; i < xs_.size(); ++i) {
      const theory::SpelledPiece& piece = spelled->pieces[i];
      if (piece.rest) {
        if (plays_on(piece.onset)) continue;  // no rest: the band plays there
        sign({xs_[i], row_.middle}, rest_sign(piece.value), "chart-rest");
      } else {
        note(i);
      }
    }
    beams();
  }

 private:
  Length sign(Point at, MusicSign which, Kind kind) {
    return put_sign(frame_, setting_, at, which, row_.space, kind, row_.colour);
  }
  /// Before the first hit or after the last.
  bool plays_on(Fraction onset) const {
    return onset < bar_.plays_until || (bar_.plays_from && *bar_.plays_from <= onset);
  }
  Length stem_top() const { return row_.middle - row_.space * 3.2; }
  Length stem_width() const { return std::max(row_.space * 0.14, Length::pt(0.6)); }
  Length stem_x(std::size_t at) const {
    return xs_[at] + setting_.music.sign(head_sign(spelling_->pieces[at].value), row_.space).stem_up.x;
  }

  /// A plain slash for each beat that is played on, clear of the flag of the hit before it.
  void slashes() {
    const auto& pieces = spelling_->pieces;
    Length clear = place_(Fraction{});
    for (const theory::BarSpan& beat : bar_.meter.beats()) {
      for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (pieces[i].rest || beat.onset <= pieces[i].onset) continue;
        clear = std::max(clear, xs_[i] + piece_width(setting_, pieces[i], row_.space));
      }
      if (!plays_on(beat.onset)) continue;
      const Length x = std::max(place_(beat.onset), clear);
      sign({x, row_.middle}, MusicSign::NoteheadSlash, "chart-slash");
      clear = x + setting_.music.sign(MusicSign::NoteheadSlash, row_.space).advance;
    }
  }

  /// Every piece at its onset, or as little beside it as keeps it clear of its neighbours.
  void settle() {
    const auto& pieces = spelling_->pieces;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const Length wanted = place_(pieces[i].onset);
      const Length least = i > 0 ? xs_[i - 1] + piece_width(setting_, pieces[i - 1], row_.space) : wanted;
      xs_.push_back(std::max(wanted, least));
    }
    Length limit = std::max(place_(bar_.length), place_(Fraction{}) + pieces_width(setting_, *spelling_, row_.space));
    for (std::size_t i = pieces.size(); i-- > 0;) {
      xs_[i] = std::min(xs_[i], limit - piece_width(setting_, pieces[i], row_.space));
      limit = xs_[i];
    }
  }

  void note(std::size_t at) {
    const theory::SpelledPiece& piece = spelling_->pieces[at];
    const Length x = xs_[at];
    const text::Sign head = setting_.music.sign(head_sign(piece.value), row_.space);
    Length end = x + sign({x, row_.middle}, head_sign(piece.value), "chart-hit");
    for (int dot = 0; dot < piece.dots; ++dot) {
      end += row_.space * 0.35;
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
    if (piece.tie_to_next) tie(at + 1 < xs_.size() ? xs_[at + 1] : place_(piece.end()), end);
  }

  /// How it is struck: short and held at the head, strength and holds over the stem, what is hardly there in brackets.
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
    if (!hit.ghost) return;
    const Length gap = row_.space * 0.1, width = setting_.music.sign(MusicSign::ParenthesisLeft, row_.space).advance;
    sign({left - gap - width, row_.middle}, MusicSign::ParenthesisLeft, "chart-ghost");
    sign({right + gap, row_.middle}, MusicSign::ParenthesisRight, "chart-ghost");
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

}  // namespace

Length hits_width(const Setting& setting, const ChartBar& bar, Length chord_size) {
  if (bar.hits.empty()) return {};
  const auto spelled = theory::spell_bar(bar.meter, {bar.length, theory::BarAlign::kStart}, spans_of(bar, bar.hits));
  return spelled ? pieces_width(setting, *spelled, hit_space(chord_size)) : Length{};
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
