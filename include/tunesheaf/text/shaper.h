// Text to positioned glyphs. In: pieces of UTF-8 with a style each. Out: lines of runs, one run per face, with exact
// advances and ink boxes. Invariant: the text of a line's runs, joined, is the text given (minus soft hyphens not
// used). Two makers: the Pango one (real fonts) and the fixed-width one (tests). Read next: text/pango_shaper.h.
#pragma once
#include <compare>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "tunesheaf/base/length.h"
#include "tunesheaf/text/outline.h"

namespace tunesheaf::text {

enum class Weight : std::uint16_t { Light = 300, Regular = 400, Medium = 500, Semibold = 600, Bold = 700, Black = 900 };
enum class Slant : std::uint8_t { Upright, Italic };

/// A face by name: the key under which shaper and exporter know the same font.
struct Face {
  std::string family;
  Weight weight = Weight::Regular;
  Slant slant = Slant::Upright;
  friend auto operator<=>(const Face&, const Face&) = default;
};

struct TextStyle {
  Face face;
  base::Length size;          ///< em size
  std::int16_t tracking = 0;  ///< extra space after each letter in 1/1000 em; above 50 words no longer extract whole
  bool tabular = false;       ///< figures of one width
  friend auto operator<=>(const TextStyle&, const TextStyle&) = default;
};

struct StyledText {
  std::string text;
  TextStyle style;
};

/// One glyph; x and y are offsets of its origin from the run's origin (y down), cluster is a byte offset in Run::text.
struct Glyph {
  std::uint32_t id = 0;
  base::Length x, y;
  std::uint32_t cluster = 0;
};

struct Run {
  Face face;
  base::Length size;
  std::string text;
  std::vector<Glyph> glyphs;
  base::Length advance;
  base::Rect ink;  ///< relative to the run's origin on the baseline; y is negative above it
};

struct PlacedRun {
  base::Length x;  ///< from the line's left end
  Run run;
};

struct Line {
  std::vector<PlacedRun> runs;
  base::Length width;            ///< sum of advances
  base::Length ascent, descent;  ///< of the fonts used, both positive
  base::Rect ink;                ///< relative to the left end of the baseline
};

enum class Alignment : std::uint8_t { Left, Centre, Right, Justified };

struct FaceMetrics {
  base::Length ascent, descent, x_height, cap_height;
};

/// The seam between layout and fonts. Not safe to share between threads: one per thread.
class Shaper {
 public:
  virtual ~Shaper() = default;
  /// One line, never broken.
  virtual Line line(std::span<const StyledText> pieces) = 0;
  /// Broken to `width`; '\n' breaks always. Lines carry x offsets for the alignment. `language` is a BCP 47 tag.
  virtual std::vector<Line> paragraph(std::span<const StyledText> pieces, base::Length width, Alignment alignment,
                                      const std::string& language) = 0;
  virtual FaceMetrics metrics(const Face& face, base::Length size) = 0;
  /// The drawing of one glyph with its origin at (0, 0); empty for blanks, and always for the fixed shaper.
  virtual std::vector<PathStep> outline(const Face& face, std::uint32_t glyph, base::Length size) = 0;
  /// Characters met so far that no font here has, each once, in order of code point.
  virtual std::vector<char32_t> missing() const = 0;

  Line line(const std::string& text, const TextStyle& style) {
    const StyledText piece{text, style};
    return line(std::span<const StyledText>(&piece, 1));
  }
};

/// Every character 0.6 em wide (0.55 em figures), ascent 0.8 em, descent 0.2 em, ink as large as the advance and
/// ascent; deterministic everywhere, for goldens.
std::unique_ptr<Shaper> make_fixed_shaper();

}  // namespace tunesheaf::text
