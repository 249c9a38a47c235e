// Music on systems. In: a Timeline, one of its sections, the parts to show, a width, a style. Out: the section's
// systems as frames (staff over tab over drums, one spacing for all), with the place of every remark so that margin
// notes can stand beside their bar. Invariant: each frame is exactly as wide as asked; every bar stands on exactly one
// system; each written note is drawn once on each staff of its part (kinds "note-head" and "tab-figure" with a full
// Subject; held heads are "note-head-tied"). Read next: src/engrave/staff_context.h (the seam for marks),
// src/engrave/spacing.h.
#pragma once
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "tunesheaf/layout/elastic.h"
#include "tunesheaf/layout/frame.h"
#include "tunesheaf/score/timeline.h"
#include "tunesheaf/style/style.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::engrave {

/// What a staff of a part is. Notation: the (upper) five-line staff; Lower: the second staff of keys.
enum class StaffKind : std::uint8_t { Notation = 0, Lower = 1, Tab = 2, Chart = 3 };

/// Subject::staff of a part's staff: the same on every sheet. The chart (slashes without a part) has part -1 and the
/// number -1; the number of a part's staff of that kind is that of the cues over it.
constexpr int staff_number(int part, StaffKind kind) {
  return part < 0 ? -1 : part * 4 + static_cast<int>(kind);
}
constexpr int part_of_staff(int number) {
  return number < 0 ? -1 : number / 4;
}
constexpr StaffKind kind_of_staff(int number) {
  return number < 0 ? StaffKind::Chart : static_cast<StaffKind>(number % 4);
}

/// A sign of the form that stands at the beginning or the end of a bar of this section: segno, coda, "To Coda",
/// "D.S. al Coda", "Fine", "fade".
enum class BarEdge : std::uint8_t { Begin, End };
struct FormSign {
  int bar = 0;
  BarEdge edge = BarEdge::Begin;
  song::FormWord word = song::FormWord::Segno;
  std::string text;  ///< printed words; empty: the sign alone
  source::Span origin;
};

/// A bar of a drum part that stands as a sign, for it is the same as the one before, or one of two that are the same as
/// the two before. Such bars hold no notes on the page.
enum class BarRepeat : std::uint8_t { None, One, FirstOfTwo, SecondOfTwo };
/// One a bar of the section; none for parts that are not drums, where something is said or changes, where a repeat or
/// an ending begins, and in the bars that are `written` out all the same.
std::vector<BarRepeat> bar_repeats(const score::Timeline& timeline, const score::Section& section, int part,
                                   const std::set<int>& written = {});

struct BrokenBars;

enum class Names : std::uint8_t { None, Full, Short };
/// Bare: no clef, key or meter, for a picture of a sign.
enum class Opening : std::uint8_t { Full, Bare };

struct SectionRequest {
  const score::Timeline* timeline = nullptr;
  int section = 0;
  std::vector<int> parts;  ///< indices into Timeline::parts, top to bottom; empty: all
  base::Length width;
  base::Length first_indent;         ///< extra white at the left of the first system
  Names first_names = Names::Full;   ///< part names in the first system
  Names later_names = Names::Short;  ///< and in the others; names show only where there is more than one part
  Opening opening = Opening::Full;
  std::vector<FormSign> signs;  ///< see form_signs()
  /// The section printed after this one, where the music goes on with it (see goes_on_with()): its key and meter are
  /// announced after the last bar line. -1: none.
  int next_section = -1;
  bool chord_names = true;  ///< above the bars, where the harmony changes
  bool beat_count = false;  ///< 1 & 2 & under every staff of the first part (practice sheets)
  /// Bars that are written out though they repeat the ones before: a line of music does not begin with a sign whose
  /// bar is to be looked for on another line. engrave_section() adds the bars its lines begin with.
  std::set<int> written_out;
  /// Set by engrave_section() itself, where bars are wider than the page.
  const BrokenBars* broken = nullptr;
};

/// Place of a remark's number in its system's frame.
struct RemarkAnchor {
  int remark = -1;  ///< index into Section::remarks
  int number = 0;   ///< as printed
  int bar = 0;
  base::Point at;       ///< middle of the number
  std::size_t row = 0;  ///< of the elastic system: its staff
};

struct EngravedSystem {
  std::shared_ptr<const layout::Frame> frame;
  std::shared_ptr<const layout::Elastic> elastic;  ///< the same with its staves nearer or farther apart
  base::Length white;                              ///< between its staves at least: systems part more
  bool hands_free_after = false;                   ///< everyone rests long enough there to turn a leaf
  int first_bar = 0, last_bar = 0;                 ///< half open; two systems of a broken bar share it
  bool more_staves = false;                        ///< the bars of the system before, and other staves
  std::vector<RemarkAnchor> remarks;
  bool overfull = false;     ///< one beat alone is wider than the width even at the smallest size: rods give way
  bool set_smaller = false;  ///< the section was set smaller because of a bar that begins here: to be reported
  bool broken = false;       ///< its last bar is wider than the page and goes on on the next system
  source::Span overfull_at;  ///< the bar of which one of these is true
};

struct EngravedSection {
  std::vector<EngravedSystem> systems;  ///< empty when nobody plays and nothing is stated for the chart
};

/// Signs of the form that belong to a section, from the printed form: what stands before it goes to its first bar, what
/// stands after it to its last.
std::vector<FormSign> form_signs(const score::Timeline& timeline, int section);

/// Whether the form goes from a section straight to the other one somewhere, without a leap or an end between them.
bool goes_on_with(const score::Timeline& timeline, int section, int next);

EngravedSection engrave_section(const SectionRequest& request, const style::Style& style, text::Shaper& shaper,
                                text::MusicFont& music);

}  // namespace tunesheaf::engrave
