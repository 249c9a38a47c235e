// Files and places in them. In: a path and its bytes. Out: spans (byte offsets, half open) and, only when printed,
// lines and columns (1-based; columns count characters). Invariant: a Span lies inside its file.
// Read next: diag/diagnostic.h.
#pragma once
#include <cstdint>
#include <deque>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tunesheaf::source {

using FileId = std::uint32_t;

struct Span {
  FileId file = 0;
  std::uint32_t begin = 0, end = 0;
  constexpr std::uint32_t length() const { return end - begin; }
  friend constexpr auto operator<=>(const Span&, const Span&) = default;
};

/// From the beginning of `a` to the end of `b` (same file).
constexpr Span cover(Span a, Span b) {
  return {a.file, a.begin < b.begin ? a.begin : b.begin, a.end > b.end ? a.end : b.end};
}

template <class T>
struct Spanned {
  T value{};
  Span span{};
  friend bool operator==(const Spanned& a, const Spanned& b) { return a.value == b.value; }
};

/// 1-based; column counts characters (code points), not bytes.
struct Place {
  std::uint32_t line = 1, column = 1;
};

class File {
 public:
  /// Throws std::length_error for 4 GiB or more: offsets have 32 bits.
  File(FileId id, std::string path, std::string text);
  FileId id() const { return id_; }
  const std::string& path() const { return path_; }
  std::string_view text() const { return text_; }
  /// The bytes of a span; what lies outside the file is cut off.
  std::string_view slice(Span span) const;
  /// Line and column of a byte; offsets past the end are the end. A byte order mark takes no column.
  Place place(std::uint32_t offset) const;
  /// Lines end with LF or CR LF; what follows the last of them is a line too, even if empty.
  std::uint32_t line_count() const { return static_cast<std::uint32_t>(line_starts_.size()); }
  /// The line (1-based) without its end of line; throws std::out_of_range for a line that is not there.
  std::string_view line(std::uint32_t number) const;
  std::uint32_t line_start(std::uint32_t number) const;

 private:
  FileId id_;
  std::string path_;
  std::string text_;
  std::vector<std::uint32_t> line_starts_;
};

/// All files of one run; ids count from 0.
class Files {
 public:
  FileId add(std::string path, std::string text);
  const File& file(FileId id) const { return files_.at(id); }
  std::size_t size() const { return files_.size(); }

 private:
  std::deque<File> files_;
};

}  // namespace tunesheaf::source
