#include "tunesheaf/source/source.h"

#include <gtest/gtest.h>

#include <stdexcept>

namespace tunesheaf::source {
namespace {

std::string at(const File& file, std::uint32_t offset) {
  const Place place = file.place(offset);
  return std::to_string(place.line) + ":" + std::to_string(place.column);
}

TEST(File, ColumnsCountCodePoints) {
  const File file(0, "a.yaml", "B\u266D x\nn\u00E9e\n");
  EXPECT_EQ(at(file, 0), "1:1");
  EXPECT_EQ(at(file, 1), "1:2");
  EXPECT_EQ(at(file, 4), "1:3");
  EXPECT_EQ(at(file, 6), "1:5");
  EXPECT_EQ(at(file, 7), "2:1");
  EXPECT_EQ(at(file, 10), "2:3");
}

TEST(File, LinesEndWithLfOrCrLf) {
  const File file(0, "a.yaml", "one\r\ntwo\n\r\nfour");
  ASSERT_EQ(file.line_count(), 4U);
  EXPECT_EQ(file.line(1), "one");
  EXPECT_EQ(file.line(2), "two");
  EXPECT_EQ(file.line(3), "");
  EXPECT_EQ(file.line(4), "four");
  EXPECT_EQ(file.line_start(2), 5U);
  EXPECT_EQ(at(file, 5), "2:1");
  EXPECT_EQ(at(file, 11), "4:1");
  EXPECT_THROW(file.line(5), std::out_of_range);
}

TEST(File, TheEndIsAPlaceToo) {
  const File file(0, "a.yaml", "one\n");
  EXPECT_EQ(file.line_count(), 2U);
  EXPECT_EQ(at(file, 4), "2:1");
  EXPECT_EQ(at(file, 999), "2:1");
  EXPECT_EQ(file.line(2), "");
  const File empty(0, "b.yaml", "");
  EXPECT_EQ(empty.line_count(), 1U);
  EXPECT_EQ(at(empty, 0), "1:1");
}

TEST(File, AByteOrderMarkTakesNoColumn) {
  const File file(0, "a.yaml", "\xEF\xBB\xBFsong: x\n");
  EXPECT_EQ(at(file, 3), "1:1");
  EXPECT_EQ(at(file, 0), "1:1");
  EXPECT_EQ(at(file, 9), "1:7");
}

TEST(File, SliceKeepsInsideTheFile) {
  const File file(0, "a.yaml", "home");
  EXPECT_EQ(file.slice({0, 1, 3}), "om");
  EXPECT_EQ(file.slice({0, 2, 99}), "me");
  EXPECT_EQ(file.slice({0, 99, 120}), "");
}

TEST(Files, IdsCountFromZero) {
  Files files;
  EXPECT_EQ(files.add("a", "1"), 0U);
  EXPECT_EQ(files.add("b", "2"), 1U);
  EXPECT_EQ(files.size(), 2U);
  EXPECT_EQ(files.file(1).path(), "b");
  EXPECT_EQ(files.file(1).id(), 1U);
  EXPECT_THROW(files.file(2), std::out_of_range);
}

TEST(Span, CoverReachesFromTheFirstToTheLast) {
  EXPECT_EQ(cover({0, 5, 7}, {0, 1, 3}), (Span{0, 1, 7}));
  EXPECT_EQ(cover({0, 1, 9}, {0, 2, 3}), (Span{0, 1, 9}));
  EXPECT_EQ((Span{0, 2, 5}).length(), 3U);
}

}  // namespace
}  // namespace tunesheaf::source
