#include "pdf_language.h"

#include <algorithm>
#include <optional>

#include "tunesheaf/base/number.h"

namespace tunesheaf::exporting {
namespace {

constexpr std::string_view kEnd = "endobj\n";

/// The words after `key` up to the end of the reference or number that follows it.
std::optional<std::int64_t> number_after(std::string_view text, std::string_view key) {
  const std::size_t at = text.rfind(key);
  if (at == std::string_view::npos) return std::nullopt;
  const std::size_t begin = text.find_first_of("0123456789", at + key.size());
  if (begin == std::string_view::npos) return std::nullopt;
  const std::size_t end = std::min(text.find_first_not_of("0123456789", begin), text.size());
  return base::parse_integer(text.substr(begin, end - begin));
}

std::string ten_digits(std::uint64_t value) {
  const std::string digits = std::to_string(value);
  return std::string(digits.size() < 10 ? 10 - digits.size() : 0, '0') + digits;
}

}  // namespace

bool is_language_tag(const std::string& language) {
  return !language.empty() && std::all_of(language.begin(), language.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
  });
}

void PdfLanguage::watch(std::string_view bytes) {
  length_ += bytes.size();
  const std::size_t from = recent_.size() < kEnd.size() ? 0 : recent_.size() - kEnd.size();
  recent_ += bytes;
  std::size_t begin = 0;
  for (std::size_t at = recent_.find(kEnd, from); at != std::string::npos; at = recent_.find(kEnd, begin)) {
    take_object(std::string_view(recent_).substr(begin, at - begin));
    begin = at + kEnd.size();
  }
  recent_.erase(0, begin);
}

void PdfLanguage::take_object(std::string_view object) {
  if (object.size() > 4096 || object.find("/Type /Catalog") == std::string_view::npos) return;
  catalogue_ = object;
}

std::string PdfLanguage::update(const std::string& language) const {
  const auto size = number_after(recent_, "/Size"), root = number_after(recent_, "/Root"),
             info = number_after(recent_, "/Info"), previous = number_after(recent_, "startxref");
  const std::size_t close = catalogue_.rfind(">>");
  if (!is_language_tag(language) || !size || !root || !previous || close == std::string::npos) return {};
  if (catalogue_.find("/Lang") != std::string::npos || !catalogue_.starts_with(std::to_string(*root) + " 0 obj")) {
    return {};
  }
  const std::string shown = catalogue_.find("/ViewerPreferences") == std::string::npos
                                ? "   /ViewerPreferences << /DisplayDocTitle true >>\n"
                                : std::string{};
  std::string out = catalogue_.substr(0, close) + "   /Lang (" + language + ")\n" + shown + ">>\nendobj\n";
  const std::uint64_t table = length_ + out.size();
  out += "xref\n" + std::to_string(*root) + " 1\n" + ten_digits(length_) + " 00000 n \n";
  out += "trailer\n<< /Size " + std::to_string(*size) + "\n   /Root " + std::to_string(*root) + " 0 R\n";
  if (info) out += "   /Info " + std::to_string(*info) + " 0 R\n";
  out += "   /Prev " + std::to_string(*previous) + "\n>>\nstartxref\n" + std::to_string(table) + "\n%%EOF\n";
  return out;
}

}  // namespace tunesheaf::exporting
