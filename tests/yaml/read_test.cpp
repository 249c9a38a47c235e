#include <gtest/gtest.h>

#include <chrono>
#include <random>

#include "support/golden.h"
#include "tree.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::yaml {
namespace {

class Reading {
 public:
  explicit Reading(std::string text) : id_(files_.add("song.yaml", std::move(text))), node_(read(file(), sink_)) {}
  const source::File& file() const { return files_.file(id_); }
  bool ok() const { return node_.has_value(); }
  const Node& node() const { return node_.value(); }
  std::vector<diag::Diagnostic> faults() const { return sink_.sorted(); }
  std::string slice(const Node& n) const { return std::string(file().slice(n.span)); }
  std::string lines() const { return diag::print(sink_.sorted(), files_, diag::Format::Lines, false); }
  /// The kind and place of the first fault: "needs-quotes 1:7".
  std::string first() const {
    const auto all = faults();
    if (all.empty()) return "none";
    const source::Place place = file().place(all.front().labels.at(0).span.begin);
    return std::string(diag::name(all.front().kind)) + " " + std::to_string(place.line) + ":" +
           std::to_string(place.column);
  }

 private:
  source::Files files_;
  diag::Sink sink_;
  source::FileId id_;
  std::optional<Node> node_;
};

std::string whole_song() {
  return support::read_file(support::golden_folder() / "yaml" / "whole-song.yaml");
}

TEST(Read, ScalarsStayWhatTheyLookLike) {
  for (const std::string text :
       {"1:56", "0211", "2.10", "no",        "yes",   "on",  "~",        "null", "Null",         ".nan",
        "010",  "-",    "-5",   "x 0 2",     "=",     "C/G", "7#9",      "a:b",  "http://x/y?z", "Rain \"Song\"",
        "it's", "5'",   "a, b", "a [b] {c}", "a & b", "50%", "D2 G2 D3", "?x",   "-x",           "\u266D7",
        "a|b"}) {
    const std::string value = text == "-" ? "'-'" : text;
    const Reading r("key: " + value + "\n");
    ASSERT_TRUE(r.ok()) << text << "\n" << r.lines();
    EXPECT_EQ(r.node().find("key")->value.text, text);
    EXPECT_EQ(r.slice(r.node().find("key")->value), value);
  }
}

TEST(Read, SpansEndWhereTheValueEnds) {
  const std::vector<std::pair<std::string, std::string>> table = {
      {"k: value   # comment\n", "value"},
      {"k: value", "value"},
      {"k:   value  \r\n", "value"},
      {"k: \"a \\\" b\"  # c\n", "\"a \\\" b\""},
      {"k: 'it''s'\n", "'it''s'"},
      {"k: [a, [b, c]]  # d\n", "[a, [b, c]]"},
      {"k: {a: {b: c}, d: [e]}\nx: y\n", "{a: {b: c}, d: [e]}"},
      {"k:\n  one\n\n  two  \n# c\nx: y\n", "one\n\n  two"},
      {"k: [\n  a,  # c\n  b\n]\nx: y\n", "[\n  a,  # c\n  b\n]"},
      {"k: |\n  a\n\n  b\n\n\nx: y\n", "|\n  a\n\n  b"},
      {"k: >-\n  a\n  b\n", ">-\n  a\n  b"},
      {"k:\n  - a\n  - b: c\n    d: e\nx: y\n", "- a\n  - b: c\n    d: e"},
      {"k:\n- a\n- b\nx: y\n", "- a\n- b"},
      {"k: {a: one\n  two, b: c}\n", "{a: one\n  two, b: c}"},
  };
  for (const auto& [text, value] : table) {
    const Reading r(text);
    ASSERT_TRUE(r.ok()) << text << r.lines();
    EXPECT_EQ(r.slice(r.node().find("k")->value), value) << text;
    EXPECT_EQ(fault_of_tree(r.node(), r.file()), "") << text;
  }
}

TEST(Read, NothingStandsBehindItsKey) {
  const Reading r("a:\nb:   # later\nc: {d: , e:}\nf:\n  -\n  - x\n");
  ASSERT_TRUE(r.ok()) << r.lines();
  const auto begin = [&](const Node& n) { return n.span.begin; };
  EXPECT_EQ(r.node().find("a")->value.kind, NodeKind::Null);
  EXPECT_EQ(begin(r.node().find("a")->value), 2U);
  EXPECT_EQ(begin(r.node().find("b")->value), 5U);
  const Node& c = r.node().find("c")->value;
  EXPECT_EQ(c.find("d")->value.kind, NodeKind::Null);
  EXPECT_EQ(begin(c.find("d")->value), begin(c.find("d")->key) + 2);
  EXPECT_EQ(begin(c.find("e")->value), begin(c.find("e")->key) + 2);
  EXPECT_EQ(r.node().find("f")->value.items.at(0).kind, NodeKind::Null);
  EXPECT_EQ(r.node().find("missing"), nullptr);
}

TEST(Read, LanesKeepTheirPlaces) {
  const Reading r("air:\n  guitar: |\n\n    shape | home |\n      \n\n    1     | 0 # c\n   \n  x: y\n");
  ASSERT_TRUE(r.ok()) << r.lines();
  const Node& lanes = r.node().find("air")->value.find("guitar")->value;
  EXPECT_EQ(lanes.style, ScalarStyle::Literal);
  std::string all;
  for (const TextLine& line : lanes.lines) {
    EXPECT_EQ(r.file().slice(line.span), line.text);
    all += line.text + "/";
  }
  EXPECT_EQ(all, "/shape | home |/  //1     | 0 # c/");
  EXPECT_EQ(r.file().place(lanes.lines.at(4).span.begin).line, 7U);
  EXPECT_EQ(r.file().place(lanes.lines.at(4).span.begin).column, 5U);
}

TEST(Read, ABlankLineThatIsWiderThanTheLanesDoesNoHarm) {
  const Reading r("guitar: |\n          \n  shape | home |\n  1 | 0 |\nsays: >\n        \n  a\n  b\n");
  ASSERT_TRUE(r.ok()) << r.lines();
  const Node& lanes = r.node().find("guitar")->value;
  ASSERT_EQ(lanes.lines.size(), 3U);
  EXPECT_EQ(lanes.lines.at(1).text, "shape | home |");
  EXPECT_EQ(lanes.text, "\nshape | home |\n1 | 0 |\n");
  EXPECT_EQ(r.node().find("says")->value.text, "a b\n");
}

TEST(Read, TheWholeSongComesOut) {
  const Reading r(whole_song());
  ASSERT_TRUE(r.ok()) << r.lines();
  EXPECT_EQ(r.lines(), "");
  EXPECT_EQ(fault_of_tree(r.node(), r.file()), "");
  const Node& song = r.node();
  EXPECT_EQ(song.find("song")->value.text, "The Heron Stair");
  EXPECT_EQ(song.find("shapes")->value.entries.size(), 4U);
  EXPECT_EQ(song.find("form")->value.items.size(), 4U);
  EXPECT_EQ(song.find("sections")->value.find("air")->value.find("guitar")->value.lines.size(), 6U);
}

TEST(Read, LineEndsAndAByteOrderMarkChangeNoPlace) {
  const std::string lf = whole_song();
  std::string crlf;
  for (const char c : lf) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
  const Reading plain(lf), windows(crlf), marked("\xEF\xBB\xBF" + lf), both("\xEF\xBB\xBF" + crlf);
  for (const Reading* r : {&windows, &marked, &both}) {
    ASSERT_TRUE(r->ok()) << r->lines();
    EXPECT_EQ(print(r->node(), r->file()), print(plain.node(), plain.file()));
    EXPECT_EQ(fault_of_tree(r->node(), r->file()), "");
  }
}

TEST(Read, HarmlessMarkersAreHarmless) {
  for (const std::string text :
       {"---\nsong: x\n", "# c\n---  # d\nsong: x\n...\n", "song: x\n...", "{song: x}", "song: x\n\n\n"}) {
    const Reading r(text);
    ASSERT_TRUE(r.ok()) << text << r.lines();
    EXPECT_EQ(r.node().find("song")->value.text, "x");
  }
}

TEST(Read, CommentsAreToldFromSharps) {
  for (const std::string text :
       {"k: straight   # or swing\n", "k: a # b\n", "k: C#m  # c\n", "k: [a, b] # c\n", "k: a\n#b\n",
        "k: |  # c\n  x\n", "k: \"F #m\"\n", "k:   # c\n", "k: a  #b\n", "k: a ## b\n"}) {
    EXPECT_EQ(Reading(text).first(), "none") << text;
  }
  EXPECT_EQ(Reading("k: F #m\n").first(), "hash-in-text 1:6");
  EXPECT_EQ(Reading("k: F # minor\n").first(), "hash-in-text 1:6");
  EXPECT_EQ(Reading("k: Song #1\n").first(), "hash-in-text 1:9");
  EXPECT_EQ(Reading("k: [A #11\n , B]\n").first(), "hash-in-text 1:7");
  EXPECT_EQ(Reading("k: Am7 #\n").first(), "none");
  EXPECT_TRUE(Reading("k: F #m\n").ok());
}

TEST(Read, SlipsHaveTheirKindAndPlace) {
  const std::vector<std::pair<std::string, std::string>> table = {
      {"a:\n  b: 1\n  b: 2\n", "duplicate-key 3:3"},
      {"a: {b: 1, b: 2}\n", "duplicate-key 1:11"},
      {"a: 1\n\"a\": 2\n", "duplicate-key 2:1"},
      {"by: 'Til\nx: y\n", "open-quote 1:5"},
      {"- \"x\n- y\n", "open-quote 1:3"},
      {"\"x: y\n", "open-quote 1:1"},
      {"song: \"Rain\" Song\n", "text-after-value 1:14"},
      {"song: Heron: a waltz\n", "colon-in-text 1:12"},
      {"a: b:\n", "colon-in-text 1:5"},
      {"- %\n", "needs-quotes 1:3"},
      {"a: [@x]\n", "needs-quotes 1:5"},
      {"a: {b: *soft*}\n", "needs-quotes 1:8"},
      {"a: {b: really? x}\n", "needs-quotes 1:8"},
      {"*soft*: x\n", "needs-quotes 1:1"},
      {"a: b\n@c: d\n", "needs-quotes 2:1"},
      {"a: &x b\n", "anchor-used 1:4"},
      {"&x a: b\n", "anchor-used 1:1"},
      {"a: [*x, *x]\n", "alias-used 1:5"},
      {"a: !!binary x\n", "tag-used 1:4"},
      {"a: !<tag> x\n", "tag-used 1:4"},
      {"<<: {a: b}\n", "merge-used 1:1"},
      {"a: b\n---\n", "second-document 2:1"},
      {"a: b\n--- c\n", "second-document 2:1"},
      {"--- a: b\n", "second-document 1:5"},
      {"...\na: b\n", "second-document 2:1"},
      {"a: [b\n--- c\n", "open-bracket 1:4"},
      {"%TAG ! x\n", "directive-used 1:1"},
      {"a:b\n", "missing-space 1:2"},
      {"a: b\nkey:G\n", "missing-space 2:4"},
      {"a: b\ntempo 96\n", "missing-colon 2:1"},
      {"a:\n  b: c\n d: e\n", "bad-indent 3:2"},
      {"a: b\n  c: d\n", "bad-indent 2:3"},
      {"a: \"b\"\n  c\n", "bad-indent 2:3"},
      {"a: b\n  - c\n", "list-mixed 2:3"},
      {"- a\nb: c\n", "list-mixed 2:1"},
      {"a: b\n- c\n", "list-mixed 2:1"},
      {"- a\n  b: c\n", "bad-indent 2:3"},
      {"a: [b, c\n", "open-bracket 1:4"},
      {"a: [b, c\nd: e\n", "open-bracket 1:4"},
      {"a: {b: c\nd: e\n", "open-bracket 1:4"},
      {"a: [b}\n", "stray-bracket 1:6"},
      {"a: {b: c]\n", "stray-bracket 1:9"},
      {"[a]: b\n", "stray-bracket 1:1"},
      {"a: {[b]: c}\n", "stray-bracket 1:5"},
      {"a: [b,, c]\n", "stray-comma 1:7"},
      {"a: [, b]\n", "stray-comma 1:5"},
      {"a: {b: c,, d: e}\n", "stray-comma 1:10"},
      {"a: [b: c]\n", "pair-in-list 1:6"},
      {"a: {b: c: d}\n", "colon-in-text 1:9"},
      {"a: {b: c, d, e: f}\n", "comma-in-text 1:9"},
      {"a: {b}\n", "comma-in-text 1:5"},
      {"a: {b c\n  d: e}\n", "text-after-value 2:3"},
      {"a: {b:c}\n", "missing-space 1:6"},
      {": a\n", "missing-name 1:1"},
      {"a: {: b}\n", "missing-name 1:5"},
      {"? a\n", "needs-quotes 1:1"},
      {"a: - b\n", "needs-quotes 1:4"},
      {"a: [- b]\n", "needs-quotes 1:5"},
      {"a: \"\\e\"\n", "bad-escape 1:5"},
      {"a: \"\\u202E\"\n", "bad-escape 1:5"},
      {"a: \"\\uD800\"\n", "bad-escape 1:5"},
      {"a: \"\\u00\"\n", "bad-escape 1:5"},
      {"a:\n\tb: c\n", "tab-indent 2:1"},
      {"a: [\n\tb]\n", "tab-indent 2:1"},
      {"-\ta: b\n", "tab-indent 1:2"},
      {"a:\n  shape | home |\n", "lanes-without-bar 2:3"},
      {"a: shape | home |\n", "lanes-without-bar 1:4"},
      {"a: 1 | 0 : 1 |\n", "lanes-without-bar 1:4"},
      {"a: | shape | x |\n", "lanes-beside-bar 1:4"},
      {"a: | | |\n", "lanes-beside-bar 1:4"},
      {"a: |\n  x | y |\n\t\nb: c\n", "tab-indent 3:1"},
      {"a: |\n \t\n  x | y |\n", "tab-indent 2:2"},
      {"a: |\nshape | x |\n", "lanes-not-indented 2:1"},
      {"a: |\n    shape | x |\n  1 | 0 |\n", "first-lane-deeper 3:3"},
      {"a: |\n  shape | x |\n# c\n  1 | 0 |\n", "first-lane-deeper 4:3"},
      {"", "file-empty 1:1"},
      {" \n\n", "file-empty 1:1"},
      {"# a\n", "file-empty 1:1"},
      {"---\n", "file-empty 1:1"},
      {"a: b\xff\n", "not-utf8 1:5"},
      {"a: \x07\n", "control-character 1:4"},
      {"a: \u202E\n", "direction-character 1:4"},
      {"a: \u2067b\n", "direction-character 1:4"},
      {"a: \u2028b\n", "control-character 1:4"},
      {"a: b\rc: d\n", "old-line-end 1:5"},
      {"hello\n", "missing-colon 1:1"},
      {std::string(201, 'x') + ": y\n", "missing-name 1:1"},
  };
  for (const auto& [text, fault] : table) {
    const Reading r(text);
    EXPECT_EQ(r.first(), fault) << text << "\n" << r.lines();
    EXPECT_FALSE(r.ok()) << text;
  }
}

TEST(Read, SeveralSlipsAreSaidAtOnce) {
  const Reading r("song: Heron: x\nby: @y\nkey:G\nsays: 'Til\nform: [a,, b]\n");
  EXPECT_EQ(r.faults().size(), 5U) << r.lines();
}

TEST(Read, TextWithColonsAndHashesMayStandInQuotes) {
  const Reading r(
      "a: \"Heron: a waltz\"\nb: 'F #m'\nc: {d: \"one, two\", e: 'x'}\n\"a: b\": c\nf: \"\\u266d\\t\\\\\"\n");
  ASSERT_TRUE(r.ok()) << r.lines();
  EXPECT_EQ(r.node().find("a")->value.text, "Heron: a waltz");
  EXPECT_EQ(r.node().find("b")->value.text, "F #m");
  EXPECT_EQ(r.node().find("c")->value.find("d")->value.text, "one, two");
  EXPECT_EQ(r.node().find("a: b")->value.text, "c");
  EXPECT_EQ(r.node().find("f")->value.text, "\u266D\t\\");
}

TEST(Read, DepthEndsAt64) {
  std::string flow = "a: ", block;
  for (int i = 0; i < 63; ++i) flow += "[";
  for (int i = 0; i < 63; ++i) flow += "]";
  for (int i = 0; i < 64; ++i) block += std::string(static_cast<std::size_t>(i), ' ') + "a:\n";
  EXPECT_TRUE(Reading(flow + "\n").ok()) << Reading(flow + "\n").lines();
  EXPECT_TRUE(Reading(block).ok()) << Reading(block).lines();
  EXPECT_EQ(Reading("a: [" + flow.substr(3) + "]\n").first(), "too-deep 1:67");
  EXPECT_EQ(Reading(block + std::string(64, ' ') + "b:\n").first(), "too-deep 65:65");
}

TEST(Read, HostileFilesAreRefusedFast) {
  const auto start = std::chrono::steady_clock::now();
  EXPECT_EQ(Reading(std::string(100'000, '[')).first(), "too-deep 1:65");
  std::string nested;
  for (int i = 0; i < 100'000; ++i) nested += "{a: ";
  EXPECT_EQ(Reading(nested).first(), "too-deep 1:257");
  std::string dashes;
  for (int i = 0; i < 100'000; ++i) dashes += "- ";
  EXPECT_EQ(Reading(dashes).first(), "too-deep 1:129");
  std::string laughs = "a: &a [x, x, x, x, x, x, x, x, x]\n";
  for (char c = 'b'; c < 'k'; ++c) {
    laughs +=
        std::string(1, c) + ": &" + c + " [*" + static_cast<char>(c - 1) + ", *" + static_cast<char>(c - 1) + "]\n";
  }
  EXPECT_EQ(Reading(laughs).first(), "anchor-used 1:4");
  EXPECT_EQ(Reading(std::string(50'000'000, 'a')).first(), "file-too-large 1:1");
  EXPECT_EQ(too_large({}, kMaxBytes + 1).situation, "the file has more than 4 MiB");
  EXPECT_EQ(too_large({}, 50'000'000).situation, "the file has 47.7 MiB");
  EXPECT_EQ(Reading("a: " + std::string(kMaxBytes - 10, 'x') + "\n").first(), "none");
  EXPECT_EQ(Reading("a: [" + std::string(kMaxBytes - 10, ' ') + "\n").first(), "open-bracket 1:4");
  const auto seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  EXPECT_LT(seconds, 20.0);  // about 1 s; the room is for a busy machine
}

// Seeded, so that a failure comes back.
std::string mutated(const std::string& song, std::mt19937& random) {
  static const std::vector<std::string> kPieces = {
      "\"",    "'",  "{",    "}",  "[",    "]",    ",",      ": ",           ":",        "#", " #",
      "- ",    "\t", "\n",   "  ", "|",    ">",    "&a ",    "*a",           "!!",       "%", "---\n",
      "...\n", "? ", "<<: ", "\\", "\xff", "\r\n", "\u266D", "key: value\n", " | x |\n", "@", "`"};
  const auto pick = [&](std::size_t size) { return random() % (size + 1); };
  std::string text = song;
  for (std::size_t steps = 1 + random() % 4; steps > 0; --steps) {
    const std::size_t at = pick(text.size());
    const std::size_t length = std::min<std::size_t>(random() % 40, text.size() - at);
    switch (random() % 4) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(pick(text.size()), text.substr(at, length));
        break;
      case 2:
        if (at < text.size()) text[at] = static_cast<char>(random() % 128);
        break;
      default:
        text.insert(at, kPieces[random() % kPieces.size()]);
    }
  }
  return text;
}

TEST(ReadFuzz, MutatedSongsNeverLeadOutsideTheFile) {
  const std::string song = whole_song();
  std::mt19937 random(20231);
  std::size_t read_well = 0, unnamed = 0;
  for (int i = 0; i < 3000; ++i) {
    const std::string text = mutated(song, random);
    const Reading r(text);
    for (const diag::Diagnostic& d : r.faults()) {
      ASSERT_FALSE(d.labels.empty());
      if (d.kind == diag::Kind::NotReadable) ++unnamed;
      for (const diag::Label& label : d.labels) ASSERT_EQ(fault_of_span(label.span, r.file()), "") << i;
    }
    if (r.ok()) {
      ++read_well;
      ASSERT_EQ(fault_of_tree(r.node(), r.file()), "") << i << "\n" << text;
    } else {
      ASSERT_FALSE(r.faults().empty()) << i;
    }
    ASSERT_FALSE(r.lines().size() > 100'000) << i;
  }
  EXPECT_GT(read_well, 300U);
  // Nearly everything that goes wrong has a message of its own.
  EXPECT_LT(unnamed, 30U);
  RecordProperty("read_well", static_cast<int>(read_well));
  RecordProperty("unnamed", static_cast<int>(unnamed));
}

}  // namespace
}  // namespace tunesheaf::yaml
