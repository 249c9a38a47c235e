#include <algorithm>
#include <array>
#include <cmath>

#include "sign_outlines.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/text/music_signs.h"

namespace tunesheaf::text {
namespace {

using base::Length;
using base::Point;
using base::Rect;

constexpr char32_t kFiveLines = 0x1D11A, kOneLine = 0x1D116, kDynamicM = 0x1D190;

/// How a glyph is moved so that y = 0 is where its origin belongs.
enum class Stand : std::uint8_t {
  Drawn,     // ours: drawn where it belongs
  Line,      // `height` spaces above the bottom line of the family's staff
  Bottom,    // its ink stands on y = 0
  Top,       // its ink hangs from y = 0
  Dynamics,  // the letters' baseline, which is where the m stands
};

/// Usual ink of a glyph in spaces, for the fixed shaper: width, reach above and below the origin.
struct Usual {
  double width = 0, above = 0, below = 0;
};

struct SignEntry {
  std::string_view name;
  char32_t character = 0;  // of the music family; 0 for our own drawings
  Stand stand = Stand::Drawn;
  double height = 0;
  Usual usual = {};
};

// In the order of the enumeration.
constexpr std::array<SignEntry, kMusicSigns> kSigns = {{
    {"notehead-double-whole", 0x1D15C, Stand::Line, 0.5, {2.5, 0.7, 0.7}},
    {"notehead-whole", 0x1D15D, Stand::Line, 0.5, {1.7, 0.52, 0.52}},
    {"notehead-half", 0x1D157, Stand::Line, 0.5, {1.22, 0.55, 0.55}},
    {"notehead-black", 0x1D158, Stand::Line, 0.5, {1.22, 0.55, 0.55}},
    {"notehead-x-black"},
    {"notehead-x-half"},
    {"notehead-x-whole"},
    {"notehead-circle-x", 0x1D145, Stand::Line, 0.5, {1.29, 0.64, 0.64}},
    {"notehead-diamond-black", 0x1D1BA, Stand::Line, 0.5, {1.27, 0.64, 0.64}},
    {"notehead-diamond-white", 0x1D1B9, Stand::Line, 0.5, {1.27, 0.64, 0.64}},
    {"notehead-triangle-up-black", 0x1D149, Stand::Line, 0.5, {1.22, 0.56, 0.55}},
    {"notehead-triangle-up-white", 0x1D148, Stand::Line, 0.5, {1.22, 0.56, 0.55}},
    {"notehead-slash"},
    {"notehead-slash-half"},
    {"notehead-slash-whole"},
    {"augmentation-dot"},
    {"parenthesis-left"},
    {"parenthesis-right"},
    {"flag-8-up"},
    {"flag-16-up"},
    {"flag-32-up"},
    {"flag-64-up"},
    {"flag-8-down"},
    {"flag-16-down"},
    {"flag-32-down"},
    {"flag-64-down"},
    {"grace-slash"},
    {"rest-double-whole"},
    {"rest-whole"},
    {"rest-half"},
    {"rest-quarter", 0x1D13D, Stand::Line, 2, {1.05, 1.55, 1.55}},
    {"rest-8", 0x1D13E, Stand::Line, 2, {1.07, 0.94, 0.95}},
    {"rest-16", 0x1D13F, Stand::Line, 2, {1.35, 1.44, 1.45}},
    {"rest-32", 0x1D140, Stand::Line, 2, {1.64, 1.86, 2.07}},
    {"rest-64", 0x1D141, Stand::Line, 2, {1.93, 2.38, 2.58}},
    {"g-clef", 0x1D11E, Stand::Line, 1, {2.5, 4.42, 2.68}},
    {"g-clef-8-below", 0x1D120, Stand::Line, 1, {2.5, 4.42, 3.95}},
    {"f-clef", 0x1D122, Stand::Line, 3, {2.84, 0.64, 2.64}},
    {"f-clef-8-below", 0x1D124, Stand::Line, 3, {2.84, 0.64, 3.53}},
    {"c-clef", 0x1D121, Stand::Line, 2, {2.76, 2.1, 2.1}},
    {"percussion-clef"},
    {"flat"},
    {"natural"},
    {"sharp"},
    {"double-sharp", 0x1D12A, Stand::Line, 0.5, {1.07, 0.53, 0.55}},
    {"double-flat"},
    {"time-0"},
    {"time-1"},
    {"time-2"},
    {"time-3"},
    {"time-4"},
    {"time-5"},
    {"time-6"},
    {"time-7"},
    {"time-8"},
    {"time-9"},
    {"time-plus"},
    {"time-common", 0x1D134, Stand::Line, 2, {1.73, 1.04, 1.05}},
    {"time-cut", 0x1D135, Stand::Line, 2, {1.73, 1.73, 1.75}},
    {"dynamic-p", 0x1D18F, Stand::Dynamics, 0, {1.78, 1.17, 0.64}},
    {"dynamic-m", 0x1D190, Stand::Dynamics, 0, {2.02, 1.16, 0}},
    {"dynamic-f", 0x1D191, Stand::Dynamics, 0, {2.11, 1.77, 0.63}},
    {"dynamic-s", 0x1D18D, Stand::Dynamics, 0, {0.92, 1.17, 0}},
    {"dynamic-z", 0x1D18E, Stand::Dynamics, 0, {1.23, 1.1, 0}},
    {"dynamic-r", 0x1D18C, Stand::Dynamics, 0, {1.24, 1.17, 0}},
    {"accent"},
    {"staccato"},
    {"tenuto"},
    {"staccatissimo"},
    {"marcato-above"},
    {"marcato-below"},
    {"fermata-above", 0x1D110, Stand::Bottom, 0, {2.7, 1.44, 0}},
    {"fermata-below", 0x1D111, Stand::Top, 0, {2.7, 0, 1.45}},
    {"down-bow"},
    {"up-bow"},
    {"harmonic-circle"},
    {"open-hi-hat"},
    {"closed-hi-hat"},
    {"snap-pizzicato"},
    {"breath-mark", 0x1D112, Stand::Bottom, 0, {0.74, 1.23, 0}},
    {"caesura"},
    {"trill", 0x1D196, Stand::Bottom, 0, {1.84, 1.65, 0}},
    {"turn", 0x1D197, Stand::Bottom, 0, {2.64, 1.09, 0}},
    {"turn-inverted", 0x1D198, Stand::Bottom, 0, {2.64, 1.09, 0}},
    {"mordent"},
    {"mordent-upper"},
    {"segno", 0x1D10B, Stand::Bottom, 0, {2.11, 2.77, 0}},
    {"coda", 0x1D10C, Stand::Bottom, 0, {1.82, 2.08, 0}},
    {"dal-segno", 0x1D109, Stand::Bottom, 0, {3.02, 1.5, 0}},
    {"da-capo", 0x1D10A, Stand::Bottom, 0, {3.27, 1.53, 0}},
    {"repeat-bar", 0x1D10E, Stand::Line, 2, {2.21, 0.97, 0.97}},
    {"repeat-beat", 0x1D10D, Stand::Line, 2, {2.21, 0.97, 0.97}},
    {"pedal-down", 0x1D1AE, Stand::Bottom, 0, {3.26, 1.89, 0}},
    {"pedal-up", 0x1D1AF, Stand::Bottom, 0, {1.48, 1.43, 0}},
    {"note-picture-whole", 0x1D15D, Stand::Bottom, 0, {1.7, 1.03, 0}},
    {"note-picture-half", 0x1D15E, Stand::Bottom, 0, {1.22, 4.14, 0}},
    {"note-picture-quarter", 0x1D15F, Stand::Bottom, 0, {1.23, 4.09, 0}},
    {"note-picture-8", 0x1D160, Stand::Bottom, 0, {2.25, 4.09, 0}},
    {"note-picture-16", 0x1D161, Stand::Bottom, 0, {2.28, 4.09, 0}},
    {"note-picture-32", 0x1D162, Stand::Bottom, 0, {2.29, 4.68, 0}},
    {"triangle-major"},
}};

const SignEntry& entry_of(MusicSign sign) {
  return kSigns[static_cast<std::size_t>(sign)];
}

bool is_head(MusicSign sign) {
  return sign <= MusicSign::NoteheadSlashWhole;
}
bool is_flag(MusicSign sign) {
  return sign >= MusicSign::Flag8Up && sign <= MusicSign::Flag64Down;
}

/// Points of a path where the ink may be outermost: ends of steps, and the turning points of curves by sampling.
std::vector<Point> outer_points(const std::vector<PathStep>& path) {
  std::vector<Point> points;
  Point at;
  for (const PathStep& step : path) {
    if (step.verb == PathVerb::Close) continue;
    if (step.verb != PathVerb::Curve) {
      points.push_back(at = step.a);
      continue;
    }
    constexpr int kSamples = 32;
    for (int i = 1; i <= kSamples; ++i) {
      const double t = static_cast<double>(i) / kSamples, u = 1 - t;
      points.push_back(
          {at.x * (u * u * u) + step.a.x * (3 * u * u * t) + step.b.x * (3 * u * t * t) + step.c.x * (t * t * t),
           at.y * (u * u * u) + step.a.y * (3 * u * u * t) + step.b.y * (3 * u * t * t) + step.c.y * (t * t * t)});
    }
    at = step.c;
  }
  return points;
}

/// Stems meet a head where it is widest: the right side for upward stems, the left for downward ones. Where a whole
/// side is equally wide the stem takes the end it grows from.
void set_stems(Sign& sign, const std::vector<PathStep>& outline) {
  const Length near = sign.box.width / 100;
  sign.stem_up = {sign.box.right(), sign.box.bottom()};
  sign.stem_down = {sign.box.left(), sign.box.top()};
  for (const Point p : outer_points(outline)) {
    if (p.x >= sign.box.right() - near) sign.stem_up.y = std::min(sign.stem_up.y, p.y);
    if (p.x <= sign.box.left() + near) sign.stem_down.y = std::max(sign.stem_down.y, p.y);
  }
}

Sign path_sign(MusicSign which, Length staff_space) {
  Sign sign;
  sign.path = scaled(unit_outline(which), staff_space);
  sign.box = bounds(sign.path).value_or(Rect{});
  sign.advance = sign.box.right();
  if (is_head(which)) set_stems(sign, sign.path);
  if (!is_flag(which)) return sign;
  // Third and fourth flags need a longer stem: to the outer end of the first flag.
  const bool up = which <= MusicSign::Flag64Up;
  sign.stem_up.y = up ? sign.box.top() : Length{};
  sign.stem_down.y = up ? Length{} : sign.box.bottom();
  return sign;
}

}  // namespace

std::string_view name(MusicSign sign) {
  return entry_of(sign).name;
}

MusicFont::MusicFont(Shaper& shaper, std::string family) : shaper_(shaper), family_(std::move(family)) {
  const Length em = Length::pt(1000);
  const auto outline_of = [&](char32_t character) {
    const Line line = shaper_.line(base::to_utf8(character), TextStyle{{family_}, em, 0, false});
    if (line.runs.empty() || line.runs[0].run.glyphs.empty()) return std::optional<Rect>{};
    return bounds(shaper_.outline(line.runs[0].run.face, line.runs[0].run.glyphs[0].id, em));
  };
  const auto staff = outline_of(kFiveLines), one = outline_of(kOneLine), letter = outline_of(kDynamicM);
  if (!staff || !one || staff->height <= one->height) return;
  measured_ = true;
  space_in_em_ = (staff->height - one->height) / em / 4;
  bottom_line_in_em_ = -(staff->bottom() / em) + one->height / em / 2;
  if (letter) dynamics_in_em_ = -(letter->bottom() / em);
}

const Sign& MusicFont::sign(MusicSign which, Length staff_space) {
  const auto key = std::make_pair(which, staff_space);
  if (const auto found = made_.find(key); found != made_.end()) return found->second;
  Sign made = entry_of(which).character == 0 ? path_sign(which, staff_space) : glyph_sign(which, staff_space);
  return made_.emplace(key, std::move(made)).first->second;
}

Sign MusicFont::glyph_sign(MusicSign which, Length staff_space) {
  const SignEntry& entry = entry_of(which);
  const Length em = staff_space * (1 / space_in_em_);
  Line line = shaper_.line(base::to_utf8(entry.character), TextStyle{{family_}, em, 0, false});
  Sign sign;
  if (line.runs.empty() || line.runs[0].run.glyphs.empty()) return sign;
  Run run = std::move(line.runs[0].run);
  Glyph& glyph = run.glyphs[0];
  glyph.x = glyph.y = {};
  const std::vector<PathStep> outline = measured_ ? shaper_.outline(run.face, glyph.id, em) : std::vector<PathStep>{};
  const Usual& usual = entry.usual;
  Rect ink{{}, staff_space * -usual.above, staff_space * usual.width, staff_space * (usual.above + usual.below)};
  if (measured_) {
    ink = bounds(outline).value_or(Rect{});
    glyph.x = -ink.left();
    switch (entry.stand) {
      case Stand::Line:
        glyph.y = em * (bottom_line_in_em_ + entry.height * space_in_em_);
        break;
      case Stand::Bottom:
        glyph.y = -ink.bottom();
        break;
      case Stand::Top:
        glyph.y = -ink.top();
        break;
      case Stand::Dynamics:
        glyph.y = em * dynamics_in_em_;
        break;
      case Stand::Drawn:
        break;
    }
    ink = ink.moved({glyph.x, glyph.y});
  }
  run.ink = sign.box = ink;
  run.advance = sign.advance = ink.right();
  if (is_head(which)) {
    set_stems(sign, moved(outline, {glyph.x, glyph.y}));
    if (!measured_) sign.stem_up.y = sign.stem_down.y = {};
  }
  sign.run = std::move(run);
  return sign;
}

std::vector<std::pair<Length, const Sign*>> MusicFont::time_number(int number, Length staff_space) {
  std::vector<std::pair<Length, const Sign*>> out;
  Length x;
  for (const char c : std::to_string(std::max(0, number))) {
    const Sign& digit = sign(static_cast<MusicSign>(static_cast<int>(MusicSign::Time0) + (c - '0')), staff_space);
    out.emplace_back(x, &digit);
    x += digit.advance + staff_space * 0.08;
  }
  return out;
}

// Three letters with a tenth of the height between each two, the widest setting the axis.
Sign MusicFont::tab_clef(Length height) const {
  constexpr double kGap = 0.06;
  const double each = (1 - 2 * kGap) / 3;
  const Length letter_height = height * each;
  Sign sign;
  Length widest;
  for (const char c : {'T', 'A', 'B'}) widest = std::max(widest, letter_height * tab_letter(c).width);
  for (int i = 0; i < 3; ++i) {
    const Letter& letter = tab_letter("TAB"[i]);
    const Point by{(widest - letter_height * letter.width) / 2, height * (i * (each + kGap) - 0.5)};
    const std::vector<PathStep> path = moved(scaled(letter.path, letter_height), by);
    sign.path.insert(sign.path.end(), path.begin(), path.end());
  }
  sign.box = bounds(sign.path).value_or(Rect{});
  sign.advance = sign.box.right();
  return sign;
}

}  // namespace tunesheaf::text
