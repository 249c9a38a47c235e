#include "canvas.h"

#include <cairo-ft.h>

#include <algorithm>
#include <mutex>

#include "tunesheaf/base/utf8.h"

namespace tunesheaf::exporting {
namespace {

using base::Length;
using base::Point;

cairo_user_data_key_t face_key;

/// Cairo keeps fonts it may need again beyond the player's life, on any thread, so the library lives as long as the
/// process; opening and closing faces is what FreeType asks to be locked.
std::mutex& library_mutex() {
  static std::mutex mutex;
  return mutex;
}

FT_Library library() {
  static FT_Library const one = [] {
    FT_Library made = nullptr;
    return FT_Init_FreeType(&made) == 0 ? made : nullptr;
  }();
  return one;
}

FT_Face open_face(const text::FontPlace& place) {
  const std::scoped_lock lock(library_mutex());
  FT_Face face = nullptr;
  if (library() == nullptr || FT_New_Face(library(), place.path.c_str(), place.index, &face) != 0) return nullptr;
  return face;
}

void close_face(void* face) {
  const std::scoped_lock lock(library_mutex());
  FT_Done_Face(static_cast<FT_Face>(face));
}

bool same_stroke(const layout::Stroke& a, const layout::Stroke& b) {
  return a.width == b.width && a.colour == b.colour && a.cap == b.cap && a.dash == b.dash;
}

/// How the bytes of a run's text belong to its glyphs, as Cairo wants it: in the order of the text.
struct Clusters {
  std::vector<cairo_text_cluster_t> list;
  cairo_text_cluster_flags_t flags{};
  bool usable = false;
};

Clusters clusters_of(const text::Run& run) {
  Clusters out;
  if (run.glyphs.empty() || base::first_bad_utf8(run.text)) return out;
  const bool forward = std::is_sorted(run.glyphs.begin(), run.glyphs.end(),
                                      [](const auto& a, const auto& b) { return a.cluster < b.cluster; });
  const bool backward = std::is_sorted(run.glyphs.rbegin(), run.glyphs.rend(),
                                       [](const auto& a, const auto& b) { return a.cluster < b.cluster; });
  if (!forward && !backward) return out;
  std::vector<text::Glyph> glyphs = run.glyphs;
  if (!forward) {
    std::reverse(glyphs.begin(), glyphs.end());
    out.flags = CAIRO_TEXT_CLUSTER_FLAG_BACKWARD;
  }
  std::size_t begin = 0;  // bytes already given away
  for (std::size_t i = 0; i < glyphs.size();) {
    std::size_t next = i;
    while (next < glyphs.size() && glyphs[next].cluster == glyphs[i].cluster) ++next;
    const std::size_t end = next < glyphs.size() ? glyphs[next].cluster : run.text.size();
    if (end <= begin || end > run.text.size()) return Clusters{};
    out.list.push_back({static_cast<int>(end - begin), static_cast<int>(next - i)});
    begin = end;
    i = next;
  }
  out.usable = true;
  return out;
}

/// Whether the run is one sign of Unicode's block Musical Symbols, which nobody reads as part of a word.
bool is_sign(const text::Run& run) {
  if (run.glyphs.size() != 1 || base::first_bad_utf8(run.text)) return false;
  const std::vector<char32_t> points = base::code_points(run.text);
  return points.size() == 1 && points.front() >= 0x1D100 && points.front() <= 0x1D1FF;
}

}  // namespace

CairoFonts::CairoFonts(text::FontBook& book) : book_(book) {}

CairoFonts::~CairoFonts() {
  for (auto& [key, font] : scaled_) cairo_scaled_font_destroy(font);
  for (auto& [key, face] : faces_) cairo_font_face_destroy(face);
}

cairo_font_face_t* CairoFonts::face_of(const text::Face& face) {
  if (const auto found = faces_.find(face); found != faces_.end()) return found->second;
  const auto place = book_.file_of(face);
  if (!place) {
    fault_ = text::FontBook::missing(face.family).message;
    return nullptr;
  }
  FT_Face opened = open_face(*place);
  if (opened == nullptr) {
    fault_ = "the font file '" + place->path + "' cannot be read";
    return nullptr;
  }
  cairo_font_face_t* made = cairo_ft_font_face_create_for_ft_face(opened, FT_LOAD_NO_HINTING | FT_LOAD_NO_BITMAP);
  if (cairo_font_face_set_user_data(made, &face_key, opened, close_face) != CAIRO_STATUS_SUCCESS) {
    fault_ = "out of memory while loading the font '" + face.family + "'";
    cairo_font_face_destroy(made);
    return nullptr;
  }
  faces_.emplace(face, made);
  return made;
}

cairo_scaled_font_t* CairoFonts::scaled(const text::Face& face, Length size) {
  const auto key = std::make_pair(face, size);
  if (const auto found = scaled_.find(key); found != scaled_.end()) return found->second;
  if (size <= Length{}) {
    fault_ = "text of size zero";
    return nullptr;
  }
  cairo_font_face_t* font = face_of(face);
  if (font == nullptr) return nullptr;
  cairo_matrix_t matrix, identity;
  cairo_matrix_init_scale(&matrix, size.points(), size.points());
  cairo_matrix_init_identity(&identity);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  cairo_scaled_font_t* made = cairo_scaled_font_create(font, &matrix, &identity, options);
  cairo_font_options_destroy(options);
  if (cairo_scaled_font_status(made) != CAIRO_STATUS_SUCCESS) {
    fault_ = "the font '" + face.family + "' cannot be used";
    return nullptr;
  }
  scaled_.emplace(key, made);
  return made;
}

void Canvas::set_colour(base::Colour c) {
  const double k = 1.0 / 255;
  if (c.alpha == 255) {
    cairo_set_source_rgb(context_, c.red * k, c.green * k, c.blue * k);
  } else {
    cairo_set_source_rgba(context_, c.red * k, c.green * k, c.blue * k, c.alpha * k);
  }
}

void Canvas::set_stroke(const layout::Stroke& stroke) {
  static constexpr cairo_line_cap_t kCaps[] = {CAIRO_LINE_CAP_BUTT, CAIRO_LINE_CAP_ROUND, CAIRO_LINE_CAP_SQUARE};
  set_colour(stroke.colour);
  cairo_set_line_width(context_, stroke.width.points());
  cairo_set_line_cap(context_, kCaps[static_cast<std::size_t>(stroke.cap)]);
  cairo_set_line_join(context_, stroke.cap == layout::Cap::Round ? CAIRO_LINE_JOIN_ROUND : CAIRO_LINE_JOIN_MITER);
  std::vector<double> dash;
  double sum = 0;
  for (const Length d : stroke.dash) {
    dash.push_back(std::max(0.0, d.points()));
    sum += dash.back();
  }
  cairo_set_dash(context_, dash.data(), sum > 0 ? static_cast<int>(dash.size()) : 0, 0);
}

void Canvas::flush() {
  for (const Strokes& one : strokes_) {
    for (const paint::DisplayItem* item : one.marks) trace(*item);
    set_stroke(one.style);
    cairo_stroke(context_);
  }
  strokes_.clear();
  fill_waiting();
  for (const Signs& one : signs_) show(one);
  signs_.clear();
}

void Canvas::fill_waiting() {
  if (fills_.empty()) return;
  for (const paint::DisplayItem* item : fills_) trace(*item);
  set_colour(colour_);
  cairo_fill(context_);
  fills_.clear();
}

void Canvas::trace_rect(Point at, const layout::RectShape& rect) {
  const double x = at.x.points(), y = at.y.points(), w = rect.size.width.points(), h = rect.size.height.points();
  const double r = std::min({rect.radius.points(), w / 2, h / 2});
  if (r <= 0) {
    cairo_rectangle(context_, x, y, w, h);
    return;
  }
  constexpr double kQuarter = 1.5707963267948966;
  cairo_new_sub_path(context_);
  cairo_arc(context_, x + w - r, y + r, r, -kQuarter, 0);
  cairo_arc(context_, x + w - r, y + h - r, r, 0, kQuarter);
  cairo_arc(context_, x + r, y + h - r, r, kQuarter, 2 * kQuarter);
  cairo_arc(context_, x + r, y + r, r, 2 * kQuarter, 3 * kQuarter);
  cairo_close_path(context_);
}

void Canvas::trace_path(Point at, const layout::PathShape& path) {
  for (const layout::PathStep& step : path.steps) {
    const auto x = [&](Point p) { return (at.x + p.x).points(); };
    const auto y = [&](Point p) { return (at.y + p.y).points(); };
    switch (step.verb) {
      case layout::PathVerb::Move:
        cairo_move_to(context_, x(step.a), y(step.a));
        break;
      case layout::PathVerb::Line:
        cairo_line_to(context_, x(step.a), y(step.a));
        break;
      case layout::PathVerb::Curve:
        cairo_curve_to(context_, x(step.a), y(step.a), x(step.b), y(step.b), x(step.c), y(step.c));
        break;
      case layout::PathVerb::Close:
        cairo_close_path(context_);
        break;
    }
  }
}

void Canvas::trace(const paint::DisplayItem& item) {
  if (const auto* path = std::get_if<paint::PathShape>(&item.shape)) trace_path(item.at, *path);
  if (const auto* rect = std::get_if<paint::RectShape>(&item.shape)) trace_rect(item.at, *rect);
  if (const auto* line = std::get_if<paint::LineShape>(&item.shape)) {
    cairo_move_to(context_, item.at.x.points(), item.at.y.points());
    cairo_line_to(context_, (item.at.x + line->to.x).points(), (item.at.y + line->to.y).points());
  }
}

void Canvas::add_stroke(const layout::Stroke& style, const paint::DisplayItem& item) {
  auto place =
      std::find_if(strokes_.begin(), strokes_.end(), [&](const Strokes& one) { return same_stroke(one.style, style); });
  if (place == strokes_.end()) place = strokes_.insert(place, {style, {}});
  place->marks.push_back(&item);
}

/// One fill covers what its outlines wind around: two that lie over one another may wind against each other and leave a
/// hole, rectangles among themselves never.
void Canvas::add_fill(const paint::DisplayItem& item) {
  const auto is_path = [](const paint::DisplayItem& one) {
    return std::holds_alternative<paint::PathShape>(one.shape);
  };
  const bool clash = std::any_of(fills_.begin(), fills_.end(), [&](const paint::DisplayItem* one) {
    return (is_path(*one) || is_path(item)) && one->box.overlaps(item.box);
  });
  if (clash) fill_waiting();
  fills_.push_back(&item);
}

/// Words are set at once, in the order in which they are read; signs wait for others of their font.
void Canvas::add_glyphs(const paint::DisplayItem& item) {
  const text::Run& run = std::get<paint::GlyphsShape>(item.shape).run;
  if (run.glyphs.empty()) return;
  cairo_scaled_font_t* font = fonts_.scaled(run.face, run.size);
  if (font == nullptr) return;
  if (!is_sign(run)) {
    show(item, font);
    return;
  }
  auto place = std::find_if(signs_.begin(), signs_.end(), [&](const Signs& one) { return one.font == font; });
  if (place == signs_.end()) place = signs_.insert(place, {font, {}});
  place->marks.push_back(&item);
}

void Canvas::show(const paint::DisplayItem& item, cairo_scaled_font_t* font) {
  const auto& shape = std::get<paint::GlyphsShape>(item.shape);
  const text::Run& run = shape.run;
  std::vector<cairo_glyph_t> glyphs;
  glyphs.reserve(run.glyphs.size());
  for (const text::Glyph& g : run.glyphs)
    glyphs.push_back({g.id, (item.at.x + g.x).points(), (item.at.y + g.y).points()});
  set_colour(shape.colour);
  cairo_set_scaled_font(context_, font);
  const Clusters clusters = clusters_of(run);
  if (clusters.usable) {
    cairo_show_text_glyphs(context_, run.text.data(), static_cast<int>(run.text.size()), glyphs.data(),
                           static_cast<int>(glyphs.size()), clusters.list.data(),
                           static_cast<int>(clusters.list.size()), clusters.flags);
  } else {
    cairo_show_glyphs(context_, glyphs.data(), static_cast<int>(glyphs.size()));
  }
}

void Canvas::show(const Signs& signs) {
  std::string text;
  std::vector<cairo_glyph_t> glyphs;
  std::vector<cairo_text_cluster_t> clusters;
  for (const paint::DisplayItem* item : signs.marks) {
    const text::Run& run = std::get<paint::GlyphsShape>(item->shape).run;
    const text::Glyph& g = run.glyphs.front();
    text += run.text;
    glyphs.push_back({g.id, (item->at.x + g.x).points(), (item->at.y + g.y).points()});
    clusters.push_back({static_cast<int>(run.text.size()), 1});
  }
  set_colour(colour_);
  cairo_set_scaled_font(context_, signs.font);
  cairo_show_text_glyphs(context_, text.data(), static_cast<int>(text.size()), glyphs.data(),
                         static_cast<int>(glyphs.size()), clusters.data(), static_cast<int>(clusters.size()),
                         cairo_text_cluster_flags_t{});
}

void Canvas::begin(base::Colour colour) {
  if (colour != colour_) flush();
  colour_ = colour;
}

/// Where translucent marks lie over one another, one drawing of both looks other than two.
void Canvas::end() {
  if (colour_.alpha != 255) flush();
}

void Canvas::draw_outline(const std::optional<base::Colour>& fill, const std::optional<layout::Stroke>& stroke,
                          const paint::DisplayItem& item) {
  if (fill) {
    begin(*fill);
    add_fill(item);
    end();
  }
  if (stroke) {
    begin(stroke->colour);
    add_stroke(*stroke, item);
    end();
  }
}

void Canvas::draw(const paint::DisplayItem& item) {
  if (const auto* path = std::get_if<paint::PathShape>(&item.shape)) draw_outline(path->fill, path->stroke, item);
  if (const auto* line = std::get_if<paint::LineShape>(&item.shape)) draw_outline(std::nullopt, line->stroke, item);
  if (const auto* rect = std::get_if<paint::RectShape>(&item.shape)) draw_outline(rect->fill, rect->stroke, item);
  if (const auto* glyphs = std::get_if<paint::GlyphsShape>(&item.shape)) {
    begin(glyphs->colour);
    add_glyphs(item);
    end();
  }
}

void paint_ground(cairo_t* context, const paint::Page& page) {
  if (page.ground == base::kWhite) return;
  const double k = 1.0 / 255;
  cairo_set_source_rgb(context, page.ground.red * k, page.ground.green * k, page.ground.blue * k);
  cairo_paint(context);
}

}  // namespace tunesheaf::exporting
