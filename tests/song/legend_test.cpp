#include "tunesheaf/song/legend.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "tunesheaf/song/language.h"

namespace tunesheaf::song {
namespace {

std::set<std::string> covered() {
  std::set<std::string> out;
  for (const LegendExample& example : legend_examples()) out.insert(example.covers.begin(), example.covers.end());
  return out;
}

/// Signs that put no mark on paper, or that the entry they refer to explains.
bool leaves_no_mark(const LanguageEntry& entry) {
  static const std::set<std::string> kNone{"every lane -", "every lane .", "every lane \"...\"",
                                           "every lane #", "string 2",     "strum (D)",
                                           "spans on",     "notes D5",     "notes D5+F5"};
  return kNone.count(std::string(entry.where) + " " + std::string(entry.word)) > 0;
}

/// Signs of pitch lanes look as those of string lanes do.
bool as_on_strings(const LanguageEntry& entry) {
  static const std::set<std::string> kSame{"-D5", "x", "(D5)", "D5=", "D5trE5", "gC5-D5"};
  return entry.where == "notes" && kSame.count(std::string(entry.word)) > 0;
}

TEST(Legend, ShowsEverySignSpanAndFormWord) {
  const std::set<std::string> shown = covered();
  for (const LanguageEntry& entry : language()) {
    const bool span = entry.kind == EntryKind::Lane && entry.where == "spans";
    if (entry.kind != EntryKind::Sign && entry.kind != EntryKind::FormWord && !span) continue;
    if (leaves_no_mark(entry) || as_on_strings(entry)) continue;
    const std::string name = std::string(entry.where) + " " + std::string(entry.word);
    EXPECT_EQ(shown.count(name), 1U) << name << " is in the reference but on no legend";
  }
}

TEST(Legend, CoversOnlyWhatTheLanguageHas) {
  std::set<std::string> known;
  for (const LanguageEntry& entry : language()) {
    known.insert(std::string(entry.where) + " " + std::string(entry.word));
  }
  for (const std::string& name : covered()) EXPECT_EQ(known.count(name), 1U) << name << " is not in the reference";
}

TEST(Legend, NoTwoNamesAreAlike) {
  std::set<std::string_view> names;
  for (const LegendExample& example : legend_examples()) EXPECT_TRUE(names.insert(example.name).second) << example.name;
}

TEST(Legend, GroupsStandTogether) {
  for (std::size_t i = 1; i < legend_examples().size(); ++i) {
    EXPECT_LE(legend_examples()[i - 1].group, legend_examples()[i].group) << legend_examples()[i].name;
  }
}

}  // namespace
}  // namespace tunesheaf::song
