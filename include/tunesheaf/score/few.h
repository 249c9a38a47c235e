// Lists and values that are mostly empty: eight bytes each, and memory of their own only when there is something to
// hold. In: what a note or an event has beside its pitch and time. Out: the interfaces of std::vector and
// std::optional, as far as they are used. Invariant: a copy is deep, a moved-from one is empty. Read next: timeline.h.
#pragma once
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <initializer_list>
#include <memory>
#include <new>
#include <optional>
#include <stdexcept>
#include <utility>
#include <vector>

namespace tunesheaf::score {

/// A short vector. Room grows by doubling from one, so that single notes take the room of one.
template <class T>
class Few {
 public:
  using value_type = T;
  using iterator = T*;
  using const_iterator = const T*;

  Few() = default;
  Few(std::initializer_list<T> items) { assign(items.begin(), items.end()); }
  Few(const std::vector<T>& items) { assign(items.begin(), items.end()); }  // NOLINT: a list is a list
  Few(const Few& other) { assign(other.begin(), other.end()); }
  Few(Few&& other) noexcept : block_(std::exchange(other.block_, nullptr)) {}
  Few& operator=(const Few& other) {
    if (this != &other) *this = Few(other);
    return *this;
  }
  Few& operator=(Few&& other) noexcept {
    std::swap(block_, other.block_);
    return *this;
  }
  ~Few() { drop(); }

  bool empty() const { return block_ == nullptr || block_->size == 0; }
  std::size_t size() const { return block_ == nullptr ? 0 : block_->size; }
  T* data() { return block_ == nullptr ? nullptr : items(); }
  const T* data() const { return block_ == nullptr ? nullptr : items(); }
  T* begin() { return data(); }
  T* end() { return data() + size(); }
  const T* begin() const { return data(); }
  const T* end() const { return data() + size(); }
  T& operator[](std::size_t i) { return items()[i]; }
  const T& operator[](std::size_t i) const { return items()[i]; }
  T& at(std::size_t i) { return i < size() ? items()[i] : beyond(); }
  const T& at(std::size_t i) const { return i < size() ? items()[i] : const_cast<Few*>(this)->beyond(); }
  T& front() { return items()[0]; }
  const T& front() const { return items()[0]; }
  T& back() { return items()[size() - 1]; }
  const T& back() const { return items()[size() - 1]; }

  void push_back(T item) {
    reserve(size() + 1);
    new (items() + block_->size) T(std::move(item));
    ++block_->size;
  }
  void pop_back() { items()[--block_->size].~T(); }
  void clear() {
    drop();
    block_ = nullptr;
  }
  void reserve(std::size_t count) {
    if (block_ != nullptr && count <= block_->room) return;
    const std::size_t room = block_ == nullptr ? count : std::max<std::size_t>(count, 2 * block_->room);
    Block* fresh = static_cast<Block*>(::operator new(kItems + room * sizeof(T)));
    fresh->size = static_cast<std::uint32_t>(size());
    fresh->room = static_cast<std::uint32_t>(room);
    for (std::size_t i = 0; i < size(); ++i) {
      new (items_of(fresh) + i) T(std::move(items()[i]));
      items()[i].~T();
    }
    ::operator delete(block_);
    block_ = fresh;
  }

 private:
  struct Block {
    std::uint32_t size, room;
  };
  static constexpr std::size_t kItems = alignof(T) > sizeof(Block) ? alignof(T) : sizeof(Block);

  static T* items_of(Block* block) { return reinterpret_cast<T*>(reinterpret_cast<char*>(block) + kItems); }
  T* items() const { return items_of(block_); }
  template <class I>
  void assign(I first, I last) {
    if (first == last) return;
    reserve(static_cast<std::size_t>(last - first));
    for (; first != last; ++first) new (items() + block_->size++) T(*first);
  }
  void drop() {
    if (block_ == nullptr) return;
    for (T& item : *this) item.~T();
    ::operator delete(block_);
  }
  [[noreturn]] T& beyond() { throw std::out_of_range("beyond the last of a few"); }

  Block* block_ = nullptr;
};

/// An optional value that is seldom there.
template <class T>
class Rare {
 public:
  Rare() = default;
  Rare(std::nullopt_t) {}                                           // NOLINT: as std::optional
  Rare(T value) : value_(std::make_unique<T>(std::move(value))) {}  // NOLINT: as std::optional
  Rare(const std::optional<T>& value) {                             // NOLINT: as std::optional
    if (value) value_ = std::make_unique<T>(*value);
  }
  Rare(const Rare& other) : value_(other.value_ ? std::make_unique<T>(*other.value_) : nullptr) {}
  Rare(Rare&&) noexcept = default;
  Rare& operator=(const Rare& other) {
    if (this != &other) value_ = other.value_ ? std::make_unique<T>(*other.value_) : nullptr;
    return *this;
  }
  Rare& operator=(Rare&&) noexcept = default;
  ~Rare() = default;

  explicit operator bool() const { return value_ != nullptr; }
  bool has_value() const { return value_ != nullptr; }
  T& operator*() { return *value_; }
  const T& operator*() const { return *value_; }
  T* operator->() { return value_.get(); }
  const T* operator->() const { return value_.get(); }
  T value_or(T other) const { return value_ ? *value_ : std::move(other); }
  void reset() { value_.reset(); }
  friend bool operator==(const Rare& a, const Rare& b) {
    return a.value_ && b.value_ ? *a.value_ == *b.value_ : !a.value_ && !b.value_;
  }

 private:
  std::unique_ptr<T> value_;
};

/// An optional small number (a fret) in two bytes.
class RareNumber {
 public:
  RareNumber() = default;
  RareNumber(std::nullopt_t) {}                                        // NOLINT: as std::optional
  RareNumber(int value) : value_(static_cast<std::int16_t>(value)) {}  // NOLINT: as std::optional
  RareNumber(std::optional<int> value) {                               // NOLINT: as std::optional
    if (value) value_ = static_cast<std::int16_t>(*value);
  }
  explicit operator bool() const { return value_ != kNone; }
  bool has_value() const { return value_ != kNone; }
  int operator*() const { return value_; }
  int value_or(int other) const { return value_ == kNone ? other : value_; }
  friend bool operator==(RareNumber, RareNumber) = default;

 private:
  static constexpr std::int16_t kNone = INT16_MIN;
  std::int16_t value_ = kNone;
};

/// A number that fits into two bytes; everywhere else an int.
class Small {
 public:
  constexpr Small() = default;
  constexpr explicit Small(int value) : value_(static_cast<std::int16_t>(value)) {}
  constexpr Small& operator=(int value) {
    value_ = static_cast<std::int16_t>(value);
    return *this;
  }
  constexpr operator int() const { return value_; }  // NOLINT: an int in little room

 private:
  std::int16_t value_ = 0;
};

}  // namespace tunesheaf::score
