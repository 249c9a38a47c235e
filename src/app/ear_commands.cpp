#include "ear_commands.h"

namespace tunesheaf::app {
namespace {

OptionSpec answer_format() {
  return {"--format", "", "WAY", "how the answer is printed: people or json", {"people", "json"}};
}
OptionSpec tuning_option() {
  return {"--tuning", "", "TUNING", "by name or by its notes, low string first; else usual"};
}
OptionSpec instrument_option() {
  return {"--instrument", "", "NAME", "guitar (usual), ukulele, mandolin, bass guitar …"};
}
OptionSpec capo_option() {
  return {"--capo", "", "FRET", "2, or with the strings it holds 2:5,4,3"};
}

CommandSpec ear_command() {
  return {"ear",
          "SHAPE",
          "says what a shape sounds and is called",
          {tuning_option(),
           instrument_option(),
           capo_option(),
           {"--key", "", "KEY", "of the song, as it sounds: G, E♭ minor …"},
           {"--fingers", "", "FINGERS", "\". . . 1 3 .\"; else the easiest are found"},
           answer_format()},
          1,
          12,
          "tunesheaf ear \"x x 0 2 3 0\" --tuning \"open G\" --capo 2"};
}

CommandSpec shapes_command() {
  return {"shapes",
          "CHORD",
          "finds the shapes of a chord, best first",
          {tuning_option(),
           instrument_option(),
           capo_option(),
           {"--from-fret", "", "FRET", "lowest fret that is stopped"},
           {"--to-fret", "", "FRET", "highest fret that is stopped (15)"},
           {"--stretch", "", "FRETS", "from the lowest to the highest stopped fret (3)"},
           {"--bass", "", "NOTE", "the lowest note, or any; else the root, or as named"},
           {"--top", "", "NOTE", "the highest note"},
           {"--count", "", "N", "how many are shown (12)"},
           {"--output", "-o", "FILE", "a printed sheet: FILE.pdf, .svg or .png"},
           {"--paper", "", "SIZE", "a4 (usual) or letter", {"a4", "letter"}},
           {"--style", "", "NAME|FILE", "one of the styles, or a style file of your own"},
           answer_format()},
          1,
          1,
          "tunesheaf shapes Am7 --tuning DADGAD --to-fret 5"};
}

CommandSpec move_command() {
  return {"move",
          "SHAPE SHAPE",
          "says how the hand gets from shape to shape",
          {tuning_option(), instrument_option(), capo_option(), answer_format()},
          2,
          2,
          "tunesheaf move \"x 3 2 0 1 0\" \"x 0 2 2 1 0\""};
}

CommandSpec retune_command() {
  return {"retune",
          "TUNING",
          "says how to reach a tuning, string by string",
          {{"--from", "", "TUNING", "the tuning you come from; else the usual one"},
           instrument_option(),
           {"--pitch", "", "PITCH", "of the recording: \"A4 = 432\", \"+18 cents\""},
           answer_format()},
          1,
          1,
          "tunesheaf retune \"open G\" --from \"drop D\" --pitch \"+18 cents\""};
}

CommandSpec instead_command() {
  return {"instead",
          "SONG.yaml",
          "says what another player plays instead",
          {{"--for", "", "WHOM", "\"usual tuning\", \"capo 3\", ukulele, \"a semitone down\""}, answer_format()},
          1,
          1,
          "tunesheaf instead heron.yaml --for \"ukulele, a tone up\""};
}

CommandSpec tunings_command() {
  return {"tunings",
          "[INSTRUMENT]",
          "lists instruments and tunings by name",
          {answer_format()},
          0,
          4,
          "tunesheaf tunings ukulele"};
}

}  // namespace

std::vector<CommandSpec> ear_commands() {
  return {ear_command(), shapes_command(), move_command(), retune_command(), instead_command(), tunings_command()};
}

}  // namespace tunesheaf::app
