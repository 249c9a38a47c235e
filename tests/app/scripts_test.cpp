// Songs whose words are written in other scripts: every character is drawn, text from right to left is set so and
// stands at the right, and what is copied out of the PDF is in the order in which it is read.
#include <gtest/gtest.h>

#include <algorithm>

#include "../export/shell.h"
#include "press.h"
#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf {
namespace {

struct Script {
  const char* name;
  bool right_to_left;
  std::vector<std::string> words;  ///< as whole words in the PDF, in order: of the title and of a remark
};

const std::vector<Script> kScripts{
    {"hebrew", true, {"שביל", "האבנים", "הרטובות"}},
    {"arabic", true, {"ممر", "الحجارة", "المبللة"}},
    {"greek", false, {"μονοπάτι", "υγρές", "πέτρες"}},
    {"cyrillic", false, {"Тропа", "мокрых", "камней"}},
};

void PrintTo(const Script& script, std::ostream* out) {
  *out << script.name;
}

class Scripts : public testing::TestWithParam<Script> {
 protected:
  void SetUp() override {
    support::use_house_styles();
    path_ = std::string(TUNESHEAF_SOURCE_DIR) + "/tests/songs/scripts/" + GetParam().name + ".yaml";
    app::DiskFiles disk;
    ASSERT_TRUE(app::read_text(work_, disk, path_));
    ASSERT_TRUE(app::to_timeline(work_));
    const auto line = app::parse_command_line({"handout", path_});
    ASSERT_TRUE(line);
    auto press = app::Press::open(work_, *line);
    ASSERT_TRUE(press) << press.error();
    document_ = app::Press::paint(press.value()->handout(work_));
  }
  std::string path_;
  app::Work work_;
  paint::Document document_;
};

TEST_P(Scripts, EveryCharacterIsDrawn) {
  for (const diag::Diagnostic& item : work_.sink.sorted())
    EXPECT_EQ(item.situation.find("no font here has"), std::string::npos) << item.situation;
  for (const paint::Page& page : document_.pages)
    for (const paint::DisplayItem& item : page.items)
      if (const auto* glyphs = std::get_if<paint::GlyphsShape>(&item.shape)) {
        for (const text::Glyph& glyph : glyphs->run.glyphs) EXPECT_NE(glyph.id, 0U) << glyphs->run.text;
      }
}

/// Ends of all that is of a kind, by page.
TEST_P(Scripts, TextStandsAtTheSideWhereItBegins) {
  for (const char* kind : {"remark", "title"}) {
    base::Length left = base::Length::pt(10000), right;
    for (const paint::DisplayItem& item : document_.pages.front().items) {
      if (item.kind.name() != kind) continue;
      left = std::min(left, item.box.left());
      right = std::max(right, item.box.right());
    }
    const bool remark = std::string(kind) == "remark";
    const base::Length from = base::Length::pt(remark ? 470 : 57), to = base::Length::pt(remark ? 567 : 442);
    const base::Length near = base::Length::pt(4);
    if (GetParam().right_to_left) {
      EXPECT_LT(base::abs(right - to), near) << kind;
    } else {
      EXPECT_LT(base::abs(left - from), near) << kind;
    }
  }
}

TEST_P(Scripts, CopiedTextIsInTheOrderOfReading) {
  const support::TempDir folder;
  const std::string pdf = (folder.path() / "out.pdf").string();
  const auto ran = support::run_words({"handout", path_, "-o", pdf});
  ASSERT_EQ(ran.code, 0) << ran.err;
  std::string text = exporting::testing::run("pdftotext '" + pdf + "' -").output;
  // Marks of direction that the reader puts in are no characters of the page.
  for (const char* mark : {"\u202a", "\u202b", "\u202c"})
    for (auto at = text.find(mark); at != std::string::npos; at = text.find(mark)) text.erase(at, 3);
  for (const std::string& word : GetParam().words)
    EXPECT_NE(text.find(word), std::string::npos) << word << "\n" << text;
  EXPECT_LT(text.find(GetParam().words[1]), text.find(GetParam().words[2]));
}

INSTANTIATE_TEST_SUITE_P(Written, Scripts, testing::ValuesIn(kScripts),
                         [](const auto& info) { return std::string(info.param.name); });

}  // namespace
}  // namespace tunesheaf
