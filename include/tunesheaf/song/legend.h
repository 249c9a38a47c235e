// Every sign in a few bars of its own, for the page that explains them. In: nothing. Out: examples in the order of that
// page, each with a plain name, what the player does, and the lanes that print it; and the same as one song whose
// section number i is example number i. Invariant: every sign, span and form word of the language table is shown by an
// example (tests/song/legend_test.cpp). Read next: sheet/legend.h.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace tunesheaf::song {

enum class LegendGroup : unsigned char {
  FrettingHand,
  PickingHand,
  Bends,
  Loudness,
  Sound,
  Drums,
  OtherPlayers,
  Form
};

struct LegendExample {
  LegendGroup group{};
  std::string_view name;                 ///< "hammer-on"; no two are alike
  std::string_view words;                ///< what the player does, in one plain sentence
  std::string_view part;                 ///< who plays it; "chart" for everyone
  std::string_view lanes;                ///< what is typed, a lane a line
  std::vector<std::string_view> covers;  ///< entries of the language table: "string lanes h5", "spans palm mute"
  std::string_view keys = {};            ///< further keys of its section, one a line
  std::string_view form = {};            ///< a word of the form that stands at its end; "segno" and "coda" at its start
};

const std::vector<LegendExample>& legend_examples();
/// The heading over a group: "The fretting hand".
std::string_view words_of(LegendGroup group);
/// A whole song file: two beats a bar, one section an example.
std::string legend_song();

}  // namespace tunesheaf::song
