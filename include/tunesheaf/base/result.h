// A value or the reason there is none. In: T or E. Out: one of them, asked for before it is taken.
// Invariant: exactly one is held; value() on an error (or error() on a value) is a programming fault and throws.
#pragma once
#include <cstddef>
#include <type_traits>
#include <utility>
#include <variant>

namespace tunesheaf::base {

template <class T, class E>
class Result {
 public:
  Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}  // NOLINT: converting on purpose
  Result(E error)                                                       // NOLINT: converting on purpose
      requires(!std::is_same_v<T, E>)
      : held_(std::in_place_index<1>, std::move(error)) {}
  /// The one way to make an error where value and error have the same type.
  static Result failure(E error) { return Result(std::in_place_index<1>, std::move(error)); }
  bool ok() const { return held_.index() == 0; }
  explicit operator bool() const { return ok(); }
  const T& value() const { return std::get<0>(held_); }
  T& value() { return std::get<0>(held_); }
  const E& error() const { return std::get<1>(held_); }
  const T& operator*() const { return value(); }
  const T* operator->() const { return &value(); }

 private:
  template <std::size_t I, class V>
  Result(std::in_place_index_t<I> place, V value) : held_(place, std::move(value)) {}

  std::variant<T, E> held_;
};

}  // namespace tunesheaf::base
