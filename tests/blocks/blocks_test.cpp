// The blocks of a handout on a sample song, with the fixed-width shaper.
#include <gtest/gtest.h>
#include <qrencode.h>

#include <map>
#include <set>

#include "blocks/bench_setting.h"
#include "support/golden.h"
#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/blocks/map.h"
#include "tunesheaf/blocks/qr.h"
#include "tunesheaf/blocks/section.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/title.h"
#include "tunesheaf/blocks/tuning.h"

namespace tunesheaf::blocks {
namespace {

using base::Length;
using base::Point;
using testing::Bench;
using testing::count_kind;
using testing::each_item;
using testing::has;
using testing::packed;
using testing::text_of;

TEST(Goldens, BlocksAsTheyAreLaidOut) {
  Bench bench;
  const Setting setting = bench.setting();
  support::expect_golden("blocks/title.layout", testing::print(title_block(setting)));
  support::expect_golden("blocks/tuning.layout", testing::print(tuning_ladder(setting)));
  support::expect_golden("blocks/form.layout", testing::print(section_map(setting)));
  support::expect_golden("blocks/shapes.layout", testing::print(shapes_block(setting)));
  support::expect_golden("blocks/legend.layout", testing::print(sign_legend(setting)));
  support::expect_golden("blocks/drum-key.layout", testing::print(drum_key(setting)));
}

TEST(Title, HoldsEveryFactOfTheSong) {
  Bench bench;
  const std::string text = packed(text_of(title_block(bench.setting())));
  for (const char* word :
       {"The Heron Stair", "Saltmarsh Assembly", "handout 14", "G major", "3/4", "= 96", "straight",
        "18 cents sharp of this page", "2 semitones below this page", "Take the capo off", "marks the teacher"}) {
    EXPECT_TRUE(has(text, packed(word))) << word << "\n" << text;
  }
}

TEST(Title, SaysNothingOfTheTeacherWhereTheTeacherAddsNothing) {
  Bench bench;
  for (auto& shape : bench.song.shapes) shape.from = song::Authority::Recording;
  for (auto& section : bench.song.sections) {
    for (auto& remark : section.remarks) remark.from = song::Authority::Recording;
  }
  EXPECT_FALSE(has(text_of(title_block(bench.setting())), "marks the teacher"));
}

TEST(Qr, MergedRectanglesAreTheModulesOfTheStandardsOwnMaker) {
  const std::string link = "https://example.org/lessons/14";
  const auto frame = qr_square(link, Length::mm(38), {base::kBlack, {}});
  ASSERT_TRUE(frame);
  QRcode* code = QRcode_encodeString(link.c_str(), 0, QR_ECLEVEL_M, QR_MODE_8, 1);
  ASSERT_NE(code, nullptr);
  const Length module = frame->size.width / (code->width + 8);
  EXPECT_GE(module, Length::mm(0.4) - Length::raw(1));
  std::set<std::pair<int, int>> dark;
  int painted = 0;
  for (const layout::Item& item : frame->items) {
    const auto& rect = std::get<layout::RectShape>(item.shape);
    const auto cells = [&](Length l) { return static_cast<int>(std::lround(l / module)); };
    for (int x = 0; x < cells(rect.size.width); ++x) {
      for (int y = 0; y < cells(rect.size.height); ++y) {
        dark.insert({cells(item.at.x) + x - 4, cells(item.at.y) + y - 4});
        ++painted;
      }
    }
  }
  EXPECT_EQ(static_cast<int>(dark.size()), painted) << "no module is painted twice";
  for (int y = 0; y < code->width; ++y) {
    for (int x = 0; x < code->width; ++x) {
      const bool expected = (code->data[y * code->width + x] & 1) != 0;
      ASSERT_EQ(dark.count({x, y}) == 1, expected) << x << "," << y;
    }
  }
  QRcode_free(code);
}

TEST(Qr, IsDarkOnLightEvenOnDarkPaper) {
  const base::Colour pale{244, 239, 228}, night{18, 17, 15};
  EXPECT_EQ(qr_colours(base::kBlack, base::kWhite).dark, base::kBlack);
  EXPECT_FALSE(qr_colours(base::kBlack, base::kWhite).patch);
  const QrColours colours = qr_colours(pale, night);
  EXPECT_EQ(colours.dark, night);
  EXPECT_EQ(colours.patch, pale);
  const auto frame = qr_square("https://example.org", Length::mm(38), colours);
  ASSERT_TRUE(frame);
  const auto& patch = std::get<layout::RectShape>(frame->items.front().shape);
  EXPECT_EQ(patch.size, frame->size) << "the quiet zone is on the patch";
  EXPECT_EQ(patch.fill, pale);
}

TEST(Qr, TooLongALinkGetsNoSquare) {
  EXPECT_FALSE(qr_square("https://example.org/" + std::string(1500, 'a'), Length::mm(38), {base::kBlack, {}}));
}

TEST(Tuning, NumbersAreThoseOfEqualTemperament) {
  Bench bench;
  const std::string text = text_of(tuning_ladder(bench.setting()));
  // D2 = 73.42 Hz; 18 cents higher 74.18; two semitones down: tension 2^(-2/6) with the cents 2^(-1.82/6) = 0.810.
  for (const char* word : {"73.4", "74.2", "D4", "293.7", "2 semitones down", "−19 %", "A4 = 444.6 Hz", "stays"}) {
    EXPECT_TRUE(has(text, word)) << word << "\n" << text;
  }
  EXPECT_FALSE(has(text, "Caution")) << "no string goes up here";
  EXPECT_TRUE(has(packed(text), "doublebass:usualtuning,")) << text;
}

TEST(Tuning, CautionWhereverAStringGoesUp) {
  Bench bench;
  bench.song.parts[0].tuning = testing::tuned("E2 B2 E3 G#3 B3 E4");
  const std::string text = packed(text_of(tuning_ladder(bench.setting())));
  EXPECT_TRUE(has(text, packed("Caution. Strings 3, 4 and 5 go up. A string can snap: keep your face away, go up "
                               "slowly, and ask a repairer if you are unsure.")))
      << text;
}

/// Where heads and notes of the ladders stand, from the left.
std::map<std::string, std::vector<Length>> ladder_columns(const Setting& setting) {
  std::map<std::string, std::vector<Length>> out;
  for (const layout::FlowItem& item : tuning_ladder(setting)) {
    each_item(*item.frame, {},
              [&](const layout::Item& i, Point at) { out[std::string(i.kind.name())].push_back(at.x); });
  }
  return out;
}

TEST(Tuning, LaddersOfOneSheetShareTheirHeadsAndColumns) {
  Bench bench;
  const std::size_t heads = ladder_columns(bench.setting())["ladder-head"].size();
  bench.song.parts[1].tuning = testing::tuned("D1 A1 D2 G2");
  bench.song.parts[0].capo = 0;
  auto columns = ladder_columns(bench.setting());
  EXPECT_EQ(columns["ladder-head"].size(), heads);
  ASSERT_EQ(columns["ladder-note"].size(), 10U);
  EXPECT_EQ(std::set(columns["ladder-note"].begin(), columns["ladder-note"].end()).size(), 1U);
  // The recording lies as far down as the capo reaches up: one part takes it off, the other tunes down.
  bench.song.recordings[0].cents = -182;
  bench.song.parts[0].capo = 2;
  EXPECT_EQ(ladder_columns(bench.setting())["ladder-head"].size(), 2 * heads);
}

TEST(Tuning, AKnownTuningIsNamedThoughTheSongSaysItsNotesOnly) {
  Bench bench;
  bench.song.parts[0].tuning = testing::tuned("C2 G2 C3 F3 A3 D4");
  bench.song.parts[0].tuning_name.clear();
  EXPECT_TRUE(has(packed(text_of(tuning_ladder(bench.setting()))), "guitar:dropC,C2G2"));
}

TEST(Tuning, PartialCapoNamesItsStrings) {
  Bench bench;
  bench.song.parts[0].capo = 0;
  bench.song.parts[0].partial_capo = song::CapoDef{{3, {}}, {{5, {}}, {4, {}}, {3, {}}}};
  EXPECT_TRUE(has(
      packed(text_of(tuning_ladder(bench.setting()))),
      packed(
          "Partial capo at fret 3, on strings 5, 4 and 3; frets count from the nut, and 0 is a string at the capo.")));
}

TEST(ChordBox, HoldsNamesNotesAndFingers) {
  Bench bench;
  const auto frame = chord_box(bench.setting(), bench.song.shapes[1], BoxSize::Medium, BoxText::Full, Length::pt(90));
  EXPECT_EQ(text_of(*frame), "two-finger 2 1 3 G E G C E C/G ");
  EXPECT_EQ(count_kind(*frame, "box-dot"), 3);
  EXPECT_EQ(count_kind(*frame, "box-open"), 2);
  EXPECT_EQ(count_kind(*frame, "box-muted"), 2) << "one cross of two strokes";
  EXPECT_EQ(count_kind(*frame, "box-string"), 6);
  EXPECT_EQ(count_kind(*frame, "box-nut"), 1);
}

TEST(ChordBox, BarreHighOnTheNeck) {
  Bench bench;
  const auto frame = chord_box(bench.setting(), bench.song.shapes[4], BoxSize::Medium, BoxText::Full, Length::pt(90));
  EXPECT_EQ(count_kind(*frame, "box-barre"), 1);
  EXPECT_EQ(count_kind(*frame, "box-dot"), 0);
  EXPECT_EQ(count_kind(*frame, "box-nut"), 0);
  EXPECT_EQ(count_kind(*frame, "lesson-mark"), 1);
  EXPECT_TRUE(has(text_of(*frame), "5 ")) << "the first fret";
  EXPECT_TRUE(has(text_of(*frame), "instead of home"));
}

TEST(ChordBox, MirroredForLeftHandedPlayers) {
  Bench bench;
  const auto place_of_three = [&] {
    Length x;
    const auto frame = chord_box(bench.setting(), bench.song.shapes[1], BoxSize::Large, BoxText::Full, Length::pt(120));
    each_item(*frame, {}, [&](const layout::Item& item, Point at) {
      const auto* glyphs = std::get_if<layout::GlyphsShape>(&item.shape);
      if (item.kind == layout::Kind("box-finger") && glyphs->run.text == "3") x = at.x + glyphs->run.advance / 2;
    });
    return x;
  };
  const Length right = place_of_three();
  bench.style.boxes_mirrored = true;
  const Length left = place_of_three();
  EXPECT_NEAR(((left + right) / 2).points(), 60.0, 0.05) << "the same distance from the middle, on the other side";
  EXPECT_LT(left, right);
}

TEST(ChordBox, ThreeToTwelveStringsInThreeSizesWithLegibleFigures) {
  Bench bench;
  for (int strings = 3; strings <= 12; ++strings) {
    score::ShapeUse use;
    use.name = testing::words("shape");
    use.ear_text = "C";
    for (int s = 0; s < strings; ++s) {
      use.shape.frets.push_back(s % 4);
      use.shape.fingers.push_back(s % 4 == 0 ? theory::Finger::None : static_cast<theory::Finger>(s % 4));
      use.sounding.push_back(theory::parse_pitch("F#3"));
    }
    for (const BoxSize size : {BoxSize::Small, BoxSize::Medium, BoxSize::Large}) {
      const auto frame = chord_box(bench.setting(), use, size, BoxText::Full, Length::pt(200));
      EXPECT_EQ(count_kind(*frame, "box-string"), strings);
      each_item(*frame, {}, [&](const layout::Item& item, Point) {
        if (const auto* glyphs = std::get_if<layout::GlyphsShape>(&item.shape)) {
          EXPECT_GE(glyphs->run.size, Length::pt(7));
        }
      });
    }
  }
}

TEST(ChordBox, NeighbouringNotesNeverTouch) {
  Bench bench;
  for (auto& pitch : bench.song.shapes[0].sounding) pitch = theory::parse_pitch("F#3");
  const auto frame = chord_box(bench.setting(), bench.song.shapes[0], BoxSize::Medium, BoxText::Full, Length::pt(90));
  std::vector<base::Rect> boxes;
  each_item(*frame, {}, [&](const layout::Item& item, Point at) {
    if (item.kind == layout::Kind("box-note")) {
      boxes.push_back(std::get<layout::GlyphsShape>(item.shape).run.ink.moved(at));
    }
  });
  ASSERT_GE(boxes.size(), 6U);
  std::map<Length, std::vector<base::Rect>> rows;
  for (const base::Rect& box : boxes) rows[box.y].push_back(box);
  EXPECT_EQ(rows.size(), 2U);
}

TEST(Shapes, ChainWithMovesAndTheRestAsLines) {
  Bench bench;
  const std::string text = text_of(shapes_block(bench.setting()));
  for (const char* word :
       {"home", "two-finger", "sixth", "low step", "barre five", "G ", "C/G", "lesson",
        "1 added: string\u00a02, fret\u00a01", "1 slides to fret\u00a05", "sixth (Em/G) → home (G)"}) {
    EXPECT_TRUE(has(packed(text), packed(word))) << word << "\n" << text;
  }
}

TEST(Shapes, TheBoxIsCalledWhatTheScoreCallsIt) {
  Bench bench;
  const auto name = [&] { return name_on_score(bench.setting(), bench.song.shapes[1]); };
  ASSERT_EQ(name(), "C/G");
  score::Harmony harmony;
  harmony.shape = 1;
  harmony.stated = "C";
  auto& sections = bench.song.sections;
  sections[0].harmony.push_back(harmony);
  EXPECT_EQ(name(), "C");
  harmony.stated = "Am7";
  sections[0].harmony.push_back(harmony);
  EXPECT_EQ(name(), "C/G") << "two names: the ear decides";
}

TEST(Shapes, EachMoveIsToldOnce) {
  Bench bench;
  const Flow flow = shapes_block(bench.setting());
  int moves = 0;
  for (const layout::FlowItem& item : flow) {
    if (item.frame->name == "move-line") ++moves;
    for (const auto& child : item.frame->children) moves += child.frame->name == "move" ? 1 : 0;
  }
  EXPECT_EQ(moves, static_cast<int>(bench.song.moves.size()));
}

TEST(Shapes, OtherMovesAreTheMostFrequentEight) {
  Bench bench;
  ASSERT_GE(bench.song.shapes.size(), 2U);
  ASSERT_FALSE(bench.song.moves.empty());
  // Eleven more moves that no arrow shows, rarest first.
  score::MoveUse move = bench.song.moves.front();
  std::swap(move.from, move.to);
  for (int i = 1; i <= 11; ++i) {
    move.count = i;
    bench.song.moves.push_back(move);
  }
  const Flow flow = shapes_block(bench.setting());
  std::size_t lines = 0;
  for (const layout::FlowItem& item : flow) lines += item.frame->name == "move-line" ? 1 : 0;
  EXPECT_EQ(lines, 8U);
  EXPECT_TRUE(has(text_of(flow), "more are not listed"));
}

TEST(Section, HeadingHoldsItsFactsAndLinks) {
  Bench bench;
  const SectionBlock block = section_block(bench.setting(), 1);
  ASSERT_FALSE(block.flow.empty());
  const layout::FlowItem& heading = block.flow.front();
  const std::string text = text_of(Flow{heading});
  for (const char* word : {"B", "air", "8 bars · twice", "Let every string ring", "video 1:56", "studio 0:19"}) {
    EXPECT_TRUE(has(text, word)) << word << "\n" << text;
  }
  EXPECT_EQ(heading.break_after, layout::BreakAfter::Forbidden);
  std::string target;
  each_item(*heading.notes.front().frame, {}, [&](const layout::Item& item, Point) {
    if (const auto* link = std::get_if<layout::LinkShape>(&item.shape)) target = link->target;
  });
  EXPECT_EQ(target, "https://example.org/lessons/14#t=116");
  EXPECT_EQ(count_kind(*heading.frame, "bookmark"), 1);
}

TEST(Section, RemarksStandWithTheSystemOfTheirBar) {
  Bench bench;
  const SectionBlock block = section_block(bench.setting(), 1);
  int notes = 0;
  for (std::size_t i = 1; i < block.flow.size(); ++i) {
    for (const layout::MarginNote& note : block.flow[i].notes) {
      ++notes;
      EXPECT_GE(note.anchor, Length{});
      EXPECT_LE(note.anchor, block.flow[i].frame->size.height);
    }
  }
  EXPECT_EQ(notes, 2);
  EXPECT_TRUE(has(text_of(block.flow), "lesson"));
}

TEST(Section, TwoRemarksAtOnePlaceBothStandInTheMargin) {
  Bench bench;
  score::Section& section = bench.song.sections[1];
  const auto refs = [&](auto&& visit) {
    for (score::Word& word : section.words) visit(word);
    for (score::PartMusic& music : section.parts)
      for (score::Word& word : music.words) visit(word);
  };
  // The first place speaks of both remarks, the other places of none.
  bool kept = false;
  refs([&](score::Word& word) {
    if (word.kind != score::WordKind::RemarkRef) return;
    word.kind = kept ? score::WordKind::Say : word.kind;
    word.remark = 0;
    word.remarks = {0, 1};
    kept = true;
  });
  ASSERT_TRUE(kept);
  ASSERT_EQ(section.remarks.size(), 2U);
  const SectionBlock block = section_block(bench.setting(), 1);
  std::size_t notes = 0;
  for (std::size_t i = 1; i < block.flow.size(); ++i) notes += block.flow[i].notes.size();
  EXPECT_EQ(notes, 2U);
}

TEST(Section, VideoLinkKeepsQueriesAndDropsOldFragments) {
  EXPECT_EQ(video_link("https://example.org/v?id=3", base::Fraction(61)), "https://example.org/v?id=3#t=61");
  EXPECT_EQ(video_link("https://example.org/v#t=5", base::Fraction(61)), "https://example.org/v#t=61");
}

TEST(Legend, ListsWhatIsUsedAndNothingElse) {
  Bench bench;
  EXPECT_EQ(signs_used(bench.setting()),
            (std::vector<LegendSign>{LegendSign::HammerOn, LegendSign::Repeat, LegendSign::Segno, LegendSign::Coda,
                                     LegendSign::RemarkNumber}));
  score::Note& note = bench.song.events.front().notes.front();
  note.more.set().bend = {{base::Fraction(1), base::Fraction(2)}};
  note.vibrato = song::Vibrato::Wide;
  bench.song.sections[0].parts[0].marks.push_back({"palm mute", "", {}, {}, {}});
  EXPECT_EQ(
      signs_used(bench.setting()),
      (std::vector<LegendSign>{LegendSign::HammerOn, LegendSign::Bend, LegendSign::Vibrato, LegendSign::PalmMute,
                               LegendSign::Repeat, LegendSign::Segno, LegendSign::Coda, LegendSign::RemarkNumber}));
}

TEST(Legend, EverySignHasWords) {
  for (int s = 0; s <= static_cast<int>(LegendSign::RemarkNumber); ++s) {
    EXPECT_FALSE(words_of(static_cast<LegendSign>(s)).empty()) << s;
  }
}

TEST(DrumKey, NamesEachHead) {
  Bench bench;
  const Flow flow = drum_key(bench.setting());
  EXPECT_EQ(count_kind(flow, "drum-key-head"), 3);
  for (const char* word : {"bass", "slap", "rim"}) EXPECT_TRUE(has(text_of(flow), word));
}

TEST(AllBlocks, StayInTheirColumns) {
  for (const char* paper : {"a4", "letter"}) {
    Bench bench(testing::SampleSong().build(), paper);
    const Setting setting = bench.setting();
    Flow all;
    for (Flow flow : {title_block(setting), about_text(setting), tuning_ladder(setting), section_map(setting),
                      shapes_block(setting), drum_key(setting), sign_legend(setting), credits(setting)}) {
      for (auto& item : flow) all.push_back(item);
    }
    for (const layout::FlowItem& item : all) {
      const auto ink = layout::ink_of(*item.frame);
      if (!ink) continue;
      EXPECT_LE(ink->right(), setting.body() + Length::pt(2)) << layout::print(*item.frame);
      EXPECT_LE(ink->bottom(), item.frame->size.height + Length::pt(1)) << layout::print(*item.frame);
      EXPECT_GE(ink->top(), -Length::pt(1)) << layout::print(*item.frame);
    }
  }
}

}  // namespace
}  // namespace tunesheaf::blocks
