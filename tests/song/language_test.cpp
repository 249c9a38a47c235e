// The table against the reader: every example is read where it says it stands, so the reference cannot be wrong.
#include "tunesheaf/song/language.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "reading.h"
#include "vocabulary.h"

namespace tunesheaf::song {
namespace {

struct Place {
  std::string head, indent;         ///< the lines above, and how far the place's own lines are indented
  std::vector<std::string> others;  ///< what else stands there; a line with the example's key gives way to it
};

/// A song around each place of the table, with everything its examples speak of.
Place place_of(const std::string& where) {
  const std::string studio = "recordings: {studio: {note: The first take.}, in concert: {sounds: -2 semitones}}";
  const std::string home = "shapes: {home: {frets: x 0 0 0 0 0}}";
  const std::string lilt = "patterns: {lilt: \"strum | D : U |\"}";
  const std::string guitar = "parts: {guitar: {instrument: guitar}}";
  const std::string tunes = "sections: {tune: {chart: \"chords | G |\"}, air: {chart: \"chords | C |\"}}";
  const auto song = [&](const std::vector<std::string>& lines) {
    std::string text = "song: Base\n";
    for (const std::string& line : lines) text += line + "\n";
    return text;
  };
  if (where == "song") return {"", "", {"song: Base", studio, guitar, home, lilt, tunes}};
  if (where == "recording") return {song({guitar, tunes}) + "recordings:\n  studio:\n", "    ", {"note: A take."}};
  if (where == "part") return {song({tunes}) + "parts:\n  guitar:\n", "    ", {"instrument: guitar"}};
  if (where == "capo") {
    return {song({tunes}) + "parts:\n  guitar:\n    instrument: guitar\n    capo:\n", "      ", {"fret: 2"}};
  }
  if (where == "shape") return {song({guitar, tunes}) + "shapes:\n  home:\n", "    ", {"frets: x 0 0 0 0 0"}};
  if (where == "pattern") return {song({guitar, tunes}) + "patterns:\n  lilt:\n", "    ", {"lanes: \"1 | p |\""}};
  const std::string tune = song({studio, guitar, home, lilt}) + "sections:\n  tune:\n";
  if (where == "section") return {tune, "    ", {"guitar: \"1 | 0 |\""}};
  if (where == "bars") return {tune + "    guitar:\n", "      ", {"lanes: \"1 | 0 |\""}};
  const std::string played = tune + "    guitar: \"1 | 0 |\"\n";
  if (where == "ending") return {played + "    endings:\n      2:\n", "        ", {"guitar: \"1 | 0 |\""}};
  if (where == "remark") return {played + "    remarks:\n      a:\n", "        ", {"text: Softly."}};
  EXPECT_EQ(where, "times");
  return {played + "    times:\n", "      ", {"until: the end"}};
}

std::string song_with_key(const std::string& where, const std::string& key, const std::string& line) {
  const Place place = place_of(where);
  std::string text = place.head + place.indent + line + "\n";
  for (const std::string& other : place.others) {
    if (other.compare(0, key.size() + 1, key + ":") != 0) text += place.indent + other + "\n";
  }
  return text;
}

TEST(Language, EveryKeysExampleIsRead) {
  for (const LanguageEntry& entry : language()) {
    if (entry.kind != EntryKind::Key) continue;
    const std::string text =
        song_with_key(std::string(entry.where), std::string(entry.word), std::string(entry.example));
    const Reading reading = read_text_of_song(text);
    ASSERT_TRUE(reading.song) << entry.where << ": " << entry.example << "\n" << reading.said() << text;
    EXPECT_EQ(reading.said(), "") << entry.where << ": " << entry.example << "\n" << text;
  }
}

TEST(Language, EveryLanesAndSignsExampleIsRead) {
  for (const LanguageEntry& entry : language()) {
    if (entry.kind != EntryKind::Lane && entry.kind != EntryKind::Sign) continue;
    const Reading reading = read_text_of_song(song_with_lanes(std::string(entry.example)));
    ASSERT_TRUE(reading.song) << entry.example;
    EXPECT_EQ(reading.said(), "") << entry.word << ": " << entry.example;
    ASSERT_EQ(stanzas_of(reading).size(), 1U) << entry.example;
    EXPECT_EQ(stanzas_of(reading)[0].lanes.size(), 1U) << entry.example;
    if (entry.kind == EntryKind::Lane) {
      EXPECT_EQ(stanzas_of(reading)[0].lanes[0].kind, entry.lane) << entry.word;
      EXPECT_EQ(stanzas_of(reading)[0].lanes[0].subject, entry.subject) << entry.word;
    }
  }
}

TEST(Language, EveryFormWordsExampleIsRead) {
  for (const LanguageEntry& entry : language()) {
    if (entry.kind != EntryKind::FormWord) continue;
    const Reading reading = read_text_of_song("song: Base\nsections:\n  tune: {chart: \"chords | G |\"}\n" +
                                              std::string(entry.example) + "\n");
    ASSERT_TRUE(reading.song) << entry.example;
    EXPECT_EQ(reading.said(), "") << entry.example;
    const auto& form = reading.song->form;
    EXPECT_TRUE(std::any_of(form.begin(), form.end(), [&](const FormEntry& item) {
      return item.word != FormWord::Section && item.text.value == entry.word;
    })) << entry.example;
  }
}

TEST(Language, HasNoWordTwiceAtOnePlace) {
  std::set<std::tuple<EntryKind, std::string_view, std::string_view>> seen;
  for (const LanguageEntry& entry : language()) {
    EXPECT_TRUE(seen.insert({entry.kind, entry.where, entry.word}).second) << entry.where << " " << entry.word;
    EXPECT_FALSE(entry.meaning.empty()) << entry.word;
    EXPECT_FALSE(entry.value.empty()) << entry.word;
    EXPECT_EQ(entry.meaning.back(), '.') << entry.word;
  }
}

TEST(Language, ReferenceHoldsEveryEntry) {
  const std::string all = print_reference("");
  for (const LanguageEntry& entry : language()) {
    EXPECT_NE(all.find("\n" + std::string(entry.word) + "  -  "), std::string::npos) << entry.word;
    EXPECT_NE(all.find(entry.example), std::string::npos) << entry.word;
    EXPECT_NE(print_reference(entry.word).find(entry.example), std::string::npos) << entry.word;
  }
}

TEST(Language, ReferenceFindsPlacesNumbersAndNearWords) {
  EXPECT_NE(print_reference("shape").find("frets  -  key of a shape: one per string (needed)"), std::string::npos);
  EXPECT_NE(print_reference("shape").find("shape  -  lane (strings)"), std::string::npos);
  EXPECT_NE(print_reference("4").find("hammer-on"), std::string::npos);
  EXPECT_NE(print_reference("plam mute").find("The nearest is \"palm mute\""), std::string::npos);
  EXPECT_NE(print_reference("xylophone").find("has no word \"xylophone\""), std::string::npos);
}

TEST(Language, WordsOfOtherHabitsLeadToItsOwn) {
  EXPECT_NE(read_text_of_song(song_with_lanes("hi-hat | x |")).said().find("is called \"hat\" here"),
            std::string::npos);
  EXPECT_NE(read_text_of_song("title: A\n").said().find("is called \"song\" here"), std::string::npos);
  EXPECT_NE(print_reference("Fermata").find("The nearest is \"hold\""), std::string::npos);
  // Every word they lead to is one of the language.
  for (const char* typed : {"bass drum", "rim shot", "melody", "pm", "whammy bar", "cresc"}) {
    EXPECT_TRUE(find_lane(*word_meant_by(EntryKind::Lane, typed))) << typed;
  }
  for (const char* typed : {"artist", "bpm", "time signature", "structure"}) {
    EXPECT_NE(find_key("song", *word_meant_by(EntryKind::Key, typed)), nullptr) << typed;
  }
}

TEST(Language, SchemaKnowsEveryKey) {
  const auto schema = nlohmann::json::parse(json_schema());
  EXPECT_EQ(schema.at("$schema"), "https://json-schema.org/draft/2020-12/schema");
  EXPECT_EQ(schema.at("required"), nlohmann::json({"song", "sections"}));
  for (const LanguageEntry& entry : language()) {
    if (entry.kind != EntryKind::Key) continue;
    const auto& place = entry.where == "song" ? schema : schema.at("$defs").at(std::string(entry.where));
    ASSERT_TRUE(place.at("properties").contains(std::string(entry.word))) << entry.where << " " << entry.word;
    const std::string description = place.at("properties").at(std::string(entry.word)).at("description");
    EXPECT_NE(description.find(entry.meaning), std::string::npos);
  }
}

/// Every "$ref" leads somewhere.
void follow(const nlohmann::json& node, const nlohmann::json& root) {
  if (node.is_object() && node.contains("$ref")) {
    const std::string target = node.at("$ref");
    EXPECT_TRUE(root.contains(nlohmann::json::json_pointer(target.substr(1)))) << target;
  }
  if (node.is_structured()) {
    for (const auto& inner : node) follow(inner, root);
  }
}

TEST(Language, SchemaRefersToWhatIsThere) {
  const auto schema = nlohmann::json::parse(json_schema());
  follow(schema, schema);
}

}  // namespace
}  // namespace tunesheaf::song
