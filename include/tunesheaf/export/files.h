// A document into files. In: a document, its fonts and a file name. Out: one PDF, or one SVG or PNG per page
// (`name.svg` for a single page, `name-1.svg`, `name-2.svg` … for several). Invariant: all files are written in full
// before the first takes its name, and each is replaced whole or not at all. Read next: export/safe_file.h.
#pragma once
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/export/player.h"
#include "tunesheaf/export/safe_file.h"

namespace tunesheaf::exporting {

enum class Format : std::uint8_t { Pdf, Svg, Png };

/// By the ending of a file name (.pdf, .svg, .png in any case); nothing for others.
std::optional<Format> format_of(const std::string& path);

struct WriteFault {
  std::optional<FileFault> file;  ///< the file could not be kept
  std::string message;            ///< one sentence, whatever the cause
};

inline constexpr double kUsualDpi = 200;

/// The names of the files written, in the order of the pages.
base::Result<std::vector<std::string>, WriteFault> write_files(const paint::Document& document, text::FontBook& fonts,
                                                               const std::string& path, Format format,
                                                               double dpi = kUsualDpi);

}  // namespace tunesheaf::exporting
