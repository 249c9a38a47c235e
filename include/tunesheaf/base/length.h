// Lengths on paper. In: points, millimetres or staff spaces. Out: whole multiples of 1/1024 pt (the unit of the text
// shaper), so that sums are exact, equality is legal and every processor computes the same page.
// Coordinates: x to the right, y down, origin at the top left. Read next: layout/frame.h.
#pragma once
#include <algorithm>
#include <cmath>
#include <compare>
#include <cstdint>

namespace tunesheaf::base {

class Length {
 public:
  constexpr Length() = default;
  static constexpr std::int64_t kPerPoint = 1024;
  static constexpr Length raw(std::int64_t units) {
    Length l;
    l.units_ = units;
    return l;
  }
  /// Rounds to the nearest unit, halves away from zero.
  static Length pt(double points) { return raw(std::llround(points * static_cast<double>(kPerPoint))); }
  static Length mm(double millimetres) { return pt(millimetres * 72.0 / 25.4); }

  constexpr std::int64_t units() const { return units_; }
  constexpr double points() const { return static_cast<double>(units_) / static_cast<double>(kPerPoint); }

  friend constexpr Length operator+(Length a, Length b) { return raw(a.units_ + b.units_); }
  friend constexpr Length operator-(Length a, Length b) { return raw(a.units_ - b.units_); }
  constexpr Length operator-() const { return raw(-units_); }
  friend Length operator*(Length a, double k) { return raw(std::llround(static_cast<double>(a.units_) * k)); }
  friend Length operator*(double k, Length a) { return a * k; }
  friend constexpr Length operator/(Length a, std::int64_t k) { return raw(a.units_ / k); }
  friend constexpr double operator/(Length a, Length b) {
    return static_cast<double>(a.units_) / static_cast<double>(b.units_);
  }
  constexpr Length& operator+=(Length b) {
    units_ += b.units_;
    return *this;
  }
  constexpr Length& operator-=(Length b) {
    units_ -= b.units_;
    return *this;
  }
  friend constexpr auto operator<=>(Length, Length) = default;

 private:
  std::int64_t units_ = 0;
};

constexpr Length abs(Length a) {
  return a.units() < 0 ? -a : a;
}

struct Point {
  Length x, y;
  friend constexpr Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
  friend constexpr Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
  friend constexpr bool operator==(Point, Point) = default;
};

struct Size {
  Length width, height;
  friend constexpr bool operator==(Size, Size) = default;
};

/// Axis-parallel box; width and height are never negative.
struct Rect {
  Length x, y, width, height;
  constexpr Length left() const { return x; }
  constexpr Length right() const { return x + width; }
  constexpr Length top() const { return y; }
  constexpr Length bottom() const { return y + height; }
  constexpr Rect moved(Point by) const { return {x + by.x, y + by.y, width, height}; }
  constexpr Rect grown(Length by) const { return {x - by, y - by, width + by + by, height + by + by}; }
  /// True when the interiors share a point; boxes that only touch do not overlap.
  constexpr bool overlaps(const Rect& o) const {
    return left() < o.right() && o.left() < right() && top() < o.bottom() && o.top() < bottom();
  }
  constexpr bool contains(const Rect& o) const {
    return left() <= o.left() && o.right() <= right() && top() <= o.top() && o.bottom() <= bottom();
  }
  /// Smallest box around both.
  Rect united(const Rect& o) const {
    const Length l = std::min(left(), o.left()), t = std::min(top(), o.top());
    return {l, t, std::max(right(), o.right()) - l, std::max(bottom(), o.bottom()) - t};
  }
  friend constexpr bool operator==(const Rect&, const Rect&) = default;
};

}  // namespace tunesheaf::base
