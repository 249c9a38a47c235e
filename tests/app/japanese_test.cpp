// Japanese in a title, names, a remark and lyrics. Where its fonts are installed every character is drawn and no line
// begins or ends with what may not stand there (JIS X 4051); where they are not, it is said once for each place, with
// the package that has them.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "press.h"
#include "runner.h"
#include "support/temp_dir.h"
#include "tunesheaf/text/font_book.h"

namespace tunesheaf {
namespace {

constexpr const char* kRiverside = R"(song: 川辺の朝
language: ja
meter: 4/4
parts:
  歌: {instrument: voice}
  ギター: {instrument: guitar}
sections:
  はじめ:
    歌: |
      notes | C4 : D4 : E4 : G4 | E4 : D4 : C4 : - |
      lyric | か : わ : べ : の | あ : さ : よ : - |
    ギター: |
      2 | 1 : - : - : - | 3 : - : - : - |
      see | a : - : - : - | - : - : - : - |
    remarks:
      a: ゆっくり弾き始めて、左手の指を弦から離さないようにしてください。次の小節では少しずつ速くなりますが、あわてずに数えましょう。「声に出して」数えると楽です。
)";

class Japanese : public testing::Test {
 protected:
  void SetUp() override {
    support::use_house_styles();
    const std::string path = (folder_.path() / "riverside.yaml").string();
    std::ofstream(path) << kRiverside;
    app::DiskFiles disk;
    ASSERT_TRUE(app::read_text(work_, disk, path));
    ASSERT_TRUE(app::to_timeline(work_));
    const auto line = app::parse_command_line({"handout", path});
    ASSERT_TRUE(line);
    auto press = app::Press::open(work_, *line);
    ASSERT_TRUE(press) << press.error();
    document_ = app::Press::paint(press.value()->handout(work_));
  }
  static bool installed() {
    const auto book = text::FontBook::open(text::FontBook::usual_folders());
    return book && book.value()->face_for(U'\u5ddd', {"Gentium Plus"}).has_value();
  }
  std::vector<diag::Diagnostic> missing() const {
    std::vector<diag::Diagnostic> found;
    for (const diag::Diagnostic& item : work_.sink.sorted())
      if (item.kind == diag::Kind::SheetMissingCharacter) found.push_back(item);
    return found;
  }
  support::TempDir folder_;
  app::Work work_;
  paint::Document document_;
};

void expect_drawn_and_broken_where_it_may(const paint::Document& document,
                                          const std::vector<diag::Diagnostic>& missing) {
  EXPECT_TRUE(missing.empty());
  const std::vector<std::string> not_first{"、", "。", "」", "ょ", "っ", "ー"}, not_last{"「"};
  std::map<base::Length, std::map<base::Length, std::string>> lines;  // of the remark, by baseline; their runs by x
  for (const paint::Page& page : document.pages)
    for (const paint::DisplayItem& item : page.items) {
      const auto* glyphs = std::get_if<paint::GlyphsShape>(&item.shape);
      if (glyphs == nullptr) continue;
      for (const text::Glyph& glyph : glyphs->run.glyphs) EXPECT_NE(glyph.id, 0U) << glyphs->run.text;
      if (item.kind == paint::Kind("remark")) lines[item.at.y][item.at.x] = glyphs->run.text;
    }
  for (const auto& [baseline, runs] : lines) {
    const std::string &first = runs.begin()->second, &last = runs.rbegin()->second;
    for (const std::string& mark : not_first) EXPECT_FALSE(first.starts_with(mark)) << first;
    for (const std::string& mark : not_last) EXPECT_FALSE(last.ends_with(mark)) << last;
  }
  EXPECT_GT(lines.size(), 3U);  // the margin is narrow
}

void expect_said_once_for_each_place(const std::vector<diag::Diagnostic>& missing) {
  std::set<source::Span> places;
  for (const diag::Diagnostic& item : missing) {
    ASSERT_FALSE(item.labels.empty());
    EXPECT_TRUE(places.insert(item.labels.front().span).second) << item.situation;
  }
  ASSERT_FALSE(missing.empty());
  EXPECT_NE(missing.front().situation.find("川辺の朝"), std::string::npos) << missing.front().situation;
}

/// The package fonts-noto-cjk is not asked for: what is right depends on whether it is installed.
TEST_F(Japanese, IsPrintedWhereAFontHasItAndElseSaidToBeMissing) {
  if (installed()) {
    expect_drawn_and_broken_where_it_may(document_, missing());
  } else {
    expect_said_once_for_each_place(missing());
  }
}

}  // namespace
}  // namespace tunesheaf
