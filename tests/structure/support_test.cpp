// The helpers that all tests lean on.
#include <gtest/gtest.h>

#include "support/golden.h"
#include "support/temp_dir.h"

namespace tunesheaf::support {
namespace {

TEST(Golden, UpdatesOnlyWhenAskedAndNeverInCi) {
  EXPECT_EQ(golden_mode(nullptr, nullptr), GoldenMode::Compare);
  EXPECT_EQ(golden_mode("0", nullptr), GoldenMode::Compare);
  EXPECT_EQ(golden_mode("1", nullptr), GoldenMode::Update);
  EXPECT_EQ(golden_mode("1", ""), GoldenMode::Update);
  EXPECT_EQ(golden_mode("1", "true"), GoldenMode::UpdateRefused);
  EXPECT_EQ(golden_mode(nullptr, "true"), GoldenMode::Compare);
}

TEST(Golden, FindsWhereTwoTextsDiffer) {
  const Difference middle = difference({"a", "b", "c"}, {"a", "x", "y", "c"});
  EXPECT_EQ(middle.same_before, 1U);
  EXPECT_EQ(middle.same_after, 1U);
  const Difference longer = difference({"a", "a"}, {"a", "a", "a"});
  EXPECT_EQ(longer.same_before + longer.same_after, 2U);
  EXPECT_EQ(split_lines("a\n\nb"), (std::vector<std::string>{"a", "", "b"}));
}

TEST(Golden, TheReportShowsBothAndMarksWhatDiffers) {
  const TempDir folder;
  const auto file = write_report(folder.path() / "report", "yaml/case.txt", "one\ntwo <b>\n", "one\nthree & four\n");
  const std::string html = read_file(file);
  EXPECT_EQ(file.filename(), "yaml_case.txt.html");
  EXPECT_NE(html.find("<mark>2\ttwo &lt;b>\n</mark>"), std::string::npos) << html;
  EXPECT_NE(html.find("<mark>2\tthree &amp; four\n</mark>"), std::string::npos) << html;
  EXPECT_EQ(html.find("<mark>1"), std::string::npos);
}

TEST(Golden, TheReportOfALayoutShowsOneOverTheOther) {
  const std::string expected =
      "bars 0 to 2\nframe system at 0,0 size 100,20 baseline 5\n"
      "  staff-line 0,6 line line 90,0 stroke 0.63 #161412 subject 0.-1.1\n"
      "  frame inner at 10,4 size 20,10\n"
      "    word 1,2 text text \"a \\\"b\\\" <c\" Gentium Plus 400 italic 13 wide 17.6 #161412\n"
      "    bar 0,0 ink path m1,2 l3,4 c1,1 2,2 3,3 z fill #161412\n"
      "  box 5,5 tint rect 7,8 fill #ffffff stroke 1 #161412\n"
      "frame next at 0,0 size 100,20\n  staff-line 0,6 line line 90,0 stroke 0.63 #161412\n";
  std::string actual = expected;
  actual.replace(actual.find("0,6 line"), 3, "2,7");
  const std::string html = html_report("engrave/case.txt", expected, actual);
  for (const char* mark :
       {"overlay: expected red, actual blue", "<line x1=\"0\" y1=\"6\" x2=\"90\" y2=\"6\"",
        "<line x1=\"2\" y1=\"7\" x2=\"92\" y2=\"7\"", "<text x=\"11\" y=\"6\" font-family=\"Gentium Plus\"",
        ">a \"b\" &lt;c</text>", "translate(10 4)\" d=\"M1,2 L3,4 C1,1 2,2 3,3 z \"", "<rect x=\"5\" y=\"5\"",
        "<line x1=\"0\" y1=\"32\""}) {
    EXPECT_NE(html.find(mark), std::string::npos) << mark << "\n" << html;
  }
  EXPECT_EQ(html_report("a.txt", "one\n", "two\n").find("overlay"), std::string::npos);
  EXPECT_NE(html_report("a.txt", "", actual).find("overlay"), std::string::npos) << "a golden that is not there yet";
}

TEST(TempDir, IsGoneAfterwards) {
  std::filesystem::path path;
  {
    const TempDir folder;
    path = folder.path();
    EXPECT_EQ(read_file(folder.write("deep/song.yaml", "song: x\n")), "song: x\n");
    const TempDir other;
    EXPECT_NE(other.path(), path);
  }
  EXPECT_FALSE(std::filesystem::exists(path));
  EXPECT_THROW(read_file(path / "song.yaml"), std::runtime_error);
}

}  // namespace
}  // namespace tunesheaf::support
