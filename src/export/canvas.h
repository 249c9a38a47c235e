// Marks of the display list onto a Cairo context; shared by PDF and PNG. In: marks in painting order, which stay where
// they are until the next flush(). Out: drawing calls; marks of one opaque colour may lie over one another in any
// order, so those that follow each other are drawn as one stroke a style, one fill and one row of signs a font.
// Invariant: flush() before anything else draws. Read next: paint/display_list.h.
#pragma once
#include <cairo.h>
#include <ft2build.h>
#include FT_FREETYPE_H

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/paint/display_list.h"
#include "tunesheaf/text/font_book.h"

namespace tunesheaf::exporting {

/// Font faces for Cairo, one per face of the book, straight from the file so that each is embedded once.
class CairoFonts {
 public:
  explicit CairoFonts(text::FontBook& book);
  ~CairoFonts();
  CairoFonts(const CairoFonts&) = delete;
  CairoFonts& operator=(const CairoFonts&) = delete;
  /// Null when the face cannot be had; fault() then says why.
  cairo_scaled_font_t* scaled(const text::Face& face, base::Length size);
  const std::string& fault() const { return fault_; }

 private:
  cairo_font_face_t* face_of(const text::Face& face);
  text::FontBook& book_;
  std::map<text::Face, cairo_font_face_t*> faces_;
  std::map<std::pair<text::Face, base::Length>, cairo_scaled_font_t*> scaled_;
  std::string fault_;
};

class Canvas {
 public:
  Canvas(cairo_t* context, CairoFonts& fonts) : context_(context), fonts_(fonts) {}
  void draw(const paint::DisplayItem& item);
  /// Draws what is still waiting.
  void flush();

 private:
  struct Strokes {
    layout::Stroke style;
    std::vector<const paint::DisplayItem*> marks;
  };
  struct Signs {
    cairo_scaled_font_t* font = nullptr;
    std::vector<const paint::DisplayItem*> marks;
  };

  void begin(base::Colour colour);
  void end();
  void draw_outline(const std::optional<base::Colour>& fill, const std::optional<layout::Stroke>& stroke,
                    const paint::DisplayItem& item);
  void add_stroke(const layout::Stroke& style, const paint::DisplayItem& item);
  void add_fill(const paint::DisplayItem& item);
  void add_glyphs(const paint::DisplayItem& item);
  void fill_waiting();
  void show(const paint::DisplayItem& item, cairo_scaled_font_t* font);
  void show(const Signs& signs);
  void trace(const paint::DisplayItem& item);
  void trace_rect(base::Point at, const layout::RectShape& rect);
  void trace_path(base::Point at, const layout::PathShape& path);
  void set_colour(base::Colour colour);
  void set_stroke(const layout::Stroke& stroke);

  cairo_t* context_;
  CairoFonts& fonts_;
  base::Colour colour_;  ///< of all that waits
  std::vector<Strokes> strokes_;
  std::vector<const paint::DisplayItem*> fills_;
  std::vector<Signs> signs_;
};

/// Fills the page with its ground; white paper is left as it is.
void paint_ground(cairo_t* context, const paint::Page& page);

}  // namespace tunesheaf::exporting
