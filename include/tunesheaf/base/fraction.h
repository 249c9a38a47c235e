// Exact musical time. In: integers. Out: a fraction in lowest terms with a positive denominator; 1 is a whole note.
// Invariant: gcd(num, den) == 1 and den > 0. Sums and comparisons are exact; an overflow of 64 bits throws
// std::overflow_error (a bar would need about 10^9 cells to reach it). Read next: theory/meter.h.
#pragma once
#include <algorithm>
#include <bit>
#include <compare>
#include <cstdint>
#include <numeric>
#include <stdexcept>
#include <string>

namespace tunesheaf::base {

class StoredFraction;

class Fraction {
  friend class StoredFraction;
  // Twice 64 bits, so that no product of two fractions overflows before it is brought to lowest terms.
  __extension__ using Wide = __int128;

 public:
  constexpr Fraction() = default;
  constexpr Fraction(std::int64_t whole) : num_(whole) {}  // NOLINT: integers are fractions
  constexpr Fraction(std::int64_t num, std::int64_t den) : Fraction(of(num, den)) {}

  constexpr std::int64_t num() const { return num_; }
  constexpr std::int64_t den() const { return den_; }
  constexpr double to_double() const { return static_cast<double>(num_) / static_cast<double>(den_); }
  /// "3/4", or "2" when whole.
  std::string text() const {
    return den_ == 1 ? std::to_string(num_) : std::to_string(num_) + "/" + std::to_string(den_);
  }

  friend constexpr Fraction operator+(Fraction a, Fraction b) {
    if (a.small() && b.small()) {
      if (a.halved() && b.halved()) return halved_sum(a, b);
      if (a.den_ == b.den_) return small_lowest(a.num_ + b.num_, a.den_);
      return small_lowest(a.num_ * b.den_ + b.num_ * a.den_, a.den_ * b.den_);
    }
    return lowest(static_cast<Wide>(a.num_) * b.den_ + static_cast<Wide>(b.num_) * a.den_,
                  static_cast<Wide>(a.den_) * b.den_);
  }
  friend constexpr Fraction operator-(Fraction a, Fraction b) { return a + Fraction::raw(-b.num_, b.den_); }
  friend constexpr Fraction operator*(Fraction a, Fraction b) {
    if (a.small() && b.small()) return small_lowest(a.num_ * b.num_, a.den_ * b.den_);
    return lowest(static_cast<Wide>(a.num_) * b.num_, static_cast<Wide>(a.den_) * b.den_);
  }
  /// Throws std::domain_error when b is 0.
  friend constexpr Fraction operator/(Fraction a, Fraction b) {
    if (a.small() && b.small() && b.num_ > 0) return small_lowest(a.num_ * b.den_, a.den_ * b.num_);
    return lowest(static_cast<Wide>(a.num_) * b.den_, static_cast<Wide>(a.den_) * b.num_);
  }
  constexpr Fraction operator-() const { return raw(-num_, den_); }
  constexpr Fraction& operator+=(Fraction b) { return *this = *this + b; }
  constexpr Fraction& operator-=(Fraction b) { return *this = *this - b; }
  friend constexpr bool operator==(Fraction a, Fraction b) { return a.num_ == b.num_ && a.den_ == b.den_; }
  friend constexpr std::strong_ordering operator<=>(Fraction a, Fraction b) {
    if (a.den_ == b.den_) return a.num_ <=> b.num_;
    if (a.small() && b.small()) return a.num_ * b.den_ <=> b.num_ * a.den_;
    return static_cast<Wide>(a.num_) * b.den_ <=> static_cast<Wide>(b.num_) * a.den_;
  }
  /// Largest integer not above the value.
  constexpr std::int64_t floor() const {
    const std::int64_t q = num_ / den_;
    return (num_ % den_ < 0) ? q - 1 : q;
  }
  /// Remainder in [0, step) after taking out whole steps.
  constexpr Fraction modulo(Fraction step) const { return *this - step * Fraction((*this / step).floor()); }

 private:
  static constexpr Fraction raw(std::int64_t n, std::int64_t d) {
    Fraction f;
    f.num_ = n;
    f.den_ = d;
    return f;
  }
  /// Both numbers within 30 bits: sums of two products stay within 64.
  constexpr bool small() const {
    constexpr std::int64_t kSmall = std::int64_t{1} << 30;
    return num_ < kSmall && num_ > -kSmall && den_ < kSmall;
  }
  /// Ordinary music: the denominator is a power of two.
  constexpr bool halved() const { return (den_ & (den_ - 1)) == 0; }
  static constexpr int zeros(std::int64_t n) { return std::countr_zero(static_cast<std::uint64_t>(n)); }
  static constexpr Fraction halved_sum(Fraction a, Fraction b) {
    const int by_a = zeros(a.den_), by_b = zeros(b.den_), by = std::max(by_a, by_b);
    const std::int64_t sum = (a.num_ << (by - by_a)) + (b.num_ << (by - by_b));
    const int common = std::min(zeros(sum), by);  // all of it when the sum is 0
    return raw(sum >> common, std::int64_t{1} << (by - common));
  }
  /// d > 0.
  static constexpr Fraction small_lowest(std::int64_t n, std::int64_t d) {
    const std::int64_t common = std::gcd(n, d);
    return common == 1 ? raw(n, d) : raw(n / common, d / common);
  }
  static constexpr Fraction of(std::int64_t n, std::int64_t d) {
    const Fraction given = raw(n, d);
    return d > 0 && given.small() ? small_lowest(n, d) : lowest(n, d);
  }
  static constexpr Fraction lowest(Wide n, Wide d) {
    if (d == 0) throw std::domain_error("fraction with denominator 0");
    if (d < 0) {
      n = -n;
      d = -d;
    }
    Wide a = n < 0 ? -n : n;
    Wide b = d;
    while (b != 0) {
      const Wide t = a % b;
      a = b;
      b = t;
    }
    if (a > 1) {
      n /= a;
      d /= a;
    }
    constexpr Wide kMax = INT64_MAX;
    if (n > kMax || n < -kMax || d > kMax) throw std::overflow_error("fraction out of range");
    return raw(static_cast<std::int64_t>(n), static_cast<std::int64_t>(d));
  }
  std::int64_t num_ = 0;
  std::int64_t den_ = 1;
};

/// A fraction at rest, in half the room: what a Timeline keeps by the thousand. It reads as a Fraction, and all sums
/// are made as Fractions. Storing one that needs more than 32 bits throws std::overflow_error (a bar of 10^4 cells
/// against one of 10^5 would need them).
class StoredFraction {
 public:
  constexpr StoredFraction() = default;
  constexpr StoredFraction(Fraction f)  // NOLINT: the same number
      : num_(static_cast<std::int32_t>(f.num())), den_(static_cast<std::int32_t>(f.den())) {
    if (num_ != f.num() || den_ != f.den()) throw std::overflow_error("fraction too fine to be kept");
  }
  constexpr operator Fraction() const { return Fraction::raw(num_, den_); }  // NOLINT: the same number
  constexpr std::int64_t num() const { return num_; }
  constexpr std::int64_t den() const { return den_; }
  constexpr double to_double() const { return Fraction(*this).to_double(); }
  std::string text() const { return Fraction(*this).text(); }
  constexpr Fraction modulo(Fraction step) const { return Fraction(*this).modulo(step); }

  friend constexpr Fraction operator+(StoredFraction a, StoredFraction b) { return Fraction(a) + Fraction(b); }
  friend constexpr Fraction operator+(StoredFraction a, Fraction b) { return Fraction(a) + b; }
  friend constexpr Fraction operator+(Fraction a, StoredFraction b) { return a + Fraction(b); }
  friend constexpr Fraction operator-(StoredFraction a, StoredFraction b) { return Fraction(a) - Fraction(b); }
  friend constexpr Fraction operator-(StoredFraction a, Fraction b) { return Fraction(a) - b; }
  friend constexpr Fraction operator-(Fraction a, StoredFraction b) { return a - Fraction(b); }
  friend constexpr Fraction operator*(StoredFraction a, Fraction b) { return Fraction(a) * b; }
  friend constexpr Fraction operator*(Fraction a, StoredFraction b) { return a * Fraction(b); }
  friend constexpr Fraction operator/(StoredFraction a, StoredFraction b) { return Fraction(a) / Fraction(b); }
  friend constexpr Fraction operator/(StoredFraction a, Fraction b) { return Fraction(a) / b; }
  friend constexpr Fraction operator/(Fraction a, StoredFraction b) { return a / Fraction(b); }
  friend constexpr bool operator==(StoredFraction a, StoredFraction b) { return Fraction(a) == Fraction(b); }
  friend constexpr bool operator==(StoredFraction a, Fraction b) { return Fraction(a) == b; }
  friend constexpr auto operator<=>(StoredFraction a, StoredFraction b) { return Fraction(a) <=> Fraction(b); }
  friend constexpr auto operator<=>(StoredFraction a, Fraction b) { return Fraction(a) <=> b; }

 private:
  std::int32_t num_ = 0, den_ = 1;
};

constexpr Fraction min(Fraction a, Fraction b) {
  return b < a ? b : a;
}
constexpr Fraction max(Fraction a, Fraction b) {
  return a < b ? b : a;
}

}  // namespace tunesheaf::base
