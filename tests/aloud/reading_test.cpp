// What a reading is made of: goldens of two small songs, no signs anywhere, parts of it on request, pages that hold
// together.
#include "tunesheaf/aloud/reading.h"

#include <gtest/gtest.h>

#include <set>

#include "score/support.h"
#include "support/golden.h"
#include "tunesheaf/aloud/print.h"
#include "tunesheaf/aloud/words.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::aloud {
namespace {

score::Built song_of(const std::string& path) {
  score::Built built = score::build_file(std::filesystem::path(TUNESHEAF_SOURCE_DIR) / path);
  EXPECT_TRUE(built.timeline) << built.findings();
  return built;
}

bool holds(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

/// Letters, digits, blanks and the punctuation of sentences; an address of a link may hold more.
std::string first_sign(const std::string& text) {
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    if (holds(line, "https://")) continue;
    for (const char32_t c : base::code_points(line)) {
      const bool ascii = (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
                         std::string_view(" .,:;!?'\"()-").find(static_cast<char>(c)) != std::string_view::npos;
      const bool letter = c >= 0xc0 && c != 0xd7 && c != 0xf7 && c < 0x2000;
      if (!(c < 0x80 && ascii) && !letter) return base::to_utf8(c) + " in: " + line;
    }
  }
  return {};
}

class Readings : public testing::TestWithParam<std::filesystem::path> {};

TEST_P(Readings, HoldNoSigns) {
  const score::Built built = score::build_file(GetParam());
  ASSERT_TRUE(built.timeline) << built.findings();
  EXPECT_EQ(first_sign(to_text(read(*built.timeline, {}))), "");
}

/// Every h1 to h3 opens and closes, levels have no gap, ids are single, links of the contents lead somewhere.
TEST_P(Readings, PagesHoldTogether) {
  const score::Built built = score::build_file(GetParam());
  ASSERT_TRUE(built.timeline) << built.findings();
  const std::string page = to_html(read(*built.timeline, {}));
  EXPECT_TRUE(holds(page, "<html lang=\"en\">"));
  std::vector<std::string> open;
  std::set<std::string> ids, links;
  int level = 0, titles = 0;
  const std::set<std::string> kAlone{"meta", "br"};
  for (std::size_t at = page.find('<', 1); at != std::string::npos; at = page.find('<', at + 1)) {
    const std::string tag = page.substr(at + 1, page.find('>', at) - at - 1);
    const std::string name = tag.substr(0, tag.find_first_of(" >"));
    if (name[0] == '/') {
      ASSERT_FALSE(open.empty());
      EXPECT_EQ(open.back(), name.substr(1));
      open.pop_back();
      continue;
    }
    if (kAlone.count(name) == 0) open.push_back(name);
    if (name.size() == 2 && name[0] == 'h' && name[1] >= '1' && name[1] <= '6') {
      EXPECT_LE(name[1] - '0', level + 1) << page.substr(at, 80);
      level = name[1] - '0';
      EXPECT_LE(level, 3);
      titles += level == 1 ? 1 : 0;
    }
    const auto value = [&](const std::string& key) {
      const std::size_t found = tag.find(key + "=\"");
      return found == std::string::npos
                 ? std::string{}
                 : tag.substr(found + key.size() + 2, tag.find('"', found + key.size() + 2) - found - key.size() - 2);
    };
    if (!value("id").empty()) {
      EXPECT_TRUE(ids.insert(value("id")).second) << value("id");
    }
    if (value("href").rfind("#", 0) == 0) links.insert(value("href").substr(1));
  }
  EXPECT_TRUE(open.empty());
  EXPECT_EQ(titles, 1);
  for (const std::string& link : links) EXPECT_EQ(ids.count(link), 1U) << link;
  for (const char* landmark : {"<main", "<nav", "<header>"}) EXPECT_TRUE(holds(page, landmark)) << landmark;
  EXPECT_FALSE(holds(page, "<img"));
}

INSTANTIATE_TEST_SUITE_P(Demo, Readings, testing::ValuesIn(score::songs_in("songs-demo")), score::test_name);
INSTANTIATE_TEST_SUITE_P(Own, Readings, testing::ValuesIn(score::songs_in("tests/golden/aloud")), score::test_name);

TEST(Reading, GoldenOfASmallSong) {
  support::expect_golden("aloud/harbour.txt", to_text(read(*song_of("tests/golden/aloud/harbour.yaml").timeline, {})));
}

TEST(Reading, GoldenOfASmallSongAsAPage) {
  support::expect_golden("aloud/evening.html", to_html(read(*song_of("tests/golden/aloud/evening.yaml").timeline, {})));
}

TEST(Reading, APartASectionAndBars) {
  const score::Built built = song_of("tests/golden/aloud/harbour.yaml");
  Request request;
  request.part = 0;
  const std::string guitar = to_text(read(*built.timeline, request));
  EXPECT_TRUE(holds(guitar, "String 6: D 2"));
  EXPECT_FALSE(holds(guitar, "Hi-hat"));
  request.section = 1;
  const std::string tune = to_text(read(*built.timeline, request));
  EXPECT_FALSE(holds(tune, "verse")) << tune;
  EXPECT_FALSE(holds(tune, "Shape low")) << "that shape is of the verse";
  request = {};
  request.bars = {11, 12};
  const std::string bars = to_text(read(*built.timeline, request));
  EXPECT_TRUE(holds(bars, "Bar 11"));
  EXPECT_FALSE(holds(bars, "Bar 10"));
  EXPECT_FALSE(holds(bars, "as bar 7")) << "what was not said cannot be pointed to";
}

TEST(Reading, WordsOfAnotherLanguageAreMarked) {
  const score::Built built =
      score::build_text("lied.yaml",
                        "song: Abendgang\nlanguage: de\nmeter: 4/4\nparts:\n  guitar: {instrument: guitar}\n"
                        "sections:\n  strophe:\n    says: Langsam und leise.\n    guitar: |\n      1 | 0 |\n");
  ASSERT_TRUE(built.timeline) << built.findings();
  const std::string page = to_html(read(*built.timeline, {}));
  EXPECT_TRUE(holds(page, "<span lang=\"de\">Langsam und leise.</span>")) << page;
}

/// Signs that have words of their own in the table are said by them.
TEST(Reading, SignsAreSaidByTheirNamesInTheTable) {
  const score::Built built = song_of("tests/songs/every-sign.yaml");
  const std::string text = to_text(read(*built.timeline, {}));
  // Said otherwise: a fret by its number, a tie as "still", stages of a bend one by one, marks of the picking hand
  // first.
  const std::set<std::string> kOtherwise{"5",  "7/",      "-5", "7b9r7", "b17", "r15", "~",
                                         "~~", "12<t24>", "p",  "o",     "7b9", "7\\", "15pb17"};
  for (const song::LanguageEntry& entry : song::language()) {
    if (entry.kind != song::EntryKind::Sign || entry.where != "string lanes") continue;
    if (kOtherwise.count(std::string(entry.word)) > 0) continue;
    EXPECT_TRUE(holds(text, sign_words("string lanes", entry.word))) << entry.word << " " << entry.value;
  }
  for (const char* words : {"bend up", "release", "slide off", "pre bend", "slid to and struck"}) {
    EXPECT_TRUE(holds(text, words)) << words;
  }
}

/// The same for the other lanes, in a song that holds them all.
TEST(Reading, SignsOfDrumsNotesArmAndStrokesAreSaid) {
  const score::Built built = score::build_text("signs.yaml", R"(song: Every Other Sign
meter: 4/4
parts:
  guitar: {instrument: electric guitar}
  fiddle: {instrument: violin}
  drums: {instrument: drum kit}
shapes:
  G: {frets: 3 2 0 0 0 3}
sections:
  one:
    chart: |
      hold | - : breath : - : - | - : caesura : - : - | | |
    guitar: |
      1   | 5    : 7     : 5    : 7  |
      arm | dip2 : dive5 : back : ~  |
      pick | D   : U     : D    : D  |

      1   | 5    : 7     : 5    : -  |
      arm | up2  : back  : scoop : - |

      shape    | G |
      strum    | D~ : U : xD : D/ |
      body tap | -  : x : -  : x  |

      strum | (D) : D6-4 : >D : D' |
    fiddle: |
      notes | D5trE5 : A4= : (D5) : <D5> |
      bow   | D : U : - : - |

      notes | gC5-D5 : x : >D5 : D5+A5 |

      notes | D5 |

      notes | -D5 |
    drums: |
      hat   | x : o : h : >x |
      snare | x : (x) : fx : dx |

      snare | rx : x/ : xz : ^x |
      crash | - : - : - : x! |

      snare | R L : R L : x' : x_ |

      snare | x |
)");
  ASSERT_TRUE(built.timeline) << built.findings();
  const std::string text = to_text(read(*built.timeline, {}));
  for (const char* words : {"vibrato bar dip by a whole tone",
                            "vibrato bar dive by 5 semitones",
                            "vibrato bar up by a whole tone",
                            "vibrato bar scoop",
                            "vibrato bar back",
                            "vibrato bar shake",
                            "down stroke",
                            "up stroke",
                            "rolled down",
                            "muted down",
                            "brushed down",
                            "ghost down",
                            "over strings 6 to 4",
                            "down, accent",
                            "down, staccato",
                            "trill with E 5",
                            "tremolo",
                            "harmonic",
                            "grace note on C 5",
                            "without pitch",
                            "still D 5",
                            "A 5",
                            "down bow",
                            "up bow",
                            "half open",
                            "ghost",
                            "flam",
                            "drag",
                            "ruff",
                            "roll in halves of the note",
                            "buzz roll",
                            "choke",
                            "right hand",
                            "left hand",
                            "strong accent",
                            "tenuto",
                            "body tap",
                            "breath for everyone",
                            "break for everyone"}) {
    EXPECT_TRUE(holds(text, words)) << words << "\n" << text;
  }
}

}  // namespace
}  // namespace tunesheaf::aloud
