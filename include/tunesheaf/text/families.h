// The families the sheets are set in. In: nothing. Out: a table of families, packages, licences and files; the same
// table stands in fonts/families.txt for people, and a test keeps the two equal. Invariant: within a family no two
// files have the same weight and slant. Read next: text/font_book.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/text/shaper.h"

namespace tunesheaf::text {

enum class Need : std::uint8_t { Required, Fallback };

struct FontFile {
  std::string file;
  Weight weight = Weight::Regular;
  Slant slant = Slant::Upright;
};

struct Family {
  std::string name;
  std::string package;  ///< Debian package
  std::string licence;  ///< SPDX name
  std::string folder;   ///< usual place under a font folder
  Need need = Need::Required;
  std::vector<FontFile> files;
};

/// Required families first; fallback families in the order in which they are asked for a character.
const std::vector<Family>& families();
/// The table as fonts/families.txt holds it, below its comment lines.
std::string print_families();

}  // namespace tunesheaf::text
