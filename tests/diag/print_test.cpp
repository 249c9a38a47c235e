#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "support/golden.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::diag {
namespace {

class PrintTest : public testing::Test {
 protected:
  source::FileId file(const std::string& text, const std::string& path = "songs/heron.yaml") {
    return files_.add(path, text);
  }

  /// The span of the first `word` in a file.
  source::Span find(source::FileId id, const std::string& word) const {
    const std::size_t at = files_.file(id).text().find(word);
    EXPECT_NE(at, std::string_view::npos) << word;
    return {id, static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(at + word.size())};
  }

  void add(source::Span span, const std::string& what = "a fault") { sink_.add(Kind::UnknownName, span, what); }
  std::string people(bool colour = false) const { return print(sink_.sorted(), files_, Format::People, colour); }

  source::Files files_;
  Sink sink_;
};

const char* const kSong =
    "song: The Heron Stair\n"
    "shapes:\n"
    "  home: {frets: x 0 0 0 0 0}\n"
    "sections:\n"
    "  air:\n"
    "    guitar: |\n"
    "      shape | home | hoem |\n";

TEST_F(PrintTest, PeopleSeeThePlaceTheRuleAndTheCure) {
  const auto id = file(kSong);
  sink_.add(Kind::UnknownName, find(id, "hoem"), "no shape is called \"hoem\"",
            "every name in a shape lane is a shape from `shapes:`", "the nearest name is home");
  EXPECT_EQ(people(),
            "songs/heron.yaml, line 7, column 22: error: no shape is called \"hoem\"\n"
            "     7 |       shape | home | hoem |\n"
            "                              ~~~~\n"
            "       every name in a shape lane is a shape from `shapes:`\n"
            "       the nearest name is home\n");
}

TEST_F(PrintTest, SecondLabelsHaveTheirOwnLineAndText) {
  const auto id = file(kSong);
  const auto other = file("tuning: D2 G2\n", "styles/own.yaml");
  sink_.add({Kind::ClaimDiffers,
             {{find(id, "hoem"), "sounds C"}, {find(id, "x 0 0"), "set here"}, {find(other, "G2"), {}}},
             "two causes",
             {},
             {}});
  EXPECT_EQ(people(),
            "songs/heron.yaml, line 7, column 22: warning: two causes\n"
            "     7 |       shape | home | hoem |\n"
            "                              ~~~~ sounds C\n"
            "     3 |   home: {frets: x 0 0 0 0 0}\n"
            "                         ----- set here\n"
            "       styles/own.yaml, line 1, column 12:\n"
            "     1 | tuning: D2 G2\n"
            "                    --\n");
}

TEST_F(PrintTest, UnderlinesCountColumnsAndNotBytes) {
  const auto id = file("ti\u0301tulo: \u6B4C\u6B4C B\u266D7\tx | hoem\n");
  add(find(id, "hoem"));
  EXPECT_EQ(people(),
            "songs/heron.yaml, line 1, column 21: error: a fault\n"
            "     1 | ti\u0301tulo: \u6B4C\u6B4C B\u266D7 x | hoem\n"
            "                              ~~~~\n");
}

TEST_F(PrintTest, ControlCharactersCannotReachTheTerminal) {
  const auto id = file("a: \x1b[31m\u202Ered\x7f\xff hoem\n", "odd\x1b[2J.yaml");
  add(find(id, "hoem"), "the word \x1b[1m is odd");
  EXPECT_EQ(people(),
            "odd\u00B7[2J.yaml, line 1, column 16: error: the word \u00B7[1m is odd\n"
            "     1 | a: \u00B7[31m\u00B7red\u00B7\u00B7 hoem\n"
            "                        ~~~~\n");
  for (const char c : print(sink_.sorted(), files_, Format::Lines, false)) EXPECT_TRUE(c == '\n' || c < 0 || c >= ' ');
}

TEST_F(PrintTest, NothingIsWiderThanThePage) {
  std::string line = "lane: ";
  for (int i = 0; i < 100; ++i) line += "| bar " + std::to_string(i) + " \u6B4C ";
  const auto id = file(line + "\n" + line + "\n" + line + "\n");
  add(find(id, "lane"), std::string(30, 'w') + std::string(" word word word word word word word word word"));
  add(find(id, "bar 50"), "in the middle");
  add(find(id, "99 \u6B4C "), "at the end");
  const auto all = static_cast<std::uint32_t>(line.size());
  sink_.add(
      {Kind::UnknownName, {{{id, 0, all}, "a label that has no room behind the underline"}}, "the whole line", {}, {}});
  std::string text = people();
  for (const std::string& printed : support::split_lines(text)) {
    EXPECT_LE(base::display_columns(printed), 110U) << printed;
  }
  support::expect_golden("diag/long-lines.txt", text);
}

TEST_F(PrintTest, SpansOfSeveralLinesOrNoneShowTheirBeginning) {
  const auto id = file("one\ntwo\n");
  add({id, 1, 7}, "two lines");
  add({id, 8, 8}, "the end");
  add({id, 3, 3}, "nothing");
  EXPECT_EQ(people(),
            "songs/heron.yaml, line 1, column 2: error: two lines\n"
            "     1 | one\n"
            "          ~~\n"
            "\n"
            "songs/heron.yaml, line 1, column 4: error: nothing\n"
            "     1 | one\n"
            "            ~\n"
            "\n"
            "songs/heron.yaml, line 3, column 1: error: the end\n"
            "     3 | \n"
            "         ~\n");
}

TEST_F(PrintTest, ColourTouchesTheSeverityAndTheUnderlineAlone) {
  const auto id = file(kSong);
  add(find(id, "hoem"));
  const std::string plain = people();
  std::string coloured = people(true);
  EXPECT_NE(coloured.find("\x1b[1;31merror\x1b[0m: a fault"), std::string::npos);
  EXPECT_NE(coloured.find("\x1b[1;31m~~~~\x1b[0m"), std::string::npos);
  for (const std::string code : {"\x1b[1;31m", "\x1b[0m"}) {
    for (std::size_t at; (at = coloured.find(code)) != std::string::npos;) coloured.erase(at, code.size());
  }
  EXPECT_EQ(coloured, plain);
}

TEST_F(PrintTest, AFaultWithoutAFileIsPrintedToo) {
  sink_.add({Kind::FileMissing, {}, "there is no file \"heron.yaml\"", "", "check the name"});
  EXPECT_EQ(people(), "error: there is no file \"heron.yaml\"\n       check the name\n");
  EXPECT_EQ(print(sink_.sorted(), files_, Format::Lines, false),
            "error: there is no file \"heron.yaml\"; check the name [file-missing]\n");
  const auto json = nlohmann::json::parse(print(sink_.sorted(), files_, Format::Json, false));
  EXPECT_TRUE(json.at(0).at("file").is_null());
  EXPECT_TRUE(json.at(0).at("line").is_null());
}

TEST_F(PrintTest, LinesHoldOneFaultEach) {
  const auto id = file(kSong);
  sink_.add(Kind::UnknownName, find(id, "hoem"), "no shape is called\n\"hoem\"", "a rule", "a cure");
  sink_.add(Kind::HashInText, find(id, "home"), "doubtful");
  EXPECT_EQ(print(sink_.sorted(), files_, Format::Lines, false),
            "songs/heron.yaml:3:3: warning: doubtful [hash-in-text]\n"
            "songs/heron.yaml:7:22: error: no shape is called \"hoem\"; a rule; a cure [unknown-name]\n");
}

TEST_F(PrintTest, JsonHoldsAllOfIt) {
  const auto id = file("\u6B4C: hoem\n\xff\n");
  sink_.add({Kind::UnknownName,
             {{find(id, "hoem"), "this one"}, {find(id, "\xff"), "bad \xff byte"}},
             "what",
             "rule",
             "cure"});
  const auto json = nlohmann::ordered_json::parse(print(sink_.sorted(), files_, Format::Json, false));
  ASSERT_EQ(json.size(), 1U);
  const auto& d = json.at(0);
  std::string keys;
  for (const auto& [key, value] : d.items()) keys += key + " ";
  EXPECT_EQ(keys, "file line column end_line end_column severity kind situation rule remedy labels ");
  EXPECT_EQ(d.at("line"), 1);
  EXPECT_EQ(d.at("column"), 4);
  EXPECT_EQ(d.at("end_column"), 8);
  EXPECT_EQ(d.at("severity"), "error");
  EXPECT_EQ(d.at("kind"), "unknown-name");
  EXPECT_EQ(d.at("labels").at(0).at("text"), "this one");
  EXPECT_EQ(d.at("labels").at(1).at("line"), 2);
  EXPECT_EQ(d.at("labels").at(1).at("text"), "bad \uFFFD byte");
  EXPECT_EQ(print({}, files_, Format::Json, false), "[]\n");
  EXPECT_EQ(print({}, files_, Format::People, false), "");
}

TEST(Words, AreFitForAMessage) {
  EXPECT_EQ(quoted("home"), "\"home\"");
  EXPECT_EQ(quoted("a\tb\nc"), "\"a b c\"");
  EXPECT_EQ(shown("\u202Ex\uFEFFy"), "\u00B7xy");
  EXPECT_EQ(shortened("abcdef", 6), "abcdef");
  EXPECT_EQ(shortened("abcdefg", 6), "abcde\u2026");
  EXPECT_EQ(shortened("\u6B4C\u6B4C\u6B4C", 5), "\u6B4C\u6B4C\u2026");
  EXPECT_EQ(base::display_columns(diag::quoted(std::string(1000, 'x'))), 62U);
}

}  // namespace
}  // namespace tunesheaf::diag
