#include <gtest/gtest.h>

#include <set>

#include "tunesheaf/diag/diagnostic.h"

namespace tunesheaf::diag {
namespace {

TEST(Kinds, NamesAreUniqueLowerCaseWords) {
  std::set<std::string_view> names;
  for (const Kind kind : all_kinds()) {
    const std::string_view text = name(kind);
    EXPECT_TRUE(names.insert(text).second) << text;
    EXPECT_EQ(text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-"), std::string_view::npos) << text;
  }
  EXPECT_EQ(name(Kind::DuplicateKey), "duplicate-key");
  EXPECT_EQ(severity(Kind::DuplicateKey), Severity::Error);
  EXPECT_EQ(severity(Kind::HashInText), Severity::Warning);
  EXPECT_EQ(name(Severity::Note), "note");
}

TEST(Sink, SortsByPlaceAndKeepsTheOrderOfEquals) {
  Sink sink;
  sink.add(Kind::UnknownName, {1, 0, 1}, "fourth");
  sink.add(Kind::UnknownName, {0, 9, 12}, "third");
  sink.add(Kind::UnknownName, {0, 9, 10}, "first");
  sink.add(Kind::MissingKey, {0, 9, 10}, "second");
  sink.add({Kind::FileMissing, {}, "no place", {}, {}});
  std::string order;
  for (const Diagnostic& d : sink.sorted()) order += d.situation + " ";
  EXPECT_EQ(order, "no place first second third fourth ");
}

TEST(Sink, EqualDiagnosticsCountOnce) {
  Sink sink;
  for (int i = 0; i < 3; ++i) sink.add(Kind::UnknownName, {0, 1, 2}, "what", "rule", "cure");
  sink.add(Kind::UnknownName, {0, 1, 2}, "what", "rule", "another cure");
  sink.add(Kind::UnknownName, {0, 1, 3}, "what", "rule", "cure");
  sink.add(Kind::HashInText, {0, 1, 2}, "what", "rule", "cure");
  EXPECT_EQ(sink.sorted().size(), 4U);
  EXPECT_EQ(sink.errors(), 3U);
  EXPECT_EQ(sink.warnings(), 1U);
  EXPECT_TRUE(sink.has_errors());
}

TEST(Sink, WarningsAloneAreNoErrors) {
  Sink sink;
  EXPECT_FALSE(sink.has_errors());
  sink.add(Kind::HashInText, {0, 1, 2}, "what");
  EXPECT_FALSE(sink.has_errors());
}

}  // namespace
}  // namespace tunesheaf::diag
