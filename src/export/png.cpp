#include <png.h>

#include <algorithm>
#include <cmath>
#include <csetjmp>
#include <vector>

#include "canvas.h"
#include "tunesheaf/export/player.h"

namespace tunesheaf::exporting {
namespace {

bool is_grey(base::Colour c) {
  return c.red == c.green && c.green == c.blue;
}

struct HasColour {
  static bool stroke(const std::optional<layout::Stroke>& s) { return s && !is_grey(s->colour); }
  static bool fill(const std::optional<base::Colour>& c) { return c && !is_grey(*c); }
  bool operator()(const paint::PathShape& s) const { return fill(s.fill) || stroke(s.stroke); }
  bool operator()(const paint::RectShape& s) const { return fill(s.fill) || stroke(s.stroke); }
  bool operator()(const paint::LineShape& s) const { return !is_grey(s.stroke.colour); }
  bool operator()(const paint::GlyphsShape& s) const { return !is_grey(s.colour); }
  template <class Other>
  bool operator()(const Other&) const {
    return false;
  }
};

bool has_colour(const paint::Page& page) {
  return !is_grey(page.ground) || std::any_of(page.items.begin(), page.items.end(), [](const paint::DisplayItem& item) {
    return std::visit(HasColour{}, item.shape);
  });
}

struct Pixels {
  int width = 0, height = 0, stride = 0;
  const unsigned char* data = nullptr;  // native 32-bit words, 0x00RRGGBB
};

/// One row as bytes of grey or of red, green, blue.
void take_row(const Pixels& pixels, int y, int channels, std::vector<png_byte>& row) {
  const auto* words = reinterpret_cast<const std::uint32_t*>(pixels.data + std::ptrdiff_t{y} * pixels.stride);
  for (int x = 0; x < pixels.width; ++x) {
    const std::uint32_t word = words[x];
    png_byte* out = row.data() + std::ptrdiff_t{x} * channels;
    if (channels == 1) {
      out[0] = static_cast<png_byte>(word >> 8U);
    } else {
      out[0] = static_cast<png_byte>(word >> 16U);
      out[1] = static_cast<png_byte>(word >> 8U);
      out[2] = static_cast<png_byte>(word);
    }
  }
}

struct Target {
  const Bytes& out;
  bool failed = false;
};

void write_piece(png_structp png, png_bytep data, std::size_t length) {
  auto* target = static_cast<Target*>(png_get_io_ptr(png));
  if (!target->failed && !target->out({reinterpret_cast<const char*>(data), length})) target->failed = true;
}

/// False when libpng gave up. No filter and level 3: with line art they cost a sixth of the usual time for a file a few
/// per cent larger.
bool encode(const Pixels& pixels, int channels, double dpi, Target& target) {
  std::vector<png_byte> row(static_cast<std::size_t>(pixels.width) * static_cast<std::size_t>(channels));
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
  png_infop info = png == nullptr ? nullptr : png_create_info_struct(png);
  if (info == nullptr) {
    png_destroy_write_struct(&png, nullptr);
    return false;
  }
  if (setjmp(png_jmpbuf(png)) != 0) {  // NOLINT: libpng's way of telling errors
    png_destroy_write_struct(&png, &info);
    return false;
  }
  png_set_write_fn(png, &target, write_piece, nullptr);
  png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE);
  png_set_compression_level(png, 3);
  png_set_IHDR(png, info, static_cast<png_uint_32>(pixels.width), static_cast<png_uint_32>(pixels.height), 8,
               channels == 1 ? PNG_COLOR_TYPE_GRAY : PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
               PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  const auto per_metre = static_cast<png_uint_32>(std::lround(dpi / 0.0254));
  png_set_pHYs(png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
  png_write_info(png, info);
  for (int y = 0; y < pixels.height; ++y) {
    take_row(pixels, y, channels, row);
    png_write_row(png, row.data());
  }
  png_write_end(png, info);
  png_destroy_write_struct(&png, &info);
  return true;
}

}  // namespace

std::optional<PlayFault> write_png(const paint::Document& document, std::size_t page_number, text::FontBook& fonts,
                                   double dpi, const Bytes& out) {
  if (page_number >= document.pages.size()) return PlayFault{"there is no such page"};
  if (!(dpi >= 24 && dpi <= 1200)) return PlayFault{"a picture has between 24 and 1200 dots to the inch"};
  const paint::Page& page = document.pages[page_number];
  const double scale = dpi / 72;
  const int width = static_cast<int>(std::lround(page.size.width.points() * scale));
  const int height = static_cast<int>(std::lround(page.size.height.points() * scale));
  cairo_surface_t* surface =
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, std::clamp(width, 1, 32767), std::clamp(height, 1, 32767));
  cairo_t* context = cairo_create(surface);
  cairo_set_source_rgb(context, 1, 1, 1);
  cairo_paint(context);
  cairo_scale(context, scale, scale);
  CairoFonts cairo_fonts(fonts);
  Canvas canvas(context, cairo_fonts);
  paint_ground(context, page);
  for (const paint::DisplayItem& item : page.items) canvas.draw(item);
  canvas.flush();
  const cairo_status_t status = cairo_status(context);
  cairo_surface_flush(surface);
  Target target{out, false};
  bool encoded = false;
  if (status == CAIRO_STATUS_SUCCESS && cairo_fonts.fault().empty()) {
    const Pixels pixels{cairo_image_surface_get_width(surface), cairo_image_surface_get_height(surface),
                        cairo_image_surface_get_stride(surface), cairo_image_surface_get_data(surface)};
    encoded = encode(pixels, has_colour(page) ? 3 : 1, dpi, target);
  }
  cairo_destroy(context);
  cairo_surface_destroy(surface);
  if (!cairo_fonts.fault().empty()) return PlayFault{cairo_fonts.fault()};
  if (status != CAIRO_STATUS_SUCCESS) return PlayFault{cairo_status_to_string(status)};
  if (target.failed) return PlayFault{"the bytes of the page could not be kept"};
  return encoded ? std::nullopt : std::optional<PlayFault>(PlayFault{"the picture could not be encoded"});
}

}  // namespace tunesheaf::exporting
