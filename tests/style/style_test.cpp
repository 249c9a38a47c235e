// The house style and the cascade of style files.
#include <gtest/gtest.h>

#include <fstream>
#include <set>
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
  const std::vector<std::string> names = style_names(kStyles);
  EXPECT_EQ(names,
            (std::vector<std::string>{"compact", "house", "ink", "large", "left-handed", "phone", "stage", "tab"}));
  for (const std::string& name : names) {
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

Style shipped(const std::string& name, const std::string& paper = "a4") {
  source::Files files;
  diag::Sink sink;
  const auto loaded = load_style(name, paper, kStyles, files, sink);
  EXPECT_TRUE(loaded) << name;
  return loaded ? loaded->style : Style{};
}

std::vector<const TypeRole*> roles_of(const Style& s) {
  return {&s.title, &s.subtitle, &s.body,       &s.note,      &s.label, &s.section_letter, &s.section_name, &s.chord,
          &s.lyric, &s.figure,   &s.bar_number, &s.direction, &s.small, &s.running,        &s.heading};
}

TEST(Styles, EveryLineOfTheirsEndsAtHouse) {
  for (const std::string& name : style_names(kStyles)) {
    if (name == "house") continue;
    source::Files files;
    diag::Sink sink;
    const auto loaded = load_style(name, "a4", kStyles, files, sink);
    ASSERT_TRUE(loaded) << name;
    std::set<std::string> from;
    for (const auto& [token, place] : loaded->provenance) from.insert(place.style);
    EXPECT_EQ(from.count("house"), 1U) << name << " leaves something to the house style";
    EXPECT_EQ(from.count(name), 1U) << name << " changes something";
    EXPECT_NE(slurp(kStyles + "/" + name + ".yaml").find("\nextends: "), std::string::npos) << name;
  }
}

TEST(Styles, TextIsLegibleAndLinesAreThickEnough) {
  for (const std::string& name : style_names(kStyles)) {
    const Style s = shipped(name);
    for (const base::Colour colour : {s.ink, s.accent, s.faint}) {
      EXPECT_GE(contrast(colour, s.ground), 4.5) << name;
      EXPECT_GE(contrast(colour, s.tint), 4.5) << name;
    }
    for (const Length space : {s.staff_space, s.least_staff_space}) {
      const Style sized = with_staff_space(s, space);
      for (const double line : {sized.engraving.staff_line, sized.engraving.stem, sized.engraving.thin_bar}) {
        EXPECT_GE(space * line, Length::mm(0.1999)) << name;
      }
    }
    EXPECT_GE(s.rule, Length::mm(0.2)) << name;
    for (const TypeRole* role : roles_of(s)) EXPECT_GE(role->size, Length::pt(7)) << name;
  }
}

TEST(Styles, LargePrintHasStavesOfTenMillimetresAndNothingBelowFourteenPoints) {
  const Style s = shipped("large");
  EXPECT_GE(s.staff_space * 4.0, Length::mm(10));
  EXPECT_GE(s.least_staff_space * 4.0, Length::mm(10)) << "no system may be set smaller";
  for (const TypeRole* role : roles_of(s)) EXPECT_GE(role->size, Length::pt(14));
}

TEST(Styles, InkHasTwoTonesAlone) {
  const Style s = shipped("ink");
  for (const base::Colour colour : {s.ink, s.accent, s.faint}) EXPECT_EQ(colour, base::kBlack);
  for (const base::Colour colour : {s.tint, s.ground}) EXPECT_EQ(colour, base::kWhite);
  for (const double line : {s.engraving.slur_ends, s.engraving.stem, s.engraving.staff_line, s.engraving.hairpin}) {
    EXPECT_GE(s.least_staff_space * line, Length::mm(0.2));
  }
}

TEST(Styles, StageIsLightOnDarkInTheShapeOfAScreen) {
  const Style s = shipped("stage", "letter");
  EXPECT_NEAR(s.page.paper.height / s.page.paper.width, 4.0 / 3, 1e-6) << "whatever the paper";
  EXPECT_GT(contrast(s.ground, base::kWhite), 10);
  EXPECT_LT(contrast(s.ink, base::kWhite), 2);
}

TEST(Styles, PhoneIsNarrowAndItsTypeLargeBesideIt) {
  const Style phone = shipped("phone"), house = house_style();
  EXPECT_LT(phone.page.paper.width, house.page.paper.width * 0.6);
  EXPECT_GT(phone.body.size / phone.page.paper.width, 1.5 * (house.body.size / house.page.paper.width));
}

TEST(Styles, LeftHandedMirrorsTheBoxesAndNothingElse) {
  Style s = shipped("left-handed");
  EXPECT_TRUE(s.boxes_mirrored);
  s.boxes_mirrored = false;
  s.name = "house";
  EXPECT_EQ(s, house_style());
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
      {"page: {width: 120}\n", "has no unit"},
      {"page: {height: 40 sp}\n", "unit that is not known"},
      {"page: {width: papr}\n", "not a length"},
      {"page: {width: 90 mm}\n", "too little of the page"},
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

TEST_F(StyleFiles, MissingOneNamesTheNearest) {
  write("child", "extends: house\n");
  EXPECT_FALSE(load("chld"));
  EXPECT_NE(messages().find("did you mean \"child\""), std::string::npos) << messages();
  sink_ = {};
  EXPECT_FALSE(load("xyzzy"));
  EXPECT_NE(messages().find("child house"), std::string::npos) << messages();
}

TEST_F(StyleFiles, OwnPageStandsWhateverThePaper) {
  write("slim", "page: {width: 150 mm}\n");
  const auto loaded = load("slim", "letter");
  ASSERT_TRUE(loaded) << messages();
  EXPECT_EQ(loaded->style.page.paper.width, Length::mm(150));
  EXPECT_EQ(loaded->style.page.paper.height, Length::pt(792)) << "a side that is not set is the paper's";
}

TEST_F(StyleFiles, DarkPaperAsksForLighterInk) {
  write("dark", "colour: {ground: \"#101010\", accent: \"#ffffff\", faint: \"#ffffff\"}\n");
  EXPECT_TRUE(load("dark"));
  EXPECT_NE(messages().find("lighter colour"), std::string::npos) << messages();
  EXPECT_NE(messages().find("dark.yaml:1:"), std::string::npos) << "said where the paper is set: " << messages();
}

TEST_F(StyleFiles, OverridesStandOverEveryFile) {
  write("near", "body: {size: 13 pt}\nstaff space: 2 mm\n");
  const StyleWishes wishes{{{"body.size", "14 pt"}, {"body.size", "15 pt"}, {"rhythm.note gap", "4 sp"}}, std::nullopt};
  const auto loaded = load_style("near", "a4", folder_.path().string(), files_, sink_, wishes);
  ASSERT_TRUE(loaded) << messages();
  EXPECT_EQ(loaded->style.body.size, Length::pt(15)) << "the last one counts";
  EXPECT_EQ(loaded->style.rhythm.note_gap, Length::mm(2) * 4.0);
  EXPECT_EQ(loaded->provenance.at("body.size").style, "--set");
  EXPECT_NE(print(*loaded, files_).find("body.size: 15 pt  (--set)"), std::string::npos);
}

TEST_F(StyleFiles, OverridesThatLeaveNoPageAreRefusedWithoutAPlace) {
  const StyleWishes wishes{{{"page.width", "70 mm"}}, std::nullopt};
  EXPECT_FALSE(load_style("house", "a4", "", files_, sink_, wishes));
  EXPECT_NE(messages().find("too little of the page with --set page.width=70 mm"), std::string::npos) << messages();
}

TEST_F(StyleFiles, AnOverrideIsBlamedAndNoLineOfAFile) {
  write("edges", "page: {inner: 20 mm}\n");
  const StyleWishes wishes{{{"page.width", "70 mm"}}, std::nullopt};
  EXPECT_FALSE(load_style("edges", "a4", folder_.path().string(), files_, sink_, wishes));
  EXPECT_NE(messages().find("with --set page.width=70 mm"), std::string::npos) << messages();
  EXPECT_EQ(messages().find("edges.yaml"), std::string::npos) << messages();
}

TEST(Overrides, AreReadOrRefusedInASentence) {
  const auto good = read_override(" staff space = 2mm ");
  ASSERT_TRUE(good);
  EXPECT_EQ(good->token, "staff space");
  EXPECT_EQ(good->value, "2mm");
  const std::pair<const char*, const char*> bad[] = {
      {"bodi.size=12pt", "the nearest is body.size"},
      {"body.size=12", "\"12\" has no unit; body.size is a length in mm, pt or sp"},
      {"body.size=12 em", "unit that is not known"},
      {"body.size", "write body.size=10.5 pt"},
      {"body=12pt", "is a group; its tokens are body.family body.size"},
      {"show staves=tabs", "the nearest is tab"},
      {"colour.ink=red", "not a colour"},
      {"qqq=1", "`tunesheaf reference style` lists them"},
      {"=", "is no token"},
  };
  for (const auto& [text, words] : bad) {
    const auto read = read_override(text);
    ASSERT_FALSE(read) << text;
    EXPECT_NE(read.error().find(words), std::string::npos) << text << ": " << read.error();
  }
}

TEST(Reference, ExplainsEveryToken) {
  const std::string whole = print_reference("");
  for (const Token& token : tokens()) {
    EXPECT_NE(whole.find("  " + token.name + " "), std::string::npos) << token.name;
    const std::string alone = print_reference(token.name);
    EXPECT_EQ(alone.rfind(token.name + "  -  ", 0), 0U) << alone;
    EXPECT_NE(alone.find(token.meaning), std::string::npos) << alone;
    EXPECT_NE(alone.find(token.standard), std::string::npos) << alone;
  }
}

TEST(Reference, KnowsGroupsFieldsWhatIsSpokenOfAndTheNearest) {
  EXPECT_NE(print_reference("page").find("page.inner  -  "), std::string::npos);
  EXPECT_NE(print_reference("size").find("title.size  -  "), std::string::npos);
  EXPECT_NE(print_reference("copier").find("no token \"copier\""), std::string::npos);
  EXPECT_NE(print_reference("left-handed").find("mirrored boxes  -  "), std::string::npos);
  EXPECT_NE(print_reference("staf space").find("The nearest is \"staff space\""), std::string::npos);
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
