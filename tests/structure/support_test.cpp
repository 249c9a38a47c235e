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
