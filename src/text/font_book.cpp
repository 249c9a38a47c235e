#include "tunesheaf/text/font_book.h"

#include <fontconfig/fontconfig.h>
#include <hb.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <mutex>
#include <string_view>

#include "tunesheaf/base/bytes.h"
#include "tunesheaf/text/families.h"
#include "tunesheaf/text/hyphens.h"

namespace tunesheaf::text {
namespace {

namespace fs = std::filesystem;

/// First the usual place, then anywhere below the folders.
std::optional<std::string> find_file(const std::vector<std::string>& folders, const Family& family,
                                     const std::string& file) {
  std::error_code error;
  for (const std::string& folder : folders) {
    for (const fs::path& path : {fs::path(folder) / family.folder / file, fs::path(folder) / file}) {
      if (fs::is_regular_file(path, error)) return path.string();
    }
  }
  for (const std::string& folder : folders) {
    const auto options = fs::directory_options::skip_permission_denied;
    for (fs::recursive_directory_iterator it(folder, options, error), end; !error && it != end; it.increment(error)) {
      if (it->path().filename() == file && it->is_regular_file(error)) return it->path().string();
    }
  }
  return std::nullopt;
}

const Family* family_named(const std::string& name) {
  for (const Family& family : families()) {
    if (family.name == name) return &family;
  }
  return nullptr;
}

int distance(const Face& a, const Face& b) {
  const int weight = std::abs(static_cast<int>(a.weight) - static_cast<int>(b.weight));
  return weight + (a.slant == b.slant ? 0 : 10000);
}

/// Never drawn, so no font needs to have them.
bool is_invisible(char32_t c) {
  return c < 0x20 || c == 0xAD || c == 0x200B || (c >= 0x200C && c <= 0x200F) || c == 0x2060 || c == 0xFEFF ||
         (c >= 0xFE00 && c <= 0xFE0F);
}

/// Within words the music family's accidentals are too small and stand too low: they are cut for staves.
bool is_text_accidental(char32_t c) {
  return c >= 0x266D && c <= 0x266F;
}
constexpr std::string_view kMusicFamily = "Noto Music";

/// Parts of the libraries ask for the current configuration although they were given one; an empty one spares them the
/// system's, which costs time and would let the page depend on the machine.
void forget_system_fonts() {
  static std::once_flag once;
  std::call_once(once, [] {
    FcConfig* empty = FcConfigCreate();
    FcConfigSetCurrent(empty);
    FcConfigDestroy(empty);
  });
}

}  // namespace

struct FontBook::Inside {
  struct Entry {
    Face face;
    FontPlace place;
    FcCharSet* characters = nullptr;  // owned by the configuration's pattern
  };

  FcConfig* config = nullptr;
  PangoFontMap* map = nullptr;
  std::vector<std::string> folders;
  std::map<Face, Entry> entries;
  std::size_t fallbacks_read = 0;  // families of the table already looked at
  std::map<std::pair<char32_t, Face>, std::optional<Face>> chosen;

  ~Inside() {
    if (map != nullptr) g_object_unref(map);
    if (config != nullptr) FcConfigDestroy(config);
  }

  bool add(const Family& family, const FontFile& file, const std::string& path) {
    if (FcConfigAppFontAddFile(config, reinterpret_cast<const FcChar8*>(path.c_str())) == FcFalse) return false;
    const Face face{family.name, file.weight, file.slant};
    FcPattern* pattern = pattern_of(path, family.name);
    if (pattern == nullptr) return false;
    Entry entry{face, {path, 0}, nullptr};
    FcPatternGetInteger(pattern, FC_INDEX, 0, &entry.place.index);
    if (FcPatternGetCharSet(pattern, FC_CHARSET, 0, &entry.characters) != FcResultMatch) return false;
    entries[face] = entry;
    return true;
  }

  /// The face in `path` that really bears that family name.
  FcPattern* pattern_of(const std::string& path, const std::string& family) const {
    const FcFontSet* set = FcConfigGetFonts(config, FcSetApplication);
    for (int i = set == nullptr ? -1 : set->nfont - 1; i >= 0; --i) {
      FcChar8* file = nullptr;
      if (FcPatternGetString(set->fonts[i], FC_FILE, 0, &file) != FcResultMatch) continue;
      if (path == reinterpret_cast<const char*>(file) && bears(set->fonts[i], family)) return set->fonts[i];
    }
    return nullptr;
  }

  static bool bears(FcPattern* pattern, const std::string& family) {
    FcChar8* name = nullptr;
    for (int n = 0; FcPatternGetString(pattern, FC_FAMILY, n, &name) == FcResultMatch; ++n) {
      if (family == reinterpret_cast<const char*>(name)) return true;
    }
    return false;
  }

  /// Reads the next fallback family that is installed; false when there are no more.
  bool read_fallback() {
    while (fallbacks_read < families().size()) {
      const Family& family = families()[fallbacks_read++];
      if (family.need == Need::Required) continue;
      bool added = false;
      for (const FontFile& file : family.files) {
        const auto path = find_in_usual_place(family, file.file);
        if (path && add(family, file, *path)) added = true;
      }
      if (added) {
        pango_fc_font_map_config_changed(PANGO_FC_FONT_MAP(map));
        return true;
      }
    }
    return false;
  }

  /// Fallback families are not worth a walk through every folder.
  std::optional<std::string> find_in_usual_place(const Family& family, const std::string& file) const {
    std::error_code error;
    for (const std::string& folder : folders) {
      for (const fs::path& path : {fs::path(folder) / family.folder / file, fs::path(folder) / file}) {
        if (fs::is_regular_file(path, error)) return path.string();
      }
    }
    return std::nullopt;
  }

  bool has(const Face& face, char32_t character) const {
    const auto found = entries.find(face);
    return found != entries.end() && found->second.characters != nullptr &&
           FcCharSetHasChar(found->second.characters, static_cast<FcChar32>(character)) == FcTrue;
  }

  std::optional<Face> nearest(const Face& wanted) const {
    const Entry* best = nullptr;
    for (const auto& [face, entry] : entries) {
      if (face.family != wanted.family) continue;
      if (best == nullptr || distance(face, wanted) < distance(best->face, wanted)) best = &entry;
    }
    return best == nullptr ? std::nullopt : std::optional<Face>(best->face);
  }

  std::optional<Face> search(char32_t character, const Face& wanted) {
    if (has(wanted, character) || is_invisible(character)) return wanted;
    if (!is_text_accidental(character)) return search_families(character, wanted, std::string_view{});
    const auto found = search_families(character, wanted, kMusicFamily);
    return found ? found : search_families(character, wanted, std::string_view{});
  }

  std::optional<Face> search_families(char32_t character, const Face& wanted, std::string_view passed_over) {
    for (std::size_t i = 0; i < families().size(); ++i) {
      const Family& family = families()[i];
      if (family.name == passed_over) continue;
      if (family.need == Need::Fallback && i >= fallbacks_read) read_fallback();
      const auto face = nearest({family.name, wanted.weight, wanted.slant});
      if (face && has(*face, character)) return face;
      const auto plain = nearest({family.name, Weight::Regular, Slant::Upright});
      if (plain && has(*plain, character)) return plain;
    }
    return std::nullopt;
  }
};

FontBook::FontBook(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
FontBook::~FontBook() = default;

FontFault FontBook::missing(const std::string& family) {
  FontFault fault{family, {}, {}};
  const Family* known = family_named(family);
  if (known == nullptr) {
    fault.message = "the font family '" + family + "' is not one of the families this program knows";
    return fault;
  }
  fault.package = known->package;
  fault.message = "the font family '" + family + "' is not installed; it is in the Debian package " + known->package;
  return fault;
}

base::Result<std::unique_ptr<FontBook>, FontFault> FontBook::open(const std::vector<std::string>& folders) {
  forget_system_fonts();
  auto inside = std::make_unique<Inside>();
  inside->folders = folders;
  inside->config = FcConfigCreate();
  inside->map = pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT);
  if (inside->config == nullptr || inside->map == nullptr) {
    return FontFault{{}, {}, "the font library could not be started"};
  }
  for (const Family& family : families()) {
    if (family.need != Need::Required) continue;
    for (const FontFile& file : family.files) {
      const auto path = find_file(folders, family, file.file);
      if (!path) return missing(family.name);
      if (!inside->add(family, file, *path)) {
        return FontFault{family.name, family.package,
                         "the font file '" + *path + "' does not hold the family '" + family.name + "'"};
      }
    }
  }
  pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(inside->map), inside->config);
  pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(inside->map), 72.0);
  return std::unique_ptr<FontBook>(new FontBook(std::move(inside)));
}

std::vector<std::string> FontBook::usual_folders() {
  std::vector<std::string> folders;
  if (const char* own = std::getenv("TUNESHEAF_FONTS"); own != nullptr) {
    std::string list = own;
    for (std::size_t at = 0; at <= list.size();) {
      const std::size_t colon = std::min(list.find(':', at), list.size());
      if (colon > at) folders.push_back(list.substr(at, colon - at));
      at = colon + 1;
    }
  }
  if (const char* home = std::getenv("HOME"); home != nullptr && *home != '\0') {
    folders.push_back(std::string(home) + "/.local/share/fonts");
  }
  folders.emplace_back("/usr/local/share/fonts");
  folders.emplace_back("/usr/share/fonts");
  return folders;
}

std::optional<Face> FontBook::nearest(const Face& wanted) {
  auto found = inside_->nearest(wanted);
  const Family* family = family_named(wanted.family);
  while (!found && family != nullptr && family->need == Need::Fallback && inside_->read_fallback()) {
    found = inside_->nearest(wanted);
  }
  return found;
}

std::optional<FontPlace> FontBook::file_of(const Face& face) {
  if (const auto near = nearest(face); !near || *near != face) return std::nullopt;
  return inside_->entries.at(face).place;
}

bool FontBook::has(const Face& face, char32_t character) {
  return inside_->has(face, character);
}

std::optional<Face> FontBook::face_for(char32_t character, const Face& wanted) {
  const auto key = std::make_pair(character, wanted);
  if (const auto found = inside_->chosen.find(key); found != inside_->chosen.end()) return found->second;
  auto face = inside_->search(character, wanted);
  inside_->chosen.emplace(key, face);
  return face;
}

std::string FontBook::identity() const {
  std::string out = std::string(pango_version_string()) + " " + cairo_version_string() + " " + hb_version_string() +
                    " " + std::to_string(FcGetVersion()) + "\n";
  constexpr std::size_t kDirectory = 4096;
  for (const Family& family : families()) {
    for (const FontFile& file : family.files) {
      const auto path = family.need == Need::Required ? find_file(inside_->folders, family, file.file)
                                                      : inside_->find_in_usual_place(family, file.file);
      if (!path) continue;
      std::string head(kDirectory, '\0');
      std::ifstream in(*path, std::ios::binary);
      in.read(head.data(), static_cast<std::streamsize>(head.size()));
      base::Fingerprint print;
      print.add(std::string_view(head.data(), static_cast<std::size_t>(in.gcount())));
      out += *path + " " + print.hex() + "\n";
    }
  }
  return out + Hyphenator::installed(Hyphenator::usual_folder());
}

_PangoFontMap* FontBook::map() const {
  return inside_->map;
}

}  // namespace tunesheaf::text
