#include "tunesheaf/text/pango_shaper.h"

#include <hb-ot.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>
#include <unordered_map>

#include "tunesheaf/base/utf8.h"
#include "tunesheaf/text/hyphens.h"

namespace tunesheaf::text {
namespace {

constexpr std::string_view kSoftHyphenBytes = "\xC2\xAD";
constexpr char32_t kSoftHyphen = 0xAD;
/// Key pieces of lines kept: chord names, figures and words come again and again, long remarks do not.
constexpr std::size_t kLongestKept = 64, kMostKept = 8192;
/// Every face is shaped in this one size and what comes back is scaled: without hinting and position rounding widths
/// are in proportion, and Pango needs about a millisecond and two threads for each new size of a face.
constexpr base::Length kShapingSize = base::Length::raw(48 * base::Length::kPerPoint);

/// A stretch of text in one face; offsets are bytes.
struct Stretch {
  std::size_t begin = 0, end = 0;
  Face face;
  const TextStyle* style = nullptr;
};

struct Prepared {
  std::string text;
  std::vector<Stretch> stretches;

  /// What the first style asks for; the others keep their proportion to it.
  base::Length size() const { return stretches.empty() ? kShapingSize : stretches.front().style->size; }
};

/// The way between the size that is asked for and the one that is shaped.
class Scale {
 public:
  explicit Scale(base::Length size)
      : down_(static_cast<double>(size.units()) / static_cast<double>(kShapingSize.units())) {}
  base::Length of(int pango_units) const { return base::Length::raw(std::llround(pango_units * down_)); }
  base::Rect of(const PangoRectangle& r) const { return {of(r.x), of(r.y), of(r.width), of(r.height)}; }
  base::Length up(base::Length length) const {
    return base::Length::raw(std::llround(static_cast<double>(length.units()) / down_));
  }

 private:
  double down_;
};

PangoFontDescription* description_of(const Face& face, base::Length size) {
  PangoFontDescription* description = pango_font_description_new();
  pango_font_description_set_family(description, face.family.c_str());
  pango_font_description_set_weight(description, static_cast<PangoWeight>(face.weight));
  pango_font_description_set_style(description, face.slant == Slant::Italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
  pango_font_description_set_absolute_size(description, static_cast<double>(size.units()));
  return description;
}

void add_attribute(PangoAttrList* list, PangoAttribute* attribute, const Stretch& stretch) {
  attribute->start_index = static_cast<guint>(stretch.begin);
  attribute->end_index = static_cast<guint>(stretch.end);
  pango_attr_list_insert(list, attribute);
}

/// The name of a chord over another bass is one word: no line ends after its slash.
void keep_bass_with_chord(PangoAttrList* list, const std::string& text) {
  for (std::size_t at = text.find('/'); at != std::string::npos; at = text.find('/', at + 1)) {
    const bool before = at > 0 && text[at - 1] != '/' && text[at - 1] != ' ';
    if (!before || at + 1 >= text.size() || text[at + 1] < 'A' || text[at + 1] > 'G') continue;
    PangoAttribute* whole = pango_attr_allow_breaks_new(FALSE);
    whole->start_index = static_cast<guint>(at);
    whole->end_index = static_cast<guint>(at + 2);
    pango_attr_list_insert(list, whole);
  }
}

PangoAttrList* attributes_of(const Prepared& prepared) {
  PangoAttrList* list = pango_attr_list_new();
  keep_bass_with_chord(list, prepared.text);
  const Scale scale(prepared.size());
  for (const Stretch& stretch : prepared.stretches) {
    PangoFontDescription* description = description_of(stretch.face, scale.up(stretch.style->size));
    add_attribute(list, pango_attr_font_desc_new(description), stretch);
    pango_font_description_free(description);
    add_attribute(list, pango_attr_fallback_new(FALSE), stretch);
    add_attribute(list, pango_attr_font_features_new(stretch.style->tabular ? "liga=0,clig=0,tnum=1" : "liga=0,clig=0"),
                  stretch);
    if (stretch.style->tracking != 0) {
      const base::Length space = stretch.style->size * (stretch.style->tracking / 1000.0);
      add_attribute(list, pango_attr_letter_spacing_new(static_cast<int>(scale.up(space).units())), stretch);
    }
  }
  return list;
}

struct Outliner {
  std::vector<PathStep> steps;
  double scale = 1;
  base::Point at(float x, float y) const {
    return {base::Length::raw(std::llround(x * scale)), base::Length::raw(-std::llround(y * scale))};
  }
};

/// HarfBuzz's drawing calls into a path; quadratic curves are raised to cubic ones.
hb_draw_funcs_t* draw_functions() {
  static hb_draw_funcs_t* const functions = [] {
    hb_draw_funcs_t* f = hb_draw_funcs_create();
    hb_draw_funcs_set_move_to_func(
        f,
        [](hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x, float y, void*) {
          auto& out = *static_cast<Outliner*>(data);
          out.steps.push_back({PathVerb::Move, out.at(x, y), {}, {}});
        },
        nullptr, nullptr);
    hb_draw_funcs_set_line_to_func(
        f,
        [](hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x, float y, void*) {
          auto& out = *static_cast<Outliner*>(data);
          out.steps.push_back({PathVerb::Line, out.at(x, y), {}, {}});
        },
        nullptr, nullptr);
    hb_draw_funcs_set_cubic_to_func(
        f,
        [](hb_draw_funcs_t*, void* data, hb_draw_state_t*, float ax, float ay, float bx, float by, float cx, float cy,
           void*) {
          auto& out = *static_cast<Outliner*>(data);
          out.steps.push_back({PathVerb::Curve, out.at(ax, ay), out.at(bx, by), out.at(cx, cy)});
        },
        nullptr, nullptr);
    hb_draw_funcs_set_close_path_func(
        f,
        [](hb_draw_funcs_t*, void* data, hb_draw_state_t*, void*) {
          static_cast<Outliner*>(data)->steps.push_back({PathVerb::Close, {}, {}, {}});
        },
        nullptr, nullptr);
    hb_draw_funcs_make_immutable(f);
    return f;
  }();
  return functions;
}

class PangoShaper final : public Shaper, public RunningText {
 public:
  using Shaper::line;

  PangoShaper(FontBook& book, std::string dictionaries) : book_(book), hyphenator_(std::move(dictionaries)) {
    context_ = pango_font_map_create_context(book.map());
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(context_, options);
    cairo_font_options_destroy(options);
    pango_cairo_context_set_resolution(context_, 72.0);
    pango_context_set_round_glyph_positions(context_, FALSE);
    pango_context_set_base_dir(context_, PANGO_DIRECTION_WEAK_LTR);
    set_language("en");
    layout_ = pango_layout_new(context_);
  }
  ~PangoShaper() override {
    for (auto& [key, font] : fonts_) g_object_unref(font);
    g_object_unref(layout_);
    g_object_unref(context_);
  }
  PangoShaper(const PangoShaper&) = delete;
  PangoShaper& operator=(const PangoShaper&) = delete;

  Line line(std::span<const StyledText> pieces) override {
    const std::string key = key_of(pieces);
    if (!key.empty()) {
      if (const auto found = kept_.find(key); found != kept_.end()) return found->second;
    }
    Prepared prepared = prepare(pieces);
    std::replace(prepared.text.begin(), prepared.text.end(), '\n', ' ');
    configure(prepared, std::nullopt, Alignment::Left);
    Line result = read_line(pango_layout_get_line_readonly(layout_, 0), prepared);
    if (!key.empty()) {
      if (kept_.size() >= kMostKept) kept_.clear();
      kept_.emplace(key, result);
    }
    return result;
  }

  std::vector<Line> paragraph(std::span<const StyledText> pieces, base::Length width, Alignment alignment,
                              const std::string& language) override {
    set_language(language.empty() ? "en" : language);
    const Prepared prepared = prepare(pieces);
    configure(prepared, width, alignment);
    const Scale scale(prepared.size());
    std::vector<Line> lines;
    PangoLayoutIter* iter = pango_layout_get_iter(layout_);
    do {
      PangoRectangle logical;
      pango_layout_iter_get_line_extents(iter, nullptr, &logical);
      Line line = read_line(pango_layout_iter_get_line_readonly(iter), prepared);
      const base::Point shift{scale.of(logical.x), {}};
      for (PlacedRun& placed : line.runs) placed.x += shift.x;
      line.ink = line.ink.moved(shift);
      lines.push_back(std::move(line));
    } while (pango_layout_iter_next_line(iter));
    pango_layout_iter_free(iter);
    return lines;
  }

  std::string running(const std::string& text, const std::string& language) override {
    constexpr std::size_t kShort = 6, kLongEnough = 24;  // letters of a word that should not stand alone; of all
    std::string out = hyphenator_.parted(text, language);
    const std::size_t blank = out.rfind(' ');
    const bool lone = blank != std::string::npos && out.size() - blank - 1 <= kShort && text.size() > kLongEnough;
    if (lone) out.replace(blank, 1, "\u00a0");
    return out;
  }

  FaceMetrics metrics(const Face& face, base::Length size) override {
    const auto key = std::make_pair(face, size);
    if (const auto found = metrics_.find(key); found != metrics_.end()) return found->second;
    const FaceMetrics whole = shaping_metrics(face);
    const double share = size / kShapingSize;
    const FaceMetrics result{whole.ascent * share, whole.descent * share, whole.x_height * share,
                             whole.cap_height * share};
    metrics_.emplace(key, result);
    return result;
  }

  std::vector<PathStep> outline(const Face& face, std::uint32_t glyph, base::Length size) override {
    hb_font_t* shape = pango_font_get_hb_font(font_of(face));
    int x_scale = 0, y_scale = 0;
    hb_font_get_scale(shape, &x_scale, &y_scale);
    Outliner out;
    out.scale = static_cast<double>(size.units()) / static_cast<double>(y_scale == 0 ? 1 : y_scale);
    hb_font_get_glyph_shape(shape, glyph, draw_functions(), &out);
    return std::move(out.steps);
  }

  std::vector<char32_t> missing() const override { return {missing_.begin(), missing_.end()}; }

 private:
  /// Asked of HarfBuzz, and not of pango_font_get_metrics: that sets a line of the language's letters to learn how wide
  /// they are on the average, for which it looks for fonts again on two threads a face.
  FaceMetrics shaping_metrics(const Face& face) {
    hb_font_t* shape = pango_font_get_hb_font(font_of(face));
    hb_font_extents_t extents{};
    hb_font_get_h_extents(shape, &extents);
    FaceMetrics result{scaled(shape, extents.ascender, kShapingSize), scaled(shape, -extents.descender, kShapingSize),
                       kShapingSize * 0.5, kShapingSize * 0.7};
    hb_position_t position = 0;
    if (hb_ot_metrics_get_position(shape, HB_OT_METRICS_TAG_X_HEIGHT, &position)) {
      result.x_height = scaled(shape, position, kShapingSize);
    }
    if (hb_ot_metrics_get_position(shape, HB_OT_METRICS_TAG_CAP_HEIGHT, &position)) {
      result.cap_height = scaled(shape, position, kShapingSize);
    }
    return result;
  }

  static base::Length scaled(hb_font_t* shape, hb_position_t position, base::Length size) {
    int x_scale = 0, y_scale = 0;
    hb_font_get_scale(shape, &x_scale, &y_scale);
    return y_scale == 0 ? size : size * (static_cast<double>(position) / y_scale);
  }

  void set_language(const std::string& tag) {
    if (tag == language_) return;
    language_ = tag;
    pango_context_set_language(context_, pango_language_from_string(tag.c_str()));
    if (layout_ != nullptr) pango_layout_context_changed(layout_);
  }

  static std::string key_of(std::span<const StyledText> pieces) {
    std::string key;
    for (const StyledText& piece : pieces) {
      const TextStyle& style = piece.style;
      key += piece.text;
      key += '\x1F' + style.face.family + '\x1F' + std::to_string(static_cast<int>(style.face.weight)) +
             (style.face.slant == Slant::Italic ? "i" : "u") + std::to_string(style.size.units()) + '\x1F' +
             std::to_string(style.tracking) + (style.tabular ? "t" : "p") + '\x1E';
      if (piece.text.size() > kLongestKept || key.size() > 6 * kLongestKept) return {};
    }
    return key;
  }

  /// The face the book really has for a wanted one; an unknown family is a fault of the style, told by name.
  Face resolved(const Face& wanted) {
    const auto found = book_.nearest(wanted);
    if (!found) throw std::runtime_error(FontBook::missing(wanted.family).message);
    return *found;
  }

  Prepared prepare(std::span<const StyledText> pieces) {
    Prepared out;
    for (const StyledText& piece : pieces) {
      const Face own = resolved(piece.style.face);
      std::optional<Face> last;
      for (const char32_t c : base::code_points(piece.text)) {
        Face face = last && book_.has(*last, c) && is_mark(c) ? *last : own;
        if (c == kSoftHyphen && last) {
          face = *last;  // it is drawn as a hyphen, or not at all
        } else if (const auto able = book_.face_for(c, face)) {
          face = *able;
        } else {
          missing_.insert(c);
        }
        const std::size_t begin = out.text.size();
        out.text += base::to_utf8(c);
        if (!last || *last != face) out.stretches.push_back({begin, begin, face, &piece.style});
        out.stretches.back().end = out.text.size();
        last = face;
      }
    }
    return out;
  }

  /// Combining marks and joiners stay in the face of the letter before them.
  static bool is_mark(char32_t c) {
    const GUnicodeType type = g_unichar_type(static_cast<gunichar>(c));
    return type == G_UNICODE_NON_SPACING_MARK || type == G_UNICODE_ENCLOSING_MARK || type == G_UNICODE_SPACING_MARK ||
           type == G_UNICODE_FORMAT;
  }

  /// Sets the text; without a width it stays one line.
  void configure(const Prepared& prepared, std::optional<base::Length> width, Alignment alignment) {
    pango_layout_set_text(layout_, prepared.text.data(), static_cast<int>(prepared.text.size()));
    PangoAttrList* attributes = attributes_of(prepared);
    pango_layout_set_attributes(layout_, attributes);
    pango_attr_list_unref(attributes);
    pango_layout_set_width(layout_, width ? static_cast<int>(Scale(prepared.size()).up(*width).units()) : -1);
    pango_layout_set_wrap(layout_, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_justify(layout_, alignment == Alignment::Justified);
    pango_layout_set_alignment(layout_, alignment == Alignment::Centre  ? PANGO_ALIGN_CENTER
                                        : alignment == Alignment::Right ? PANGO_ALIGN_RIGHT
                                                                        : PANGO_ALIGN_LEFT);
  }

  Line read_line(PangoLayoutLine* source, const Prepared& prepared) {
    Line line;
    bool inked = false;
    for (GSList* node = source->runs; node != nullptr; node = node->next) {
      PlacedRun placed{line.width, read_run(static_cast<PangoGlyphItem*>(node->data), prepared)};
      const FaceMetrics own = metrics(placed.run.face, placed.run.size);
      line.ascent = std::max(line.ascent, own.ascent);
      line.descent = std::max(line.descent, own.descent);
      if (placed.run.ink.width > base::Length{}) {
        const base::Rect ink = placed.run.ink.moved({placed.x, {}});
        line.ink = inked ? line.ink.united(ink) : ink;
        inked = true;
      }
      line.width += placed.run.advance;
      line.runs.push_back(std::move(placed));
    }
    return line;
  }

  Run read_run(PangoGlyphItem* item, const Prepared& prepared) {
    const auto offset = static_cast<std::size_t>(item->item->offset);
    const auto length = static_cast<std::size_t>(item->item->length);
    const Stretch& stretch = stretch_at(prepared, offset);
    verify(item->item->analysis.font, stretch.face);
    Run run;
    run.face = stretch.face;
    run.size = stretch.style->size;
    run.text = prepared.text.substr(offset, length);
    const Scale scale(prepared.size());
    read_glyphs(*item->glyphs, scale, run);
    PangoRectangle ink;
    pango_glyph_string_extents(item->glyphs, item->item->analysis.font, &ink, nullptr);
    run.ink = scale.of(ink);
    drop_soft_hyphens(run);
    return run;
  }

  static const Stretch& stretch_at(const Prepared& prepared, std::size_t offset) {
    const auto after = std::upper_bound(prepared.stretches.begin(), prepared.stretches.end(), offset,
                                        [](std::size_t at, const Stretch& s) { return at < s.begin; });
    return *(after - 1);
  }

  static void read_glyphs(const PangoGlyphString& glyphs, const Scale& scale, Run& run) {
    for (int i = 0; i < glyphs.num_glyphs; ++i) {
      const PangoGlyphInfo& info = glyphs.glyphs[i];
      if (info.glyph != PANGO_GLYPH_EMPTY) {
        const bool unknown = (info.glyph & PANGO_GLYPH_UNKNOWN_FLAG) != 0;
        run.glyphs.push_back({unknown ? 0 : static_cast<std::uint32_t>(info.glyph),
                              run.advance + scale.of(info.geometry.x_offset), scale.of(info.geometry.y_offset),
                              static_cast<std::uint32_t>(glyphs.log_clusters[i])});
      }
      run.advance += scale.of(info.geometry.width);
    }
  }

  /// A soft hyphen stays in the text only where a hyphen was drawn for it.
  static void drop_soft_hyphens(Run& run) {
    for (std::size_t at = run.text.find(kSoftHyphenBytes); at != std::string::npos;
         at = run.text.find(kSoftHyphenBytes, at)) {
      const bool drawn =
          std::any_of(run.glyphs.begin(), run.glyphs.end(), [at](const Glyph& glyph) { return glyph.cluster == at; });
      if (drawn) {
        at += kSoftHyphenBytes.size();
        continue;
      }
      run.text.erase(at, kSoftHyphenBytes.size());
      for (Glyph& glyph : run.glyphs) {
        if (glyph.cluster > at) glyph.cluster -= static_cast<std::uint32_t>(kSoftHyphenBytes.size());
      }
    }
  }

  /// Pango replaces what it cannot find in silence; a face other than the one asked for is a fault here.
  void verify(PangoFont* font, const Face& face) {
    if (const auto found = verified_.find(font); found != verified_.end() && found->second == face) return;
    PangoFontDescription* description = pango_font_describe(font);
    const char* family = pango_font_description_get_family(description);
    const bool same =
        family != nullptr && face.family == family &&
        (pango_font_description_get_style(description) != PANGO_STYLE_NORMAL) == (face.slant == Slant::Italic) &&
        std::abs(static_cast<int>(pango_font_description_get_weight(description)) - static_cast<int>(face.weight)) <=
            20;
    const std::string got = family == nullptr ? "nothing" : family;
    pango_font_description_free(description);
    if (!same) throw std::runtime_error("asked for the font '" + face.family + "', got '" + got + "'");
    verified_[font] = face;
  }

  /// A face in the size that is shaped.
  PangoFont* font_of(const Face& wanted) {
    const Face face = resolved(wanted);
    if (const auto found = fonts_.find(face); found != fonts_.end()) return found->second;
    PangoFontDescription* description = description_of(face, kShapingSize);
    PangoFont* font = pango_font_map_load_font(book_.map(), context_, description);
    pango_font_description_free(description);
    if (font == nullptr) throw std::runtime_error("the font '" + face.family + "' could not be loaded");
    verify(font, face);
    fonts_.emplace(face, font);
    return font;
  }

  FontBook& book_;
  Hyphenator hyphenator_;
  PangoContext* context_ = nullptr;
  PangoLayout* layout_ = nullptr;
  std::string language_;
  std::unordered_map<std::string, Line> kept_;
  std::map<std::pair<Face, base::Length>, FaceMetrics> metrics_;
  std::map<Face, PangoFont*> fonts_;
  std::unordered_map<PangoFont*, Face> verified_;
  std::set<char32_t> missing_;
};

}  // namespace

std::unique_ptr<Shaper> make_pango_shaper(FontBook& book, std::string dictionaries) {
  return std::make_unique<PangoShaper>(book, std::move(dictionaries));
}

}  // namespace tunesheaf::text
