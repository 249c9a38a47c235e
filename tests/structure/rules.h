// The rules of the house that a compiler does not know. In: the modules' table in CMakeLists.txt, and one source file
// (its path below the root, its text). Out: what the file breaks, one sentence each.
// Read next: structure_test.cpp, which applies them to every file, and to made-up ones that break them.
#pragma once
#include <algorithm>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace tunesheaf::structure {

using Table = std::map<std::string, std::set<std::string>>;

/// Every `tunesheaf_module(name USES a b LIBRARIES …)` of a CMakeLists.txt: the module and what it may include.
inline Table module_table(const std::string& cmake) {
  Table table;
  static const std::regex kCall(R"(^tunesheaf_module\(([^)]*)\))", std::regex::multiline);
  for (std::sregex_iterator it(cmake.begin(), cmake.end(), kCall), end; it != end; ++it) {
    std::istringstream words((*it)[1].str());
    std::string module, word;
    words >> module;
    std::set<std::string>& uses = table[module];
    bool in_uses = false;
    while (words >> word) {
      if (word == "USES" || word == "LIBRARIES") {
        in_uses = word == "USES";
      } else if (in_uses) {
        uses.insert(word);
      }
    }
  }
  return table;
}

struct SourceFile {
  std::string path;  ///< below the root, with /
  std::string text;
};

/// "song" for src/song/… and include/tunesheaf/song/…; empty elsewhere.
inline std::string module_of(const std::string& path) {
  static const std::regex kPath(R"(^(?:src|include/tunesheaf)/([^/]+)/.*)");
  std::smatch found;
  return std::regex_match(path, found, kPath) ? found[1].str() : std::string();
}

/// The text without comments and without what stands in quotes; ends of line stay.
inline std::string code_of(const std::string& text) {
  std::string out;
  enum class In { Code, Line, Block, String, Char } in = In::Code;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const char next = i + 1 < text.size() ? text[i + 1] : '\0';
    if (c == '\n') {
      out += c;
      if (in != In::Block) in = In::Code;
    } else if (in == In::Code) {
      // A digit before ' makes it a separator of a number.
      const bool separator = c == '\'' && i > 0 && std::isalnum(static_cast<unsigned char>(text[i - 1])) != 0;
      if (c == '/' && (next == '/' || next == '*')) in = next == '/' ? In::Line : In::Block;
      if (c == '"') in = In::String;
      if (c == '\'' && !separator) in = In::Char;
      if (in == In::Code) out += c;
    } else if (in == In::Block && c == '*' && next == '/') {
      in = In::Code;
      ++i;
    } else if ((in == In::String || in == In::Char) && c == '\\') {
      ++i;
    } else if ((in == In::String && c == '"') || (in == In::Char && c == '\'')) {
      in = In::Code;
    }
  }
  return out;
}

inline std::vector<std::string> broken_includes(const SourceFile& file, const Table& table) {
  std::vector<std::string> broken;
  const std::string module = module_of(file.path);
  // A library and the modules that may see it.
  static const std::vector<std::pair<std::string, std::set<std::string>>> kLibraries = {
      {"yaml-cpp/", {"yaml"}},    {"pango/", {"text", "export"}}, {"fontconfig/", {"text", "export"}},
      {"hb", {"text", "export"}}, {"cairo", {"text", "export"}},  {"png.h", {"export"}},
      {"qrencode.h", {"blocks"}},
  };
  static const std::regex kInclude(R"(^[ \t]*#[ \t]*include[ \t]*([<"])([^>"]+)[>"])", std::regex::multiline);
  for (std::sregex_iterator it(file.text.begin(), file.text.end(), kInclude), end; it != end; ++it) {
    const std::string target = (*it)[2].str();
    static const std::regex kModule(R"(^tunesheaf/([^/]+)/.*)");
    std::smatch found;
    if (std::regex_match(target, found, kModule)) {
      const std::string used = found[1].str();
      const auto row = table.find(module);
      const bool main = file.path == "src/main.cpp" && used == "app";
      const bool listed = row != table.end() && row->second.count(used) > 0;
      if (!main && used != module && !listed) {
        broken.push_back(file.path + ": includes " + target + ", but the table does not let " +
                         (module.empty() ? file.path : module) + " use " + used);
      }
    }
    if (target.find("..") != std::string::npos) broken.push_back(file.path + ": includes by way of ..: " + target);
    for (const auto& [library, modules] : kLibraries) {
      if ((*it)[1] == "<" && target.rfind(library, 0) == 0 && modules.count(module) == 0) {
        broken.push_back(file.path + ": includes " + target + ", which is not for " + module);
      }
    }
  }
  return broken;
}

/// Numbers are read and printed by base/number.h alone: what follows the locale, or parses half a text, is out.
inline std::vector<std::string> broken_numbers(const SourceFile& file) {
  std::vector<std::string> broken;
  const std::string module = module_of(file.path);
  if (module.empty() || module == "base") return broken;
  static const std::vector<std::pair<std::string, std::regex>> kBanned = {
      {"std::locale or setlocale", std::regex(R"(\b(std::locale|setlocale|newlocale|uselocale)\b)")},
      {"a parser that follows the locale",
       std::regex(R"(\b(sto[idfl]|stold|stoll|stoul|stoull|strto[dflu]\w*|strtoll|ato[fil]|atoll)\s*\()")},
      {"scanf", std::regex(R"(\b[fs]?scanf\s*\()")},
  };
  const std::string code = code_of(file.text);
  for (const auto& [what, pattern] : kBanned) {
    std::smatch found;
    if (std::regex_search(code, found, pattern)) broken.push_back(file.path + ": uses " + what + ": " + found.str());
  }
  static const std::regex kFloatFormat(R"re(printf\s*\([^;]*"[^"\n]*%[-+ #0]*[0-9*]*(\.[0-9*]+)?l?[aefgAEFG])re");
  if (std::regex_search(file.text, kFloatFormat)) broken.push_back(file.path + ": prints a decimal with printf");
  return broken;
}

inline std::vector<std::string> broken_shape(const SourceFile& file) {
  constexpr std::ptrdiff_t kMostLines = 600;
  std::vector<std::string> broken;
  const std::ptrdiff_t lines = std::count(file.text.begin(), file.text.end(), '\n');
  if (lines > kMostLines) broken.push_back(file.path + ": has " + std::to_string(lines) + " lines, more than 600");
  const bool public_header = file.path.rfind("include/", 0) == 0;
  if (public_header && file.text.rfind("// ", 0) != 0) broken.push_back(file.path + ": opens without a comment");
  return broken;
}

}  // namespace tunesheaf::structure
