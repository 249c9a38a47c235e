// The fonts of a run, found by file and independent of what else the machine has. In: the table of families
// (text/families.h) and the folders to look in. Out: for each face its file, and a private font list for the shaper.
// Invariant: every face that resolves is exactly the one asked for; a family that is not installed fails by name with
// the package that holds it. One FontBook per thread. Read next: text/pango_shaper.h.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/text/shaper.h"

struct _PangoFontMap;

namespace tunesheaf::text {

/// Why a font cannot be had, in words a musician can act on.
struct FontFault {
  std::string family;
  std::string package;  ///< Debian package that holds it; empty when the family is not in our table
  std::string message;  ///< one sentence
};

/// Where the outlines of a face are.
struct FontPlace {
  std::string path;
  int index = 0;  ///< of the face within a collection
};

class FontBook {
 public:
  /// Looks for the files of the table's required families in `folders`, in order; fails on the first that is missing.
  static base::Result<std::unique_ptr<FontBook>, FontFault> open(const std::vector<std::string>& folders);
  /// TUNESHEAF_FONTS (a list separated by colons), then ~/.local/share/fonts, then the system's font folders.
  static std::vector<std::string> usual_folders();

  ~FontBook();
  FontBook(const FontBook&) = delete;
  FontBook& operator=(const FontBook&) = delete;

  /// The face of that family nearest in weight, same slant where the family has it; nothing for unknown families.
  std::optional<Face> nearest(const Face& wanted);
  /// The file of exactly this face; nothing when the book does not hold it.
  std::optional<FontPlace> file_of(const Face& face);
  /// The fault to report when a style asks for a family the book does not have.
  static FontFault missing(const std::string& family);

  bool has(const Face& face, char32_t character);
  /// The face that draws `character` in a text set in `wanted`: itself, or the first of the fallback faces that can.
  /// Nothing when no font here has the character.
  std::optional<Face> face_for(char32_t character, const Face& wanted);

  /// Which fonts and libraries set the text: for every file of the table that is here its name and a fingerprint of its
  /// first bytes, where an OpenType font has the checksums of all its tables; the versions of the libraries, and the
  /// hyphenation dictionaries.
  std::string identity() const;

  _PangoFontMap* map() const;

 private:
  struct Inside;
  explicit FontBook(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace tunesheaf::text
