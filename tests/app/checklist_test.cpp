// What the open standard for music notation can say, element by element and value by value (tests/facts/checklist.tsv):
// each row either prints, in a small song of its own, the items it names, or says why it has no place on these sheets;
// the reasons are told in the README too.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <regex>
#include <set>

#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf::app {
namespace {

using support::holds;
using support::Outcome;
using support::run_words;
using support::TempDir;

struct Row {
  std::string element, values, part, lanes, more, prints, why_not;
};

std::vector<std::string> parted(const std::string& text, const std::string& by) {
  std::vector<std::string> out;
  for (std::size_t from = 0;;) {
    const std::size_t at = text.find(by, from);
    out.push_back(text.substr(from, at - from));
    if (at == std::string::npos) return out;
    from = at + by.size();
  }
}

std::string replaced(const std::string& text, const std::string& from, const std::string& to) {
  std::string out;
  for (const std::string& piece : parted(text, from)) out += (out.empty() ? "" : to) + piece;
  return out;
}

std::vector<Row> rows() {
  std::ifstream file(std::string(TUNESHEAF_SOURCE_DIR) + "/tests/facts/checklist.tsv");
  EXPECT_TRUE(file.is_open());
  std::vector<Row> out;
  bool heading = true;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::vector<std::string> cells = parted(line, "\t");
    cells.resize(7);
    if (!heading) out.push_back({cells[0], cells[1], cells[2], cells[3], cells[4], cells[5], cells[6]});
    heading = false;
  }
  return out;
}

std::string indented(const std::string& lines, const std::string& by) {
  std::string out;
  for (const std::string& line : support::lines_of(replaced(lines, "\\n", "\n"))) out += by + line + "\n";
  return out;
}

/// A song with one part, "player", and one section, "tune".
std::string song_of(const Row& row) {
  std::string top, section, chart, form, second;
  const std::string more = row.more;
  const std::size_t colon = more.find(": ");
  const std::string where = more.substr(0, colon), what = colon == std::string::npos ? "" : more.substr(colon + 2);
  if (where == "song") top = indented(what, "");
  if (where == "section") section = indented(what, "    ");
  if (where == "chart") chart = "    chart: |\n" + indented(what, "      ");
  if (where == "form") form = "form: " + what + "\n";
  if (where == "second") second = what;
  std::string song = "song: Checked\nlanguage: en\n" + top;
  for (const auto& [key, value] :
       {std::pair<std::string, std::string>{"key", "C major"}, {"meter", "4/4"}, {"tempo", "90"}}) {
    if (!holds("\n" + top, "\n" + key + ":")) song += std::string(key).append(": ").append(value).append("\n");
  }
  if (!row.part.empty()) song += "parts:\n  player: {instrument: " + row.part + "}\n";
  if (!second.empty()) song += "  other: {instrument: " + second + "}\n";
  song += "sections:\n  tune:\n" + section + chart;
  if (!row.lanes.empty()) song += "    player: |\n" + indented(row.lanes, "      ");
  if (!second.empty()) {
    const std::string first = row.lanes.substr(0, row.lanes.find("\\n"));
    const auto bars = std::count(first.begin(), first.end(), '|') - 1;
    song += "    other: |\n      notes | D5 : - : - : - |";
    for (std::ptrdiff_t more_bars = bars; more_bars > 1; --more_bars) song += " |";
    song += "\n";
  }
  return song + form;
}

/// "kind" and "kind=words" of everything on the page; a sign that is a path and no glyph is "kind=path". The runs of a
/// chord name are one.
std::set<std::string> printed(const std::string& song) {
  const TempDir folder;
  const Outcome outcome = run_words({"phase", "display", folder.write("song.yaml", song)});
  EXPECT_EQ(outcome.code, 0) << song << outcome.err;
  static const std::regex kItem(R"re(^\s+(\S+) \S+ at .* from (\d+ \d+ \d+) subject)re");
  static const std::regex kGlyphs(R"re( glyphs "((?:[^"\\]|\\.)*)")re");
  std::set<std::string> found;
  std::string name, name_from;
  for (const std::string& line : support::lines_of(outcome.out)) {
    std::smatch item, glyphs;
    if (!std::regex_search(line, item, kItem)) continue;
    const std::string kind = item[1];
    const bool text = std::regex_search(line, glyphs, kGlyphs);
    found.insert(kind);
    if (kind != "chord-name" || !text) {
      found.insert(kind + "=" + (text ? glyphs[1].str() : "path"));
      continue;
    }
    if (name_from != item[2]) name.clear();
    name_from = item[2];
    name += glyphs[1];
    found.insert(kind + "=" + name);
  }
  return found;
}

class Checklist : public testing::Test {
 protected:
  Checklist() { support::use_house_styles(); }
};

TEST_F(Checklist, EveryRowPrintsOrSaysWhyNot) {
  for (const Row& row : rows()) {
    EXPECT_NE(row.prints.empty(), row.why_not.empty()) << row.element << " " << row.values;
    if (row.prints.empty()) continue;
    const std::string song = song_of(row);
    const std::set<std::string> found = printed(song);
    for (const std::string& item : parted(row.prints, " & ")) {
      EXPECT_EQ(found.count(item), 1u) << row.element << " (" << row.values << ") prints no " << item << ":\n" << song;
    }
  }
}

TEST_F(Checklist, TheReadmeTellsWhatIsNotPrinted) {
  std::ifstream file(std::string(TUNESHEAF_SOURCE_DIR) + "/README.md");
  std::stringstream readme;
  readme << file.rdbuf();
  for (const Row& row : rows()) {
    if (row.why_not.empty()) continue;
    EXPECT_TRUE(holds(readme.str(), row.why_not))
        << "the README does not say of " << row.element << ": " << row.why_not;
  }
}

}  // namespace
}  // namespace tunesheaf::app
