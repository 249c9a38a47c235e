// Numbers that are kept in few bytes. In: an int. Out: the same int. Invariant: what does not fit throws
// std::overflow_error where it is stored; nothing wraps. Read next: fraction.h (StoredFraction), score/timeline.h.
#pragma once
#include <cstdint>
#include <limits>
#include <stdexcept>

namespace tunesheaf::base {

/// A number kept in a T; everywhere else an int.
template <class T>
class Narrow {
 public:
  constexpr Narrow() = default;
  constexpr Narrow(int value) : value_(static_cast<T>(value)) {  // NOLINT: an int in little room
    if (value < std::numeric_limits<T>::min() || value > std::numeric_limits<T>::max())
      throw std::overflow_error("number out of range");
  }
  constexpr operator int() const { return value_; }  // NOLINT: the same
  constexpr Narrow& operator+=(int by) { return *this = Narrow(value_ + by); }
  constexpr Narrow& operator-=(int by) { return *this = Narrow(value_ - by); }

 private:
  T value_ = 0;
};

using Tiny = Narrow<std::int8_t>;    ///< -128 to 127
using Small = Narrow<std::int16_t>;  ///< -32768 to 32767

}  // namespace tunesheaf::base
