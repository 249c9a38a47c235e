#include "tunesheaf/style/load.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <vector>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/style/tokens.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::style {
namespace {

using diag::Kind;
using diag::quoted;
using source::Span;

/// The style of tokens that the command line sets.
constexpr const char* kByHand = "--set";

struct Setting {
  std::string value;
  std::optional<Span> span;
  std::string style;
};

/// One style file, read but not yet resolved.
struct Sheet {
  std::string name;
  std::optional<std::string> extends;
  Span extends_span;
  std::vector<std::pair<std::string, Setting>> settings;
};

constexpr std::size_t kLongestChain = 16;
constexpr std::streamoff kLargestFile = 1 << 20;

std::optional<std::string> bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary | std::ios::ate);
  if (!in) return std::nullopt;
  const std::streamoff size = in.tellg();
  if (size < 0 || size > kLargestFile) return std::nullopt;
  in.seekg(0);
  std::ostringstream out;
  out << in.rdbuf();
  if (in.bad()) return std::nullopt;
  return out.str();
}

std::vector<std::string> known_words() {
  std::vector<std::string> words{"style", "extends"};
  for (const Token& token : tokens()) {
    words.push_back(token.name);
    const std::size_t point = token.name.find('.');
    if (point != std::string::npos) words.push_back(token.name.substr(0, point));
  }
  return words;
}

bool is_group(const std::string& word) {
  return std::any_of(tokens().begin(), tokens().end(),
                     [&](const Token& t) { return t.name.compare(0, word.size() + 1, word + ".") == 0; });
}

class Reader {
 public:
  Reader(source::Files& files, diag::Sink& sink, const std::string& folder)
      : files_(files), sink_(sink), folder_(folder) {}

  std::optional<Sheet> read(const std::string& path, const std::string& name, std::optional<Span> asked) {
    auto text = bytes_of(path);
    if (!text) {
      missing(name, path, asked);
      return std::nullopt;
    }
    const source::FileId id = files_.add(path, std::move(*text));
    const auto root = yaml::read(files_.file(id), sink_);
    if (!root) return std::nullopt;
    Sheet sheet;
    sheet.name = name;
    if (root->kind == yaml::NodeKind::Null) return sheet;
    if (root->kind != yaml::NodeKind::Mapping) {
      sink_.add(Kind::StyleWrongValue, root->span, "this is no style", "a style is a list of `token: value`",
                "see styles/house.yaml");
      return std::nullopt;
    }
    for (const yaml::Entry& entry : root->entries) top(sheet, entry);
    return sheet;
  }

  void missing(const std::string& name, const std::string& path, std::optional<Span> asked) {
    diag::Diagnostic d;
    d.kind = Kind::StyleMissing;
    if (asked) d.labels.push_back({*asked, ""});
    d.situation = "the style " + diag::quoted(name) + " is not there";
    d.rule = "looked for " + diag::quoted(path);
    const std::vector<std::string> names = style_names(folder_);
    d.remedy = "name a file ending in .yaml, or one of";
    for (const std::string& known : names) d.remedy += " " + known;
    if (const auto near = base::nearest_word(name, names)) d.remedy = "did you mean " + diag::quoted(*near) + "?";
    if (path.rfind('/', 0) == 0 && path == "/" + name + ".yaml") {
      d.rule = "no folder of styles was found, so house is the only style there is";
      d.remedy = "name house, or a file ending in .yaml";
    }
    sink_.add(std::move(d));
  }

 private:
  void top(Sheet& sheet, const yaml::Entry& entry) {
    const std::string& key = entry.key.text;
    if (key == "style" || key == "extends") {
      if (entry.value.kind != yaml::NodeKind::Scalar) {
        sink_.add(Kind::StyleWrongValue, entry.key.span, diag::quoted(key) + " has no name after it",
                  "it names a style");
      } else if (key == "extends") {
        sheet.extends = entry.value.text;
        sheet.extends_span = entry.value.span;
      }
      return;
    }
    if (find_token(key) != nullptr) {
      take(sheet, key, entry);
    } else if (is_group(key) && entry.value.kind == yaml::NodeKind::Mapping) {
      for (const yaml::Entry& inner : entry.value.entries) {
        const std::string name = key + "." + inner.key.text;
        if (find_token(name) != nullptr) {
          take(sheet, name, inner);
        } else {
          unknown(inner.key, name, key + ".");
        }
      }
    } else if (is_group(key)) {
      sink_.add(Kind::StyleWrongValue, entry.key.span, diag::quoted(key) + " holds no tokens",
                "it is a group: its tokens stand below it, indented");
    } else {
      unknown(entry.key, key, "");
    }
  }

  void unknown(const yaml::Node& key, const std::string& name, const std::string& group) {
    std::string remedy = "styles/house.yaml lists every token";
    if (const auto nearest = base::nearest_word(name, known_words())) {
      const std::string word = nearest->compare(0, group.size(), group) == 0 ? nearest->substr(group.size()) : *nearest;
      remedy = "did you mean " + diag::quoted(word) + "?";
    }
    sink_.add(Kind::StyleUnknownToken, key.span, diag::quoted(key.text) + " is no token of a style", "", remedy);
  }

  void take(Sheet& sheet, const std::string& name, const yaml::Entry& entry) {
    const Token& token = *find_token(name);
    if (entry.value.kind != yaml::NodeKind::Scalar) {
      const bool colour = token.unit == Unit::Colour && entry.value.kind == yaml::NodeKind::Null;
      sink_.add(Kind::StyleWrongValue, entry.key.span, diag::quoted(entry.key.text) + " has no value",
                "it is " + unit_words(token.unit), colour ? "put quotes around it: # begins a comment" : "");
      return;
    }
    sheet.settings.push_back({name, {entry.value.text, entry.value.span, sheet.name}});
  }

  source::Files& files_;
  diag::Sink& sink_;
  const std::string& folder_;
};

bool is_path(const std::string& name) {
  return name.find('/') != std::string::npos || (name.size() > 5 && name.compare(name.size() - 5, 5, ".yaml") == 0);
}

std::string name_of(const std::string& path) {
  const std::size_t slash = path.find_last_of('/');
  std::string name = slash == std::string::npos ? path : path.substr(slash + 1);
  if (name.size() > 5 && name.compare(name.size() - 5, 5, ".yaml") == 0) name.resize(name.size() - 5);
  return name;
}

/// A file named by a style is looked for beside that style first, then as it stands.
std::string beside(const std::string& style, const std::string& named) {
  const std::size_t slash = style.find_last_of('/');
  if (slash == std::string::npos || named.front() == '/') return named;
  std::string path = style.substr(0, slash + 1) + named;
  return std::ifstream(path).good() ? path : named;
}

/// From the style asked for down to the one that extends nothing; empty when something is wrong.
std::vector<Sheet> chain(const std::string& asked, std::optional<Span> span, const std::string& folder,
                         source::Files& files, diag::Sink& sink) {
  Reader reader(files, sink, folder);
  std::vector<Sheet> sheets;
  std::vector<std::string> paths;
  std::string next = asked;
  // A house.yaml in the folder is read like any other; the house style that is built in lies under it.
  const std::string house = folder + "/house.yaml";
  while (next != "house" ||
         (std::ifstream(house).good() && std::find(paths.begin(), paths.end(), house) == paths.end())) {
    std::string path = is_path(next) ? next : folder + "/" + next + ".yaml";
    if (is_path(next) && !paths.empty()) path = beside(paths.back(), next);
    if (std::find(paths.begin(), paths.end(), path) != paths.end() || paths.size() >= kLongestChain) {
      sink.add(Kind::StyleCircle, span.value_or(Span{}), "the style " + diag::quoted(next) + " extends itself",
               "styles extend one another in one line that ends with house", "extend house instead");
      return {};
    }
    paths.push_back(path);
    auto sheet = reader.read(path, name_of(next), span);
    if (!sheet) return {};
    next = sheet->extends.value_or("house");
    span = sheet->extends_span;
    sheets.push_back(std::move(*sheet));
  }
  sheets.push_back({"house", std::nullopt, {}, {}});
  return sheets;
}

/// Where a token's value stands, when a file sets it; what the command line sets has no place.
std::vector<diag::Label> place_of(const LoadedStyle& loaded, const std::string& token) {
  const auto it = loaded.provenance.find(token);
  if (it == loaded.provenance.end() || !it->second.span) return {};
  return {{*it->second.span, ""}};
}

/// " with --set page.width=5 mm": what the command line sets of these tokens; else nothing.
std::string set_by_hand(const LoadedStyle& loaded, const std::vector<std::string>& names) {
  std::string out;
  for (const std::string& name : names) {
    const auto it = loaded.provenance.find(name);
    if (it == loaded.provenance.end() || it->second.style != kByHand) continue;
    out += (out.empty() ? " with --set " : " and --set ") + name + "=" + it->second.value;
  }
  return out;
}

void apply(LoadedStyle& loaded, const std::string& name, const Setting& setting, diag::Sink& sink) {
  const Token& token = *find_token(name);
  const std::string wrong = set_token(loaded.style, token, setting.value);
  if (wrong.empty()) {
    loaded.provenance[name] = {setting.style, setting.span, setting.value};
    return;
  }
  std::string rule = "it is " + unit_words(token.unit);
  if (!token.words.empty()) rule = "it is one of" + spaced(token.words);
  std::string remedy;
  if (const auto nearest = base::nearest_word(setting.value, token.words))
    remedy = "did you mean " + diag::quoted(*nearest) + "?";
  sink.add(Kind::StyleWrongValue, setting.span.value_or(Span{}), diag::quoted(setting.value) + " " + wrong, rule,
           remedy);
}

void check_page(const LoadedStyle& loaded, diag::Sink& sink) {
  const PageStyle& page = loaded.style.page;
  if (body_width(loaded.style) >= base::Length::mm(60) &&
      page.paper.height - page.top - page.bottom >= base::Length::mm(100)) {
    return;
  }
  diag::Diagnostic d;
  d.kind = Kind::StyleWrongValue;
  const std::vector<std::string> edges{"page.inner",         "page.width", "page.height", "page.top",
                                       "page.margin column", "page.outer", "page.bottom", "page.column gap"};
  const std::string by_hand = set_by_hand(loaded, edges);
  for (const std::string& token : edges) {
    if (d.labels.empty() && by_hand.empty()) d.labels = place_of(loaded, token);
  }
  d.situation = "the edges leave too little of the page" + by_hand;
  d.rule = "the body is at least 60 mm wide and 100 mm high";
  d.remedy = "make the edges or the margin column narrower, or the page larger";
  sink.add(std::move(d));
}

void check_contrast(const LoadedStyle& loaded, diag::Sink& sink) {
  const Style& style = loaded.style;
  const std::pair<const char*, base::Colour> inks[] = {
      {"colour.ink", style.ink}, {"colour.accent", style.accent}, {"colour.faint", style.faint}};
  for (const auto& [name, colour] : inks) {
    const double found = contrast(colour, style.ground);
    if (found >= 4.5) continue;
    diag::Diagnostic d;
    d.kind = Kind::StyleLowContrast;
    const std::string by_hand = set_by_hand(loaded, {name, "colour.ground"});
    if (by_hand.empty()) d.labels = place_of(loaded, name);
    if (d.labels.empty() && by_hand.empty()) d.labels = place_of(loaded, "colour.ground");
    d.situation =
        std::string("the contrast of ") + name + " to the paper is " + base::print_fixed(found, 1) + " to 1" + by_hand;
    d.rule = "text needs 4.5 to 1 to be read in poor light";
    d.remedy = "take a darker colour";
    if (contrast(style.ground, base::kWhite) > contrast(style.ground, base::kBlack)) d.remedy = "take a lighter colour";
    sink.add(std::move(d));
  }
}

double linear(std::uint8_t channel) {
  const double c = channel / 255.0;
  return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(base::Colour c) {
  return 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
}

}  // namespace

double contrast(base::Colour a, base::Colour b) {
  const double la = luminance(a), lb = luminance(b);
  return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

std::optional<LoadedStyle> load_style(const std::string& name_or_path, const std::string& paper,
                                      const std::string& style_folder, source::Files& files, diag::Sink& sink,
                                      const StyleWishes& wishes) {
  const std::size_t before = sink.errors();
  const std::vector<Sheet> sheets = chain(name_or_path, wishes.asked, style_folder, files, sink);
  if (sheets.empty()) return std::nullopt;
  LoadedStyle loaded;
  loaded.style = house_style(paper);
  loaded.style.name = sheets.front().name;
  std::map<std::string, Setting> in_force;
  for (auto sheet = sheets.rbegin(); sheet != sheets.rend(); ++sheet) {
    for (const auto& [name, setting] : sheet->settings) in_force[name] = setting;
  }
  for (const Override& wish : wishes.overrides) in_force[wish.token] = {wish.value, std::nullopt, kByHand};
  // In the table's order: the staff space stands first, and lengths in sp are measured by it.
  for (const Token& token : tokens()) {
    loaded.provenance[token.name] = {"house", std::nullopt, token.standard};
    const auto it = in_force.find(token.name);
    if (it != in_force.end()) {
      apply(loaded, token.name, it->second, sink);
    } else {
      set_token(loaded.style, token, token.standard);
    }
  }
  check_page(loaded, sink);
  check_contrast(loaded, sink);
  if (sink.errors() != before) return std::nullopt;
  return loaded;
}

std::string print(const LoadedStyle& loaded, const source::Files& files) {
  std::string out = "style " + loaded.style.name + "\n";
  for (const Token& token : tokens()) {
    const Provenance& from = loaded.provenance.at(token.name);
    std::string place = from.style == "--set" ? "--set" : "built in";
    if (from.span) {
      const source::File& file = files.file(from.span->file);
      place = file.path() + ":" + std::to_string(file.place(from.span->begin).line);
    }
    out += token.name + ": " + from.value + "  (" + place + ")\n";
  }
  return out;
}

}  // namespace tunesheaf::style
