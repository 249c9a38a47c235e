// The leaf of signs as the program makes it.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf {
namespace {

TEST(LegendSheet, IsPrintedWithoutAFinding) {
  support::use_house_styles();
  const support::TempDir folder;
  const std::string target = (folder.path() / "signs.pdf").string();
  const support::Outcome run = support::run_words({"legend", "-o", target});
  EXPECT_EQ(run.code, 0) << run.err;
  EXPECT_EQ(run.err, "");
  std::ifstream file(target, std::ios::binary);
  const std::string bytes((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
  EXPECT_EQ(bytes.substr(0, 5), "%PDF-");
}

TEST(LegendSheet, AnotherEndingIsRefused) {
  const support::Outcome run = support::run_words({"legend", "-o", "signs.docx"});
  EXPECT_EQ(run.code, 2);
  EXPECT_TRUE(support::holds(run.err, "should end in .pdf, .svg or .png")) << run.err;
}

}  // namespace
}  // namespace tunesheaf
