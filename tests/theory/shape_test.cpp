#include "tunesheaf/theory/shape.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "theory/shapes.h"

namespace tunesheaf::theory {
namespace {

std::vector<ShapeError> errors(const Shape& s, const Capo& capo = {}, int frets = 24) {
  return check_shape(s, find_tuning("guitar", "usual").value(), capo, frets);
}

TEST(Shape, ReadsFretsApartOrRunTogether) {
  EXPECT_EQ(shape("x02010").frets, shape("x 0 2 0 1 0").frets);
  EXPECT_EQ(shape("X32010").frets, shape("x,3,2,0,1,0").frets);
  EXPECT_EQ(shape("x 10 12 12 11 10").frets[1], 10);
  EXPECT_EQ(print_frets(shape("x02010")), "x02010");
  EXPECT_EQ(print_frets(shape("x 10 12 12 11 10")), "x 10 12 12 11 10");
  EXPECT_EQ(print_fingers(shape("x02010", "..2.1.")), "..2.1.");
  EXPECT_EQ(shape("x02010", ". . 2 . 1 .").fingers, shape("x02010", "002010").fingers);
  EXPECT_EQ(parse_frets("x 0 q 0").error().fault, ShapeFault::BadFret);
  EXPECT_EQ(parse_frets("x 0 q 0").error().at, 4U);
  EXPECT_EQ(parse_frets("x 0 99").error().word, "99");
  EXPECT_EQ(parse_frets("x 0 -2").error().fault, ShapeFault::BadFret);
  EXPECT_EQ(parse_frets("  ").error().fault, ShapeFault::Empty);
  EXPECT_EQ(parse_fingers("1 5").error().fault, ShapeFault::BadFinger);
}

TEST(Shape, SoundsItsStrings) {
  const Tuning guitar = find_tuning("guitar", "usual").value();
  EXPECT_EQ(sounding_midi(guitar, {}, shape("x32010")), (std::vector<int>{48, 52, 55, 60, 64}));
  EXPECT_EQ(sounding_midi(guitar, {3, {}}, shape("x32010")), (std::vector<int>{51, 55, 58, 63, 67}));
  const Tuning twelve = find_tuning("12-string guitar", "usual").value();
  EXPECT_EQ(sounding_midi(twelve, {}, shape("0xxxx0")), (std::vector<int>{40, 52, 64, 64}));
  const auto strings = sounding(guitar, {}, shape("x32010"));
  EXPECT_EQ(strings.front().string, 5);
  EXPECT_EQ(strings.back().string, 1);
}

TEST(Shape, BarresComeFromTheFingers) {
  const auto f = barres(shape("133211", "134211"));
  ASSERT_EQ(f.size(), 1U);
  EXPECT_EQ(f[0], (Barre{Finger::Index, 1, 6, 1}));
  EXPECT_TRUE(barres(shape("x32010", ".32.1.")).empty());
  EXPECT_TRUE(errors(shape("133211", "134211")).empty());
  EXPECT_TRUE(errors(shape("x32010", ".32.1.")).empty());
}

TEST(Shape, WhatIsImpossibleIsSaid) {
  const auto only = [](const std::vector<ShapeError>& all) {
    EXPECT_EQ(all.size(), 1U);
    return all.empty() ? ShapeError{} : all[0];
  };
  const ShapeError count = only(errors(shape("3201")));
  EXPECT_EQ(count.fault, ShapeFault::WrongStringCount);
  EXPECT_EQ(count.got, 4);
  EXPECT_EQ(count.want, 6);
  EXPECT_EQ(only(errors(shape("x32010", ".32.1"))).fault, ShapeFault::WrongFingerCount);
  const ShapeError two = only(errors(shape("x32010", ".22.1.")));
  EXPECT_EQ(two.fault, ShapeFault::FingerOnTwoFrets);
  EXPECT_EQ(two.finger, Finger::Middle);
  EXPECT_EQ(two.fret, 3);
  EXPECT_EQ(two.other_fret, 2);
  const ShapeError idle = only(errors(shape("x32010", ".3241.")));
  EXPECT_EQ(idle.fault, ShapeFault::FingerOnNothing);
  EXPECT_EQ(idle.string, 3);
  EXPECT_EQ(only(errors(shape("x 22 2 0 1 0"), {}, 20)).fault, ShapeFault::FretBeyondNeck);
  EXPECT_EQ(only(errors(shape("x 19 x x x x"), {2, {}}, 20)).want, 18);
  EXPECT_EQ(only(errors(shape("xxxxxx"))).fault, ShapeFault::NothingSounds);
  EXPECT_EQ(only(errors(shape("xx1xxx"), {2, {4}})).fault, ShapeFault::FretUnderCapo);
  EXPECT_EQ(only(errors(shape("2x02x0", "1..1.."))).fault, ShapeFault::BarreStopsOpen);
  EXPECT_EQ(only(errors(shape("x13xxx", ".21..."))).fault, ShapeFault::FingersCross);
  Shape banjo = shape("30000");
  const auto below = check_shape(banjo, find_tuning("banjo", "usual").value(), {}, 22);
  EXPECT_EQ(only(below).fault, ShapeFault::FretBelowStart);
}

TEST(Shape, FretsStandWherePhysicsPutsThem) {
  EXPECT_NEAR(fret_place_mm(650.0, 12), 325.0, 1e-9);
  EXPECT_NEAR(fret_place_mm(650.0, 5), 650.0 * (1 - 0.7491535384), 1e-6);
  EXPECT_NEAR(stretch_mm(650.0, 1, 4), 97.6, 0.1);
  EXPECT_LT(stretch_mm(650.0, 9, 12), stretch_mm(650.0, 1, 4));
}

}  // namespace
}  // namespace tunesheaf::theory
