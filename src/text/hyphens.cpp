#include "tunesheaf/text/hyphens.h"

#include <glib.h>
#include <hyphen.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <vector>

#include "patterns.h"
#include "tunesheaf/base/utf8.h"

namespace tunesheaf::text {
namespace {

namespace fs = std::filesystem;

/// Shorter words are not worth it; so many letters stay before a hyphen and come after it at least.
constexpr std::size_t kShortest = 6, kBefore = 3, kAfter = 3;

bool is_letter(char32_t c) {
  return g_unichar_isalpha(static_cast<gunichar>(c)) || g_unichar_ismark(static_cast<gunichar>(c));
}

bool is_figure_or_letter(char32_t c) {
  return is_letter(c) || g_unichar_isalnum(static_cast<gunichar>(c));
}

/// "en-GB" as "en_GB".
std::string with_underscores(std::string tag) {
  std::replace(tag.begin(), tag.end(), '-', '_');
  return tag;
}

/// The file of the language and region, else of the language, else of its first region by name.
std::string file_for(const std::string& folder, const std::string& language) {
  const std::string tag = with_underscores(language), bare = tag.substr(0, tag.find('_'));
  std::error_code ignored;
  for (const std::string& name : {tag, bare}) {
    const fs::path path = fs::path(folder) / ("hyph_" + name + ".dic");
    if (!name.empty() && fs::is_regular_file(path, ignored)) return path.string();
  }
  std::vector<std::string> found;
  for (const auto& entry : fs::directory_iterator(folder, ignored)) {
    const std::string name = entry.path().filename().string();
    if (name.starts_with("hyph_" + bare + "_") && name.ends_with(".dic")) found.push_back(entry.path().string());
  }
  return found.empty() ? std::string() : *std::min_element(found.begin(), found.end());
}

}  // namespace

class Hyphenator::Dictionary {
 public:
  virtual ~Dictionary() = default;
  /// After which letters the word may be parted. Places where the spelling would change are not among them.
  std::vector<std::size_t> places(const std::u32string& word) const {
    std::string bytes;
    std::vector<std::size_t> ends;  // of the letters, in bytes
    for (const char32_t c : word) {
      const auto lower = static_cast<char32_t>(g_unichar_tolower(static_cast<gunichar>(c)));
      if (utf8()) {
        bytes += base::to_utf8(lower);
      } else if (lower < 0x100) {
        bytes += static_cast<char>(lower);
      } else {
        return {};
      }
      ends.push_back(bytes.size());
    }
    const std::vector<bool> may = partings(bytes, ends);
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i + 1 < word.size(); ++i)
      if (may[i] && i + 1 >= kBefore && word.size() - i - 1 >= kAfter) out.push_back(i);
    return out;
  }

 private:
  virtual bool utf8() const = 0;
  /// By letters: true behind those where the word may be parted.
  virtual std::vector<bool> partings(const std::string& bytes, const std::vector<std::size_t>& ends) const = 0;
};

/// A plain list of patterns, as of English: read here, since it is read anew for every song.
class Hyphenator::PlainDictionary : public Dictionary {
 public:
  explicit PlainDictionary(Patterns patterns) : patterns_(std::move(patterns)) {}

 private:
  bool utf8() const override { return patterns_.utf8(); }
  std::vector<bool> partings(const std::string& bytes, const std::vector<std::size_t>& ends) const override {
    const std::vector<bool> places = patterns_.places(bytes);
    std::vector<bool> out(ends.size());
    for (std::size_t i = 0; i < ends.size(); ++i) out[i] = places[ends[i] - 1];
    return out;
  }
  Patterns patterns_;
};

/// With levels, compounds and respelling, as of German.
class Hyphenator::RichDictionary : public Dictionary {
 public:
  explicit RichDictionary(HyphenDict* dict) : dict_(dict) {}
  ~RichDictionary() override { hnj_hyphen_free(dict_); }
  RichDictionary(const RichDictionary&) = delete;
  RichDictionary& operator=(const RichDictionary&) = delete;

 private:
  bool utf8() const override { return dict_->utf8 != 0; }
  std::vector<bool> partings(const std::string& bytes, const std::vector<std::size_t>& ends) const override {
    std::vector<char> marks(bytes.size() + 5);
    char** changed = nullptr;
    int *from = nullptr, *cut = nullptr;
    const int failed = hnj_hyphen_hyphenate2(dict_, bytes.data(), static_cast<int>(bytes.size()), marks.data(), nullptr,
                                             &changed, &from, &cut);
    std::vector<bool> out(ends.size());
    for (std::size_t i = 0; failed == 0 && i < ends.size(); ++i) {
      const bool odd = (static_cast<unsigned char>(marks[i]) & 1U) != 0;
      const bool respelt = changed != nullptr && changed[i] != nullptr;
      out[i] = odd && !respelt;
    }
    for (std::size_t i = 0; changed != nullptr && i < bytes.size(); ++i) std::free(changed[i]);  // NOLINT: theirs
    std::free(changed);                                                                          // NOLINT: theirs
    std::free(from);                                                                             // NOLINT: theirs
    std::free(cut);                                                                              // NOLINT: theirs
    return out;
  }

  HyphenDict* dict_;
};

Hyphenator::Hyphenator(std::string folder) : folder_(std::move(folder)) {}
Hyphenator::~Hyphenator() = default;

std::string Hyphenator::usual_folder() {
  return "/usr/share/hyphen";
}

std::string Hyphenator::installed(const std::string& folder) {
  std::vector<std::string> lines;
  std::error_code ignored;
  for (const auto& entry : fs::directory_iterator(folder, ignored)) {
    if (entry.path().extension() != ".dic") continue;
    lines.push_back(entry.path().filename().string() + " " + std::to_string(fs::file_size(entry.path(), ignored)) +
                    "\n");
  }
  std::sort(lines.begin(), lines.end());
  std::string out;
  for (const std::string& line : lines) out += line;
  return out;
}

Hyphenator::Dictionary* Hyphenator::dictionary(const std::string& language) {
  const auto [at, fresh] = read_.try_emplace(language);
  if (!fresh) return at->second.get();
  const std::string file = file_for(folder_, language);
  if (file.empty()) return nullptr;
  if (auto plain = Patterns::read(file)) {
    at->second = std::make_unique<PlainDictionary>(std::move(*plain));
    return at->second.get();
  }
  HyphenDict* dict = hnj_hyphen_load(file.c_str());
  if (dict == nullptr) return nullptr;
  const std::string letters = dict->cset;
  auto read = std::make_unique<RichDictionary>(dict);
  if (dict->utf8 != 0 || letters == "ISO8859-1" || letters == "ISO-8859-1") at->second = std::move(read);
  return at->second.get();
}

std::string Hyphenator::parted(const std::string& text, const std::string& language) {
  const Dictionary* known = dictionary(language.empty() ? "en" : language);
  if (known == nullptr) return text;
  const bool capitals = language.starts_with("de");
  const std::vector<char32_t> points = base::code_points(text);
  const std::u32string all(points.begin(), points.end());
  std::string out;
  for (std::size_t begin = 0; begin < all.size();) {
    std::size_t end = begin;
    while (end < all.size() && all[end] != U' ' && all[end] != U'\n' && all[end] != 0xA0) ++end;
    std::size_t first = begin, last = end;  // the word without what stands around it
    while (first < last && !is_figure_or_letter(all[first])) ++first;
    while (last > first && !is_figure_or_letter(all[last - 1])) --last;
    const auto upper = [](char32_t c) { return g_unichar_isupper(static_cast<gunichar>(c)) != 0; };
    const std::u32string word = all.substr(first, last - first);
    const bool plain = word.size() >= kShortest && std::all_of(word.begin(), word.end(), is_letter) &&
                       std::none_of(word.begin() + (capitals ? 1 : 0), word.end(), upper);
    const std::vector<std::size_t> places = plain ? known->places(word) : std::vector<std::size_t>{};
    for (std::size_t i = begin; i < std::min(end + 1, all.size()); ++i) {
      out += base::to_utf8(all[i]);
      if (i >= first && std::binary_search(places.begin(), places.end(), i - first)) out += base::to_utf8(kSoftHyphen);
    }
    begin = end + 1;
  }
  return out;
}

}  // namespace tunesheaf::text
