#include "sign_outlines.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "tunesheaf/base/number.h"

namespace tunesheaf::text {
namespace {

using base::Length;
using base::Point;

// The drawings: m x y, l x y, c x y x y x y, z as in SVG's paths (absolute); `o` opens a hole, otherwise a contour is
// solid. Numbers, unless said otherwise, are hundredths of a staff space, y down.

// Figures for time signatures in a grid of 1000 to their height of two spaces, y up: fat stems, hair lines and ball
// terminals, so that they hold against the five lines running through them.
constexpr std::array<std::string_view, 10> kFigures = {
    "m 400 1000 c 640 1000 800 790 800 500 c 800 210 640 0 400 0 c 160 0 0 210 0 500 c 0 790 160 1000 400 1000 z "
    "o m 400 938 c 302 938 262 760 262 500 c 262 240 302 62 400 62 c 498 62 538 240 538 500 c 538 760 498 938 400 938 "
    "z",
    "m 430 1000 l 395 1000 c 310 905 170 845 20 812 l 20 752 c 80 758 130 758 175 748 l 175 150 c 175 85 140 62 40 58 "
    "l 40 0 l 570 0 l 570 58 c 470 62 430 85 430 150 z",
    "m 75 720 c 90 890 220 1000 395 1000 c 600 1000 740 890 740 725 c 740 575 620 480 440 375 c 310 298 215 240 150 "
    "140 "
    "l 45 0 l 45 70 c 80 200 200 320 310 415 c 420 510 478 600 478 725 c 478 860 435 938 355 938 c 285 938 225 905 "
    "215 850 z "
    "m 205 850 c 280 850 335 795 335 722 c 335 648 280 595 205 595 c 130 595 75 648 75 722 c 75 795 130 850 205 850 z "
    "m 45 0 l 45 70 c 100 190 190 252 290 252 c 420 252 470 150 580 150 c 650 150 690 195 705 285 l 765 285 "
    "c 762 95 690 -15 545 -15 c 415 -15 350 82 235 82 c 165 82 115 55 95 0 z",
    "m 80 780 c 105 915 225 1000 390 1000 c 575 1000 705 905 705 755 c 705 640 620 555 480 522 c 645 495 755 400 755 "
    "270 "
    "c 755 110 590 0 385 0 c 210 0 75 90 55 235 l 180 150 c 215 85 290 60 360 60 c 450 60 492 150 492 268 c 492 400 "
    "440 "
    "490 335 490 l 265 490 l 265 548 l 330 548 c 412 548 450 635 450 755 c 450 880 415 940 350 940 c 285 940 235 915 "
    "205 "
    "860 z "
    "m 200 885 c 272 885 325 832 325 762 c 325 692 272 640 200 640 c 128 640 76 692 76 762 c 76 832 128 885 200 885 z "
    "m 182 362 c 256 362 310 308 310 236 c 310 164 256 110 182 110 c 108 110 54 164 54 236 c 54 308 108 362 182 362 z",
    "m 330 1000 l 610 1000 c 590 800 380 490 150 300 l 30 300 l 30 270 c 230 470 330 740 330 1000 z "
    "m 30 228 l 790 228 l 790 300 l 30 300 z "
    "m 665 660 l 625 660 c 580 570 500 520 425 500 l 425 130 c 425 82 385 62 320 58 l 320 0 l 770 0 l 770 58 "
    "c 705 62 665 82 665 130 z",
    "m 105 1000 c 270 965 500 965 675 1000 c 680 850 585 770 415 770 c 320 770 235 785 165 812 l 165 540 l 105 500 z "
    "m 105 500 l 165 560 c 225 622 310 655 405 655 c 605 655 755 540 755 335 c 755 130 590 0 380 0 c 205 0 75 85 55 "
    "230 "
    "l 180 150 c 215 85 285 60 355 60 c 450 60 492 165 492 330 c 492 500 440 590 345 590 c 270 590 205 560 160 500 z "
    "m 182 358 c 256 358 310 304 310 232 c 310 160 256 106 182 106 c 108 106 54 160 54 232 c 54 304 108 358 182 358 z",
    "m 705 790 c 690 920 590 1000 445 1000 c 180 1000 0 780 0 460 c 0 180 155 0 395 0 c 620 0 765 130 765 320 "
    "c 765 500 645 620 475 620 c 375 620 305 585 262 525 c 268 790 335 940 440 940 c 510 940 560 915 585 870 z "
    "m 580 895 c 652 895 704 843 704 774 c 704 705 652 653 580 653 c 508 653 456 705 456 774 c 456 843 508 895 580 895 "
    "z "
    "o m 392 560 c 472 560 510 460 510 308 c 510 150 472 58 392 58 c 308 58 264 160 264 318 c 264 470 308 560 392 560 "
    "z",
    "m 40 1000 l 40 690 l 98 690 c 112 770 160 800 232 800 c 350 800 400 742 500 742 c 585 742 650 800 690 880 "
    "l 762 1000 l 702 1000 c 690 968 660 955 620 955 c 520 955 420 1012 300 1012 c 205 1012 140 985 105 930 l 98 1000 "
    "z "
    "m 762 1000 c 745 820 650 700 600 560 c 560 450 545 300 545 130 l 545 0 l 265 0 c 262 250 330 425 470 580 "
    "c 565 685 650 770 690 880 z",
    "m 400 1000 c 595 1000 718 910 718 770 c 718 660 645 590 545 540 c 690 480 775 400 775 270 c 775 110 615 0 390 0 "
    "c 180 0 25 100 25 250 c 25 370 115 440 240 492 c 135 548 75 630 75 740 c 75 900 205 1000 400 1000 z "
    "o m 405 943 c 490 943 528 880 528 782 c 528 690 495 632 455 585 c 330 650 272 705 272 790 c 272 880 320 943 405 "
    "943 z "
    "o m 390 57 c 500 57 560 110 560 190 c 560 290 440 350 312 440 c 240 390 212 330 212 250 c 212 130 280 57 390 57 z",
    // Nine is six turned round; see figure().
    ""};

// The letters beside a tab staff, same grid.
constexpr std::string_view kT =
    "m 20 1000 l 680 1000 l 680 730 l 622 730 c 608 860 560 930 475 930 l 475 130 c 475 80 500 62 580 58 l 580 0 l 120 "
    "0 "
    "l 120 58 c 200 62 225 80 225 130 l 225 930 c 140 930 92 860 78 730 l 20 730 z";
constexpr std::string_view kA =
    "m 330 1000 l 410 1000 l 640 130 c 655 80 680 62 725 58 l 725 0 l 325 0 l 325 58 c 395 62 415 75 402 130 l 372 250 "
    "l 185 250 l 155 140 c 145 85 170 62 240 58 l 240 0 l 0 0 l 0 58 c 50 62 75 90 95 150 z "
    "o m 203 312 l 357 312 l 285 640 z";
constexpr std::string_view kB =
    "m 20 1000 l 380 1000 c 570 1000 665 900 665 760 c 665 640 590 560 480 530 c 625 510 715 410 715 270 "
    "c 715 100 590 0 400 0 l 20 0 l 20 58 c 90 62 110 80 110 130 l 110 870 c 110 920 90 938 20 942 z "
    "o m 345 940 l 360 940 c 412 940 428 860 428 750 c 428 620 405 555 352 555 l 345 555 z "
    "o m 345 495 l 370 495 c 445 495 470 410 470 275 c 470 130 445 60 380 60 l 345 60 z";

constexpr std::string_view kFlat =
    "m 0 -175 l 12 -175 l 12 -28 c 25 -46 42 -54 57 -54 c 79 -54 92 -39 92 -17 c 92 18 50 44 10 72 l 0 72 z "
    "o m 12 46 c 42 22 62 5 62 -18 c 62 -31 54 -37 45 -37 c 30 -37 19 -25 12 -13 z";
constexpr std::string_view kSharp =
    "m 22 -124 l 33 -124 l 33 142 l 22 142 z m 67 -142 l 78 -142 l 78 124 l 67 124 z "
    "m 0 -45 l 100 -75 l 100 -41 l 0 -11 z m 0 41 l 100 11 l 100 45 l 0 75 z";
constexpr std::string_view kNatural =
    "m 0 -138 l 11 -138 l 11 78 l 0 82 z m 59 -78 l 70 -82 l 70 138 l 59 138 z "
    "m 0 -48 l 70 -72 l 70 -40 l 0 -16 z m 0 40 l 70 16 l 70 48 l 0 72 z";
constexpr std::string_view kRing =
    "m 36 -72 c 56 -72 72 -56 72 -36 c 72 -16 56 0 36 0 c 16 0 0 -16 0 -36 c 0 -56 16 -72 36 -72 z "
    "o m 36 -61 c 50 -61 61 -50 61 -36 c 61 -22 50 -11 36 -11 c 22 -11 11 -22 11 -36 c 11 -50 22 -61 36 -61 z";
// A flag: fat where it leaves the stem, thinning to a hook; upright stem, so it hangs to the right.
constexpr std::string_view kLongFlag =
    "m 0 0 c 6 62 30 98 58 136 c 88 176 108 212 108 252 c 108 278 98 302 82 326 c 78 326 75 324 74 321 c 86 300 93 279 "
    "93 254 c 93 212 52 142 0 108 z";
constexpr std::string_view kShortFlag =
    "m 0 0 c 5 52 30 76 60 108 c 88 138 106 164 106 198 c 106 218 99 236 88 254 c 84 254 82 252 81 250 c 88 235 91 220 "
    "91 "
    "204 c 89 166 48 116 0 94 z";

struct Drawing {
  MusicSign sign;
  std::string_view path;
};
constexpr Drawing kDrawings[] = {
    {MusicSign::NoteheadXBlack,
     "m 0 -37 l 13 -50 l 55 -13 l 97 -50 l 110 -37 l 70 0 l 110 37 l 97 50 l 55 13 l 13 50 l 0 37 l 40 0 z"},
    {MusicSign::NoteheadXHalf,
     "m 0 -30 l 24 -52 l 62 -20 l 100 -52 l 124 -30 l 88 0 l 124 30 l 100 52 l 62 20 l 24 52 l 0 30 l 36 0 z "
     "o m 15 -30 l 53 0 l 15 30 l 24 38 l 62 7 l 100 38 l 109 30 l 71 0 l 109 -30 l 100 -38 l 62 -7 l 24 -38 z"},
    {MusicSign::NoteheadXWhole,
     "m 0 -30 l 28 -52 l 80 -20 l 132 -52 l 160 -30 l 112 0 l 160 30 l 132 52 l 80 20 l 28 52 l 0 30 l 48 0 z "
     "o m 18 -30 l 70 0 l 18 30 l 28 38 l 80 7 l 132 38 l 142 30 l 90 0 l 142 -30 l 132 -38 l 80 -7 l 28 -38 z"},
    {MusicSign::NoteheadSlash, "m 0 100 l 72 100 l 190 -100 l 118 -100 z"},
    {MusicSign::NoteheadSlashHalf, "m 0 100 l 100 100 l 218 -100 l 118 -100 z o m 24 86 l 92 86 l 194 -86 l 126 -86 z"},
    {MusicSign::NoteheadSlashWhole,
     "m 0 100 l 190 100 l 308 -100 l 118 -100 z o m 26 82 l 178 82 l 282 -82 l 130 -82 z"},
    {MusicSign::AugmentationDot,
     "m 20 -20 c 31 -20 40 -11 40 0 c 40 11 31 20 20 20 c 9 20 0 11 0 0 c 0 -11 9 -20 20 -20 z"},
    {MusicSign::ParenthesisLeft,
     "m 44 -95 c 14 -64 0 -32 0 0 c 0 32 14 64 44 95 c 24 56 17 29 17 0 c 17 -29 24 -56 44 -95 z"},
    {MusicSign::ParenthesisRight,
     "m 0 -95 c 30 -64 44 -32 44 0 c 44 32 30 64 0 95 c 20 56 27 29 27 0 c 27 -29 20 -56 0 -95 z"},
    {MusicSign::GraceSlash, "m 0 0 l 130 -112 l 138 -102 l 8 10 z"},
    {MusicSign::RestDoubleWhole, "m 0 -100 l 56 -100 l 56 0 l 0 0 z"},
    {MusicSign::RestWhole, "m 0 0 l 116 0 l 116 54 l 0 54 z"},
    {MusicSign::RestHalf, "m 0 -54 l 116 -54 l 116 0 l 0 0 z"},
    {MusicSign::PercussionClef, "m 0 -100 l 44 -100 l 44 100 l 0 100 z m 76 -100 l 120 -100 l 120 100 l 76 100 z"},
    {MusicSign::Flat, kFlat},
    {MusicSign::Sharp, kSharp},
    {MusicSign::Natural, kNatural},
    {MusicSign::TimePlus,
     "m 0 -15 l 45 -15 l 45 -60 l 75 -60 l 75 -15 l 120 -15 l 120 15 l 75 15 l 75 60 l 45 60 l 45 15 l 0 15 z"},
    {MusicSign::Accent, "m 0 -48 l 150 -7 l 150 7 l 0 48 l 0 33 l 110 0 l 0 -33 z"},
    {MusicSign::Staccato, "m 18 -18 c 28 -18 36 -10 36 0 c 36 10 28 18 18 18 c 8 18 0 10 0 0 c 0 -10 8 -18 18 -18 z"},
    {MusicSign::Tenuto, "m 0 -8 l 122 -8 l 122 8 l 0 8 z"},
    {MusicSign::Staccatissimo, "m 0 -45 c 12 -52 28 -52 40 -45 l 23 45 l 17 45 z"},
    {MusicSign::MarcatoAbove, "m 0 0 l 43 -110 l 62 -110 l 105 0 l 74 0 l 43 -78 l 12 0 z"},
    {MusicSign::MarcatoBelow, "m 0 0 l 43 110 l 62 110 l 105 0 l 74 0 l 43 78 l 12 0 z"},
    {MusicSign::DownBow, "m 0 0 l 0 -105 l 122 -105 l 122 0 l 108 0 l 108 -62 l 14 -62 l 14 0 z"},
    {MusicSign::UpBow, "m 0 -150 l 26 -150 l 54 -48 l 84 -150 l 98 -150 l 55 0 l 45 0 z"},
    {MusicSign::HarmonicCircle, kRing},
    {MusicSign::OpenHiHat, kRing},
    {MusicSign::ClosedHiHat,
     "m 0 -36 l 36 -36 l 36 0 l 54 0 l 54 -36 l 90 -36 l 90 -54 l 54 -54 l 54 -90 l 36 -90 l 36 -54 l 0 -54 z"},
    {MusicSign::SnapPizzicato,
     "m 50 -100 c 78 -100 100 -78 100 -50 c 100 -22 78 0 50 0 c 22 0 0 -22 0 -50 c 0 -78 22 -100 50 -100 z "
     "o m 50 -87 c 70 -87 87 -70 87 -50 c 87 -30 70 -13 50 -13 c 30 -13 13 -30 13 -50 c 13 -70 30 -87 50 -87 z "
     "m 43 -148 l 57 -148 l 57 -50 l 43 -50 z"},
    {MusicSign::Caesura, "m 0 0 l 84 -200 l 100 -200 l 16 0 z m 52 0 l 136 -200 l 152 -200 l 68 0 z"},
    {MusicSign::MordentUpper,
     "m 0 -18 l 30 -66 l 40 -66 l 8 -14 z m 30 -66 l 54 -66 l 96 0 l 72 0 z m 80 0 l 92 0 l 130 -66 l 118 -66 z "
     "m 114 -66 l 138 -66 l 180 0 l 156 0 z m 164 0 l 176 0 l 218 -66 l 209 -70 z"},
    {MusicSign::Mordent,
     "m 0 -18 l 30 -66 l 40 -66 l 8 -14 z m 30 -66 l 54 -66 l 96 0 l 72 0 z m 80 0 l 92 0 l 130 -66 l 118 -66 z "
     "m 114 -66 l 138 -66 l 180 0 l 156 0 z m 164 0 l 176 0 l 218 -66 l 209 -70 z "
     "m 99 -96 l 110 -96 l 110 28 l 99 28 z"},
    {MusicSign::TriangleMajor, "m 0 0 l 56 -100 l 112 0 z o m 20 -12 l 92 -12 l 56 -76 z"},
};

/// A contour while it is read, in plain numbers.
struct Contour {
  bool hole = false;
  std::vector<PathStep> steps;
};

/// The area under a polygon through the path's points; its sign is the contour's turn.
double turn(const Contour& contour) {
  double area = 0;
  Point at, first;
  const auto reach = [&](Point to) {
    area += static_cast<double>(at.x.units()) * static_cast<double>(to.y.units()) -
            static_cast<double>(to.x.units()) * static_cast<double>(at.y.units());
    at = to;
  };
  for (const PathStep& step : contour.steps) {
    if (step.verb == PathVerb::Move) at = first = step.a;
    if (step.verb == PathVerb::Line) reach(step.a);
    if (step.verb == PathVerb::Close) reach(first);
    if (step.verb != PathVerb::Curve) continue;
    reach(step.a);
    reach(step.b);
    reach(step.c);
  }
  return area;
}

/// The same contour run the other way round.
std::vector<PathStep> reversed(const std::vector<PathStep>& steps) {
  std::vector<Point> starts;  // where each step begins
  Point at;
  for (const PathStep& step : steps) {
    starts.push_back(at);
    if (step.verb != PathVerb::Close) at = step.verb == PathVerb::Curve ? step.c : step.a;
  }
  std::vector<PathStep> out{{PathVerb::Move, at, {}, {}}};
  for (std::size_t i = steps.size(); i-- > 1;) {
    if (steps[i].verb == PathVerb::Line) out.push_back({PathVerb::Line, starts[i], {}, {}});
    if (steps[i].verb == PathVerb::Curve) out.push_back({PathVerb::Curve, steps[i].b, steps[i].a, starts[i]});
  }
  out.push_back({PathVerb::Close, {}, {}, {}});
  return out;
}

/// How the numbers of a drawing become spaces: x·scale, y·rise + base.
struct Grid {
  double scale = 0.01, rise = 0.01, base = 0;
};
constexpr Grid kFigureGrid{0.002, -0.002, 1.0};
constexpr Grid kLetterGrid{0.001, -0.001, 1.0};

Length spaces(double value) {
  return Length::raw(std::llround(value * static_cast<double>(kUnitsPerSpace)));
}

/// Reads a drawing. Drawings are constants of this file, so a mistake in one shows in the tests at once.
class DrawingReader {
 public:
  DrawingReader(std::string_view text, Grid grid) : text_(text), grid_(grid) {}
  std::vector<PathStep> read() {
    bool hole = false;
    for (std::string_view verb = word(); !verb.empty(); verb = word()) {
      if (verb == "o") hole = true;
      if (verb == "m") current_ = {hole, {{PathVerb::Move, point(), {}, {}}}};
      if (verb == "l") current_.steps.push_back({PathVerb::Line, point(), {}, {}});
      if (verb == "c") {
        const Point a = point(), b = point();
        current_.steps.push_back({PathVerb::Curve, a, b, point()});
      }
      if (verb != "z") continue;
      finish();
      hole = false;
    }
    return std::move(out_);
  }

 private:
  std::string_view word() {
    text_.remove_prefix(std::min(text_.find_first_not_of(' '), text_.size()));
    const std::string_view taken = text_.substr(0, std::min(text_.find(' '), text_.size()));
    text_.remove_prefix(taken.size());
    return taken;
  }
  double number() { return base::parse_decimal(word()).value_or(0); }
  Point point() {
    const double x = number(), y = number();
    return {spaces(x * grid_.scale), spaces(y * grid_.rise + grid_.base)};
  }
  void finish() {
    current_.steps.push_back({PathVerb::Close, {}, {}, {}});
    const bool positive = turn(current_) > 0;
    const std::vector<PathStep> steps = positive == current_.hole ? reversed(current_.steps) : current_.steps;
    out_.insert(out_.end(), steps.begin(), steps.end());
  }
  std::string_view text_;
  Grid grid_;
  Contour current_;
  std::vector<PathStep> out_;
};

std::vector<PathStep> read(std::string_view drawing, Grid grid = {}) {
  return DrawingReader(drawing, grid).read();
}

std::vector<PathStep> mapped(std::vector<PathStep> path, double kx, double ky, Point by) {
  for (PathStep& step : path) {
    for (Point* p : {&step.a, &step.b, &step.c}) *p = Point{p->x * kx, p->y * ky} + by;
  }
  return path;
}

std::vector<PathStep> figure(int digit) {
  std::vector<PathStep> path;
  if (digit == 9) {
    path = mapped(read(kFigures[6], kFigureGrid), -1, -1, {spaces(1.53), {}});
  } else {
    path = read(kFigures[static_cast<std::size_t>(digit)], kFigureGrid);
  }
  const auto box = bounds(path);
  return box ? moved(std::move(path), {-box->left(), {}}) : path;
}

enum class Way { Up, Down };

/// Flags stand 0.75 spaces apart; the third and fourth reach beyond the normal end of the stem.
std::vector<PathStep> flags(int count, Way way) {
  constexpr double kStep = 0.75;
  const double first = count > 2 ? -kStep * (count - 2) : 0;
  std::vector<PathStep> path;
  for (int i = 0; i < count; ++i) {
    const Point by{{}, spaces(first + kStep * i)};
    const std::vector<PathStep> one = moved(read(count == 1 ? kLongFlag : kShortFlag), by);
    path.insert(path.end(), one.begin(), one.end());
  }
  return way == Way::Up ? path : mapped(std::move(path), 1, -1, {});
}

std::vector<PathStep> drawn(MusicSign sign) {
  if (sign >= MusicSign::Time0 && sign <= MusicSign::Time9) {
    return figure(static_cast<int>(sign) - static_cast<int>(MusicSign::Time0));
  }
  if (sign >= MusicSign::Flag8Up && sign <= MusicSign::Flag64Up) {
    return flags(1 + static_cast<int>(sign) - static_cast<int>(MusicSign::Flag8Up), Way::Up);
  }
  if (sign >= MusicSign::Flag8Down && sign <= MusicSign::Flag64Down) {
    return flags(1 + static_cast<int>(sign) - static_cast<int>(MusicSign::Flag8Down), Way::Down);
  }
  if (sign == MusicSign::DoubleFlat) {
    std::vector<PathStep> path = read(kFlat);
    const std::vector<PathStep> second = moved(read(kFlat), {spaces(0.72), {}});
    path.insert(path.end(), second.begin(), second.end());
    return path;
  }
  for (const Drawing& drawing : kDrawings) {
    if (drawing.sign == sign) return read(drawing.path);
  }
  return {};
}

}  // namespace

const std::vector<PathStep>& unit_outline(MusicSign sign) {
  static const std::vector<std::vector<PathStep>> all = [] {
    std::vector<std::vector<PathStep>> made;
    for (int i = 0; i < kMusicSigns; ++i) made.push_back(drawn(static_cast<MusicSign>(i)));
    return made;
  }();
  return all[static_cast<std::size_t>(sign)];
}

const Letter& tab_letter(char letter) {
  const auto made = [](std::string_view drawing) {
    std::vector<PathStep> path = read(drawing, kLetterGrid);
    const auto box = bounds(path).value_or(base::Rect{});
    return Letter{moved(std::move(path), {-box.left(), {}}),
                  static_cast<double>(box.width.units()) / static_cast<double>(kUnitsPerSpace)};
  };
  static const std::array<Letter, 3> letters{made(kT), made(kA), made(kB)};
  return letters[letter == 'T' ? 0 : letter == 'A' ? 1 : 2];
}

std::vector<PathStep> scaled(std::vector<PathStep> unit_path, Length staff_space) {
  const double k = static_cast<double>(staff_space.units()) / static_cast<double>(kUnitsPerSpace);
  return mapped(std::move(unit_path), k, k, {});
}

}  // namespace tunesheaf::text
