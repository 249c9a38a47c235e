#include "tunesheaf/source/source.h"

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "tunesheaf/base/utf8.h"

namespace tunesheaf::source {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

}  // namespace

File::File(FileId id, std::string path, std::string text) : id_(id), path_(std::move(path)), text_(std::move(text)) {
  if (text_.size() >= std::numeric_limits<std::uint32_t>::max()) throw std::length_error("file of 4 GiB or more");
  line_starts_.push_back(0);
  for (std::size_t at = text_.find('\n'); at != std::string::npos; at = text_.find('\n', at + 1)) {
    line_starts_.push_back(static_cast<std::uint32_t>(at + 1));
  }
}

std::string_view File::slice(Span span) const {
  const std::size_t end = std::min<std::size_t>(span.end, text_.size());
  const std::size_t begin = std::min<std::size_t>(span.begin, end);
  return std::string_view(text_).substr(begin, end - begin);
}

Place File::place(std::uint32_t offset) const {
  const auto at = std::min<std::uint32_t>(offset, static_cast<std::uint32_t>(text_.size()));
  const auto next = std::upper_bound(line_starts_.begin(), line_starts_.end(), at);
  const auto line = static_cast<std::uint32_t>(next - line_starts_.begin());
  std::string_view before = std::string_view(text_).substr(line_start(line), at - line_start(line));
  if (line == 1 && before.substr(0, kByteOrderMark.size()) == kByteOrderMark) {
    before.remove_prefix(kByteOrderMark.size());
  }
  return {line, static_cast<std::uint32_t>(base::count_code_points(before)) + 1};
}

std::string_view File::line(std::uint32_t number) const {
  const std::uint32_t begin = line_start(number);
  std::size_t end = number < line_count() ? line_starts_[number] - 1 : text_.size();
  if (end > begin && text_[end - 1] == '\r') --end;
  return std::string_view(text_).substr(begin, end - begin);
}

std::uint32_t File::line_start(std::uint32_t number) const {
  return line_starts_.at(number - 1);
}

FileId Files::add(std::string path, std::string text) {
  const auto id = static_cast<FileId>(files_.size());
  files_.emplace_back(id, std::move(path), std::move(text));
  return id;
}

}  // namespace tunesheaf::source
