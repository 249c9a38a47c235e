// The floor: what a display list costs when nobody thinks. In: a dump (`tunesheaf phase display SONG.yaml`). Out: a PDF
// of the same marks in the same fonts, by plain Cairo calls: no metadata, structure, bookmarks or links, one stroke
// for a row of equal lines; and the best of several processor times on standard error. What the program needs above
// this is the cost of its own work.
#include <cairo-ft.h>
#include <cairo-pdf.h>

#include <ctime>
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>

#include "tunesheaf/base/number.h"
#include "tunesheaf/paint/display_list.h"
#include "tunesheaf/text/font_book.h"

namespace {

using namespace tunesheaf;  // NOLINT: a program of one file
using base::Length;
using base::Point;

class Fonts {
 public:
  explicit Fonts(text::FontBook& book) : book_(book) { FT_Init_FreeType(&library_); }
  cairo_scaled_font_t* scaled(const text::Face& wanted, Length size) {
    cairo_scaled_font_t*& made = scaled_[{wanted, size}];
    if (made != nullptr) return made;
    cairo_matrix_t matrix, identity;
    cairo_matrix_init_scale(&matrix, size.points(), size.points());
    cairo_matrix_init_identity(&identity);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    made = cairo_scaled_font_create(face(wanted), &matrix, &identity, options);
    cairo_font_options_destroy(options);
    return made;
  }

 private:
  cairo_font_face_t* face(const text::Face& face) {
    cairo_font_face_t*& made = faces_[face];
    if (made != nullptr) return made;
    const auto place = book_.file_of(face);
    FT_Face opened = nullptr;
    if (!place || FT_New_Face(library_, place->path.c_str(), place->index, &opened) != 0) {
      throw std::runtime_error(text::FontBook::missing(face.family).message);
    }
    return made = cairo_ft_font_face_create_for_ft_face(opened, FT_LOAD_NO_HINTING);
  }

  text::FontBook& book_;
  FT_Library library_ = nullptr;
  std::map<text::Face, cairo_font_face_t*> faces_;
  std::map<std::pair<text::Face, Length>, cairo_scaled_font_t*> scaled_;
};

void set_colour(cairo_t* cr, base::Colour c) {
  cairo_set_source_rgba(cr, c.red / 255.0, c.green / 255.0, c.blue / 255.0, c.alpha / 255.0);
}

void paint_path(cairo_t* cr, const std::optional<base::Colour>& fill, const std::optional<layout::Stroke>& stroke) {
  if (fill) {
    set_colour(cr, *fill);
    stroke ? cairo_fill_preserve(cr) : cairo_fill(cr);
  }
  if (stroke) {
    set_colour(cr, stroke->colour);
    cairo_set_line_width(cr, stroke->width.points());
    std::vector<double> dash;
    for (const Length d : stroke->dash) dash.push_back(d.points());
    cairo_set_dash(cr, dash.data(), static_cast<int>(dash.size()), 0);
    cairo_stroke(cr);
  }
}

bool same(const layout::Stroke& a, const layout::Stroke& b) {
  return a.width == b.width && a.colour == b.colour && a.cap == b.cap && a.dash == b.dash;
}

struct Replay {
  cairo_t* cr;
  Fonts& fonts;
  Point at;
  double x(Point p) const { return (at.x + p.x).points(); }
  double y(Point p) const { return (at.y + p.y).points(); }

  void operator()(const paint::PathShape& path) const {
    for (const layout::PathStep& s : path.steps) {
      if (s.verb == layout::PathVerb::Move) cairo_move_to(cr, x(s.a), y(s.a));
      if (s.verb == layout::PathVerb::Line) cairo_line_to(cr, x(s.a), y(s.a));
      if (s.verb == layout::PathVerb::Curve) cairo_curve_to(cr, x(s.a), y(s.a), x(s.b), y(s.b), x(s.c), y(s.c));
      if (s.verb == layout::PathVerb::Close) cairo_close_path(cr);
    }
    paint_path(cr, path.fill, path.stroke);
  }
  /// The stroke itself waits for the end of the row of equal lines.
  void operator()(const paint::LineShape& line) const {
    cairo_move_to(cr, x({}), y({}));
    cairo_line_to(cr, x(line.to), y(line.to));
  }
  void operator()(const paint::RectShape& rect) const {
    cairo_rectangle(cr, x({}), y({}), rect.size.width.points(), rect.size.height.points());
    paint_path(cr, rect.fill, rect.stroke);
  }
  void operator()(const paint::GlyphsShape& shape) const {
    std::vector<cairo_glyph_t> glyphs;
    for (const text::Glyph& g : shape.run.glyphs) glyphs.push_back({g.id, x({g.x, g.y}), y({g.x, g.y})});
    set_colour(cr, shape.colour);
    cairo_set_scaled_font(cr, fonts.scaled(shape.run.face, shape.run.size));
    cairo_show_glyphs(cr, glyphs.data(), static_cast<int>(glyphs.size()));
  }
  template <class Other>
  void operator()(const Other&) const {}
};

cairo_status_t keep(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

std::string replay(const paint::Document& document, Fonts& fonts) {
  std::string pdf;
  cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(keep, &pdf, 1, 1);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
  cairo_t* cr = cairo_create(surface);
  for (const paint::Page& page : document.pages) {
    cairo_pdf_surface_set_size(surface, page.size.width.points(), page.size.height.points());
    const layout::Stroke* waiting = nullptr;
    for (const paint::DisplayItem& item : page.items) {
      const auto* line = std::get_if<paint::LineShape>(&item.shape);
      if (waiting != nullptr && (line == nullptr || !same(line->stroke, *waiting))) {
        paint_path(cr, std::nullopt, *waiting);
        waiting = nullptr;
      }
      std::visit(Replay{cr, fonts, item.at}, item.shape);
      if (line != nullptr) waiting = &line->stroke;
    }
    if (waiting != nullptr) paint_path(cr, std::nullopt, *waiting);
    cairo_show_page(cr);
  }
  cairo_destroy(cr);
  cairo_surface_finish(surface);
  if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) {
    throw std::runtime_error(cairo_status_to_string(cairo_surface_status(surface)));
  }
  cairo_surface_destroy(surface);
  return pdf;
}

int run(const std::string& in, const std::string& out, int times) {
  std::ifstream file(in, std::ios::binary);
  std::ostringstream dump;
  dump << file.rdbuf();
  std::string error;
  const auto document = paint::parse(dump.str(), error);
  if (!document) {
    std::cerr << in << ": " << error << "\n";
    return 1;
  }
  auto book = text::FontBook::open(text::FontBook::usual_folders());
  if (!book) {
    std::cerr << book.error().message << "\n";
    return 1;
  }
  Fonts fonts(*book.value());
  std::string pdf;
  double best = 1e9;
  for (int i = 0; i < times; ++i) {
    const std::clock_t start = std::clock();
    pdf = replay(*document, fonts);
    best = std::min(best, 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  }
  std::ofstream(out, std::ios::binary) << pdf;
  std::cerr << document->pages.size() << " pages, " << pdf.size() << " bytes, best of " << times << ": "
            << base::print_fixed(best, 2) << " ms of processor time\n";
  return 0;
}

}  // namespace

int main(int count, char** words) {
  if (count < 3) {
    std::cerr << "usage: floor_replay DUMP OUT.pdf [TIMES]\n";
    return 2;
  }
  const auto times = count > 3 ? base::parse_integer(words[3]) : std::optional<std::int64_t>(5);
  try {
    return run(words[1], words[2], static_cast<int>(times.value_or(5)));
  } catch (const std::exception& error) {
    std::cerr << error.what() << "\n";
    return 1;
  }
}
