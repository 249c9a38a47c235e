#include "tunesheaf/song/legend.h"

#include <algorithm>

#include "legend_rows.h"

namespace tunesheaf::song {
namespace {

using G = LegendGroup;

std::string indented(std::string_view lines, std::string_view indent) {
  std::string out;
  std::size_t begin = 0;
  while (begin <= lines.size()) {
    const std::size_t end = std::min(lines.find('\n', begin), lines.size());
    out += std::string(indent) + std::string(lines.substr(begin, end - begin)) + "\n";
    begin = end + 1;
  }
  return out;
}

}  // namespace

const std::vector<LegendExample>& legend_examples() {
  static const LegendRows kRows = [] {
    LegendRows rows;
    add_fretted_examples(rows);
    add_player_examples(rows);
    return rows;
  }();
  return kRows;
}

std::string_view words_of(LegendGroup group) {
  switch (group) {
    case G::FrettingHand:
      return "The fretting hand";
    case G::PickingHand:
      return "The picking hand";
    case G::Bends:
      return "Bends, bar, harmonics";
    case G::Loudness:
      return "How strong, how long";
    case G::Sound:
      return "The sound";
    case G::Drums:
      return "Drums";
    case G::OtherPlayers:
      return "Bow, keys, voice";
    case G::Form:
      return "The way through the song";
  }
  return {};
}

/// The guitar has its four upper strings: enough for every sign, and less paper.
std::string legend_song() {
  std::string out =
      "song: What the signs say\nlanguage: en\nkey: C major\nmeter: 2/4\ntempo: 96\n"
      "parts:\n  guitar: {instrument: electric guitar, tuning: D3 G3 B3 E4, frets: 24}\n  strummer: {instrument: "
      "guitar}\n"
      "  bass: {instrument: bass guitar}\n  drums: {instrument: drum kit}\n  violin: {instrument: violin}\n"
      "  keys: {instrument: piano}\n  voice: {instrument: voice}\n"
      "shapes:\n  em: {frets: 0 2 2 0 0 0, part: strummer}\nsections:\n";
  std::string form;
  for (const LegendExample& example : legend_examples()) {
    const std::string name(example.name);
    out += "  \"" + name + "\":\n";
    if (!example.keys.empty()) out += indented(example.keys, "    ");
    out += "    " + std::string(example.part) + ": |\n" + indented(example.lanes, "      ");
    form += (form.empty() ? "" : ", ") + ("\"" + name + "\"");
  }
  return out + "form: [" + form + "]\n";
}

}  // namespace tunesheaf::song
