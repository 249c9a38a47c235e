#include "tunesheaf/blocks/legend.h"

#include <algorithm>

#include "pen.h"
#include "tunesheaf/engrave/drum_heads.h"

namespace tunesheaf::blocks {
namespace {

using layout::Layer;
using text::MusicSign;
using text::PathVerb;

/// Draws a sign small, in a box `width` wide whose baseline is y = 0.
class Sample {
 public:
  Sample(const Setting& setting, Frame& frame, Point at, Length width)
      : setting_(setting), style_(setting.style), frame_(frame), at_(at), width_(width) {}

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
        return bows();
      case LegendSign::Slash:
        return music(MusicSign::NoteheadSlash);
      case LegendSign::Trill:
        return music(MusicSign::Trill);
      case LegendSign::Rolled:
        return roll();
      case LegendSign::Swell:
      case LegendSign::Louder:
        return wedge(0.1, 0.9);
      case LegendSign::FadeOut:
      case LegendSign::Softer:
        return wedge(0.9, 0.1);
      case LegendSign::Pedal:
        return music(MusicSign::PedalDown);
      case LegendSign::OpenDrum:
        return music(MusicSign::OpenHiHat);
      case LegendSign::HalfOpenDrum:
        return half_open();
      case LegendSign::Held:
        return tied();
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
    path(text::slur({at_.x + width_ * 0.25, y}, {at_.x + width_ * 0.62, y}, -style_.figure.size * 0.2, thin, thin * 2),
         {});
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
  void wave() {
    const Length step = style_.figure.size * 0.5;
    path(text::wave(width_ * 0.8, step, step * 0.45), {at_.x + width_ * 0.1, at_.y - style_.figure.size * 0.4});
  }
  void roll() {
    const Length step = style_.figure.size * 0.5;
    path(text::wave_down(style_.figure.size * 1.2, step, step * 0.45),
         {at_.x + width_ / 2, at_.y - style_.figure.size});
  }
  /// Two lines that part from `point` to `mouth`, as shares of the width.
  void wedge(double point, double mouth) {
    const Length y = at_.y - style_.figure.size * 0.36, half = style_.figure.size * 0.25;
    line({at_.x + width_ * point, y}, {at_.x + width_ * mouth, y - half});
    line({at_.x + width_ * point, y}, {at_.x + width_ * mouth, y + half});
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
  void bows() {
    const Length whole = width_;
    width_ = whole * 0.5;
    at_.x += whole * 0.08;
    music(MusicSign::DownBow);
    at_.x += whole * 0.34;
    music(MusicSign::UpBow);
  }
  void words(LegendSign sign) {
    switch (sign) {
      case LegendSign::Dead:
        return figure("\u00d7", 0.5);
      case LegendSign::Ghost:
        return figure("(5)", 0.5);
      case LegendSign::NaturalHarmonic:
        return figure("\u27e812\u27e9", 0.5);
      case LegendSign::ArtificialHarmonic:
        return figure("A.H.", 0.5, style_.small);
      case LegendSign::TappedHarmonic:
        return figure("T.H.", 0.5, style_.small);
      case LegendSign::PinchedHarmonic:
        return figure("P.H.", 0.5, style_.small);
      case LegendSign::Tap:
        return figure("T", 0.5);
      case LegendSign::Tremolo:
        return figure("\u2261", 0.5);
      case LegendSign::Grace:
        return figure("5", 0.5, style_.small);
      case LegendSign::PluckingFingers:
        return figure("p i m a", 0.5, italic(style_.note));
      case LegendSign::Slap:
        return figure("T", 0.5, style_.small);
      case LegendSign::Pop:
        return figure("P", 0.5, style_.small);
      case LegendSign::HalfPalmMute:
        return figure("\u00bd P.M.", 0.5, italic(style_.note));
      case LegendSign::Barre:
        return figure("barre 5", 0.5, italic(style_.note));
      case LegendSign::Dynamics:
        return figure("p mf f", 0.5, italic(style_.note));
      case LegendSign::EffectSpan:
        return figure("wah", 0.5, italic(style_.note));
      case LegendSign::Choke:
        return figure("choke", 0.5, italic(style_.note));
      case LegendSign::PalmMute:
        return figure("P.M.", 0.5, italic(style_.note));
      case LegendSign::LetRing:
        return figure("let ring", 0.5, italic(style_.note));
      case LegendSign::RemarkNumber:
        return put_number();
      default:
        return;
    }
  }
  void put_number() {
    put_remark_number(frame_, setting_, {at_.x + width_ / 2 - style_.small.size * 0.58, at_.y}, 1, {});
  }

  const Setting& setting_;
  const style::Style& style_;
  Frame& frame_;
  Point at_;
  Length width_;
};

/// The drums of a kit from the lowest head up, and how far apart their heads stand.
struct Kit {
  std::vector<score::Drum> drums;
  Length step, clef;
  int lines = 5;
  int highest = 4, lowest = -4;
};
Kit kit_of(const Setting& setting, const score::Part& part) {
  const style::Style& style = setting.style;
  Kit kit{part.kit, style.staff_space * 6, style.staff_space * 3, part.kit_lines};
  std::stable_sort(kit.drums.begin(), kit.drums.end(),
                   [](const score::Drum& a, const score::Drum& b) { return a.place.position < b.place.position; });
  for (const score::Drum& drum : kit.drums) {
    kit.highest = std::max(kit.highest, drum.place.position);
    kit.lowest = std::min(kit.lowest, drum.place.position);
    kit.step = std::max(kit.step, width_of(setting, drum.name, style.small) + style.staff_space * 1.2);
  }
  return kit;
}

/// What a lane of its own says of the hi-hat's opening, over the head.
void drum_ring(Frame& frame, const Setting& setting, const theory::DrumPlace& place, Point foot) {
  if (place.ring == theory::DrumRing::None) return;
  const Length sp = setting.style.staff_space;
  const base::Rect box = setting.music.sign(MusicSign::OpenHiHat, sp).box;
  const Length left = foot.x - box.width / 2;
  put_sign(frame, setting, {left - box.x, foot.y - box.bottom()}, MusicSign::OpenHiHat, sp, "drum-key-ring",
           setting.style.ink);
  if (place.ring != theory::DrumRing::HalfOpen) return;
  const layout::Stroke stroke{sp * 0.13, setting.style.ink, layout::Cap::Round, {}};
  const Length reach = sp * 0.2;
  frame.items.push_back({{left - reach, foot.y + reach},
                         "drum-key-half",
                         Layer::Ink,
                         {},
                         {},
                         layout::LineShape{{box.width + reach + reach, -(box.height + reach + reach)}, stroke}});
}

void drum_head(Frame& frame, const Setting& setting, const score::Drum& drum, int lines, Point middle, Length names) {
  const style::Style& style = setting.style;
  const Length sp = style.staff_space;
  const MusicSign head = engrave::drum_head_sign(drum.place.head);
  const int position = drum.place.position;
  const Length half = setting.music.sign(head, sp).advance / 2;
  const auto ledger = [&](int at) {
    rule(frame, {middle.x - half - sp * 0.35, middle.y - sp * (at / 2.0)}, half * 2 + sp * 0.7,
         sp * style.engraving.ledger_line, style.ink, "drum-key-ledger");
  };
  for (int p = lines + 1; p <= position; p += 2) ledger(p);
  for (int p = -lines - 1; p >= position; p -= 2) ledger(p);
  put_sign(frame, setting, {middle.x - half, middle.y - sp * (position / 2.0)}, head, sp, "drum-key-head", style.ink);
  drum_ring(frame, setting, drum.place, {middle.x, middle.y - sp * (position / 2.0 + 1.0)});
  put(frame, setting, {middle.x, names}, drum.name, {style.small, style.ink, "drum-key-name"}, Align::Centre);
}

/// Five lines with the heads of drums `first` to `last` - 1 in their places and their names below.
FramePtr kit_frame(const Setting& setting, const Kit& kit, std::size_t first, std::size_t last, Span origin) {
  const style::Style& style = setting.style;
  const Length sp = style.staff_space;
  auto frame = std::make_shared<Frame>();
  frame->name = "drum-key";
  frame->role = Role::Figure;
  frame->origin = origin;
  const Length middle = sp * (kit.highest / 2.0 + 0.8);
  const Length width = kit.clef + kit.step * static_cast<double>(last - first);
  for (int line = 0; line < kit.lines; ++line) {
    rule(*frame, {{}, middle + sp * (line - (kit.lines - 1) / 2.0)}, width, sp * style.engraving.staff_line, style.ink,
         "drum-key-line");
  }
  put_sign(*frame, setting, {sp * 0.6, middle}, MusicSign::PercussionClef, sp, "drum-key-clef", style.ink);
  const Length names = middle + sp * (-kit.lowest / 2.0 + 1.0) + style.small.size;
  for (std::size_t i = first; i < last; ++i) {
    const Length x = kit.clef + kit.step * (static_cast<double>(i - first) + 0.5);
    drum_head(*frame, setting, kit.drums[i], kit.lines, {x, middle}, names);
  }
  frame->baseline = middle;
  frame->size = {setting.body(), names + style.small.size * 0.4};
  return frame;
}

}  // namespace

Flow drum_key(const Setting& setting) {
  Flow flow;
  for (const int p : setting.parts) {
    const score::Part& part = setting.song.parts[static_cast<std::size_t>(p)];
    if (part.kit.empty()) continue;
    flow.push_back(block_heading(setting, "The " + part.name.value + " on the staff"));
    const Kit kit = kit_of(setting, part);
    const std::size_t fit = std::max<std::size_t>(1, static_cast<std::size_t>((setting.body() - kit.clef) / kit.step));
    const std::size_t rows = (kit.drums.size() + fit - 1) / fit, in_row = (kit.drums.size() + rows - 1) / rows;
    for (std::size_t first = 0; first < kit.drums.size(); first += in_row) {
      const std::size_t last = std::min(kit.drums.size(), first + in_row);
      flow.push_back(flow_item(kit_frame(setting, kit, first, last, part.origin), setting.style.body.size * 0.8));
    }
  }
  return flow;
}

namespace {
/// As wide as the widest sign asks for: words set in their place want more than a figure does.
Length sample_width(const Setting& setting, const std::vector<LegendSign>& signs) {
  Length width = setting.style.body.size * 2.8;
  for (const LegendSign sign : signs) {
    Frame trial;
    Sample(setting, trial, {}, width).draw(sign);
    if (const auto ink = layout::ink_of(trial)) width = std::max(width, ink->width);
  }
  return width;
}
}  // namespace

Flow sign_legend(const Setting& setting) {
  return sign_legend(setting, signs_used(setting));
}

Flow sign_legend(const Setting& setting, const std::vector<LegendSign>& signs) {
  if (signs.empty()) return {};
  const style::Style& style = setting.style;
  Flow flow{block_heading(setting, "Signs")};
  const Length room = sample_width(setting, signs), row_gap = style.body.size * 0.45;
  const Length sample = room + style.body.size * 0.6, gap = style.body.size * 1.2;
  const Length least = sample + style.note.size * 10;  // words of some 22 letters a line
  const auto columns = static_cast<std::size_t>(std::max(1.0, (setting.body() + gap) / (least + gap)));
  const Length pitch = (setting.body() + gap) * (1.0 / static_cast<double>(columns));
  for (std::size_t first = 0; first < signs.size(); first += columns) {
    auto frame = std::make_shared<Frame>();
    frame->name = "legend";
    frame->role = Role::Table;
    // Slurs and arrows of the first row reach up here.
    const Length top = first == 0 ? style.figure.size * 0.4 : Length{};
    frame->baseline = top + style.note.size * 0.82;
    Length height;
    for (std::size_t i = first; i < std::min(first + columns, signs.size()); ++i) {
      const Length x = pitch * static_cast<double>(i - first);
      Sample(setting, *frame, {x, frame->baseline}, room).draw(signs[i]);
      const auto words = prose(setting, std::string(words_of(signs[i])), {style.note, style.ink, "legend-words"},
                               pitch - sample - gap, Parting::English);
      frame->children.push_back({{x + sample, top}, words});
      height = std::max(height, words->size.height);
    }
    frame->size = {setting.body(), top + height};
    flow.push_back(flow_item(frame, first == 0 ? style.body.size * 0.5 : row_gap));
    flow.back().break_cost = 15;
  }
  flow.back().break_cost = 0;
  return flow;
}

}  // namespace tunesheaf::blocks
