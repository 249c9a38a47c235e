#include "chart_pen.h"

#include <algorithm>
#include <map>

namespace tunesheaf::blocks {
namespace {

using text::MusicSign;

// Shares of the size of a root: what stands beside it, above it, and under the slash.
constexpr double kQuality = 0.82, kRaised = 0.62, kBass = 0.7;
constexpr double kRaise = 0.36;  // how far the baseline of what is raised lies over the root's
constexpr double kGap = 0.025;   // white between two pieces
constexpr double kAccidental = 0.86, kFlatRaise = 0.09, kSharpRaise = 0.06;

struct Piece {
  std::string text;
  double size, raise;
  Kind kind;
  double gap = 0;     ///< white before it
  bool root = false;  ///< of the size of the name; all else keeps to what can be read
};

/// Parts a text at its accidentals, which are set a little smaller and higher: their bellies then stand on the line.
void add_pieces(std::vector<Piece>& out, const std::string& text, double size, double raise, Kind kind) {
  const std::size_t first = out.size();
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t sign = std::min(text.find("\u266d", at), text.find("\u266f", at));
    if (sign == at) {
      const double lift = text.compare(at, 3, "\u266d") == 0 ? kFlatRaise : kSharpRaise;
      out.push_back({text.substr(at, 3), size * kAccidental, raise + size * lift, kind});
      at += 3;
      continue;
    }
    const std::size_t end = std::min(sign, text.size());
    out.push_back({text.substr(at, end - at), size, raise, kind});
    at = end;
  }
  if (first > 0 && out.size() > first) out[first].gap = kGap;
}

std::vector<Piece> pieces_of(const ChartName& name) {
  std::vector<Piece> out;
  add_pieces(out, name.root, 1, 0, "chart-chord");
  for (Piece& piece : out) piece.root = true;
  add_pieces(out, name.quality, kQuality, 0, "chart-quality");
  add_pieces(out, name.raised, kRaised, kRaise, "chart-raised");
  add_pieces(out, name.bass, kBass, 0, "chart-bass");
  return out;
}

style::TypeRole role_of(const Setting& setting, Length size) {
  style::TypeRole role = setting.style.chord;
  role.size = size;
  return role;
}

/// Widths are measured once at this size and scaled.
const Length kMeasured = Length::pt(100);
/// Names smaller than this keep what is raised in them at 7 pt and more.
const Length kLeastAround = Length::pt(7.05) * (1 / (kRaised * kAccidental));

}  // namespace

Length chart_name_width(const ChartChord& chord, Length size) {
  return chord.width * (size / kMeasured) + chord.small * (std::max(size, kLeastAround) / kMeasured);
}

void measure_chart(const Setting& setting, ChartContent& chart) {
  std::map<std::string, std::pair<Length, Length>> known;
  for (ChartSection& section : chart.sections) {
    for (ChartBar& bar : section.bars) {
      for (ChartChord& chord : bar.chords) {
        const auto [at, fresh] = known.try_emplace(chord.name.text());
        for (const Piece& piece : fresh ? pieces_of(chord.name) : std::vector<Piece>{}) {
          Length& width = piece.root ? at->second.first : at->second.second;
          width += kMeasured * piece.gap + width_of(setting, piece.text, role_of(setting, kMeasured)) * piece.size;
        }
        chord.width = at->second.first;
        chord.small = at->second.second;
      }
    }
  }
}

void put_chart_name(Frame& frame, const Setting& setting, Point at, const ChartName& name, Length size, Span origin) {
  for (const Piece& piece : pieces_of(name)) {
    const Length around = piece.root ? size : std::max(size, kLeastAround);
    at.x += around * piece.gap;
    const style::TypeRole role = role_of(setting, around * piece.size);
    at.x += put(frame, setting, {at.x, at.y - size * piece.raise}, piece.text,
                {role, setting.style.ink, piece.kind, origin});
  }
}

Length BarPlaces::x_of(Fraction onset) const {
  for (std::size_t i = 1; i < anchors.size(); ++i) {
    if (anchors[i].first < onset) continue;
    const auto& [from, x0] = anchors[i - 1];
    const auto& [to, x1] = anchors[i];
    if (to == from) return x1;
    return x0 + (x1 - x0) * ((onset - from).to_double() / (to - from).to_double());
  }
  return anchors.empty() ? left : anchors.back().second;
}

Length bar_end_width(const ChartBar& bar, Length chord_size) {
  return chord_size * (bar.repeat_end ? 0.68 : bar.final ? 0.56 : bar.doubled ? 0.46 : 0.36);
}

style::TypeRole count_role(const Setting& setting, Length chord_size) {
  style::TypeRole role = setting.style.label;
  role.size = chart_text_size(setting.style, chord_size);
  role.tracking = 0;
  return role;
}

std::string count_words(const ChartBar& bar) {
  return std::to_string(bar.count) + " bars";
}

Length count_room(const Setting& setting, const ChartBar& bar, Length chord_size) {
  if (bar.count < 2) return {};
  return width_of(setting, count_words(bar), count_role(setting, chord_size)) + chord_size * 0.25;
}

Length names_height(Length chord_size) {
  const Length raised = std::max(chord_size, kLeastAround) * (kRaised * 0.8);
  return std::max(chord_size * 0.9, chord_size * kRaise + raised + chord_size * 0.05);
}

bool is_sign_alone(const ChartBar& bar, bool first_in_line) {
  return bar.as_before && !first_in_line && bar.count == 1;
}

Length meter_figures(const theory::Meter& meter, Length chord_size) {
  const auto digits = [](int number) { return number > 9 ? 2 : 1; };
  if (meter.sign != theory::MeterSign::kFigures) return chord_size * 0.5;
  if (meter.grouping.size() < 2) {
    return chord_size * (0.44 * std::max(digits(meter.count), digits(meter.unit)));
  }
  int count = 0;
  for (const int group : meter.grouping) count += digits(group);
  const auto plus = static_cast<double>(meter.grouping.size() - 1);
  return chord_size * (0.44 * count + 0.42 * plus);
}

Length meter_room(const theory::Meter& meter, Length chord_size) {
  return meter_figures(meter, chord_size) + chord_size * 0.3;
}

namespace {

/// A slash of the row that shows the beats.
struct Slash {
  Length height, lean, stroke;
  Length step() const { return lean + stroke * 2.5; }
};

Slash slash_of(const style::Style& style, Length chord_size) {
  const Length height = std::max(chord_size * 0.34, Length::pt(4.5));
  return {height, height * 0.55, std::max(style.rule * 1.6, chord_size * 0.075)};
}

/// The least room for the slashes of a bar.
Length beats_width(const style::Style& style, const ChartBar& bar, Length chord_size) {
  return slash_of(style, chord_size).step() * static_cast<double>(bar.meter.beats().size());
}

}  // namespace

std::optional<BarPlaces> places_of(const Setting& setting, const ChartBar& bar, BarRoom room, const ChartSize& size) {
  constexpr double kBetweenNames = 0.36;
  const Length s = size.chord;
  BarPlaces out;
  out.left = room.left + s * (bar.repeat_begin ? 0.62 : 0.26);
  out.right = room.right - bar_end_width(bar, s);
  if (bar.show_meter) out.left += meter_room(bar.meter, s);
  out.right -= count_room(setting, bar, s);
  const Length avail = out.right - out.left;
  if (avail < s * 0.5 || avail < hits_width(setting, bar, s)) return std::nullopt;
  if (bar.hits.empty() && bar.shows_beats() && avail < beats_width(setting.style, bar, s)) return std::nullopt;
  out.anchors.emplace_back(Fraction{}, out.left);
  if (!is_sign_alone(bar, room.first_in_line) && !bar.chords.empty()) {
    const double gaps = kBetweenNames * static_cast<double>(bar.chords.size() - 1);
    const auto needed = [&](double scale) {
      Length all = s * (gaps * scale);
      for (const ChartChord& chord : bar.chords) all += chart_name_width(chord, s * scale);
      return all;
    };
    while (needed(out.scale) > avail) {
      out.scale = std::min(out.scale * (avail / needed(out.scale)), out.scale * 0.99);
      // A name alone in its bar stays near the size of the others; a crowd may go as far as the least.
      if (bar.chords.size() == 1 && out.scale < 0.8) return std::nullopt;
      if (s * out.scale < size.least) return std::nullopt;
    }
    std::vector<Length> widths;
    for (const ChartChord& chord : bar.chords) widths.push_back(chart_name_width(chord, s * out.scale));
    const Length gap = s * (kBetweenNames * out.scale);
    for (std::size_t i = 0; i < widths.size(); ++i) {
      const double share = bar.chords[i].onset.to_double() / std::max(bar.length.to_double(), 1e-9);
      Length x = out.left + avail * share;
      if (i > 0) x = std::max(x, out.chords[i - 1] + widths[i - 1] + gap);
      out.chords.push_back(x);
    }
    Length limit = out.right;
    for (std::size_t i = widths.size(); i-- > 0;) {
      out.chords[i] = std::max(out.left, std::min(out.chords[i], limit - widths[i]));
      limit = out.chords[i] - gap;
    }
    for (std::size_t i = 0; i < widths.size(); ++i) {
      const double share = bar.chords[i].onset.to_double() / std::max(bar.length.to_double(), 1e-9);
      out.crowded = out.crowded || base::abs(out.chords[i] - out.left - avail * share) > s * 0.15;
      if (bar.chords[i].onset == Fraction{}) {
        out.anchors.front().second = out.chords[i];
      } else {
        out.anchors.emplace_back(bar.chords[i].onset, out.chords[i]);
      }
    }
  }
  out.anchors.emplace_back(bar.length, std::max(out.right, out.anchors.back().second + s * 0.3));
  return out;
}

Length beats_height(Length chord_size) {
  return chord_size * 0.52;
}

Length hits_height(Length chord_size) {
  return std::max(chord_size * 1.25, Length::pt(16));
}

/// Whether no chord is in force: a slash there would be a stroke, and a rest keeps the count.
static bool silent_at(const ChartBar& bar, Fraction onset) {
  bool out = false;
  for (const ChartChord& chord : bar.chords) {
    if (chord.onset <= onset) out = chord.name.root == "N.C.";
  }
  return out;
}

/// A quarter rest where the beat is a quarter; else a level stroke, which has no value of its own, as slashes have
/// none.
static void rest_for_beat(Frame& frame, const Setting& setting, const ChartBar& bar, Point middle, Length height) {
  const Length width = height * 0.5;
  if (bar.meter.beats().front().length != base::Fraction(1, 4)) {
    const layout::Stroke stroke{height * 0.14, setting.style.ink, layout::Cap::Butt, {}};
    frame.items.push_back(
        {middle, "chart-rest-line", layout::Layer::Ink, bar.origin, {}, layout::LineShape{{width, {}}, stroke}});
    return;
  }
  const text::Sign& unit = setting.music.sign(text::MusicSign::RestQuarter, height);
  const Length space = height * (height / unit.box.height);
  const text::Sign& sign = setting.music.sign(text::MusicSign::RestQuarter, space);
  put_sign(frame, setting, {middle.x - sign.box.x, middle.y - sign.box.y - sign.box.height / 2},
           text::MusicSign::RestQuarter, space, "chart-rest", setting.style.ink);
}

void put_beats(Frame& frame, const Setting& setting, const ChartBar& bar, const BarPlaces& places, Length top,
               Length chord_size) {
  const Slash slash = slash_of(setting.style, chord_size);
  const Length height = slash.height, lean = slash.lean, step = slash.step();
  const layout::Stroke stroke{slash.stroke, setting.style.ink, layout::Cap::Butt, {}};
  struct Beat {
    Length x;
    bool silent;
  };
  std::vector<Beat> beats;
  for (const theory::BarSpan& beat : bar.meter.beats()) {
    if (!(beat.onset < bar.length)) break;
    const Length x = places.x_of(beat.onset);
    beats.push_back({beats.empty() ? x : std::max(x, beats.back().x + step), silent_at(bar, beat.onset)});
  }
  // Where names stand close at the bar's end the slashes move to the left.
  Length limit = std::max(places.right, places.left + step * static_cast<double>(beats.size()));
  for (std::size_t i = beats.size(); i-- > 0;) limit = beats[i].x = std::min(beats[i].x, limit - step);
  const Length foot = top + beats_height(chord_size) * 0.9;
  for (const Beat& beat : beats) {
    if (beat.silent) {
      rest_for_beat(frame, setting, bar, {beat.x, foot - height / 2}, beats_height(chord_size) * 0.98);
    } else {
      frame.items.push_back({{beat.x, foot},
                             "chart-slash",
                             layout::Layer::Ink,
                             bar.origin,
                             {},
                             layout::LineShape{{lean, -height}, stroke}});
    }
  }
}

}  // namespace tunesheaf::blocks
