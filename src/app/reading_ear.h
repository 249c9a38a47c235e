// What the commands of the ear and the hand are asked about. In: the command line. Out: an instrument with its tuning,
// capo and neck; shapes; chords; keys. Invariant: an error is one sentence that says what was not understood, where,
// and the nearest thing that would be. Read next: verbs_ear.cpp.
#pragma once
#include <optional>
#include <string>

#include "tunesheaf/app/command_line.h"
#include "tunesheaf/base/result.h"
#include "tunesheaf/theory/chord.h"
#include "tunesheaf/theory/fingering.h"
#include "tunesheaf/theory/instrument.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/shape.h"
#include "tunesheaf/theory/tuning.h"

namespace tunesheaf::app {

/// The instrument in the player's hands.
struct Held {
  const theory::Instrument* instrument = nullptr;
  std::string name;  ///< "guitar"; "an instrument of 4 strings" when only a tuning of another size is known
  theory::Tuning tuning;
  std::string tuning_words;  ///< "usual tuning (E2 A2 D3 G3 B3 E4)"
  theory::Capo capo;
  theory::Neck neck;
  int frets = 0;  ///< from the nut; 0: unknown
  /// The instrument's usual tuning when it has as many strings, else the tuning itself.
  const theory::Tuning& usual() const;
  bool usually_tuned() const { return tuning.same_pitches(usual()); }
};

/// Reads --instrument, --tuning and --capo.
base::Result<Held, std::string> read_held(const CommandLine& line);
struct NoInstrument {
  std::string sentence;
};
/// A stringed instrument by name.
base::Result<const theory::Instrument*, NoInstrument> read_instrument(const std::string& name);
struct Sentence {
  std::string text;
};
/// A tuning by name or notes for an instrument.
base::Result<theory::Tuning, Sentence> read_tuning(const std::string& text, const theory::Instrument& instrument);
std::string tuning_words(const theory::Tuning& tuning, const theory::Instrument& instrument);
/// "x 3 2 0 1 0", or with fingers behind a stroke: "x32010 / .32.1."; `fingers` from an option, or empty.
base::Result<theory::Shape, Sentence> read_shape(const std::string& text, const std::string& fingers, const Held& held);
base::Result<theory::ChordName, Sentence> read_chord(const std::string& text);
base::Result<theory::Key, Sentence> read_key(const std::string& text);
/// A whole number within bounds, or `usual` when the option is not given.
base::Result<int, Sentence> read_count(const CommandLine& line, const std::string& option, int usual, int least,
                                       int most);

}  // namespace tunesheaf::app
