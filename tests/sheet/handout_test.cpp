// A whole handout of the sample song, with the fixed-width shaper.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "blocks/bench_setting.h"
#include "tunesheaf/sheet/sheet.h"

namespace tunesheaf::sheet {
namespace {

using base::Length;
using base::Point;
using testing::Bench;
using testing::each_item;
using testing::text_of;

struct Made {
  Sheet sheet;
  diag::Sink sink;
};
Made make(Bench& bench, std::vector<std::string> parts = {}, const std::string& recording = "") {
  Made made;
  made.sheet =
      make_handout({bench.song, bench.style, *bench.shaper, bench.music, std::move(parts), recording}, made.sink);
  return made;
}

std::string all_text(const Sheet& sheet) {
  std::string out;
  for (const auto& page : sheet.pages) out += text_of(*page);
  return out;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

TEST(Handout, EveryPageHasItsRunningLine) {
  Bench bench;
  const Made made = make(bench);
  const std::size_t count = made.sheet.pages.size();
  ASSERT_GE(count, 2U);
  for (std::size_t i = 0; i < count; ++i) {
    const std::string text = text_of(*made.sheet.pages[i]);
    EXPECT_TRUE(has(text, "page " + std::to_string(i + 1) + " of " + std::to_string(count))) << text;
    EXPECT_TRUE(has(text, "revised 24 November 2026"));
    EXPECT_TRUE(has(text, "The Heron Stair"));
  }
}

TEST(Handout, SaysOfItselfWhatItIs) {
  Bench bench;
  const Sheet sheet = make(bench).sheet;
  EXPECT_EQ(sheet.title, "The Heron Stair");
  EXPECT_EQ(sheet.author, "Saltmarsh Assembly");
  EXPECT_EQ(sheet.language, "en");
  EXPECT_EQ(sheet.subject, "Lesson handout, handout 14");
  EXPECT_EQ(sheet.keywords, "guitar, double bass, drum kit, G major, handout 14");
}

TEST(Handout, BlocksStandInTheirOrder) {
  Bench bench;
  const std::string text = all_text(make(bench).sheet);
  const auto in_order = [&](std::size_t from, const std::vector<std::string>& words) {
    for (const std::string& word : words) {
      const std::size_t at = text.find(word, from);
      EXPECT_NE(at, std::string::npos) << word;
      from = at;
    }
  };
  in_order(0, {"Saltmarsh", "Tuning", "Form", "Shapes", "bars 1\u20134"});
  // The keys stand at the end, or behind the shapes where that saves a page.
  in_order(text.find("Shapes"), {"on the staff", "Signs", "For private"});
}

TEST(Handout, NothingLeavesThePrintableAreaOnEitherPaper) {
  for (const char* paper : {"a4", "letter"}) {
    Bench bench(testing::SampleSong().build(), paper);
    const Made made = make(bench);
    for (const auto& page : made.sheet.pages) {
      EXPECT_EQ(page->size, made.sheet.paper);
      const auto ink = layout::ink_of(*page);
      ASSERT_TRUE(ink);
      EXPECT_TRUE(made.sheet.printable.contains(*ink)) << paper << "\n" << layout::print(*page).substr(0, 400);
    }
  }
}

TEST(Handout, EachExpectedNoteIsDrawnOnceOnItsStaff) {
  Bench bench;
  const Made made = make(bench);
  std::map<layout::Subject, int> drawn;
  for (const auto& page : made.sheet.pages) {
    each_item(*page, {}, [&](const layout::Item& item, Point) {
      if (item.kind == layout::Kind("note-head") || item.kind == layout::Kind("tab-figure")) ++drawn[item.subject];
    });
  }
  EXPECT_EQ(drawn.size(), made.sheet.expected.size());
  for (const Expected& expected : made.sheet.expected) {
    EXPECT_EQ(drawn[expected.subject], 1)
        << expected.subject.staff << "." << expected.subject.event << "." << expected.subject.note;
  }
  // Sixteen bars with six notes, on notation and tab.
  EXPECT_EQ(made.sheet.expected.size(), 16U * 6U * 2U);
}

TEST(Handout, OneBookmarkASection) {
  Bench bench;
  std::vector<std::string> titles;
  for (const auto& page : make(bench).sheet.pages) {
    each_item(*page, {}, [&](const layout::Item& item, Point) {
      if (const auto* mark = std::get_if<layout::BookmarkShape>(&item.shape)) titles.push_back(mark->title);
    });
  }
  EXPECT_EQ(titles, (std::vector<std::string>{"A  opening", "B  air", "C  last air"}));
}

TEST(Handout, ChosenPartsOnly) {
  Bench bench;
  const Made made = make(bench, {"double bass"});
  EXPECT_TRUE(made.sheet.expected.empty()) << "the bass rests throughout";
  const std::string text = all_text(made.sheet);
  EXPECT_FALSE(has(text, "two-finger"));
  EXPECT_TRUE(has(text, "double bass"));
}

TEST(Handout, RecordingOfThePlayersChoice) {
  Bench bench;
  EXPECT_FALSE(has(all_text(make(bench, {}, "in concert").sheet), "65.4")) << "with the capo off the strings stay";
  bench.song.parts[0].capo = 0;
  const std::string text = all_text(make(bench, {}, "in concert").sheet);
  EXPECT_TRUE(has(text, "65.4")) << "D2 two semitones lower is 65.41 Hz";
  EXPECT_TRUE(has(text, "A4 = 392 Hz"));
  EXPECT_TRUE(has(text, "as that recording sounds"));
}

TEST(Handout, UnknownChoicesNameTheNearest) {
  Bench bench;
  const HandoutRequest request{bench.song, bench.style, *bench.shaper, bench.music, {"gitar", "cajon"}, "studoi"};
  const auto unknown = unknown_choices(request);
  ASSERT_EQ(unknown.size(), 2U);
  EXPECT_EQ(unknown[0].word, "gitar");
  EXPECT_EQ(unknown[0].nearest, "guitar");
  EXPECT_EQ(unknown[1].nearest, "studio");
}

TEST(Handout, TooWideARowIsAWarning) {
  Bench bench;
  bench.song.lesson = testing::words(std::string(200, 'm'));
  const Made made = make(bench);
  const auto found = made.sink.sorted();
  EXPECT_TRUE(std::any_of(found.begin(), found.end(),
                          [](const diag::Diagnostic& d) { return d.kind == diag::Kind::SheetWordTooWide; }));
}

TEST(Handout, SampleSongHasNoWarnings) {
  Bench bench;
  const Made made = make(bench);
  for (const diag::Diagnostic& d : made.sink.sorted()) ADD_FAILURE() << d.situation;
}

TEST(Handout, LongTitleIsCutInTheRunningLineOnly) {
  Bench bench;
  std::string title;
  for (int i = 0; i < 30; ++i) title += "Stair ";
  bench.song.title = testing::words(title);
  const Made made = make(bench);
  const std::string text = text_of(*made.sheet.pages.back());
  EXPECT_TRUE(has(text, "…")) << text;
  for (const auto& page : made.sheet.pages) EXPECT_TRUE(made.sheet.printable.contains(*layout::ink_of(*page)));
}

TEST(Handout, SameInputSamePages) {
  Bench a, b;
  EXPECT_EQ(print(make(a).sheet), print(make(b).sheet));
}

TEST(Handout, SongWithoutAnythingButATitleStillPrints) {
  score::Timeline bare;
  bare.title = testing::words("Bare");
  Bench bench(bare);
  const Made made = make(bench);
  ASSERT_EQ(made.sheet.pages.size(), 1U);
  EXPECT_TRUE(has(text_of(*made.sheet.pages[0]), "page 1 of 1"));
}

}  // namespace
}  // namespace tunesheaf::sheet
