#include <cairo-pdf.h>

#include <cstdlib>
#include <ctime>
#include <map>
#include <set>

#include "canvas.h"
#include "pdf_language.h"
#include "pdf_pack.h"
#include "points.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/export/player.h"

namespace tunesheaf::exporting {
namespace {

/// One byte that is not UTF-8 spoils a PDF surface for good; such bytes become U+FFFD, and NUL a blank.
std::string clean(const std::string& text) {
  std::string out;
  for (const char32_t c : base::code_points(text)) out += base::to_utf8(c == 0 ? U' ' : c);
  return out;
}

/// Strings in the attributes of Cairo's tags stand in single quotes.
std::string in_quotes(const std::string& text) {
  std::string out = "'";
  for (const char c : clean(text)) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c;
  }
  return out + "'";
}

/// Cairo does not escape names of places and addresses as PDF needs it. Addresses have their own way to say such
/// characters (RFC 3986, 2.1).
std::string percent_encoded(const std::string& uri) {
  static constexpr char kDigits[] = "0123456789ABCDEF";
  std::string out;
  for (const char c : uri) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte > 0x20 && byte < 0x7F && std::string_view("()\\<>\"").find(c) == std::string_view::npos) {
      out += c;
      continue;
    }
    out += '%';
    out += kDigits[byte >> 4U];
    out += kDigits[byte & 15U];
  }
  return out;
}

bool is_plain_name(const std::string& name) {
  return name.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.") ==
         std::string::npos;
}

/// SOURCE_DATE_EPOCH as an ISO 8601 date, or nothing: no date at all keeps the bytes the same from day to day.
std::string creation_date() {
  const char* epoch = std::getenv("SOURCE_DATE_EPOCH");
  if (epoch == nullptr) return {};
  const auto seconds = base::parse_integer(epoch);
  if (!seconds || *seconds < 0 || *seconds > 253402300799) return {};
  const auto when = static_cast<std::time_t>(*seconds);
  std::tm broken{};
  if (gmtime_r(&when, &broken) == nullptr) return {};
  char text[40];
  const std::size_t length = std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &broken);
  return {text, length};
}

const char* tag_of(paint::Role role) {
  switch (role) {
    case paint::Role::Section:
      return "Sect";
    case paint::Role::Heading1:
      return "H1";
    case paint::Role::Heading2:
      return "H2";
    case paint::Role::Heading3:
      return "H3";
    case paint::Role::Paragraph:
      return "P";
    case paint::Role::Figure:
      return "Figure";
    case paint::Role::Table:
      return "Table";
    case paint::Role::Caption:
      return "Caption";
    // Cairo 1.16 writes a broken file for Artifact.
    case paint::Role::Artifact:
    case paint::Role::None:
      break;
  }
  return nullptr;
}

/// Since 1.17.6 Cairo packs dictionaries by itself.
bool cairo_packs() {
  return cairo_version() >= CAIRO_VERSION_ENCODE(1, 17, 6);
}

struct Stream {
  const Bytes& out;
  PdfPack pack;
  PdfLanguage language;
  bool failed = false;
  cairo_status_t write(std::string_view bytes) {
    if (!cairo_packs()) {
      pack.take(bytes);
      return CAIRO_STATUS_SUCCESS;
    }
    if (!failed && !out(bytes)) failed = true;
    language.watch(bytes);
    // Cairo loses errors while it finishes, and crashes on some others: ours is kept and asked for at the end.
    return CAIRO_STATUS_SUCCESS;
  }
  /// What is wrong, or nothing.
  const char* finish(const std::string& tag) {
    constexpr const char* kNotKept = "the bytes of the page could not be kept";
    if (cairo_packs()) {
      const std::string update = failed ? std::string() : language.update(tag);
      return failed || (!update.empty() && !out(update)) ? kNotKept : nullptr;
    }
    const PdfPack::End end = pack.finish(tag);
    if (end == PdfPack::End::NotUnderstood) return "the PDF library wrote a file of an unknown form";
    return end == PdfPack::End::NotKept ? kNotKept : nullptr;
  }
};

cairo_status_t write_to_stream(void* closure, const unsigned char* data, unsigned int length) {
  return static_cast<Stream*>(closure)->write({reinterpret_cast<const char*>(data), length});
}

/// Plays one document onto a PDF surface.
class PdfPlayer {
 public:
  PdfPlayer(cairo_surface_t* surface, cairo_t* context, CairoFonts& fonts)
      : surface_(surface), context_(context), canvas_(context, fonts) {}

  void metadata(const paint::Document& document) {
    set(CAIRO_PDF_METADATA_TITLE, document.title);
    set(CAIRO_PDF_METADATA_AUTHOR, document.author);
    set(CAIRO_PDF_METADATA_SUBJECT, document.subject);
    set(CAIRO_PDF_METADATA_KEYWORDS, document.keywords);
    cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_CREATOR, "Tunesheaf");
    cairo_pdf_surface_set_metadata(surface_, CAIRO_PDF_METADATA_CREATE_DATE, creation_date().c_str());
  }

  void pages(const paint::Document& document) {
    collect_names(document);
    for (const paint::Page& page : document.pages) play(page);
  }

 private:
  void set(cairo_pdf_metadata_t field, const std::string& text) {
    if (!text.empty()) cairo_pdf_surface_set_metadata(surface_, field, clean(text).c_str());
  }

  /// Only places that exist may be linked to: a link to nowhere spoils the document.
  void collect_names(const paint::Document& document) {
    for (const paint::Page& page : document.pages) {
      for (const paint::DisplayItem& item : page.items) {
        const auto* mark = std::get_if<paint::BookmarkShape>(&item.shape);
        if (mark == nullptr || mark->name.empty()) continue;
        names_.emplace(mark->name,
                       is_plain_name(mark->name) ? mark->name : "place." + std::to_string(names_.size() + 1));
      }
    }
  }

  void play(const paint::Page& page) {
    cairo_pdf_surface_set_size(surface_, page.size.width.points(), page.size.height.points());
    paint_ground(context_, page);
    cairo_tag_begin(context_, "Document", nullptr);
    for (const paint::DisplayItem& item : page.items) play(item);
    canvas_.flush();
    while (!open_.empty()) close_group();
    cairo_tag_end(context_, "Document");
    cairo_show_page(context_);
  }

  void play(const paint::DisplayItem& item) {
    if (const auto* group = std::get_if<paint::GroupShape>(&item.shape)) {
      canvas_.flush();
      open_.push_back(tag_of(group->role));
      if (open_.back() != nullptr) cairo_tag_begin(context_, open_.back(), nullptr);
    } else if (std::holds_alternative<paint::GroupEndShape>(item.shape)) {
      canvas_.flush();
      if (!open_.empty()) close_group();
    } else if (const auto* link = std::get_if<paint::LinkShape>(&item.shape)) {
      canvas_.flush();
      add_link(item.at, *link);
    } else if (const auto* mark = std::get_if<paint::BookmarkShape>(&item.shape)) {
      canvas_.flush();
      add_bookmark(item.at, *mark);
    } else {
      canvas_.draw(item);
    }
  }

  void close_group() {
    if (open_.back() != nullptr) cairo_tag_end(context_, open_.back());
    open_.pop_back();
  }

  void add_link(base::Point at, const paint::LinkShape& link) {
    std::string attributes = "rect=[" + in_pt(at.x) + " " + in_pt(at.y) + " " + in_pt(link.size.width) + " " +
                             in_pt(link.size.height) + "] ";
    if (link.target.starts_with('#')) {
      const auto name = names_.find(link.target.substr(1));
      if (name == names_.end()) return;
      attributes += "dest=" + in_quotes(name->second);
    } else {
      attributes += "uri=" + in_quotes(percent_encoded(link.target));
    }
    cairo_tag_begin(context_, CAIRO_TAG_LINK, attributes.c_str());
    cairo_tag_end(context_, CAIRO_TAG_LINK);
  }

  void add_bookmark(base::Point at, const paint::BookmarkShape& mark) {
    if (mark.name.empty() || !placed_.insert(mark.name).second) return;
    const std::string name = in_quotes(names_.at(mark.name));
    const std::string attributes = "name=" + name + " x=" + in_pt(at.x) + " y=" + in_pt(at.y);
    cairo_tag_begin(context_, CAIRO_TAG_DEST, attributes.c_str());
    cairo_tag_end(context_, CAIRO_TAG_DEST);
    while (!outline_.empty() && outline_.back().first >= mark.level) outline_.pop_back();
    const int parent = outline_.empty() ? CAIRO_PDF_OUTLINE_ROOT : outline_.back().second;
    const int id =
        cairo_pdf_surface_add_outline(surface_, parent, clean(mark.title).c_str(), ("dest=" + name).c_str(),
                                      mark.level <= 1 ? CAIRO_PDF_OUTLINE_FLAG_OPEN : cairo_pdf_outline_flags_t{});
    outline_.emplace_back(mark.level, id);
  }

  cairo_surface_t* surface_;
  cairo_t* context_;
  Canvas canvas_;
  std::vector<const char*> open_;
  std::map<std::string, std::string> names_;  // of places: as written, and as the file can bear it
  std::set<std::string> placed_;
  std::vector<std::pair<int, int>> outline_;  // level and id of the entries that are open
};

}  // namespace

std::optional<PlayFault> write_pdf(const paint::Document& document, text::FontBook& fonts, const Bytes& out) {
  if (document.pages.empty()) return PlayFault{"there is no page to write"};
  Stream stream{out, PdfPack(out), {}, false};
  CairoFonts cairo_fonts(fonts);
  cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(
      write_to_stream, &stream, document.pages[0].size.width.points(), document.pages[0].size.height.points());
  cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_5);
  cairo_t* context = cairo_create(surface);
  PdfPlayer player(surface, context, cairo_fonts);
  player.metadata(document);
  player.pages(document);
  const cairo_status_t drawn = cairo_status(context);
  cairo_destroy(context);
  cairo_surface_finish(surface);
  const cairo_status_t finished = cairo_surface_status(surface);
  cairo_surface_destroy(surface);
  if (!cairo_fonts.fault().empty()) return PlayFault{cairo_fonts.fault()};
  for (const cairo_status_t status : {drawn, finished}) {
    if (status != CAIRO_STATUS_SUCCESS) return PlayFault{cairo_status_to_string(status)};
  }
  if (const char* fault = stream.finish(document.language)) return PlayFault{fault};
  return std::nullopt;
}

}  // namespace tunesheaf::exporting
