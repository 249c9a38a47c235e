// Patterns that say where words may be parted (Liang, Word Hy-phen-a-tion by Com-put-er, 1983). In: a dictionary of
// plain patterns, one a line: letters with figures between them, the highest figure at a place decides, odd ones part.
// Out: places in a word. Invariant: the places are those that libhyphen finds, in a twentieth of the time it takes to
// read such a dictionary; lists with levels, compounds or respelling are left to it. Read next: hyphens.cpp.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tunesheaf::text {

class Patterns {
 public:
  /// Nothing for a list that is not plain, or in letters other than UTF-8 and ISO 8859-1.
  static std::optional<Patterns> read(const std::string& path);

  bool utf8() const { return utf8_; }
  /// By bytes of `word` (lower case, in the letters of the list): true behind those where it may be parted.
  std::vector<bool> places(std::string_view word) const;

 private:
  struct Slot {
    std::uint32_t hash = 0, at = 0;  ///< of the letters; where the line begins in `text_`, or 0 for an empty slot
  };
  bool read_lines();
  bool read_keyword(std::string_view line);
  void keep(std::uint32_t hash, std::uint32_t at, std::size_t letters);
  bool same_letters(std::uint32_t at, std::string_view letters) const;
  bool same_letters(std::uint32_t at, std::uint32_t other) const;
  const Slot* find(std::uint32_t hash, std::string_view letters) const;

  std::string text_;
  std::vector<Slot> slots_;             ///< a power of two of them, at least twice as many as patterns
  std::size_t longest_ = 0;             ///< letters of the longest pattern
  std::size_t before_ = 2, after_ = 2;  ///< letters that stay before and after a parting at least
  bool utf8_ = false;
};

}  // namespace tunesheaf::text
