#include "tunesheaf/theory/fingering.h"

#include <gtest/gtest.h>

#include "theory/shapes.h"
#include "tunesheaf/theory/move.h"

namespace tunesheaf::theory {
namespace {

std::string fingers(std::string_view frets, const Neck& neck = {}) {
  Shape s = shape(frets);
  const auto found = finger_shape(s, neck);
  if (!found) return "none";
  s.fingers = found->fingers;
  return print_fingers(s);
}

TEST(Fingering, ShapesInUseGetTheFingersInUse) {
  EXPECT_EQ(fingers("x32010"), ".32.1.");
  EXPECT_EQ(fingers("022100"), ".231..");
  EXPECT_EQ(fingers("x02210"), "..231.");
  EXPECT_EQ(fingers("xx0232"), "...132");
  EXPECT_EQ(fingers("x02220"), "..123.");
  EXPECT_EQ(fingers("133211"), "134211");
  EXPECT_EQ(fingers("x13331"), ".12341");
  EXPECT_EQ(fingers("x24432"), ".13421");
  EXPECT_EQ(fingers("320003"), "21...3");
  EXPECT_EQ(fingers("xx3211"), "..3211");
  EXPECT_EQ(fingers("000000"), "......");
  EXPECT_EQ(fingers("0003"), "...3");
}

TEST(Fingering, WhatNoHandCanHold) {
  EXPECT_EQ(fingers("1x5x9x"), "none");
  EXPECT_EQ(fingers("x12345"), "none");
  EXPECT_FALSE(playable(shape("1 x x x x 6")));
  // The same frets lie closer together up the neck and on a short one.
  EXPECT_FALSE(playable(shape("1xxx5x"), {864.0, 0, 24}));
  EXPECT_TRUE(playable(shape("1xxx5x"), {650.0, 0, 24}));
  EXPECT_TRUE(playable(shape("1xx7"), {345.0, 0, 15}));
  EXPECT_FALSE(playable(shape("x x 20 20 20 20"), {650.0, 3, 22}));
}

/// Every set of frets on four strings: no finger on two frets, none crossing, no open string under a barre.
TEST(Fingering, ChosenFingersAreAlwaysPossible) {
  const Tuning t = find_tuning("ukulele", "usual").value();
  int held = 0;
  for (int code = 0; code < 8 * 8 * 8 * 8; ++code) {
    Shape s;
    for (int i = 0, rest = code; i < 4; ++i, rest /= 8) {
      if (rest % 8 == 7)
        s.frets.emplace_back(std::nullopt);
      else
        s.frets.emplace_back(rest % 8);
    }
    const auto found = finger_shape(s, {345.0, 0, 15});
    if (!found) continue;
    s.fingers = found->fingers;
    for (const ShapeError& e : check_shape(s, t, {}, 15)) {
      EXPECT_EQ(e.fault, ShapeFault::NothingSounds) << print_frets(s) << " " << print_fingers(s);
    }
    for (std::size_t i = 0; i < 4; ++i) {
      EXPECT_EQ(s.fingers[i] != Finger::None, s.frets[i].value_or(0) > 0) << print_frets(s);
    }
    EXPECT_EQ(strain_of(s, {345.0, 0, 15}), found->strain) << print_frets(s) << " " << print_fingers(s);
    ++held;
  }
  EXPECT_GT(held, 3000);
}

TEST(Fingering, WhoMutesWhat) {
  const auto muted = mutes(shape("3x0003", "2....3"));
  ASSERT_EQ(muted.size(), 1U);
  EXPECT_EQ(muted[0].string, 5);
  EXPECT_EQ(muted[0].by, MutedBy::FingerBefore);
  EXPECT_EQ(muted[0].finger, Finger::Middle);
  EXPECT_EQ(mutes(shape("x32010", ".32.1."))[0].by, MutedBy::NotStruck);
  EXPECT_EQ(mutes(shape("0x3010", "..3.1."))[0].by, MutedBy::FingerAfter);
}

Move move(std::string_view from, std::string_view from_fingers, std::string_view to, std::string_view to_fingers) {
  return move_between(shape(from, from_fingers), shape(to, to_fingers)).value();
}

TEST(Move, SaysWhatEachFingerDoes) {
  const Move lift = move("x02210", "..231.", "x02010", "..2.1.");
  ASSERT_EQ(lift.fingers.size(), 3U);
  EXPECT_EQ(lift.fingers[0].kind, MoveKind::Stays);
  EXPECT_EQ(lift.fingers[1].kind, MoveKind::Stays);
  EXPECT_EQ(lift.fingers[2].finger, Finger::Ring);
  EXPECT_EQ(lift.fingers[2].kind, MoveKind::Lifts);
  const Move one = move("x32010", ".32.1.", "x02210", "..231.");
  EXPECT_EQ(one.fingers[0].kind, MoveKind::Stays);
  EXPECT_EQ(one.fingers[1].kind, MoveKind::Stays);
  EXPECT_EQ(one.fingers[2].kind, MoveKind::Moves);
  EXPECT_EQ(one.fingers[2].from, (FingerPlace{3, 5, 5}));
  EXPECT_EQ(one.fingers[2].to, (FingerPlace{2, 3, 3}));
  EXPECT_FALSE(one.guide);
  const Move slide = move("xx0232", "...132", "x 5 x 4 0 x", ".3.2..");
  EXPECT_TRUE(slide.strings_opened == std::vector<int>{5});
  const Move guide = move("xx0232", "...132", "x02100", "..21..");
  EXPECT_EQ(guide.fingers[0].kind, MoveKind::Slides);
  EXPECT_EQ(guide.guide, Finger::Index);
  const Move none = move("x32010", ".32.1.", "x32010", ".32.1.");
  EXPECT_TRUE(none.none());
  EXPECT_EQ(none.difficulty, 0);
}

TEST(Move, FlatteningAndTheWholeHand) {
  const Move flat = move("xx3211", "..3211", "133211", "134211");
  EXPECT_EQ(flat.fingers[0].kind, MoveKind::Flattens);
  EXPECT_EQ(move("133211", "134211", "xx3211", "..3211").fingers[0].kind, MoveKind::Unbarres);
  EXPECT_EQ(move("133211", "134211", "355433", "134211").difficulty, 6);
  EXPECT_FALSE(move("133211", "134211", "355433", "134211").guide);
  const auto filled = move_between(shape("x32010"), shape("x02210"));
  ASSERT_TRUE(filled);
  EXPECT_EQ(filled->fingers.size(), 3U);
  EXPECT_FALSE(move_between(shape("x12345"), shape("x02210")));
}

struct Change {
  const char *from, *from_fingers, *to, *to_fingers;
};

/// Common practice: of each pair any teacher gives the first change to a learner before the second.
TEST(Move, DifficultyOrdersChangesAsTeachersDo) {
  const Change am_c{"x02210", "..231.", "x32010", ".32.1."}, em_am{"022000", ".23...", "x02210", "..231."};
  const Change am_am7{"x02210", "..231.", "x02010", "..2.1."}, e_am{"022100", ".231..", "x02210", "..231."};
  const Change c_g{"x32010", ".32.1.", "320003", "21...3"}, g_d{"320003", "21...3", "xx0232", "...132"};
  const Change c_f{"x32010", ".32.1.", "133211", "134211"}, am_f{"x02210", "..231.", "133211", "134211"};
  const Change em_e{"022000", ".23...", "022100", ".231.."}, d_dsus4{"xx0232", "...132", "xx0233", "...134"};
  const Change d_dsus2{"xx0232", "...132", "xx0230", "...13."}, g_cadd9{"320033", "21..34", "x32033", ".21.34"};
  const Change a_asus4{"x02220", "..123.", "x02230", "..124."}, f_g{"133211", "134211", "355433", "134211"};
  const Change c_cmaj7{"x32010", ".32.1.", "x32000", ".32..."}, d_b{"xx0232", "...132", "x24442", ".13331"};
  const Change e_b7{"022100", ".231..", "x21202", ".213.4"}, am_fmaj7{"x02210", "..231.", "xx3210", "..321."};
  const Change em_f{"022000", ".23...", "133211", "134211"}, e_f{"022100", ".231..", "133211", "134211"};
  const Change g_em{"320003", "21...3", "022000", ".12..."}, f_bm{"133211", "134211", "x24432", ".13421"};
  const Change smallf_f{"xx3211", "..3211", "133211", "134211"}, c_am7{"x32010", ".32.1.", "x02010", "..2.1."};
  const Change open_f{"000000", "......", "133211", "134211"}, open_em{"000000", "......", "022000", ".23..."};
  const std::vector<std::pair<Change, Change>> pairs{
      {am_am7, am_c}, {am_c, c_g},       {am_c, c_f},    {e_am, c_g},     {em_e, em_am},    {em_e, c_f},
      {d_dsus4, g_d}, {d_dsus2, g_d},    {d_dsus2, d_b}, {g_cadd9, c_g},  {g_cadd9, g_d},   {a_asus4, g_d},
      {f_g, c_f},     {f_g, am_f},       {c_cmaj7, c_g}, {c_cmaj7, am_c}, {am_fmaj7, am_f}, {am_fmaj7, c_f},
      {c_g, c_f},     {g_em, g_d},       {em_am, em_f},  {e_am, e_f},     {f_g, f_bm},      {smallf_f, c_f},
      {c_am7, c_g},   {open_em, open_f}, {em_e, e_b7},   {e_am, e_b7},    {d_dsus4, d_b},   {am_am7, am_f}};
  EXPECT_GE(pairs.size(), 20U);
  const auto hard = [](const Change& c) { return move(c.from, c.from_fingers, c.to, c.to_fingers).difficulty; };
  for (const auto& [easy, harder] : pairs) {
    EXPECT_LT(hard(easy), hard(harder)) << easy.from << " to " << easy.to << " against " << harder.from << " to "
                                        << harder.to;
  }
}

}  // namespace
}  // namespace tunesheaf::theory
