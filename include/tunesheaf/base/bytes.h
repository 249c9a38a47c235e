// Values as bytes and back, for files that only this program reads. In: numbers and texts in an order that writer and
// reader share. Out: bytes. Invariant: a reader never goes beyond its bytes; after the first fault everything it gives
// is zero or empty and ok() is false, so a reader of damaged bytes asks once, at the end.
#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace tunesheaf::base {

class ByteWriter {
 public:
  /// Seven bits a byte, low ones first; small numbers are short.
  void number(std::uint64_t value) {
    for (; value >= 0x80; value >>= 7U) bytes_ += static_cast<char>((value & 0x7FU) | 0x80U);
    bytes_ += static_cast<char>(value);
  }
  /// Small numbers of either sign are short.
  void whole(std::int64_t value) {
    number((static_cast<std::uint64_t>(value) << 1U) ^ (value < 0 ? ~std::uint64_t{0} : 0));
  }
  void text(std::string_view value) {
    number(value.size());
    bytes_ += value;
  }
  const std::string& bytes() const { return bytes_; }
  std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

class ByteReader {
 public:
  explicit ByteReader(std::string_view bytes) : bytes_(bytes) {}

  std::uint64_t number() {
    std::uint64_t value = 0;
    for (unsigned shift = 0; shift < 64; shift += 7) {
      if (bytes_.empty()) break;
      const auto byte = static_cast<unsigned char>(bytes_.front());
      bytes_.remove_prefix(1);
      value |= static_cast<std::uint64_t>(byte & 0x7FU) << shift;
      if (byte < 0x80) return value;
    }
    fail();
    return 0;
  }
  std::int64_t whole() {
    const std::uint64_t value = number();
    return static_cast<std::int64_t>((value >> 1U) ^ ((value & 1U) != 0 ? ~std::uint64_t{0} : 0));
  }
  std::string_view text() {
    const std::uint64_t size = number();
    if (size > bytes_.size()) {
      fail();
      return {};
    }
    const std::string_view value = bytes_.substr(0, size);
    bytes_.remove_prefix(size);
    return value;
  }
  /// How many of something follow, each at least a byte long: never more than there are bytes.
  std::size_t count() { return at_most(bytes_.size()); }
  /// A number up to `most`; a larger one is a fault.
  std::size_t at_most(std::size_t most) {
    const std::uint64_t value = number();
    if (value <= most) return static_cast<std::size_t>(value);
    fail();
    return 0;
  }
  bool ok() const { return ok_; }
  bool at_end() const { return bytes_.empty(); }
  void fail() {
    ok_ = false;
    bytes_ = {};
  }

 private:
  std::string_view bytes_;
  bool ok_ = true;
};

/// A fingerprint of bytes: FNV-1a with 128 bits (Fowler, Noll, Vo; draft-eastlake-fnv). Two texts met by chance do not
/// share one; it is no guard against somebody who tries.
class Fingerprint {
 public:
  void add(std::string_view bytes) {
    for (const char c : bytes) {
      low_ ^= static_cast<unsigned char>(c);
      multiply();
    }
  }
  /// The bytes with their number before them, so that neighbours do not run into each other.
  void add_piece(std::string_view bytes) {
    ByteWriter size;
    size.number(bytes.size());
    add(size.bytes());
    add(bytes);
  }
  /// 32 hexadecimal digits.
  std::string hex() const {
    static constexpr std::array<char, 17> kDigits{"0123456789abcdef"};
    std::string out;
    for (const std::uint64_t half : {high_, low_}) {
      for (int shift = 60; shift >= 0; shift -= 4) out += kDigits[(half >> static_cast<unsigned>(shift)) & 15U];
    }
    return out;
  }

 private:
  /// By the prime 2^88 + 0x13B, modulo 2^128.
  void multiply() {
    constexpr std::uint64_t kSmall = 0x13B;
    const std::uint64_t low_part = (low_ & 0xFFFFFFFFU) * kSmall, high_part = (low_ >> 32U) * kSmall;
    const std::uint64_t middle = high_part + (low_part >> 32U);
    const std::uint64_t carry = middle >> 32U;
    high_ = high_ * kSmall + carry + (low_ << 24U);
    low_ = (middle << 32U) | (low_part & 0xFFFFFFFFU);
  }

  std::uint64_t high_ = 0x6C62272E07BB0142, low_ = 0x62B821756295C58D;
};

}  // namespace tunesheaf::base
