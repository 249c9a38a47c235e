// Styles from files. In: the name of a style (or a path ending in .yaml), the paper, the folder of named styles. Out:
// the resolved Style and where each token came from, or diagnostics. A file may extend another (`extends: house`); what
// it does not set comes from there, in the end from the built-in house style. Unknown tokens, missing units and chains
// that bite their tail are errors. Read next: style/tokens.h.
#pragma once
#include <map>
#include <optional>
#include <string>

#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/style/style.h"

namespace tunesheaf::style {

struct Provenance {
  std::string style;                 ///< name of the style that set it; "house" for the built-in value
  std::optional<source::Span> span;  ///< where it is written, when it is in a file
};

struct LoadedStyle {
  Style style;
  std::map<std::string, Provenance> provenance;  ///< by token name; every token is in it
};

/// `paper` is "a4" or "letter". The name "house" works without any file.
std::optional<LoadedStyle> load_style(const std::string& name_or_path, const std::string& paper,
                                      const std::string& style_folder, source::Files& files, diag::Sink& sink);

/// The `style` phase: one token per line with its value as it is in force and where it came from.
std::string print(const LoadedStyle& loaded, const source::Files& files);

/// Contrast of two opaque colours, 1 to 21 (W3C, Web Content Accessibility Guidelines 2.1, contrast ratio).
double contrast(base::Colour a, base::Colour b);

}  // namespace tunesheaf::style
