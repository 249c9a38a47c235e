#include "tunesheaf/export/files.h"

#include <memory>

namespace tunesheaf::exporting {
namespace {

std::string page_path(const std::string& path, std::size_t page, std::size_t pages) {
  if (pages <= 1) return path;
  const std::size_t dot = path.rfind('.');
  const std::size_t slash = path.rfind('/');
  const bool has_ending = dot != std::string::npos && (slash == std::string::npos || dot > slash);
  const std::string number = "-" + std::to_string(page + 1);
  return has_ending ? path.substr(0, dot) + number + path.substr(dot) : path + number;
}

}  // namespace

std::optional<Format> format_of(const std::string& path) {
  if (path.size() < 4) return std::nullopt;
  std::string ending = path.substr(path.size() - 4);
  for (char& c : ending) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  if (ending == ".pdf") return Format::Pdf;
  if (ending == ".svg") return Format::Svg;
  if (ending == ".png") return Format::Png;
  return std::nullopt;
}

base::Result<std::vector<std::string>, WriteFault> write_files(const paint::Document& document, text::FontBook& fonts,
                                                               const std::string& path, Format format, double dpi) {
  const std::size_t count = format == Format::Pdf ? 1 : document.pages.size();
  if (document.pages.empty()) return WriteFault{{}, "there is no page to write"};
  std::vector<std::unique_ptr<SafeFile>> files;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < count; ++i) {
    names.push_back(page_path(path, i, count));
    files.push_back(std::make_unique<SafeFile>(names.back()));
    SafeFile& file = *files.back();
    const Bytes out = [&file](std::string_view bytes) { return file.write(bytes); };
    std::optional<PlayFault> fault;
    if (!file.fault()) {
      fault = format == Format::Pdf   ? write_pdf(document, fonts, out)
              : format == Format::Svg ? write_svg(document, i, out)
                                      : write_png(document, i, fonts, dpi, out);
    }
    if (!file.fault() && !fault) file.seal();
    if (file.fault()) return WriteFault{file.fault(), file.fault()->message()};
    if (fault) return WriteFault{{}, fault->message};
  }
  for (const auto& file : files) {
    if (!file->commit()) return WriteFault{file->fault(), file->fault()->message()};
  }
  return names;
}

}  // namespace tunesheaf::exporting
