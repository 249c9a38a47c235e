// Orders of songs, the reading of books, and what songs are kept as.
#include "tunesheaf/book/order.h"

#include <gtest/gtest.h>

#include <set>

#include "tunesheaf/book/book.h"

namespace tunesheaf::book {
namespace {

using Titles = std::vector<std::string>;

SongPages titled(const std::string& title) {
  SongPages song;
  song.title = title;
  return song;
}

SongPages tuned(const std::string& title, std::vector<int> strings, int capo = 0, const std::string& on = "guitar") {
  SongPages song = titled(title);
  song.tuning = {on, std::move(strings), {40, 45, 50, 55, 59, 64}, title + "'s tuning", capo};
  if (on == "bass guitar") song.tuning.usual = {28, 33, 38, 43};
  return song;
}

SongPages keyed(const std::string& title, const std::string& key, int fifths, bool minor) {
  SongPages song = titled(title);
  song.key = key;
  song.fifths = fifths;
  song.minor = minor;
  return song;
}

Titles ordered(const std::vector<SongPages>& songs, Order order) {
  std::vector<const SongPages*> list;
  for (const SongPages& song : songs) list.push_back(&song);
  Titles out;
  std::set<std::size_t> seen;
  for (const SongGroup& group : in_order(list, order)) {
    for (const std::size_t i : group.songs) {
      EXPECT_TRUE(seen.insert(i).second) << "twice: " << songs[i].title;
      out.push_back(songs[i].title);
    }
  }
  EXPECT_EQ(seen.size(), songs.size());
  return out;
}

TEST(SongOrder, TitlesAsAReaderLooksForThem) {
  EXPECT_EQ(
      ordered({titled("ferry"), titled("Élan"), titled("Dock 12"), titled("Dock 7"), titled("Dock"), titled("Anchor")},
              Order::Title),
      (Titles{"Anchor", "Dock", "Dock 7", "Dock 12", "Élan", "ferry"}));
  EXPECT_EQ(compare_titles("Dock 007", "dock 7"), 0);
  EXPECT_LT(compare_titles("a", "ab"), 0);
  EXPECT_GT(compare_titles("b", "ab"), 0);
}

TEST(SongOrder, KeysRoundTheCircleOfFifths) {
  EXPECT_EQ(
      ordered({titled("none"), keyed("a", "A minor", 0, true), keyed("e", "E major", 4, false),
               keyed("c", "C major", 0, false), keyed("b", "B♭ major", -2, false), keyed("g", "G major", 1, false)},
              Order::Key),
      (Titles{"b", "c", "a", "g", "e", "none"}));
}

TEST(SongOrder, TuningsSoThatStringsAreTurnedLeast) {
  const std::vector<int> usual{40, 45, 50, 55, 59, 64}, drop{38, 45, 50, 55, 59, 64}, open{38, 43, 50, 55, 59, 62};
  EXPECT_EQ(ordered({tuned("open", open), titled("sung"), tuned("bass", {28, 33, 38, 43}, 0, "bass guitar"),
                     tuned("usual, capo", usual, 2), tuned("drop", drop), tuned("usual", usual)},
                    Order::Tuning),
            (Titles{"usual", "usual, capo", "drop", "open", "bass", "sung"}));
}

TEST(SongOrder, TheEasiestFirst) {
  std::vector<SongPages> songs{titled("none"), titled("hard"), titled("easy"), titled("as easy")};
  songs[1].difficulty = 0.8;
  songs[2].difficulty = songs[3].difficulty = 0.1;
  EXPECT_EQ(ordered(songs, Order::Difficulty), (Titles{"easy", "as easy", "hard", "none"}));
  EXPECT_EQ(ordered(songs, Order::AsGiven), (Titles{"none", "hard", "easy", "as easy"}));
  EXPECT_TRUE(in_order({}, Order::Tuning).empty());
}

TEST(SongPages, AreKeptAsBytes) {
  SongPages song = tuned("Quarry Lane ♯", {38, 45, -1}, 3);
  song.by = "The Gravel Choir";
  song.key = "G major";
  song.fifths = -3;
  song.minor = true;
  song.difficulty = 0.25;
  song.shapes = {{"C", "x32010"}, {"G", "320003"}};
  song.signs = {blocks::LegendSign::Slide, blocks::LegendSign::RemarkNumber};
  song.mirror = base::Length::mm(-4);
  diag::Diagnostic finding;
  finding.kind = diag::Kind::SheetOverfull;
  finding.situation = "too full";
  finding.labels = {{{0, 4, 9}, "here"}};
  song.findings.push_back(finding);
  const std::string bytes = pack(song);
  const auto back = unpack(bytes);
  ASSERT_TRUE(back);
  EXPECT_EQ(pack(*back), bytes);
  EXPECT_EQ(back->title, song.title);
  EXPECT_EQ(back->tuning.strings, song.tuning.strings);
  EXPECT_EQ(back->fifths, song.fifths);
  EXPECT_EQ(back->difficulty, song.difficulty);
  EXPECT_EQ(back->findings, song.findings);
  EXPECT_EQ(back->signs, song.signs);
  for (std::size_t kept = 0; kept < bytes.size(); ++kept) EXPECT_FALSE(unpack(bytes.substr(0, kept))) << kept;
}

std::optional<Book> book_of(const std::string& text, diag::Sink& sink) {
  source::Files files;
  const source::FileId id = files.add("book.yaml", text);
  const auto root = yaml::read(files.file(id), sink);
  return root ? read(*root, files.file(id), sink) : std::nullopt;
}

TEST(BookFile, HoldsWhatIsWritten) {
  diag::Sink sink;
  const auto book = book_of(
      "book: Songs of the Quay\nby: Friends\nsays: Slowly.\nstyle: large\npaper: letter\norder: tuning\nsides: single\n"
      "sheet: chart\nsongs:\n  - a.yaml\n  - {song: b.yaml, sheet: handout, parts: [guitar, bass]}\n",
      sink);
  ASSERT_TRUE(book && !sink.has_errors());
  EXPECT_EQ(book->title.value, "Songs of the Quay");
  EXPECT_EQ(book->order, Order::Tuning);
  EXPECT_EQ(book->sides, Sides::Single);
  EXPECT_EQ(book->paper, "letter");
  ASSERT_EQ(book->songs.size(), 2U);
  EXPECT_EQ(book->songs[0].sheet, SheetKind::Chart);
  EXPECT_EQ(book->songs[1].sheet, SheetKind::Handout);
  ASSERT_EQ(book->songs[1].parts.size(), 2U);
  EXPECT_EQ(book->songs[1].parts[1].value, "bass");
}

/// The example of every key in the table is read without fault where it stands.
TEST(BookFile, TheExamplesOfTheTableAreRead) {
  for (const Key& key : keys()) {
    std::string text;
    if (key.place == Place::Song) {
      text =
          "book: Quay\nsongs:\n  - {" + std::string(key.example) + (key.name == "song" ? "" : ", song: a.yaml") + "}\n";
    } else {
      text = std::string(key.name) == "book" ? "" : "book: Quay\n";
      text += std::string(key.name) == "songs" ? "" : "songs: [a.yaml]\n";
      text += std::string(key.example) + "\n";
    }
    diag::Sink sink;
    EXPECT_TRUE(book_of(text, sink)) << text;
  }
}

TEST(BookFile, EverySignIsATechniqueOrNone) {
  EXPECT_EQ(technique_of(blocks::LegendSign::HammerOn), "hammer-ons");
  EXPECT_TRUE(technique_of(blocks::LegendSign::RemarkNumber).empty());
}

}  // namespace
}  // namespace tunesheaf::book
