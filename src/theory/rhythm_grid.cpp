#include "rhythm_grid.h"

#include <algorithm>

namespace tunesheaf::theory::detail {
namespace {

bool any_within(const std::vector<Ticks>& onsets, Ticks low, Ticks high) {
  const auto it = std::upper_bound(onsets.begin(), onsets.end(), low);
  return it != onsets.end() && *it < high;
}

bool is_onset(const std::vector<Ticks>& onsets, Ticks at) {
  return std::binary_search(onsets.begin(), onsets.end(), at);
}

std::optional<WrittenValue> at_most(std::optional<WrittenValue> value, int dots) {
  return value && value->dots <= dots ? value : std::nullopt;
}

}  // namespace

std::optional<WrittenValue> TickScale::written(Ticks length) const {
  if (length <= 0 || length % odd != 0) return std::nullopt;
  const auto units = static_cast<std::uint64_t>(length / odd);
  const int zeros = std::countr_zero(units);
  const std::uint64_t pattern = units >> zeros;
  if (pattern != 1 && pattern != 3 && pattern != 7) return std::nullopt;
  const int dots = pattern == 1 ? 0 : (pattern == 3 ? 1 : 2);
  const int value = kShift + 1 - (zeros + dots);
  if (value < 0 || value > static_cast<int>(NoteValue::k1024th)) return std::nullopt;
  return WrittenValue{static_cast<NoteValue>(value), dots};
}

std::optional<WrittenValue> Grid::value(Ticks real) const {
  return scale_.written(written_ticks(real));
}

Zone Grid::zone_of(Ticks real) const {
  const Ticks written = real * actual_ / normal_;
  if (written * 4 <= scale_.whole()) return Zone::kInside;
  return written * 2 <= scale_.whole() ? Zone::kPair : Zone::kWide;
}

int Grid::add(Ticks start, Ticks length) {
  Node node;
  node.start = start;
  node.length = length;
  node.zone = zone_of(length);
  nodes_.push_back(node);
  return static_cast<int>(nodes_.size()) - 1;
}

Grid Grid::bar(const Meter& meter, TickScale scale) {
  Grid grid;
  grid.scale_ = scale;
  grid.nodes_.reserve(32);
  const Ticks unit = scale.whole() / meter.unit;
  const int root = grid.add(0, unit * meter.count);
  const std::vector<int> groups = meter.beat_groups();
  std::vector<int> sizes(static_cast<std::size_t>(meter.beat_count()), meter.is_compound() ? 3 : 1);
  if (meter.has_grouped_beats()) sizes = meter.grouping;
  if (groups.size() == 1 || meter.has_grouped_beats()) {
    grid.add_beats(root, sizes, 0, static_cast<int>(sizes.size()), unit);
    return grid;
  }
  const int first = static_cast<int>(grid.nodes_.size());
  Ticks at = 0;
  int beat = 0;
  for (int group : groups) {
    Ticks length = 0;
    for (int k = 0; k < group; ++k) length += unit * sizes[static_cast<std::size_t>(beat + k)];
    grid.add(at, length);
    at += length;
    beat += group;
  }
  Node& node = grid.nodes_[static_cast<std::size_t>(root)];
  node.first_child = first;
  node.children = static_cast<int>(groups.size());
  node.halves = groups.size() == 2 && groups[0] == groups[1];
  node.zone = Zone::kWide;
  beat = 0;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    grid.add_beats(first + static_cast<int>(g), sizes, beat, groups[g], unit);
    beat += groups[g];
  }
  return grid;
}

/// Makes `count` beats the children of a node; one beat is the node itself, four halve twice.
void Grid::add_beats(int index, const std::vector<int>& sizes, int first, int count, Ticks unit) {
  const auto size = [&](int k) { return sizes[static_cast<std::size_t>(first + k)]; };
  if (count == 1) return add_beat(index, size(0));
  const int child = static_cast<int>(nodes_.size());
  Ticks at = nodes_[static_cast<std::size_t>(index)].start;
  const bool equal = std::all_of(sizes.begin() + first, sizes.begin() + first + count,
                                 [&](int s) { return s == sizes[static_cast<std::size_t>(first)]; });
  const bool in_fours = equal && count == 4;
  const int children = in_fours ? 2 : count;
  for (int k = 0; k < children; ++k) {
    const Ticks length = in_fours ? unit * size(0) * 2 : unit * size(k);
    add(at, length);
    at += length;
  }
  Node& node = nodes_[static_cast<std::size_t>(index)];
  node.first_child = child;
  node.children = children;
  node.halves = equal && children == 2;
  node.ternary = (node.halves && size(0) == 3 && count == 2) ||
                 (equal && size(0) == 1 && count == 3 && node.length * 2 < scale_.whole());
  node.beats = !node.halves && equal && size(0) != 3;
  node.zone = in_fours || !equal ? Zone::kWide : Zone::kPair;
  for (int k = 0; k < children; ++k) {
    if (in_fours) {
      add_beats(child + k, sizes, first + 2 * k, 2, unit);
    } else {
      add_beat(child + k, size(k));
    }
  }
}

/// A beat of three units is a list of three; any other halves.
void Grid::add_beat(int index, int size) {
  if (size != 3) return;
  const int child = static_cast<int>(nodes_.size());
  const Node beat = nodes_[static_cast<std::size_t>(index)];
  for (int k = 0; k < 3; ++k) add(beat.start + beat.length / 3 * k, beat.length / 3);
  Node& node = nodes_[static_cast<std::size_t>(index)];
  node.first_child = child;
  node.children = 3;
  node.halves = false;
  node.ternary = true;
  node.beats = true;
  node.zone = Zone::kInside;
}

Grid Grid::tuplet(TickScale scale, Ticks start, Ticks length, int actual, int normal) {
  Grid grid;
  grid.scale_ = scale;
  grid.actual_ = actual;
  grid.normal_ = normal;
  grid.nodes_.reserve(static_cast<std::size_t>(actual) + 1);
  grid.add(start, length);
  if (actual == 2) {
    grid.nodes_.front().zone = Zone::kInside;
    return grid;
  }
  for (int k = 0; k < actual; ++k) grid.add(start + length / actual * k, length / actual);
  Node& root = grid.nodes_.front();
  root.first_child = 1;
  root.children = actual;
  root.halves = false;
  root.beats = true;
  root.ternary = actual == 3;
  return grid;
}

Node Grid::halved(const Node& node, int index) const {
  Node half;
  half.length = node.length / 2;
  half.start = node.start + half.length * index;
  half.zone = zone_of(half.length);
  return half;
}

Node Grid::child(const Node& node, int index) const {
  return node.children == 0 ? halved(node, index) : nodes_[static_cast<std::size_t>(node.first_child + index)];
}

bool Grid::cut(const Node& node, Ticks begin, Ticks end, Sound sound, const std::vector<Ticks>& onsets,
               std::vector<Piece>& out) const {
  return node.halves ? cut_halves(node, begin, end, sound, onsets, out)
                     : cut_list(node, begin, end, sound, onsets, out);
}

bool Grid::cut_halves(const Node& node, Ticks begin, Ticks end, Sound sound, const std::vector<Ticks>& onsets,
                      std::vector<Piece>& out) const {
  if (node.length % 2 != 0) return false;
  const Ticks middle = node.middle();
  if (end <= middle) return cut(child(node, 0), begin, end, sound, onsets, out);
  if (begin >= middle) return cut(child(node, 1), begin, end, sound, onsets, out);
  std::optional<WrittenValue> single;
  if (sound == Sound::kNote) {
    single = note_over_middle(node, begin, end, onsets);
  } else if (end - begin == node.length && (node.zone != Zone::kWide || node.children == 0)) {
    single = at_most(value(node.length), node.ternary ? 1 : 0);
  }
  if (single) {
    out.push_back({begin, end, *single});
    return true;
  }
  return cut(child(node, 0), begin, middle, sound, onsets, out) && cut(child(node, 1), middle, end, sound, onsets, out);
}

/// A note that hides the middle of a node that halves. From its start: the whole of it, three quarters (dotted) and, up
/// to two beats, seven eighths (double dotted). To its end: three quarters, within a beat only. Else the simple
/// syncopation short-long-short, over two beats only where nothing smaller stands beside it (Gould 2011, syncopation).
std::optional<WrittenValue> Grid::note_over_middle(const Node& node, Ticks begin, Ticks end,
                                                   const std::vector<Ticks>& onsets) const {
  const Ticks length = end - begin;
  if (begin == node.start) {
    if (length == node.length || length * 4 == node.length * 3) return at_most(value(length), 1);
    if (length * 8 == node.length * 7 && node.zone != Zone::kWide) return value(length);
    return std::nullopt;
  }
  if (end == node.end()) {
    return node.zone == Zone::kInside && length * 4 == node.length * 3 ? at_most(value(length), 1) : std::nullopt;
  }
  if (node.zone == Zone::kWide || length * 2 != node.length || (begin - node.start) * 4 != node.length) {
    return std::nullopt;
  }
  if (node.zone == Zone::kPair && (any_within(onsets, node.start, begin) || any_within(onsets, end, node.end()))) {
    return std::nullopt;
  }
  return at_most(value(length), 0);
}

bool Grid::cut_list(const Node& node, Ticks begin, Ticks end, Sound sound, const std::vector<Ticks>& onsets,
                    std::vector<Piece>& out) const {
  int i = 0;
  while (child(node, i).end() <= begin) ++i;
  int j = i;
  while (child(node, j).end() < end) ++j;
  if (i == j) return cut(child(node, i), begin, end, sound, onsets, out);
  const std::optional<WrittenValue> single =
      sound == Sound::kNote ? note_over_children(node, begin, end, i, j, onsets) : rest_over_children(node, begin, end);
  if (single) {
    out.push_back({begin, end, *single});
    return true;
  }
  const Ticks split = split_point(node, begin, i, j, sound);
  return cut(node, begin, split, sound, onsets, out) && cut(node, split, end, sound, onsets, out);
}

/// A note over several children of a list: whole children (a half over two beats of 3/4), a dotted value from one beat
/// to the middle of the next, or the simple syncopation between two beats that both stay visible beside it.
std::optional<WrittenValue> Grid::note_over_children(const Node& node, Ticks begin, Ticks end, int i, int j,
                                                     const std::vector<Ticks>& onsets) const {
  const Node first = child(node, i);
  const Node last = child(node, j);
  if (begin == first.start && end == last.end()) return at_most(value(end - begin), 1);
  if (!node.beats || j != i + 1 || end != last.middle()) return std::nullopt;
  if (begin == first.start) return at_most(value(end - begin), 1);
  if (begin != first.middle()) return std::nullopt;
  const bool simple = is_onset(onsets, first.start) && is_onset(onsets, last.end()) &&
                      !any_within(onsets, first.start, begin) && !any_within(onsets, end, last.end());
  return simple ? at_most(value(end - begin), 0) : std::nullopt;
}

/// A rest fills a list (a compound beat: dotted), or the first two thirds of a ternary one; else every beat has its
/// own.
std::optional<WrittenValue> Grid::rest_over_children(const Node& node, Ticks begin, Ticks end) const {
  if (begin != node.start) return std::nullopt;
  if (end == node.end()) return at_most(value(node.length), node.ternary ? 1 : 0);
  if (node.ternary && end == child(node, 1).end()) return at_most(value(end - begin), 0);
  return std::nullopt;
}

/// Where a stretch over children i to j breaks: at the next child, or, for a note from a child's start, behind as many
/// whole children as one value can hold.
Ticks Grid::split_point(const Node& node, Ticks begin, int i, int j, Sound sound) const {
  const Node first = child(node, i);
  if (sound == Sound::kRest || begin != first.start) return first.end();
  for (int k = j; k > i + 1; --k) {
    const Ticks at = child(node, k).start;
    if (at_most(value(at - begin), 1)) return at;
  }
  return first.end();
}

}  // namespace tunesheaf::theory::detail
