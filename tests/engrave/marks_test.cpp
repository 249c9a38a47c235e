#include <gtest/gtest.h>

#include <random>
#include <set>

#include "engrave/sample.h"

namespace tunesheaf::test {
namespace {

using engrave::StaffKind;
using layout::GlyphsShape;
using layout::Item;
using song::Arrival;

Rect figure_box(const layout::Frame& frame, int event) {
  for (const Item* item : of_kind(frame, "tab-figure")) {
    if (item->subject.event == event) return layout::box_of(*item);
  }
  ADD_FAILURE() << "no figure of event " << event;
  return {};
}

/// Quarter notes on the second string, each reached from the one before as said.
SongMaker line_of(const std::vector<std::pair<int, Arrival>>& notes) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  for (std::size_t i = 0; i < notes.size(); ++i) {
    score::Note note = song.fretted(g, 2, notes[i].first);
    note.more.set().link.kind = notes[i].second;
    if (notes[i].second != Arrival::Struck && i > 0) {
      note.more.set().link.from_event = static_cast<int>(i) - 1;
      note.more.set().link.from_note = 0;
    }
    song.event(g, 1, q(static_cast<int>(i)), q(1), {note});
  }
  song.finish();
  return song;
}

TEST(Marks, ChainOnOneStringSharesOneArc) {
  SongMaker song = line_of({{5, Arrival::Struck}, {7, Arrival::HammerOn}, {5, Arrival::PullOff}, {3, Arrival::Struck}});
  const Engraved e = engraved(song.timeline, 150, "tab");
  const auto arcs = of_kind(frame_of(e), "legato-arc");
  ASSERT_EQ(arcs.size(), 1u);
  const Rect arc = layout::box_of(*arcs[0]);
  const Rect first = figure_box(frame_of(e), 0), last = figure_box(frame_of(e), 2);
  EXPECT_GE(arc.left(), first.left());
  EXPECT_LE(arc.right(), last.right());
  EXPECT_GT(arc.width, (middle_x(last) - middle_x(first)) * 0.8);
  EXPECT_LT(arc.top(), first.top());
  EXPECT_EQ(texts(frame_of(e), "hammer-letter"), std::vector<std::string>{"h"});
  EXPECT_EQ(texts(frame_of(e), "pull-letter"), std::vector<std::string>{"p"});
}

TEST(Marks, SlidesAreStrokesThatRiseWithTheFretAndTouchNoFigure) {
  for (const Arrival how : {Arrival::ShiftSlide, Arrival::LegatoSlide}) {
    SongMaker song = line_of({{3, Arrival::Struck}, {7, how}, {5, how}, {5, Arrival::Struck}});
    const Engraved e = engraved(song.timeline, 150, "tab");
    const auto strokes = of_kind(frame_of(e), "slide");
    ASSERT_EQ(strokes.size(), 2u);
    EXPECT_LT(std::get<layout::LineShape>(strokes[0]->shape).to.y, Length());
    EXPECT_GT(std::get<layout::LineShape>(strokes[1]->shape).to.y, Length());
    for (int i = 0; i < 2; ++i) {
      const Rect box = layout::box_of(*strokes[static_cast<std::size_t>(i)]);
      EXPECT_GT(box.left(), figure_box(frame_of(e), i).right());
      EXPECT_LT(box.right(), figure_box(frame_of(e), i + 1).left());
    }
    EXPECT_EQ(of_kind(frame_of(e), "legato-arc").size(), how == Arrival::LegatoSlide ? 1u : 0u);
  }
}

TEST(Marks, SlidesFromAndToNowhereStandBesideTheirNote) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Note in = song.fretted(g, 3, 7), out = song.fretted(g, 3, 9);
  in.more.set().link.kind = Arrival::SlideInFromBelow;
  out.slide_off = song::SlideOff::Down;
  song.event(g, 1, q(0), q(2), {in});
  song.event(g, 1, q(2), q(2), {out});
  const Engraved e = engraved(song.finish(), 150, "both");
  const auto ins = of_kind(frame_of(e), "slide-in"), offs = of_kind(frame_of(e), "slide-off");
  ASSERT_EQ(ins.size(), 2u) << "on the staff and on the tab";
  ASSERT_EQ(offs.size(), 2u);
  EXPECT_LT(std::get<layout::LineShape>(ins[1]->shape).to.y, Length());
  EXPECT_GT(std::get<layout::LineShape>(offs[1]->shape).to.y, Length());
  EXPECT_LE(layout::box_of(*ins[1]).right(), figure_box(frame_of(e), 0).left());
  EXPECT_GE(layout::box_of(*offs[1]).left(), figure_box(frame_of(e), 1).right());
}

score::Note bent(const SongMaker& song, int g, std::vector<score::BendPoint> points) {
  score::Note note = song.fretted(g, 2, 8);
  note.more.set().bend = std::move(points);
  return note;
}

TEST(Marks, BendsSayTheirAmountInWholeTonesOverArrowsOfOneHeight) {
  const std::vector<std::pair<Fraction, std::string>> amounts{{q(1, 2), "¼"},    {q(1, 1), "½"},  {q(3, 2), "¾"},
                                                              {q(2, 1), "full"}, {q(3, 1), "1½"}, {q(4, 1), "2"}};
  SongMaker song("6/4", "C major", 1);
  const int g = song.guitar();
  for (std::size_t i = 0; i < amounts.size(); ++i) {
    song.event(g, 1, q(static_cast<int>(i)), q(1),
               {bent(song, g, {{q(0), q(0)}, {q(1, 2), amounts[i].first}, {q(1, 1), amounts[i].first}})});
  }
  const Engraved e = engraved(song.finish(), 190, "tab");
  const auto words = of_kind(frame_of(e), "bend-amount"), heads = of_kind(frame_of(e), "bend-arrow");
  ASSERT_EQ(words.size(), amounts.size());
  ASSERT_EQ(heads.size(), amounts.size());
  for (std::size_t i = 0; i < amounts.size(); ++i) {
    EXPECT_EQ(text_of(*words[i]), amounts[i].second);
    const Rect head = layout::box_of(*heads[i]);
    EXPECT_EQ(head.top(), layout::box_of(*heads[0]).top());
    EXPECT_LE(layout::box_of(*words[i]).bottom(), head.top());
    EXPECT_GT(head.left(), figure_box(frame_of(e), static_cast<int>(i)).right());
  }
}

TEST(Marks, ReleaseComesDownToTheFigureInParentheses) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(4), {bent(song, g, {{q(0), q(0)}, {q(1, 3), q(2, 1)}, {q(2, 3), q(0)}, {q(1, 1), q(0)}})});
  const Engraved e = engraved(song.finish(), 150, "tab");
  const auto figures = of_kind(frame_of(e), "released-figure");
  ASSERT_EQ(figures.size(), 1u);
  EXPECT_EQ(text_of(*figures[0]), "(8)");
  const auto heads = of_kind(frame_of(e), "bend-arrow");
  ASSERT_EQ(heads.size(), 2u);
  const Rect one = layout::box_of(*heads[0]), other = layout::box_of(*heads[1]);
  const Rect up = one.top() < other.top() ? one : other, down = one.top() < other.top() ? other : one;
  EXPECT_GT(down.top(), up.bottom());
  EXPECT_LT(down.bottom(), layout::box_of(*figures[0]).top());
  EXPECT_LT(up.right(), down.left());
  EXPECT_EQ(of_kind(frame_of(e), "bend-amount").size(), 1u);
}

TEST(Marks, PrebendRisesStraightOverItsFigure) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Note note = bent(song, g, {{q(0), q(2, 1)}, {q(1, 1), q(2, 1)}});
  note.prebend = true;
  song.event(g, 1, q(0), q(4), {note});
  const Engraved e = engraved(song.finish(), 150, "tab");
  const auto heads = of_kind(frame_of(e), "bend-arrow");
  ASSERT_EQ(heads.size(), 1u);
  EXPECT_LE(base::abs(middle_x(layout::box_of(*heads[0])) - middle_x(figure_box(frame_of(e), 0))), Length::pt(0.1));
}

TEST(Marks, NotationShowsWhatABendSounds) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(4), {bent(song, g, {{q(0), q(0)}, {q(1, 2), q(2, 1)}, {q(1, 1), q(2, 1)}})});  // G to A
  const Engraved e = engraved(song.finish(), 150, "notation");
  const auto small = of_kind(frame_of(e), "bent-head"), heads = of_kind(frame_of(e), "note-head");
  ASSERT_EQ(small.size(), 1u);
  ASSERT_EQ(heads.size(), 1u);
  const Length step = middle_y(layout::box_of(*heads[0])) - middle_y(layout::box_of(*small[0]));
  EXPECT_NEAR(step / e.style.staff_space, 0.5, 0.06);
}

TEST(Marks, WordsOfASpanStandOncePerPart) {
  for (const std::string staves : {"both", "tab", "notation"}) {
    SongMaker song = line_of({{5, Arrival::Struck}, {7, Arrival::Struck}, {5, Arrival::Struck}, {3, Arrival::Struck}});
    song.music(0).marks.push_back({"palm mute", "", song.place(q(0)), song.place(q(3)), {}});
    song.music(0).marks.push_back({"over the moon", "", song.place(q(0)), song.place(q(3)), {}});
    const Engraved e = engraved(song.timeline, 150, staves);
    EXPECT_EQ(texts(frame_of(e), "palm-mute"), std::vector<std::string>{"P.M."}) << staves;
    EXPECT_FALSE(of_kind(frame_of(e), "technique-span").empty()) << "an unknown kind is printed by its name";
    const int staff = of_kind(frame_of(e), "palm-mute")[0]->subject.staff;
    EXPECT_EQ(engrave::kind_of_staff(staff), staves == "notation" ? StaffKind::Notation : StaffKind::Tab);
  }
}

TEST(Marks, ASpanGoesOnInParenthesesOnTheNextSystem) {
  SongMaker song("4/4", "C major", 8);
  const int g = song.guitar();
  for (int i = 0; i < 64; ++i) song.event(g, 1, q(i, 8), q(1, 8), {song.fretted(g, 3, i % 5)});
  song.finish();
  song.music(0).marks.push_back({"let ring", "", song.place(q(0)), {8, Fraction()}, {}});
  const Engraved e = engraved(song.timeline, 120, "tab");
  ASSERT_GT(e.section.systems.size(), 1u);
  std::string first, second;
  for (const std::string& t : texts(frame_of(e, 0), "let-ring")) first += t;
  for (const std::string& t : texts(frame_of(e, 1), "let-ring")) second += t;
  EXPECT_EQ(first, "let ring");
  EXPECT_EQ(second, "(let ring)");
  EXPECT_EQ(of_kind(frame_of(e, 0), "let-ring-line").size(), 1u) << "no hook where it goes on";
  const std::size_t last = e.section.systems.size() - 1;
  EXPECT_EQ(of_kind(frame_of(e, last), "let-ring-line").size(), 2u) << "a hook where it ends";
}

TEST(Marks, VibratoBarSaysItsIntervalsAndComesBack) {
  SongMaker song = line_of({{5, Arrival::Struck}, {7, Arrival::Struck}, {5, Arrival::Struck}, {3, Arrival::Struck}});
  const auto arm = [&](int quarter, song::ArmSign::Action action, Fraction semitones) {
    score::Word word;
    word.kind = score::WordKind::Arm;
    word.at = song.place(q(quarter));
    word.arm = song::ArmSign{action, semitones};
    song.music(0).words.push_back(word);
  };
  arm(0, song::ArmSign::Action::Dip, q(1, 1));
  arm(1, song::ArmSign::Action::Dive, q(5, 1));
  arm(3, song::ArmSign::Action::Back, q(0));
  const Engraved e = engraved(song.timeline, 150, "tab");
  EXPECT_EQ(texts(frame_of(e), "arm-interval"), (std::vector<std::string>{"−½", "−2½"}));
  EXPECT_EQ(of_kind(frame_of(e), "arm").size(), 6u) << "two strokes of the dip, down, held, back, at rest";
  EXPECT_EQ(texts(frame_of(e), "arm-word").size(), 1u);
}

TEST(Marks, MovesOfTheBarOnOneNoteAreOneContourAcrossBarLines) {
  using Action = song::ArmSign::Action;
  SongMaker song("4/4", "C major", 2);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(8), {song.fretted(g, 2, 7)});
  song.finish();
  const auto move = [&](int quarter, Action action, int semitones) {
    score::Word word;
    word.kind = score::WordKind::Arm;
    word.at = song.place(q(quarter));
    word.arm = song::ArmSign{action, q(semitones, 1)};
    song.music(0).words.push_back(word);
  };
  move(1, Action::Dip, 1);
  move(2, Action::Dive, 5);
  move(5, Action::Back, 0);
  move(6, Action::Up, 2);
  const Engraved e = engraved(song.timeline, 190, "tab");
  ASSERT_EQ(e.section.systems.size(), 1u);
  const auto pieces = of_kind(frame_of(e), "arm");
  ASSERT_GE(pieces.size(), 9u);
  const Rect figure = figure_box(frame_of(e), 0);
  EXPECT_EQ(pieces.front()->at.x, middle_x(figure)) << "from the attack";
  base::Length lowest = pieces.front()->at.y;
  for (std::size_t i = 1; i < pieces.size(); ++i) {
    const base::Point end = pieces[i - 1]->at + std::get<layout::LineShape>(pieces[i - 1]->shape).to;
    EXPECT_EQ(end, pieces[i]->at) << "piece " << i << " goes on where the one before ended";
    lowest = std::max(lowest, end.y);
  }
  EXPECT_GT(lowest, pieces.front()->at.y);
  EXPECT_LT(pieces.back()->at.y, pieces.front()->at.y) << "pulled up to the end";
  const auto amounts = of_kind(frame_of(e), "arm-interval");
  ASSERT_EQ(amounts.size(), 3u);
  for (std::size_t i = 0; i < 2; ++i) EXPECT_GT(layout::box_of(*amounts[i]).top(), pieces.front()->at.y);
  EXPECT_LT(layout::box_of(*amounts[2]).bottom(), pieces.back()->at.y);
}

TEST(Marks, ArcOfALetteredPullStandsUnderItsLetterThoughAFigureIsNear) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  song.event(g, 1, q(0), q(2), {song.fretted(g, 2, 1)});
  score::Note pulled = song.fretted(g, 2, 0);
  pulled.more.set().link.kind = Arrival::PullOff;
  pulled.more.set().link.from_event = 0;
  pulled.more.set().link.from_note = 0;
  song.event(g, 1, q(2), q(2), {song.fretted(g, 1, 3), pulled});
  song.finish();
  const Engraved e = engraved(song.timeline, 150, "tab");
  const auto arcs = of_kind(frame_of(e), "legato-arc");
  ASSERT_EQ(arcs.size(), 1u);
  const Rect arc = layout::box_of(*arcs[0]), from = figure_box(frame_of(e), 0);
  EXPECT_LT(arc.top(), from.top());
  const auto letters = of_kind(frame_of(e), "pull-letter");
  ASSERT_EQ(letters.size(), 1u);
  EXPECT_LT(layout::box_of(*letters[0]).bottom(), arc.bottom());
}

TEST(Marks, FingersStandUnderATabFromTheHighestStringDown) {
  SongMaker song("4/4", "C major", 1);
  const int g = song.guitar();
  score::Note high = song.fretted(g, 1, 3), low = song.fretted(g, 3, 0);
  high.pluck = 'a';
  low.pluck = 'i';
  song.event(g, 1, q(0), q(4), {low, high});
  song.last().stroke = song::StrokeDirection::None;
  const Engraved e = engraved(song.finish(), 150, "tab");
  const auto letters = of_kind(frame_of(e), "picking-finger");
  ASSERT_EQ(letters.size(), 2u);
  EXPECT_EQ(text_of(*letters[0]), "a");
  EXPECT_LE(layout::box_of(*letters[0]).bottom(), layout::box_of(*letters[1]).top());
}

/// Every mark at once, in any company: words of marks touch no other words and no figure.
TEST(Marks, WordsKeepClearInSeededSongs) {
  const std::set<std::string> ours{
      "hammer-letter",  "pull-letter",     "tap",           "harmonic-letters", "palm-mute",
      "let-ring",       "technique-span",  "bend-amount",   "arm-interval",     "slap-pop",
      "harmonic-pitch", "fretting-finger", "picking-finger"};
  std::set<std::string> seen;
  for (unsigned seed = 0; seed < 40; ++seed) {
    std::mt19937 random(seed);
    const auto up_to = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    SongMaker song("4/4", "D major", 3);
    const int g = song.guitar();
    for (int i = 0; i < 12; ++i) {
      score::Note note = song.fretted(g, 1 + up_to(6), 2 + up_to(10));
      if (up_to(3) == 0) note.more.set().bend = {{q(0), q(0)}, {q(1, 2), q(1 + up_to(4), 1)}, {q(1, 1), q(1, 1)}};
      if (up_to(4) == 0) note.vibrato = up_to(2) == 0 ? song::Vibrato::Wide : song::Vibrato::Narrow;
      if (up_to(5) == 0) note.more.set().link.kind = up_to(2) == 0 ? Arrival::Tap : Arrival::TapFrettingHand;
      if (up_to(5) == 0) note.harmonic = song::HarmonicKind::Pinched;
      if (i > 0 && up_to(6) == 0) note.more.set().link = {Arrival::PullOff, i - 1, 0};
      if (note.harmonic != song::HarmonicKind::None) note.more.set().sounding = note.written;
      if (up_to(4) == 0) note.finger = 1 + up_to(5);
      if (up_to(3) == 0) note.pluck = "pimaTP"[up_to(6)];
      song.event(g, 1, q(i), q(1), {note});
      song.last().tremolo = up_to(8) == 0;
      song.last().stroke = static_cast<song::StrokeDirection>(up_to(3));
      song.last().rolled = up_to(9) == 0;
    }
    song.finish();
    for (int i = 0; i < 12; ++i) {
      if (up_to(4) != 0) continue;
      score::Word move;
      move.kind = score::WordKind::Arm;
      move.at = song.place(q(i));
      move.arm = song::ArmSign{static_cast<song::ArmSign::Action>(up_to(6)), q(1 + up_to(4), 1)};
      song.music(g).words.push_back(move);
    }
    for (const char* kind : {"palm mute", "let ring", "wah", "vibrato", "trill", "fade in"}) {
      const int from = up_to(10);
      if (up_to(2) == 0) {
        song.music(0).marks.push_back({kind, "", song.place(q(from)), song.place(q(from + 1 + up_to(2))), {}});
      }
    }
    for (const std::string staves : {"tab", "both", "notation"}) {
      const Engraved e = engraved(song.timeline, 150, staves);
      for (const engrave::EngravedSystem& system : e.section.systems) {
        std::vector<const Item*> words;
        for (const Item& item : system.frame->items) {
          if (item.layer == layout::Layer::Text) words.push_back(&item);
        }
        for (const Item* a : words) {
          if (ours.count(std::string(a->kind.name())) == 0) continue;
          seen.insert(std::string(a->kind.name()));
          const Rect box = layout::box_of(*a).grown(-Length::pt(0.15));
          for (const Item* b : words) {
            if (a == b || (a->kind == b->kind && a->at.y == b->at.y)) continue;
            EXPECT_FALSE(box.overlaps(layout::box_of(*b)))
                << "seed " << seed << " " << staves << ": " << a->kind.name() << " '" << text_of(*a) << "' and "
                << b->kind.name() << " '" << text_of(*b) << "'";
          }
        }
      }
    }
  }
  EXPECT_EQ(seen.size(), ours.size());
}

}  // namespace
}  // namespace tunesheaf::test
