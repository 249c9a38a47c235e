#include "sign_sample.h"

#include <algorithm>

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using text::MusicSign;
using text::PathVerb;

/// Draws a sign small, in a box `width` wide whose baseline is y = 0.
class Sample {
 public:
  Sample(const Setting& setting, const SignList& list, Frame& frame, Point at, Length width)
      : setting_(setting), style_(setting.style), list_(list), frame_(frame), at_(at), width_(width) {}

  void draw(LegendSign sign) {
    switch (sign) {
      case LegendSign::HammerOn:
        return slurred("5", "7");
      case LegendSign::PullOff:
        return slurred("7", "5");
      case LegendSign::Slide:
        return slide(0.22, 0.78, "5", "7");
      case LegendSign::SlideIn:
        return slide(0.1, 0.6, "", "7");
      case LegendSign::SlideOff:
        return slide(0.4, 0.9, "7", "");
      case LegendSign::Bend:
        return bend(true);
      case LegendSign::Release:
        return bend(false);
      case LegendSign::Vibrato:
        return wave();
      case LegendSign::ArmMove:
        return arm();
      case LegendSign::Accent:
        return music(MusicSign::Accent);
      case LegendSign::Marcato:
        return music(MusicSign::MarcatoAbove);
      case LegendSign::Staccato:
        return music(MusicSign::Staccato);
      case LegendSign::Fermata:
        return music(MusicSign::FermataAbove);
      case LegendSign::DownStroke:
        return music(MusicSign::DownBow);
      case LegendSign::UpStroke:
        return music(MusicSign::UpBow);
      case LegendSign::StrumDown:
        return arrow(1);
      case LegendSign::StrumUp:
        return arrow(-1);
      case LegendSign::Bow:
        return two(MusicSign::DownBow, MusicSign::UpBow);
      case LegendSign::Tenuto:
        return music(MusicSign::Tenuto);
      case LegendSign::Breath:
        return music(MusicSign::BreathMark);
      case LegendSign::Caesura:
        return music(MusicSign::Caesura);
      case LegendSign::SnapPizzicato:
        return music(MusicSign::SnapPizzicato);
      case LegendSign::BarRepeat:
        return music(MusicSign::RepeatBar);
      case LegendSign::Segno:
        return music(MusicSign::Segno);
      case LegendSign::Coda:
        return music(MusicSign::Coda);
      case LegendSign::ShortHold:
        return hold(true);
      case LegendSign::LongHold:
        return hold(false);
      case LegendSign::BodyTap:
        return boxed_cross();
      case LegendSign::Slur:
      case LegendSign::Tie:
        return arc();
      case LegendSign::Glissando:
        return line({at_.x + width_ * 0.15, at_.y}, {at_.x + width_ * 0.85, at_.y - style_.figure.size * 0.7});
      case LegendSign::Flam:
        return drum_graces(1);
      case LegendSign::Drag:
        return drum_graces(2);
      case LegendSign::DrumRoll:
        return strokes(2);
      case LegendSign::Tremolo:
        return strokes(3);
      case LegendSign::Wah:
        return two(MusicSign::OpenHiHat, MusicSign::ClosedHiHat);
      case LegendSign::BentFirst:
        return bent_first();
      case LegendSign::Cue:
        return small_notes();
      case LegendSign::Slash:
        return music(MusicSign::NoteheadSlash);
      case LegendSign::Trill:
        return music(MusicSign::Trill);
      case LegendSign::Rolled:
        return roll();
      case LegendSign::Swell:
      case LegendSign::FadeIn:
        return wedge(0.1, 0.9, true);
      case LegendSign::Louder:
        return wedge(0.1, 0.9, false);
      case LegendSign::FadeOut:
        return wedge(0.9, 0.1, true);
      case LegendSign::Softer:
        return wedge(0.9, 0.1, false);
      case LegendSign::Pedal:
        return music(MusicSign::PedalDown);
      case LegendSign::OpenDrum:
      case LegendSign::OpenTone:
        return music(MusicSign::OpenHiHat);
      case LegendSign::HalfOpenDrum:
        return half_open();
      case LegendSign::Held:
        return tied();
      case LegendSign::Repeat:
        return repeat_signs();
      case LegendSign::Ending:
        return ending();
      case LegendSign::HalfOnTab:
        return half_stem();
      case LegendSign::MirroredTab:
        return figure("E A D", 0.5, style_.small);
      default:
        return words(sign);
    }
  }

 private:
  void figure(const std::string& text, double share, const style::TypeRole& role) {
    put(frame_, setting_, {at_.x + width_ * share, at_.y}, text, {role, style_.ink, "legend-sign"}, Align::Centre);
  }
  void figure(const std::string& text, double share) { figure(text, share, style_.figure); }

  void path(std::vector<text::PathStep> steps, Point by) {
    frame_.items.push_back({{},
                            "legend-sign-path",
                            Layer::Ink,
                            {},
                            {},
                            layout::PathShape{text::moved(std::move(steps), by), style_.ink, std::nullopt}});
  }
  void line(Point a, Point b) {
    const layout::Stroke stroke{style_.rule * 1.2, style_.ink, {}, {}};
    frame_.items.push_back({a, "legend-sign-line", Layer::Ink, {}, {}, layout::LineShape{b - a, stroke}});
  }

  void slurred(const std::string& a, const std::string& b) {
    figure(a, 0.2);
    figure(b, 0.8);
    const Length y = at_.y - style_.figure.size * 0.85, thin = style_.staff_space * 0.12;
    path(text::slur({at_.x + width_ * 0.2, y}, {at_.x + width_ * 0.8, y}, -style_.figure.size * 0.3, thin, thin * 2),
         {});
  }
  /// A figure that sounds on: the tie, and the figure in small parentheses as a new line of music begins with it.
  void tied() {
    figure("5", 0.15);
    style::TypeRole small = style_.figure;
    small.size = std::max(small.size * 0.8, base::Length::pt(7));
    figure("(5)", 0.8, small);
    const Length y = at_.y - style_.figure.size * 0.85, thin = style_.staff_space * 0.12;
    const Length half = setting_.shaper.line("(5)", text_style(small)).width / 2;
    const Length end = std::min(width_ * 0.62, width_ * 0.8 - half - thin);
    path(text::slur({at_.x + width_ * 0.25, y}, {at_.x + end, y}, -style_.figure.size * 0.2, thin, thin * 2), {});
  }
  /// The stem of a quarter and the half as long one of a half note, with their ends level.
  void half_stem() {
    const Length foot = at_.y, quarter = style_.figure.size * 0.9;
    line({at_.x + width_ * 0.35, foot - quarter}, {at_.x + width_ * 0.35, foot});
    line({at_.x + width_ * 0.65, foot - quarter / 2}, {at_.x + width_ * 0.65, foot});
  }
  void slide(double from, double to, const std::string& a, const std::string& b) {
    if (!a.empty()) figure(a, a.empty() || b.empty() ? 0.3 : 0.15);
    if (!b.empty()) figure(b, a.empty() ? 0.7 : 0.85);
    const double pad = 0.13;
    const Length low = at_.y, high = at_.y - style_.figure.size * 0.7;
    line({at_.x + width_ * (a.empty() ? from : from + pad), low}, {at_.x + width_ * (b.empty() ? to : to - pad), high});
  }
  void bend(bool up) {
    figure("7", 0.25);
    const Length low = at_.y - style_.figure.size * 0.3, high = at_.y - style_.figure.size * 1.0;
    const Length x0 = at_.x + width_ * 0.42, x1 = at_.x + width_ * 0.8;
    const Length y0 = up ? low : high, y1 = up ? high : low;
    layout::PathShape curve;
    curve.steps = {{PathVerb::Move, {x0, y0}, {}, {}}, {PathVerb::Curve, {x0 + (x1 - x0) / 2, y0}, {x1, y0}, {x1, y1}}};
    curve.stroke = layout::Stroke{style_.rule * 1.2, style_.ink, {}, {}};
    frame_.items.push_back({{}, "legend-sign-path", Layer::Ink, {}, {}, curve});
    const Length tip = style_.figure.size * 0.4;
    path(text::arrow_head({{}, up ? -tip : tip}, tip, tip * 0.8), {x1, y1});
  }
  /// The arrow rises straight from the figure, which is bent as it is struck.
  void bent_first() {
    figure("7", 0.35);
    const Length tip = style_.figure.size * 0.4, x = at_.x + width_ * 0.65, top = at_.y - style_.figure.size * 0.9;
    line({x, at_.y - style_.figure.size * 0.2}, {x, top + tip * 0.7});
    path(text::arrow_head({{}, -tip}, tip, tip * 0.8), {x, top});
  }
  void wave() {
    const Length step = style_.figure.size * 0.5;
    path(text::wave(width_ * 0.8, step, step * 0.45), {at_.x + width_ * 0.1, at_.y - style_.figure.size * 0.4});
  }
  void roll() {
    const Length step = style_.figure.size * 0.5;
    path(text::wave_down(style_.figure.size * 1.2, step, step * 0.45),
         {at_.x + width_ / 2, at_.y - style_.figure.size});
  }
  /// Two lines that part from `point` to `mouth`, as shares of the width; from nothing with a ring at the point.
  void wedge(double point, double mouth, bool nothing) {
    const Length y = at_.y - style_.figure.size * 0.36, half = style_.figure.size * 0.25;
    Length x = at_.x + width_ * point;
    if (nothing) {
      const Length r = style_.figure.size * 0.14;
      layout::RectShape ring;
      ring.size = {r * 2, r * 2};
      ring.radius = r;
      ring.stroke = layout::Stroke{style_.rule * 1.2, style_.ink, {}, {}};
      const Length left = point < mouth ? x : x - r * 2;
      frame_.items.push_back({{left, y - r}, "legend-sign-path", Layer::Ink, {}, {}, ring});
      x = point < mouth ? x + r * 2 : left;
    }
    line({x, y}, {at_.x + width_ * mouth, y - half});
    line({x, y}, {at_.x + width_ * mouth, y + half});
  }
  void arm() {
    const Length high = at_.y - style_.figure.size * 0.7, low = at_.y;
    line({at_.x + width_ * 0.2, high}, {at_.x + width_ / 2, low});
    line({at_.x + width_ / 2, low}, {at_.x + width_ * 0.8, high});
  }
  /// As on the staff: a ring with a stroke through it.
  void half_open() {
    const Length reach = style_.figure.size * 0.4;
    const Point from{at_.x + width_ / 2 - reach, at_.y};
    const layout::Stroke stroke{style_.rule * 1.2, style_.ink, {}, {}};
    const Point along{reach * 2, style_.figure.size * -0.72};
    frame_.items.push_back({from, "drum-half", Layer::Ink, {}, {}, layout::LineShape{along, stroke}});
    music(MusicSign::OpenHiHat, "drum-ring");
  }
  void music(MusicSign sign, Kind kind = "legend-sign-music") {
    const Length space = style_.staff_space * 0.9;
    const text::Sign& drawn = setting_.music.sign(sign, space);
    const Point middle{drawn.box.x + drawn.box.width / 2, drawn.box.y + drawn.box.height / 2};
    const Point to{at_.x + width_ / 2 - middle.x, at_.y - style_.figure.size * 0.36 - middle.y};
    put_sign(frame_, setting_, to, sign, space, kind, style_.ink);
  }
  void arrow(int down) {
    const Length half = style_.figure.size * 0.5, tip = style_.figure.size * 0.45;
    const Point middle{at_.x + width_ / 2, at_.y - style_.figure.size * 0.36};
    line({middle.x, middle.y - half * down}, {middle.x, middle.y + (half - tip * 0.7) * down});
    path(text::arrow_head({{}, tip * down}, tip, tip * 0.8), {middle.x, middle.y + half * down});
  }
  /// Side by side.
  void two(MusicSign first, MusicSign second) {
    const Length whole = width_;
    width_ = whole * 0.5;
    at_.x += whole * 0.08;
    music(first);
    at_.x += whole * 0.34;
    music(second);
  }
  void outline(std::vector<text::PathStep> steps) {
    layout::PathShape shape;
    shape.steps = std::move(steps);
    shape.stroke = layout::Stroke{style_.rule * 1.2, style_.ink, {}, {}};
    frame_.items.push_back({{}, "legend-sign-path", Layer::Ink, {}, {}, std::move(shape)});
  }
  /// An angle for a short hold, a box for a long one, each over its dot, as on the staff.
  void hold(bool angle) {
    const Length half = style_.figure.size * 0.38, top = at_.y - style_.figure.size * 0.75;
    const Point middle{at_.x + width_ / 2, at_.y - style_.figure.size * 0.12};
    if (angle) {
      outline({{PathVerb::Move, {middle.x - half, middle.y}, {}, {}},
               {PathVerb::Line, {middle.x, top}, {}, {}},
               {PathVerb::Line, {middle.x + half, middle.y}, {}, {}}});
    } else {
      outline({{PathVerb::Move, {middle.x - half, middle.y}, {}, {}},
               {PathVerb::Line, {middle.x - half, top}, {}, {}},
               {PathVerb::Line, {middle.x + half, top}, {}, {}},
               {PathVerb::Line, {middle.x + half, middle.y}, {}, {}}});
    }
    dot(middle);
  }
  void dot(Point middle) {
    layout::RectShape shape;
    shape.radius = style_.figure.size * 0.08;
    shape.size = {shape.radius * 2, shape.radius * 2};
    shape.fill = style_.ink;
    frame_.items.push_back({middle - Point{shape.radius, shape.radius}, "legend-sign-path", Layer::Ink, {}, {}, shape});
  }
  void boxed_cross() {
    const Length half = style_.figure.size * 0.36;
    const Point middle{at_.x + width_ / 2, at_.y - style_.figure.size * 0.36};
    outline({{PathVerb::Move, {middle.x - half, middle.y - half}, {}, {}},
             {PathVerb::Line, {middle.x + half, middle.y - half}, {}, {}},
             {PathVerb::Line, {middle.x + half, middle.y + half}, {}, {}},
             {PathVerb::Line, {middle.x - half, middle.y + half}, {}, {}},
             {PathVerb::Close, {}, {}, {}}});
    const Length reach = half * 0.6;
    line(middle - Point{reach, reach}, middle + Point{reach, reach});
    line(middle + Point{-reach, reach}, middle + Point{reach, -reach});
  }
  void arc() {
    const Length y = at_.y - style_.figure.size * 0.2, thin = style_.staff_space * 0.12;
    path(text::slur({at_.x + width_ * 0.15, y}, {at_.x + width_ * 0.85, y}, -style_.figure.size * 0.4, thin, thin * 2),
         {});
  }
  /// The two bar lines of a repeat, facing each other.
  void repeat_signs() {
    const Length high = style_.figure.size * 0.95, mid = at_.y - style_.figure.size * 0.36;
    const auto stroke = [&](double share, Length thick) {
      layout::RectShape shape;
      shape.size = {thick, high};
      shape.fill = style_.ink;
      frame_.items.push_back(
          {{at_.x + width_ * share - thick / 2, mid - high / 2}, "legend-sign-path", Layer::Ink, {}, {}, shape});
    };
    for (const double side : {1.0, -1.0}) {  // opening, closing
      stroke(0.5 - 0.34 * side, style_.staff_space * 0.4);
      stroke(0.5 - 0.24 * side, style_.rule * 1.2);
      for (const double up : {1.0, -1.0}) dot({at_.x + width_ * (0.5 - 0.15 * side), mid + high * 0.16 * up});
    }
  }
  void ending() {
    const Length top = at_.y - style_.figure.size * 0.95, x0 = at_.x + width_ * 0.1, x1 = at_.x + width_ * 0.9;
    line({x0, at_.y}, {x0, top});
    line({x0, top}, {x1, top});
    put(frame_, setting_, {x0 + style_.small.size * 0.4, at_.y - style_.figure.size * 0.05}, "1.",
        {style_.small, style_.ink, "legend-sign"});
  }
  void head(double share, Length space) {
    const text::Sign& sign = setting_.music.sign(MusicSign::NoteheadBlack, space);
    const Point to{at_.x + width_ * share - sign.advance / 2, at_.y - style_.figure.size * 0.25};
    put_sign(frame_, setting_, to, MusicSign::NoteheadBlack, space, "legend-sign-music", style_.ink);
  }
  void drum_graces(int count) {
    const Length space = style_.staff_space * 0.8;
    for (int i = 0; i < count; ++i) head(0.5 - 0.2 * (count - i), space * 0.65);
    head(0.62, space);
  }
  /// Two small notes, as they stand on the small staff.
  void small_notes() {
    for (const double share : {0.3, 0.6}) {
      head(share, style_.staff_space * 0.6);
      const Length x = at_.x + width_ * share + style_.staff_space * 0.3, foot = at_.y - style_.figure.size * 0.28;
      line({x, foot}, {x, foot - style_.figure.size * 0.7});
    }
  }
  /// Strokes through a stem.
  void strokes(int count) {
    const Length x = at_.x + width_ / 2, top = at_.y - style_.figure.size * 1.05;
    line({x, at_.y}, {x, top});
    for (int i = 0; i < count; ++i) {
      const double share = 0.485 + 0.25 * (i - (count - 1) / 2.0);
      const Length y = top + style_.figure.size * share, half = style_.figure.size * 0.32;
      line({x - half, y + half * 0.4}, {x + half, y - half * 0.4});
    }
  }
  void words(LegendSign sign) {
    switch (sign) {
      case LegendSign::Dead:
        return figure("\u00d7", 0.5);
      case LegendSign::Ghost:
        return figure("(5)", 0.5);
      case LegendSign::NaturalHarmonic:
        return figure("<12>", 0.5);
      case LegendSign::ArtificialHarmonic:
        return figure("A.H.", 0.5, style_.small);
      case LegendSign::TappedHarmonic:
        return figure("T.H.", 0.5, style_.small);
      case LegendSign::PinchedHarmonic:
        return figure("P.H.", 0.5, style_.small);
      case LegendSign::Tap:
        return figure("T", 0.5, style_.small);
      case LegendSign::Grace:
        return figure("5", 0.5, style_.small);
      case LegendSign::FrettingFingers:
        return figure("1 3", 0.5, style_.label);
      case LegendSign::PluckingFingers:
        return figure("p i m a", 0.5, italic(style_.note));
      case LegendSign::Slap:
        return figure("S", 0.5, italic(style_.note));
      case LegendSign::Pop:
        return figure("P", 0.5, italic(style_.note));
      case LegendSign::HalfPalmMute:
        return figure("\u00bd P.M.", 0.5, italic(style_.note));
      case LegendSign::Barre:
        return figure("barre 5", 0.5, italic(style_.note));
      case LegendSign::Dynamics:
        return figure("p\u2002mf\u2002f", 0.5, italic(style_.note));
      case LegendSign::EffectSpan:
        return figure(printed(sign, "distortion"), 0.5, italic(style_.note));
      case LegendSign::WithSlide:
        return figure("slide", 0.5, italic(style_.note));
      case LegendSign::Choke:
        return figure("choke", 0.5, style_.small);
      case LegendSign::PalmMute:
        return figure("P.M.", 0.5, italic(style_.note));
      case LegendSign::LetRing:
        return figure("let ring", 0.5, italic(style_.note));
      case LegendSign::PartialStrum:
        return figure(printed(sign, "4\u20133"), 0.5, style_.small);
      case LegendSign::NoChord:
        return figure("N.C.", 0.5, style_.chord);
      case LegendSign::Rake:
        return figure("rake", 0.5, italic(style_.note));
      case LegendSign::Brush:
        return figure("brush", 0.5, style_.small);
      case LegendSign::Pizzicato:
        return figure("pizz.", 0.5, italic(style_.note));
      case LegendSign::TempoChange:
        return figure(printed(sign, "rit."), 0.5, italic(style_.note));
      case LegendSign::OctaveLine:
        return figure("8va", 0.5, italic(style_.note));
      case LegendSign::Sticking:
        return figure("R L", 0.5, style_.small);
      case LegendSign::BuzzRoll:
        return figure("z", 0.5, italic(style_.note));
      case LegendSign::RepeatTimes:
        return figure("\u00d73", 0.5, style_.label);
      case LegendSign::RepeatAndFade:
        return figure("fade out", 0.5, italic(style_.note));
      case LegendSign::DaCapo:
        return figure("D.C.", 0.5, italic(style_.note));
      case LegendSign::Fine:
        return figure("Fine", 0.5, italic(style_.note));
      case LegendSign::RemarkNumber:
        return put_number();
      default:
        return;
    }
  }
  std::string printed(LegendSign sign, const char* usual) const {
    const auto own = list_.printed.find(sign);
    return own == list_.printed.end() ? usual : own->second;
  }
  void put_number() {
    put_remark_number(frame_, setting_, {at_.x + width_ / 2 - style_.small.size * 0.58, at_.y}, 1, {});
  }

  const Setting& setting_;
  const style::Style& style_;
  const SignList& list_;
  Frame& frame_;
  Point at_;
  Length width_;
};

}  // namespace

void draw_sample(const Setting& setting, const SignList& list, Frame& frame, Point at, Length width, LegendSign sign) {
  Sample(setting, list, frame, at, width).draw(sign);
}

}  // namespace tunesheaf::blocks
