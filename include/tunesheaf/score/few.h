// Lists and values that are mostly empty: eight bytes each, and memory of their own only when there is something to
// hold; and lists of lists in one piece. In: what a note or an event has beside its pitch and time. Out: the interfaces
// of std::vector and std::optional, as far as they are used. Invariant: a copy is deep, a moved-from one is empty. Read
// next: timeline.h.
#pragma once
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <initializer_list>
#include <iterator>
#include <memory>
#include <new>
#include <optional>
#include <span>
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

/// A value that is seldom anything but as it was made. It is read like a pointer, and shows the plain value while none
/// of its own was set.
template <class T>
class Seldom {
 public:
  Seldom() = default;
  Seldom(const Seldom& other) : own_(other.own_ ? std::make_unique<T>(*other.own_) : nullptr) {}
  Seldom(Seldom&&) noexcept = default;
  Seldom& operator=(const Seldom& other) {
    if (this != &other) own_ = other.own_ ? std::make_unique<T>(*other.own_) : nullptr;
    return *this;
  }
  Seldom& operator=(Seldom&&) noexcept = default;
  ~Seldom() = default;

  const T& operator*() const { return own_ ? *own_ : kPlain; }
  const T* operator->() const { return &**this; }
  /// To be changed.
  T& set() {
    if (!own_) own_ = std::make_unique<T>();
    return *own_;
  }

 private:
  inline static const T kPlain{};
  std::unique_ptr<T> own_;
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

/// A list of lists in one piece of memory, filled row by row.
template <class T>
class Rows {
 public:
  std::size_t size() const { return ends_.size(); }
  bool empty() const { return ends_.empty(); }
  std::span<const T> operator[](std::size_t row) const {
    return {items_.data() + begin_of(row), items_.data() + ends_[row]};
  }
  std::span<T> operator[](std::size_t row) { return {items_.data() + begin_of(row), items_.data() + ends_[row]}; }
  std::span<const T> back() const { return (*this)[size() - 1]; }
  void push_back(std::span<const T> row) {
    items_.insert(items_.end(), row.begin(), row.end());
    ends_.push_back(static_cast<std::uint32_t>(items_.size()));
  }
  void reserve(std::size_t rows, std::size_t items) {
    ends_.reserve(rows);
    items_.reserve(items);
  }

  class Iterator {
   public:
    using iterator_category = std::forward_iterator_tag;
    using difference_type = std::ptrdiff_t;
    using value_type = std::span<const T>;
    using pointer = void;
    using reference = value_type;
    Iterator() = default;
    Iterator(const Rows* rows, std::size_t at) : rows_(rows), at_(at) {}
    value_type operator*() const { return (*rows_)[at_]; }
    Iterator& operator++() {
      ++at_;
      return *this;
    }
    Iterator operator++(int) {
      const Iterator before = *this;
      ++at_;
      return before;
    }
    friend bool operator==(const Iterator&, const Iterator&) = default;

   private:
    const Rows* rows_ = nullptr;
    std::size_t at_ = 0;
  };
  Iterator begin() const { return {this, 0}; }
  Iterator end() const { return {this, size()}; }

 private:
  std::size_t begin_of(std::size_t row) const { return row == 0 ? 0 : ends_[row - 1]; }

  std::vector<T> items_;
  std::vector<std::uint32_t> ends_;  ///< behind the last item of each row
};

}  // namespace tunesheaf::score
