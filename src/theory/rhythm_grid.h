// The tree of a bar's divisions, in ticks. In: a meter (or one tuplet). Out: nodes that say where a note or a rest may
// stand unbroken, and `cut`, which breaks a stretch of time into such pieces. Invariant: children fill their node; a
// node without children halves for ever. Read next: rhythm_grid.cpp, rhythm_tuplets.h.
//
//   4/4:  halves(wide) -> halves(pair) -> quarter, halving inside
//   3/4:  list of 3 quarters         6/8: halves -> list of 3 eighths         5/4 (3+2): list -> list of 3, halves
#pragma once
#include <bit>
#include <cstdint>
#include <optional>
#include <vector>

#include "tunesheaf/theory/meter.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::theory::detail {

using Ticks = std::int64_t;

/// Ticks of a whole note: odd x 2^kShift, so that every value down to a 1024th, and its quarter, is whole.
struct TickScale {
  static constexpr int kShift = 14;
  Ticks odd = 1;
  Ticks whole() const { return odd << kShift; }
  bool divides(base::Fraction f) const { return whole() % f.den() == 0; }
  Ticks of(base::Fraction f) const { return f.num() * (whole() / f.den()); }
  bool on_grid(Ticks t) const { return t % odd == 0; }
  /// The written value of a duration in ticks, dots at most 2.
  std::optional<WrittenValue> written(Ticks length) const;
};

/// How strict a node is with notes that hide its middle.
enum class Zone : std::uint8_t {
  kInside,  ///< within a beat: any single value that begins or ends with it
  kPair,    ///< two beats: from its start, or one simple syncopation
  kWide,    ///< more: from its start only
};

struct Node {
  Ticks start = 0;
  Ticks length = 0;
  int first_child = 0;
  int children = 0;  ///< 0: halves without end
  Zone zone = Zone::kInside;
  bool ternary = false;  ///< dotted rests are at home here: a compound beat, a pair of them, a triplet
  bool halves = true;    ///< two equal children (or none); otherwise a list
  bool beats = false;    ///< a list of equal simple children, in which a dotted value may reach half into the next
  Ticks end() const { return start + length; }
  Ticks middle() const { return start + length / 2; }
};

struct Piece {
  Ticks begin = 0;
  Ticks end = 0;
  WrittenValue value;
};

enum class Sound : std::uint8_t { kNote, kRest };

/// A tree of divisions with the ratio of its tuplet (1:1 for a bar) and the onsets around it.
class Grid {
 public:
  static Grid bar(const Meter& meter, TickScale scale);
  /// `actual` equal cells over [start, start+length), written as if they took the time of `normal`.
  static Grid tuplet(TickScale scale, Ticks start, Ticks length, int actual, int normal);

  const Node& root() const { return nodes_.front(); }
  Node child(const Node& node, int index) const;
  int child_count(const Node& node) const { return node.children == 0 ? 2 : node.children; }
  /// Written length of a real one; 0 where it is not whole.
  Ticks written_ticks(Ticks real) const { return real * actual_ % normal_ == 0 ? real * actual_ / normal_ : 0; }
  std::optional<WrittenValue> value(Ticks real) const;

  /// Breaks [begin, end), which lies within `node`, into pieces and appends them. `onsets` are all span boundaries,
  /// sorted. False when values run out.
  bool cut(const Node& node, Ticks begin, Ticks end, Sound sound, const std::vector<Ticks>& onsets,
           std::vector<Piece>& out) const;

 private:
  Node halved(const Node& node, int index) const;
  Zone zone_of(Ticks real) const;
  int add(Ticks start, Ticks length);
  void add_beats(int node, const std::vector<int>& sizes, int first, int count, Ticks unit);
  void add_beat(int node, int size);
  bool cut_halves(const Node& node, Ticks begin, Ticks end, Sound sound, const std::vector<Ticks>& onsets,
                  std::vector<Piece>& out) const;
  bool cut_list(const Node& node, Ticks begin, Ticks end, Sound sound, const std::vector<Ticks>& onsets,
                std::vector<Piece>& out) const;
  std::optional<WrittenValue> note_over_middle(const Node& node, Ticks begin, Ticks end,
                                               const std::vector<Ticks>& onsets) const;
  std::optional<WrittenValue> note_over_children(const Node& node, Ticks begin, Ticks end, int i, int j,
                                                 const std::vector<Ticks>& onsets) const;
  std::optional<WrittenValue> rest_over_children(const Node& node, Ticks begin, Ticks end) const;
  Ticks split_point(const Node& node, Ticks begin, int i, int j, Sound sound) const;

  TickScale scale_;
  int actual_ = 1;
  int normal_ = 1;
  std::vector<Node> nodes_;
};

}  // namespace tunesheaf::theory::detail
