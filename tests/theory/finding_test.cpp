#include "tunesheaf/theory/finding.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "tunesheaf/theory/naming.h"

namespace tunesheaf::theory {
namespace {

ChordName chord(std::string_view text) {
  return parse_chord(text).value();
}
Tuning tuning(std::string_view instrument, std::string_view name = "usual") {
  return find_tuning(instrument, name).value();
}

struct Bounds {
  int least, inside, stretch, lowest, highest;
};

bool fits(const Shape& shape, const ChordName& name, const Tuning& t, const Capo& capo, const Bounds& b,
          BassRule bass) {
  int played = 0, inside = 0, gap = 0;
  for (const auto& fret : shape.frets) {
    if (!fret) {
      gap += played > 0 ? 1 : 0;
      continue;
    }
    ++played;
    inside += gap;
    gap = 0;
    if (*fret > 0 && *fret < b.lowest) return false;
  }
  if (played < b.least || inside > b.inside) return false;
  if (shape.highest_fret() - shape.lowest_fret() > b.stretch) return false;
  const std::vector<int> midi = sounding_midi(t, capo, shape);
  const ClaimCheck claim = check_claim(name, midi);
  if (!claim.foreign.empty() || !claim.absent.empty()) return false;
  if (bass == BassRule::Stated) return !claim.bass.has_value();
  const auto sounds = [&](PitchClass pc) {
    return std::any_of(midi.begin(), midi.end(), [&](int key) { return key % 12 == pc.number(); });
  };
  return !name.bass || sounds(*name.bass);
}

/// Every combination of frets, tried one by one.
std::set<std::string> brute_force(const ChordName& name, const Tuning& t, const Capo& capo, const Bounds& b,
                                  BassRule bass, bool held, const Neck& neck) {
  std::set<std::string> out;
  std::vector<int> frets(t.strings.size(), -1);
  for (bool more = true; more;) {
    Shape shape;
    for (const int fret : frets) {
      if (fret < 0)
        shape.frets.emplace_back(std::nullopt);
      else
        shape.frets.emplace_back(fret);
    }
    const bool possible = check_shape(shape, t, capo, 0).empty();
    if (possible && fits(shape, name, t, capo, b, bass) && (!held || playable(shape, neck))) {
      out.insert(print_frets(shape));
    }
    more = false;
    for (int& fret : frets) {
      if (++fret <= b.highest) {
        more = true;
        break;
      }
      fret = -1;
    }
  }
  return out;
}

void compare(std::string_view name, const Tuning& t, const Capo& capo, const Bounds& b, BassRule bass, HeldRule held) {
  FindingLimits limits;
  limits.stretch_frets = b.stretch;
  limits.lowest_fret = b.lowest;
  limits.highest_fret = b.highest;
  limits.most_muted_inside = b.inside;
  limits.least_sounding = b.least;
  limits.bass = bass;
  limits.held = held;
  limits.most = 0;
  Neck neck;
  if (capo.full()) neck.capo_fret = capo.fret;
  std::set<std::string> found;
  for (const FoundShape& s : find_shapes(chord(name), t, capo, limits, neck)) {
    EXPECT_TRUE(found.insert(print_frets(s.shape)).second) << name << " twice " << print_frets(s.shape);
  }
  EXPECT_EQ(found, brute_force(chord(name), t, capo, b, bass, held == HeldRule::Playable, neck)) << name;
}

TEST(Finding, BruteForceAgrees) {
  for (const char* name : {"C", "Am7", "F#m7b5", "D7/F#", "Gsus4", "E5", "Bb6/9", "A9", "C(no3)"}) {
    for (const BassRule bass : {BassRule::Stated, BassRule::Any}) {
      compare(name, tuning("ukulele"), {}, {3, 1, 3, 1, 7}, bass, HeldRule::Playable);
      compare(name, tuning("ukulele"), {}, {2, 2, 4, 2, 6}, bass, HeldRule::Any);
      compare(name, tuning("mandolin"), {2, {}}, {3, 0, 3, 1, 6}, bass, HeldRule::Playable);
      compare(name, tuning("banjo"), {}, {3, 1, 3, 1, 6}, bass, HeldRule::Playable);
      compare(name, tuning("cello"), {2, {4, 3}}, {2, 1, 3, 1, 6}, bass, HeldRule::Any);
    }
  }
}

TEST(Finding, TheOpenShapesComeFirst) {
  const auto first = [](std::string_view name, const Tuning& t) {
    const auto found = find_shapes(chord(name), t);
    return found.empty() ? "none" : print_frets(found[0].shape);
  };
  EXPECT_EQ(first("C", tuning("guitar")), "x32010");
  EXPECT_EQ(first("D", tuning("guitar")), "xx0232");
  EXPECT_EQ(first("Em", tuning("guitar")), "022000");
  EXPECT_EQ(first("Am", tuning("guitar")), "x02210");
  EXPECT_EQ(first("A", tuning("guitar")), "x02220");
  EXPECT_EQ(first("E", tuning("guitar")), "022100");
  EXPECT_EQ(first("F", tuning("guitar")), "133211");
  EXPECT_EQ(first("G", tuning("guitar", "open G")), "x00000");
  EXPECT_EQ(first("G", tuning("guitar")), "320003");
  EXPECT_EQ(first("Dm", tuning("guitar")), "xx0231");
  EXPECT_EQ(first("G7", tuning("guitar")), "320001");
  EXPECT_EQ(first("B7", tuning("guitar")), "x21202");
  EXPECT_EQ(first("Am7", tuning("guitar")), "x02010");
}

TEST(Finding, FourStringsAreAllPlayed) {
  // Common practice: the first shapes of every ukulele player, where no note is heard as the bass.
  FindingLimits limits;
  limits.bass = BassRule::Any;
  const auto first = [&](std::string_view name) {
    const auto found = find_shapes(chord(name), tuning("ukulele"), {}, limits);
    return found.empty() ? "none" : print_frets(found[0].shape);
  };
  EXPECT_EQ(first("C"), "0003");
  EXPECT_EQ(first("F"), "2010");
  EXPECT_EQ(first("G"), "0232");
  EXPECT_EQ(first("Am"), "2000");
  EXPECT_EQ(first("Dm"), "2210");
  EXPECT_EQ(first("D"), "2220");
  EXPECT_EQ(first("A7"), "0100");
  EXPECT_EQ(first("Bb"), "3211");
}

TEST(Finding, EachShapeIsNamedForTheChordItWasSoughtFor) {
  for (const char* name : {"C", "Am", "G7", "Dmaj7", "Fm7", "Bm7b5", "Esus4", "A6", "D9", "C+", "G#dim7"}) {
    FindingLimits limits;
    limits.most = 60;
    for (const FoundShape& s : find_shapes(chord(name), tuning("guitar"), {}, limits)) {
      if (!s.left_out.empty()) continue;
      const auto names = name_candidates(sounding_midi(tuning("guitar"), {}, s.shape));
      ASSERT_FALSE(names.empty());
      EXPECT_EQ(names[0].name.root.number(), chord(name).root.number()) << name << " " << print_frets(s.shape);
      EXPECT_EQ(tone_bits(names[0].name), tone_bits(chord(name))) << name << " " << print_frets(s.shape);
    }
  }
}

TEST(Finding, BoundsAreKept) {
  FindingLimits limits;
  limits.most = 0;
  limits.lowest_fret = 5;
  limits.highest_fret = 10;
  limits.stretch_frets = 2;
  limits.top = PitchClass{Step::C, 0};
  const auto found = find_shapes(chord("C"), tuning("guitar"), {}, limits);
  ASSERT_FALSE(found.empty());
  for (const FoundShape& s : found) {
    const auto midi = sounding_midi(tuning("guitar"), {}, s.shape);
    EXPECT_EQ(*std::max_element(midi.begin(), midi.end()) % 12, 0);
    EXPECT_LE(s.shape.highest_fret(), 10);
    EXPECT_TRUE(s.shape.lowest_fret() == 0 || s.shape.lowest_fret() >= 5);
    EXPECT_TRUE(check_shape(s.shape, tuning("guitar"), {}, 24).empty()) << print_frets(s.shape);
  }
  EXPECT_TRUE(find_shapes(chord("N.C."), tuning("guitar")).empty());
}

TEST(Finding, SaysWhatIsNearestWhenNothingCanBePlayed) {
  const Tuning low = parse_tuning_notes("C2 C2 C2 C2").value();
  EXPECT_TRUE(find_shapes(chord("C13(b5,b9)/D"), low).empty());
  const auto nearest = nearest_playable(chord("C7(b9,#11)/D"), tuning("guitar"));
  ASSERT_FALSE(nearest.empty());
  for (const ChordName& name : nearest) EXPECT_FALSE(find_shapes(name, tuning("guitar")).empty()) << print(name);
}

TEST(Finding, AProgressionMovesLittle) {
  const std::vector<ChordName> chords{chord("C"), chord("Am7"), chord("N.C."), chord("F"), chord("G7")};
  const auto shapes = shapes_for_progression(chords, tuning("guitar"));
  ASSERT_EQ(shapes.size(), chords.size());
  EXPECT_FALSE(shapes[2]);
  for (const std::size_t i : {0U, 1U, 3U, 4U}) {
    ASSERT_TRUE(shapes[i]) << i;
    EXPECT_LE(shapes[i]->shape.highest_fret(), 5) << print_frets(shapes[i]->shape);
  }
}

/// The least total over all choices, tried one by one on a short progression.
TEST(Finding, TheBestPathIsTheBest) {
  const std::vector<ChordName> chords{chord("G"), chord("Em"), chord("C"), chord("D")};
  FindingLimits limits;
  limits.most = 5;
  std::vector<std::vector<FoundShape>> all;
  for (const ChordName& c : chords) all.push_back(find_shapes(c, tuning("guitar"), {}, limits));
  const auto total = [](const std::vector<const FoundShape*>& path) {
    int sum = 0;
    for (std::size_t i = 0; i < path.size(); ++i) {
      sum += path[i]->cost;
      if (i > 0) sum += 2 * move_between(path[i - 1]->shape, path[i]->shape)->difficulty;
    }
    return sum;
  };
  int best = -1;
  for (const auto& a : all[0]) {
    for (const auto& b : all[1]) {
      for (const auto& c : all[2]) {
        for (const auto& d : all[3]) {
          const int sum = total({&a, &b, &c, &d});
          if (best < 0 || sum < best) best = sum;
        }
      }
    }
  }
  const auto found = shapes_for_progression(chords, tuning("guitar"), {}, limits, {}, 5);
  std::vector<const FoundShape*> path;
  for (const auto& s : found) path.push_back(&*s);
  EXPECT_EQ(total(path), best);
}

/// With one shape for each chord: as good as the best of all assignments, tried one by one.
TEST(Finding, OneShapeForEachChordSuitsItsNeighbours) {
  const std::vector<ChordName> song{chord("C"), chord("G"), chord("Am7"), chord("G"), chord("C"), chord("G")};
  const auto shapes = shapes_for_progression(song, tuning("guitar"), {}, {}, {}, 4, Voicing::OneForEach);
  ASSERT_EQ(shapes.size(), song.size());
  const auto total = [](const std::vector<const FoundShape*>& path) {
    int sum = 0;
    for (std::size_t i = 0; i < path.size(); ++i) {
      sum += path[i]->cost;
      if (i > 0) sum += 2 * move_between(path[i - 1]->shape, path[i]->shape)->difficulty;
    }
    return sum;
  };
  FindingLimits limits;
  limits.most = 4;
  const auto c = find_shapes(song[0], tuning("guitar"), {}, limits),
             g = find_shapes(song[1], tuning("guitar"), {}, limits),
             a = find_shapes(song[2], tuning("guitar"), {}, limits);
  const auto strange = [](const FoundShape& shape, const std::vector<FoundShape>& all) {
    return shape.cost > all.front().cost + 3;
  };
  int best = -1;
  for (const FoundShape& one : c) {
    for (const FoundShape& two : g) {
      for (const FoundShape& three : a) {
        if (strange(one, c) || strange(two, g) || strange(three, a)) continue;
        const int sum = total({&one, &two, &three, &two, &one, &two});
        if (best < 0 || sum < best) best = sum;
      }
    }
  }
  std::vector<const FoundShape*> path;
  for (const auto& shape : shapes) path.push_back(&*shape);
  EXPECT_EQ(path[0]->shape, path[4]->shape);
  EXPECT_EQ(path[1]->shape, path[3]->shape);
  EXPECT_EQ(path[1]->shape, path[5]->shape);
  EXPECT_EQ(total(path), best);
}

TEST(Finding, CoursesAreHeardWhole) {
  // A course in fifths sounds both notes: where one of them is foreign, the course is not stopped there.
  const Tuning fifths = parse_tuning_notes("C3/G3 G3 C4 E4").value();
  const auto found = find_shapes(chord("C"), fifths);
  ASSERT_FALSE(found.empty());
  for (const FoundShape& s : found) {
    for (const int key : sounding_midi(fifths, {}, s.shape)) {
      EXPECT_TRUE((tone_bits(chord("C")) >> (key % 12) & 1) == 1) << print_frets(s.shape);
    }
  }
  compare("C", fifths, {}, {2, 1, 3, 1, 6}, BassRule::Stated, HeldRule::Playable);
  compare("Am", parse_tuning_notes("E3/E2 A3/A2 D4 G4").value(), {}, {2, 1, 3, 1, 6}, BassRule::Stated, HeldRule::Any);
}

}  // namespace
}  // namespace tunesheaf::theory
