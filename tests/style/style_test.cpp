// The house style and the cascade of style files.
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "support/temp_dir.h"
#include "tunesheaf/style/load.h"
#include "tunesheaf/style/tokens.h"

namespace tunesheaf::style {
namespace {

using base::Length;

const std::string kStyles = std::string(TUNESHEAF_SOURCE_DIR) + "/styles";

std::string slurp(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

class StyleFiles : public ::testing::Test {
 protected:
  void write(const std::string& name, const std::string& text) {
    std::ofstream(folder_.path() / (name + ".yaml"), std::ios::binary) << text;
  }
  std::optional<LoadedStyle> load(const std::string& name, const std::string& paper = "a4") {
    return load_style(name, paper, folder_.path().string(), files_, sink_);
  }
  std::string messages() { return diag::print(sink_.sorted(), files_, diag::Format::Lines, false); }

  support::TempDir folder_;
  source::Files files_;
  diag::Sink sink_;
};

TEST_F(StyleFiles, AFileIsLookedForBesideTheStyleThatNamesIt) {
  const support::TempDir elsewhere;
  std::ofstream(elsewhere.path() / "base.yaml") << "staff space: 2 mm\n";
  std::ofstream(elsewhere.path() / "mine.yaml") << "extends: base.yaml\n";
  const auto loaded = load((elsewhere.path() / "mine.yaml").string());
  ASSERT_TRUE(loaded) << messages();
  EXPECT_EQ(loaded->style.staff_space, Length::mm(2));
}

TEST_F(StyleFiles, WithoutAFolderOnlyHouseIsThere) {
  EXPECT_FALSE(load_style("nosuch", "a4", "", files_, sink_));
  EXPECT_NE(diag::print(sink_.sorted(), files_, diag::Format::People, false).find("house is the only style"),
            std::string::npos);
}

TEST(HouseStyle, IsTheTableOfTokens) {
  const Style house = house_style();
  EXPECT_EQ(house.page.paper.width, Length::mm(210));
  EXPECT_EQ(house.page.paper.height, Length::mm(297));
  EXPECT_EQ(house.staff_space, Length::mm(1.7));
  EXPECT_EQ(house.title.family, "Gentium Plus");
  EXPECT_DOUBLE_EQ(house.engraving.stem, 0.12);
  EXPECT_EQ(house.show_staves, "both");
}

TEST(HouseStyle, KnowsTheUsualLetterPaper) {
  const Style letter = house_style("letter");
  EXPECT_EQ(letter.page.paper.width, Length::pt(612));
  EXPECT_EQ(letter.page.paper.height, Length::pt(792));
}

TEST(HouseStyle, LinesArePrintableAndTextIsLegible) {
  for (const char* paper : {"a4", "letter"}) {
    const Style s = house_style(paper);
    const Length least = Length::mm(0.2);
    EXPECT_GE(s.staff_space * s.engraving.staff_line, least);
    EXPECT_GE(s.staff_space * s.engraving.stem, least);
    EXPECT_GE(s.rule, least);
    for (const TypeRole* role :
         {&s.title, &s.subtitle, &s.body, &s.note, &s.label, &s.section_letter, &s.section_name, &s.chord, &s.lyric,
          &s.figure, &s.bar_number, &s.direction, &s.small, &s.running, &s.heading}) {
      EXPECT_GE(role->size, Length::pt(7));
    }
    for (const base::Colour colour : {s.ink, s.accent, s.faint}) {
      EXPECT_GE(contrast(colour, s.ground), 4.5);
      EXPECT_GE(contrast(colour, s.tint), 4.5);
    }
  }
}

TEST(HouseStyle, MarginColumnIsAboutAQuarterOfThePage) {
  const Style s = house_style();
  const double share = (s.page.margin_column + s.page.outer) / s.page.paper.width;
  EXPECT_GT(share, 0.2);
  EXPECT_LT(share, 0.3);
  EXPECT_GE(s.page.inner, Length::mm(18)) << "holes are punched 12 mm from the edge, 6 mm wide (ISO 838)";
}

TEST(HouseStyle, FileInTheFolderSaysTheSame) {
  EXPECT_EQ(slurp(kStyles + "/house.yaml"), print_house());
  source::Files files;
  diag::Sink sink;
  const auto loaded = load_style("house", "a4", kStyles, files, sink);
  ASSERT_TRUE(loaded);
  EXPECT_EQ(loaded->style, house_style());
}

TEST(Styles, AllThatComeWithTheProgramLoadWithoutAWord) {
  for (const char* name : {"house", "large", "ink", "left-handed", "tab"}) {
    for (const char* paper : {"a4", "letter"}) {
      source::Files files;
      diag::Sink sink;
      const auto loaded = load_style(name, paper, kStyles, files, sink);
      ASSERT_TRUE(loaded) << name << diag::print(sink.sorted(), files, diag::Format::Lines, false);
      EXPECT_TRUE(sink.sorted().empty()) << name;
      EXPECT_EQ(loaded->style.name, name);
    }
  }
}

TEST(Styles, LargePrintHasNothingBelowTenPoints) {
  source::Files files;
  diag::Sink sink;
  const auto loaded = load_style("large", "a4", kStyles, files, sink);
  ASSERT_TRUE(loaded);
  const Style& s = loaded->style;
  for (const TypeRole* role :
       {&s.title, &s.subtitle, &s.body, &s.note, &s.label, &s.section_letter, &s.section_name, &s.chord, &s.lyric,
        &s.figure, &s.bar_number, &s.direction, &s.small, &s.running, &s.heading}) {
    EXPECT_GE(role->size, Length::pt(10));
  }
}

TEST_F(StyleFiles, CascadeTakesTheNearestAndRemembersWhere) {
  write("far", "extends: house\nstaff space: 2 mm\nbody: {size: 12 pt}\n");
  write("near", "extends: far\nbody:\n  size: 13 pt\nengraving: {staff gap: 5 sp}\n");
  const auto loaded = load("near");
  ASSERT_TRUE(loaded) << messages();
  EXPECT_EQ(loaded->style.body.size, Length::pt(13));
  EXPECT_EQ(loaded->style.staff_space, Length::mm(2));
  EXPECT_DOUBLE_EQ(loaded->style.engraving.staff_gap, 5);
  EXPECT_EQ(loaded->style.note.size, house_style().note.size);
  EXPECT_EQ(loaded->provenance.at("body.size").style, "near");
  EXPECT_EQ(loaded->provenance.at("staff space").style, "far");
  EXPECT_EQ(loaded->provenance.at("note.size").style, "house");
  EXPECT_EQ(loaded->provenance.size(), tokens().size());
  EXPECT_NE(print(*loaded, files_).find("body.size: 13 pt"), std::string::npos);
}

TEST_F(StyleFiles, StaffSpacesAreMeasuredByTheStyleItself) {
  write("big", "rhythm: {system gap: 4 sp}\nstaff space: 2 mm\n");
  const auto loaded = load("big");
  ASSERT_TRUE(loaded) << messages();
  EXPECT_EQ(loaded->style.rhythm.system_gap, Length::mm(2) * 4.0);
}

TEST_F(StyleFiles, UnknownTokenNamesTheNearest) {
  write("odd", "bodi: {size: 12 pt}\nbody: {siez: 12 pt}\n");
  EXPECT_FALSE(load("odd"));
  EXPECT_NE(messages().find("\"body\""), std::string::npos) << messages();
  EXPECT_NE(messages().find("\"size\""), std::string::npos) << messages();
  EXPECT_NE(messages().find("odd.yaml:2:8"), std::string::npos) << messages();
}

TEST_F(StyleFiles, UnitsAreAsked) {
  const std::pair<const char*, const char*> bad[] = {
      {"body: {size: 12}\n", "has no unit"},
      {"body: {size: 12 cm}\n", "unit that is not known"},
      {"engraving: {stem: 0.1 mm}\n", "unit that is not known"},
      {"engraving: {last system: 1.2}\n", "has no unit"},
      {"body: {size: 6.9 pt}\n", "smaller than 7 pt"},
      {"body: {weight: 450}\n", "no weight"},
      {"title: {italic: maybe}\n", "neither yes nor no"},
      {"show staves: tabs\n", "did you mean \"tab\""},
      {"colour: {ink: blue}\n", "not a colour"},
      {"colour: {ink: }\n", "no value"},
      {"colour: 3\n", "holds no tokens"},
      {"page: {inner: 90 mm, outer: 60 mm}\n", "too little of the page"},
  };
  for (const auto& [text, words] : bad) {
    sink_ = {};
    write("bad", text);
    EXPECT_FALSE(load("bad")) << text;
    EXPECT_NE(messages().find(words), std::string::npos) << text << messages();
  }
}

TEST_F(StyleFiles, PaleInkIsAWarning) {
  write("pale", "colour: {faint: \"#aaaaaa\"}\n");
  EXPECT_TRUE(load("pale"));
  EXPECT_NE(messages().find("2.3 to 1"), std::string::npos) << messages();
}

TEST_F(StyleFiles, ChainThatBitesItsTail) {
  write("one", "extends: two\n");
  write("two", "extends: one\n");
  EXPECT_FALSE(load("one"));
  EXPECT_NE(messages().find("extends itself"), std::string::npos) << messages();
}

TEST_F(StyleFiles, StyleThatIsNotThere) {
  EXPECT_FALSE(load("gone"));
  EXPECT_NE(messages().find("\"gone\" is not there"), std::string::npos) << messages();
  write("child", "extends: parent\n");
  EXPECT_FALSE(load("child"));
  EXPECT_NE(messages().find("child.yaml:1:10"), std::string::npos) << messages();
}

TEST_F(StyleFiles, PathStandsForAName) {
  write("own", "body: {size: 11 pt}\n");
  const auto loaded = load((folder_.path() / "own.yaml").string());
  ASSERT_TRUE(loaded) << messages();
  EXPECT_EQ(loaded->style.name, "own");
  EXPECT_EQ(loaded->style.body.size, Length::pt(11));
}

TEST(Tokens, EachTakesItsStandard) {
  for (const Token& token : tokens()) {
    Style style = house_style();
    EXPECT_EQ(set_token(style, token, token.standard), "") << token.name;
    EXPECT_EQ(style, house_style()) << token.name;
    EXPECT_FALSE(token.meaning.empty()) << token.name;
    EXPECT_NE(set_token(style, token, ""), "") << token.name;
  }
}

TEST(Tokens, ContrastIsThatOfTheStandard) {
  EXPECT_NEAR(contrast(base::kBlack, base::kWhite), 21.0, 1e-9);
  EXPECT_NEAR(contrast({0x76, 0x76, 0x76, 255}, base::kWhite), 4.54, 0.01);  // the standard's best known grey
}

}  // namespace
}  // namespace tunesheaf::style
