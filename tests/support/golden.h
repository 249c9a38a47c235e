// Results kept as files. In: a path below tests/golden and the text of today. Out: a test failure when they differ,
// with a page in <build>/report/ that shows both, and of layouts a picture of one over the other. With
// TUNESHEAF_UPDATE_GOLDENS=1 in the environment the file is written instead; never where CI is set, since a machine
// that checks must not bless what it checks.
#pragma once
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <string>
#include <string_view>
#include <vector>

#include "support/overlay.h"
#include "support/temp_dir.h"

namespace tunesheaf::support {

enum class GoldenMode { Compare, Update, UpdateRefused };

inline GoldenMode golden_mode(const char* update, const char* ci) {
  const bool wanted = update != nullptr && std::string_view(update) == "1";
  if (!wanted) return GoldenMode::Compare;
  return ci != nullptr && *ci != '\0' ? GoldenMode::UpdateRefused : GoldenMode::Update;
}

inline std::vector<std::string> split_lines(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    lines.push_back(text.substr(begin, end - begin));
    begin = end + 1;
  }
  return lines;
}

/// Lines that two texts have in common at the beginning and at the end; what lies between differs.
struct Difference {
  std::size_t same_before = 0, same_after = 0;
};

inline Difference difference(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  Difference d;
  const std::size_t shorter = std::min(a.size(), b.size());
  while (d.same_before < shorter && a[d.same_before] == b[d.same_before]) ++d.same_before;
  while (d.same_after < shorter - d.same_before && a[a.size() - 1 - d.same_after] == b[b.size() - 1 - d.same_after]) {
    ++d.same_after;
  }
  return d;
}

inline std::string html_escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '<') {
      out += "&lt;";
    } else if (c == '&') {
      out += "&amp;";
    } else {
      out += c;
    }
  }
  return out;
}

inline std::string html_column(const std::string& title, const std::vector<std::string>& lines, Difference d) {
  std::string out = "<td><h2>" + title + "</h2><pre>";
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const bool same = i < d.same_before || i >= lines.size() - d.same_after;
    const std::string line = std::to_string(i + 1) + "\t" + html_escaped(lines[i]) + "\n";
    out += same ? line : "<mark>" + line + "</mark>";
  }
  return out + "</pre></td>\n";
}

inline std::string html_report(const std::string& path, const std::string& expected, const std::string& actual) {
  const std::vector<std::string> a = split_lines(expected);
  const std::vector<std::string> b = split_lines(actual);
  const Difference d = difference(a, b);
  return "<!doctype html><meta charset=\"utf-8\"><title>" + html_escaped(path) +
         "</title><style>td{vertical-align:top;padding-right:2em}</style><h1>" + html_escaped(path) +
         "</h1><table><tr>\n" + html_column("expected", a, d) + html_column("actual", b, d) + "</tr></table>\n" +
         overlay_html(expected, actual);
}

/// Writes the report and gives its path.
inline std::filesystem::path write_report(const std::filesystem::path& folder, const std::string& path,
                                          const std::string& expected, const std::string& actual) {
  std::filesystem::create_directories(folder);
  std::string name = path;
  std::replace(name.begin(), name.end(), '/', '_');
  const std::filesystem::path file = folder / (name + ".html");
  std::ofstream(file, std::ios::binary) << html_report(path, expected, actual);
  return file;
}

inline std::filesystem::path golden_folder() {
  return std::filesystem::path(TUNESHEAF_SOURCE_DIR) / "tests" / "golden";
}

/// Compares `actual` with tests/golden/<path>.
inline void expect_golden(const std::string& path, const std::string& actual) {
  const std::filesystem::path file = golden_folder() / path;
  const bool there = std::filesystem::exists(file);
  const std::string expected = there ? read_file(file) : std::string();
  if (there && expected == actual) return;
  switch (golden_mode(std::getenv("TUNESHEAF_UPDATE_GOLDENS"), std::getenv("CI"))) {
    case GoldenMode::Update: {
      std::filesystem::create_directories(file.parent_path());
      std::ofstream out(file, std::ios::binary);
      out << actual;
      out.close();
      EXPECT_TRUE(out.good()) << "cannot write " << file;
      const Difference d = difference(split_lines(expected), split_lines(actual));
      std::cout << "golden " << path << ": "
                << (there ? "changed from line " + std::to_string(d.same_before + 1) : std::string("new")) << "\n";
      return;
    }
    case GoldenMode::UpdateRefused:
      ADD_FAILURE() << "goldens are not updated where CI is set";
      [[fallthrough]];
    case GoldenMode::Compare:
      break;
  }
  const auto report = write_report(std::filesystem::path(TUNESHEAF_BINARY_DIR) / "report", path, expected, actual);
  const std::vector<std::string> a = split_lines(expected);
  const std::vector<std::string> b = split_lines(actual);
  const std::size_t line = difference(a, b).same_before;
  ADD_FAILURE() << "tests/golden/" << path << (there ? " differs from line " : " is not there; line ") << line + 1
                << "\n  expected: " << (line < a.size() ? a[line] : "(end)")
                << "\n  actual:   " << (line < b.size() ? b[line] : "(end)") << "\n  both: " << report.string();
}

}  // namespace tunesheaf::support
