// Marks of the display list onto a Cairo context; shared by PDF and PNG. In: marks in painting order. Out: drawing
// calls, neighbours of equal style joined into one stroke or fill. Invariant: flush() before anything else draws.
#pragma once
#include <cairo.h>
#include <ft2build.h>
#include FT_FREETYPE_H

#include <map>
#include <optional>
#include <string>

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
  enum class Waiting { Nothing, Lines, Fills };
  void draw_path(base::Point at, const layout::PathShape& path);
  void draw_line(base::Point at, const layout::LineShape& line);
  void draw_rect(base::Point at, const layout::RectShape& rect);
  void draw_glyphs(base::Point at, const layout::GlyphsShape& glyphs);
  void trace_rect(base::Point at, const layout::RectShape& rect);
  void set_colour(base::Colour colour);
  void set_stroke(const layout::Stroke& stroke);
  void fill_and_stroke(const std::optional<base::Colour>& fill, const std::optional<layout::Stroke>& stroke);

  cairo_t* context_;
  CairoFonts& fonts_;
  Waiting waiting_ = Waiting::Nothing;
  layout::Stroke line_style_;
  base::Colour fill_colour_;
};

/// Fills the page with its ground; white paper is left as it is.
void paint_ground(cairo_t* context, const paint::Page& page);

}  // namespace tunesheaf::exporting
