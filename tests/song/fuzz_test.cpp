// Spoilt songs: whatever is typed, reading ends, says something sensible, and every place lies inside the file.
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <random>

#include "reading.h"
#include "support/golden.h"

namespace tunesheaf::song {
namespace {

void expect_inside(const std::vector<Stanza>& stanzas, std::uint32_t size) {
  const auto inside = [&](Span span) { ASSERT_TRUE(span.begin <= span.end && span.end <= size); };
  for (const Stanza& stanza : stanzas) {
    inside(stanza.span);
    for (const Lane& lane : stanza.lanes) {
      inside(lane.span);
      inside(lane.name.span);
      ASSERT_FALSE(lane.bars.empty() && lane.name.value.empty());
      for (const LaneBar& bar : lane.bars) {
        inside(bar.span);
        ASSERT_FALSE(bar.beats.empty());
        for (const LaneBeat& beat : bar.beats) {
          inside(beat.span);
          ASSERT_FALSE(beat.cells.empty());
          for (const Cell& cell : beat.cells) inside(cell.span);
        }
      }
    }
  }
}

void expect_sound(const Reading& reading) {
  const auto size = static_cast<std::uint32_t>(reading.file().text().size());
  for (const diag::Diagnostic& item : reading.sink.sorted()) {
    ASSERT_FALSE(item.situation.empty());
    ASSERT_FALSE(item.remedy.empty()) << item.situation;
    for (const diag::Label& label : item.labels)
      ASSERT_TRUE(label.span.begin <= label.span.end && label.span.end <= size);
  }
  if (!reading.song) return;
  for (const PatternDef& pattern : reading.song->patterns) expect_inside(pattern.stanzas, size);
  for (const SectionDef& section : reading.song->sections) {
    for (const PartContent& content : section.parts) {
      expect_inside(content.stanzas, size);
      for (const Exception& exception : content.except) expect_inside(exception.stanzas, size);
    }
    for (const Ending& ending : section.endings) {
      for (const PartContent& content : ending.parts) expect_inside(content.stanzas, size);
    }
  }
}

std::string spoilt(std::string text, std::mt19937& random) {
  static const std::vector<std::string> kPieces{
      "|", ":",   " : ", "-", "\"", "#", "\n", "  ",     "\t",         "%",   "(",     "<", ">", "\u2013", "\u201c",
      "x", "7b9", "|:",  "{", "]",  ",", "&",  "\u00a0", "two finger", "|\n", "home:", "0", "'", "\\",     "@"};
  for (int change = 0; change < 1 + static_cast<int>(random() % 4); ++change) {
    const std::size_t at = random() % text.size();
    switch (random() % 4) {
      case 0:
        text.erase(at, 1 + random() % 4);
        break;
      case 1:
        text.insert(at, kPieces[random() % kPieces.size()]);
        break;
      case 2:
        text[at] = static_cast<char>(32 + random() % 95);
        break;
      default: {
        const std::size_t from = random() % text.size();
        text.insert(at, text.substr(from, random() % 40));
      }
    }
    if (text.empty()) text = "song: A\n";
  }
  return text;
}

TEST(Fuzz, FiveThousandSpoiltSongs) {
  const std::string text = support::read_file(support::golden_folder() / "song" / "heron-stair.yaml");
  std::mt19937 random(14);
  int read_to_the_end = 0;
  for (int i = 0; i < 5000; ++i) {
    const Reading reading = read_text_of_song(spoilt(text, random));
    expect_sound(reading);
    if (HasFatalFailure()) {
      FAIL() << "song " << i << ":\n" << reading.file().text();
    }
    if (!reading.song) continue;
    ++read_to_the_end;
    EXPECT_FALSE(print(*reading.song).empty());
    const std::string once = tidy(*reading.nodes, reading.file());
    if (reading.sink.has_errors()) continue;
    EXPECT_EQ(print(*read_text_of_song(once).song), print(*reading.song)) << once;
  }
  EXPECT_GT(read_to_the_end, 1000);  // else the test would only try the reader of nodes
}

std::string long_song(int bars, const std::string& cells) {
  std::string one = "1     |", two = "shape |";
  for (int bar = 0; bar < bars; ++bar) {
    one += " " + cells + " |";
    two += " two finger home |";
  }
  return song_with_lanes(one + "\n" + two);
}

double seconds_to_read(const std::string& text) {
  double best = 1e9;
  for (int i = 0; i < 3; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    const Reading reading = read_text_of_song(text);
    EXPECT_TRUE(reading.song);
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count());
  }
  return best;
}

TEST(Speed, TenTimesTheBarsTakeAboutTenTimesAsLong) {
  for (const char* cells : {"0 : 2 h3 : - : 12b14r12", "0 : 5h : - : foo"}) {
    const double small = seconds_to_read(long_song(1000, cells));
    const double large = seconds_to_read(long_song(10000, cells));
    EXPECT_LT(large, 40 * small + 0.05) << cells;  // squares would make it 100 times
  }
}

}  // namespace
}  // namespace tunesheaf::song
