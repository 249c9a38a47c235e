// Music signs as things that can be drawn. In: the name of a sign and the staff space. Out: a Sign, either one glyph of
// the music family or a path of our own, with its box and the points where stems meet it. Invariant: a Sign is drawn
// with its origin at the place named below, and its ink begins at x = 0 (flags: at the stem's outer edge). Names follow
// SMuFL's where it has one. Read next: text/outline.h (slurs, braces, waves), layout/frame.h.
//
//   where y = 0 stands:  heads, accidentals, dots, parentheses and time figures: their own middle, to be put
//   on the line or space they belong to (time figures are 2 sp high: 1 sp above and below; C and cut C the same)
//   clefs: the line of their note (G, F; the middle line for C and percussion)   whole rest: the line it hangs from
//   half rest: the line it sits on   double whole rest: the line below it   other rests: the staff's middle line
//   repeat bar and beat: the staff's middle line   flags: the end of a stem of normal length
//   accent, staccato, tenuto, staccatissimo: their middle   dynamics: the baseline of the letters
//   all else (fermata, segno, bows, rings, ornaments, note pictures …): bottom of the sign, top for the Below ones
#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tunesheaf/base/length.h"
#include "tunesheaf/text/outline.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::text {

// clang-format off
enum class MusicSign : std::uint8_t {
  // heads
  NoteheadDoubleWhole, NoteheadWhole, NoteheadHalf, NoteheadBlack,
  NoteheadXBlack, NoteheadXHalf, NoteheadXWhole, NoteheadCircleX,
  NoteheadDiamondBlack, NoteheadDiamondWhite,              // harmonics; bells
  NoteheadTriangleUpBlack, NoteheadTriangleUpWhite,        // cowbell, triangle
  NoteheadSlash, NoteheadSlashHalf, NoteheadSlashWhole,    // strumming in rhythm
  AugmentationDot, ParenthesisLeft, ParenthesisRight,      // the two curves go around a head or an accidental
  // flags
  Flag8Up, Flag16Up, Flag32Up, Flag64Up, Flag8Down, Flag16Down, Flag32Down, Flag64Down, GraceSlash,
  // rests
  RestDoubleWhole, RestWhole, RestHalf, RestQuarter, Rest8, Rest16, Rest32, Rest64,
  // clefs
  GClef, GClef8Below, FClef, FClef8Below, CClef, PercussionClef,
  // accidentals
  Flat, Natural, Sharp, DoubleSharp, DoubleFlat,
  // time signatures
  Time0, Time1, Time2, Time3, Time4, Time5, Time6, Time7, Time8, Time9, TimePlus, TimeCommon, TimeCut,
  // dynamics, one letter each
  DynamicP, DynamicM, DynamicF, DynamicS, DynamicZ, DynamicR,
  // marks over and under notes
  Accent, Staccato, Tenuto, Staccatissimo, MarcatoAbove, MarcatoBelow, FermataAbove, FermataBelow,
  DownBow, UpBow, HarmonicCircle, OpenHiHat, ClosedHiHat, SnapPizzicato, BreathMark, Caesura,
  Trill, Turn, TurnInverted, Mordent, MordentUpper,
  // form
  Segno, Coda, DalSegno, DaCapo, RepeatBar, RepeatBeat,
  // keyboard pedal
  PedalDown, PedalUp,
  // whole notes with stems, for "quarter = 92" and swing signs
  NotePictureWhole, NotePictureHalf, NotePictureQuarter, NotePicture8, NotePicture16, NotePicture32,
  // chord names
  TriangleMajor
};
// clang-format on
inline constexpr int kMusicSigns = static_cast<int>(MusicSign::TriangleMajor) + 1;

/// "notehead-black", "flag-8-up" …: the enumerator in lower case with hyphens; for kinds and dumps.
std::string_view name(MusicSign sign);

/// Ready to draw at its origin: exactly one of `run` and `path` holds something.
struct Sign {
  std::optional<Run> run;
  std::vector<PathStep> path;  ///< to be filled
  base::Rect box;              ///< ink, relative to the origin
  base::Length advance;        ///< width to reserve
  base::Point stem_up;    ///< heads: the right edge of an upward stem, where it starts; flags up: where the stem ends
  base::Point stem_down;  ///< heads: the left edge of a downward stem, where it starts; flags down: where it ends
};

/// The signs of one music family at any staff space. Keeps what it has made; not safe to share between threads.
class MusicFont {
 public:
  /// `shaper` must outlive this. With real fonts the glyphs are measured against the family's own five-line staff; with
  /// the fixed shaper a table of usual sizes stands in for the measure.
  explicit MusicFont(Shaper& shaper, std::string family = "Noto Music");

  const Sign& sign(MusicSign sign, base::Length staff_space);
  /// The digits of a time signature's number and their x from its left end (the last one's x + advance is its width).
  std::vector<std::pair<base::Length, const Sign*>> time_number(int number, base::Length staff_space);
  /// The letters T, A and B one above the other in a height of `height`, origin at the left end of its middle.
  Sign tab_clef(base::Length height) const;

 private:
  Sign glyph_sign(MusicSign sign, base::Length staff_space);
  Shaper& shaper_;
  std::string family_;
  bool measured_ = false;             // false with the fixed shaper, which has no outlines
  double space_in_em_ = 0.244;        // staff space of the family, em
  double bottom_line_in_em_ = 0.012;  // height of its bottom line's centre over the baseline, em
  double dynamics_in_em_ = 0.35;      // height of the dynamics' own baseline over the glyphs' one, em
  std::map<std::pair<MusicSign, base::Length>, Sign> made_;
};

}  // namespace tunesheaf::text
