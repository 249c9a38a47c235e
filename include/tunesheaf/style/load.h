// Styles from files. In: the name of a style (or a path ending in .yaml), the paper, the folder of named styles. Out:
// the resolved Style and where each token came from, or diagnostics. A file may extend another (`extends: house`); what
// it does not set comes from there, in the end from the built-in house style. Unknown tokens, missing units and chains
// that bite their tail are errors. Read next: style/tokens.h.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/source/source.h"
#include "tunesheaf/style/style.h"

namespace tunesheaf::style {

struct Provenance {
  std::string style;                 ///< name of the style that set it; "house" for the built-in value
  std::optional<source::Span> span;  ///< where it is written, when it is in a file
  std::string value;                 ///< as it is typed there
};

struct LoadedStyle {
  Style style;
  std::map<std::string, Provenance> provenance;  ///< by token name; every token is in it
};

/// One token set over whatever the style says: `token=value` of the command line.
struct Override {
  std::string token, value;
};

/// Reads "body.size=12 pt". The error is a sentence: what is wrong with the token, its unit or its value, with the
/// nearest word; an override that is read is valid in every style.
base::Result<Override, std::string> read_override(std::string_view text);

struct StyleWishes {
  std::vector<Override> overrides;    ///< the last one of a token counts
  std::optional<source::Span> asked;  ///< where the style is named, when it is in a file
};

/// `paper` is "a4" or "letter"; a style with a page of its own does not look at it. The name "house" works without any
/// file.
std::optional<LoadedStyle> load_style(const std::string& name_or_path, const std::string& paper,
                                      const std::string& style_folder, source::Files& files, diag::Sink& sink,
                                      const StyleWishes& wishes = {});

/// The styles of a folder by name, in the alphabet's order; house is always among them.
std::vector<std::string> style_names(const std::string& style_folder);

/// The `style` phase: one token per line with its value as it is in force and where it came from.
std::string print(const LoadedStyle& loaded, const source::Files& files);

/// Contrast of two opaque colours, 1 to 21 (W3C, Web Content Accessibility Guidelines 2.1, contrast ratio).
double contrast(base::Colour a, base::Colour b);

}  // namespace tunesheaf::style
