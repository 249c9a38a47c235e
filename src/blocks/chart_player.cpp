#include "tunesheaf/blocks/chart_player.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "tunesheaf/base/ascii.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/instead.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/theory/recording.h"

namespace tunesheaf::blocks {
namespace {

using base::lower;
using base::trimmed;

using theory::Family;

/// The full capo that the page leaves out of account: that of the first fretted part.
int page_capo(const score::Timeline& song) {
  for (const score::Part& part : song.parts) {
    if (part.instrument.family == Family::Fretted) return part.capo;
  }
  return 0;
}

bool has_shapes(const score::Timeline& song, int part) {
  return std::any_of(song.shapes.begin(), song.shapes.end(),
                     [&](const score::ShapeUse& shape) { return shape.used && shape.part == part; });
}

/// The part whose shapes a chart shows: the first with frets that has shapes and is no bass, else the first with frets
/// that is no bass, else any with frets.
int shapes_part(const score::Timeline& song) {
  int any = -1, high = -1;
  for (std::size_t p = 0; p < song.parts.size(); ++p) {
    const score::Part& part = song.parts[p];
    if (part.instrument.family != Family::Fretted || part.tuning.count() == 0) continue;
    const bool low = part.instrument.clef == theory::Clef::Bass || part.instrument.clef == theory::Clef::Bass8;
    if (!low && has_shapes(song, static_cast<int>(p))) return static_cast<int>(p);
    if (!low && high < 0) high = static_cast<int>(p);
    if (any < 0) any = static_cast<int>(p);
  }
  return high >= 0 ? high : any;
}

/// "guitar tuned D G D G B D", "guitar tuned open D (D A D F♯ A D)"; empty for the usual tuning.
std::string tuning_note(const score::Part& part) {
  if (part.tuning.count() == 0 || part.tuning.same_pitches(part.usual)) return {};
  const std::string letters = theory::letters(part.tuning, theory::Accidentals::Signs);
  const std::string name =
      part.tuning_name.empty() || part.tuning_name == letters ? letters : part.tuning_name + " (" + letters + ")";
  return part.name.value + " tuned " + name;
}

/// "capo at fret 7 on string 5, which sounds A": what rings there when the string is open.
std::string partial_capo_note(const score::Part& part, const std::optional<theory::Key>& key) {
  if (!part.partial_capo || part.tuning.count() == 0) return {};
  const song::CapoDef& capo = *part.partial_capo;
  std::vector<std::string> strings, sounds;
  for (const auto& string : capo.strings) {
    strings.push_back(std::to_string(string.value));
    if (string.value < 1 || string.value > part.tuning.count()) continue;
    const theory::TunedString& tuned = part.tuning.string(string.value);
    const int midi = tuned.midi() + capo.fret.value - tuned.start_fret;
    sounds.push_back(theory::print(theory::spell(midi, key).name, theory::Accidentals::Signs));
  }
  return "capo at fret " + std::to_string(capo.fret.value) + (strings.size() == 1 ? " on string " : " on strings ") +
         list_words(strings) + (sounds.size() == 1 ? ", which sounds " : ", which sound ") + list_words(sounds);
}

std::string capo_note(int capo) {
  return capo == 0 ? "no capo" : "capo at fret " + std::to_string(capo);
}

/// What is not as usual on a part's strings: "guitar tuned D G D G B D, capo at fret 2"; empty where all is.
std::string setup_note(const score::Part& part, const std::optional<theory::Key>& key) {
  const std::string tuning = tuning_note(part);
  if (part.partial_capo) {
    const std::string capo = partial_capo_note(part, key);
    return (tuning.empty() ? part.name.value : tuning) + ", " + capo;
  }
  if (part.capo == 0) return tuning;
  return (tuning.empty() ? part.name.value : tuning) + ", " + capo_note(part.capo);
}

/// Transposing instruments by the note they are "in": how far what is read lies above what sounds.
struct InNote {
  std::string_view word;
  std::string_view sign;
  int up;
};
constexpr std::array<InNote, 12> kInNotes{{{"b flat", "B♭", 2},
                                           {"bb", "B♭", 2},
                                           {"b♭", "B♭", 2},
                                           {"e flat", "E♭", 9},
                                           {"eb", "E♭", 9},
                                           {"e♭", "E♭", 9},
                                           {"f", "F", 7},
                                           {"a", "A", 3},
                                           {"d", "D", 10},
                                           {"g", "G", 5},
                                           {"c", "", 0},
                                           {"concert", "", 0}}};

std::string without_tail(std::string text) {
  for (const std::string_view tail : {" instruments", " instrument", " pitch"}) {
    if (text.size() > tail.size() && text.ends_with(tail)) text.resize(text.size() - tail.size());
  }
  return text;
}

ChartPlayer transposing(const score::Timeline& song, int up, std::string words) {
  ChartPlayer player;
  player.words = std::move(words);
  player.up = page_capo(song) + up;
  player.sounds = -up;
  return player;
}

std::optional<ChartPlayer> in_note(const std::string& text, const score::Timeline& song) {
  const std::string word = without_tail(lower(text));
  for (const InNote& note : kInNotes) {
    if (word != note.word) continue;
    return transposing(song, note.up, note.up == 0 ? "concert pitch" : std::string(note.sign) + " instruments");
  }
  return std::nullopt;
}

/// A part of the song: its own page.
std::optional<ChartPlayer> of_part(const std::string& text, const score::Timeline& song) {
  for (std::size_t p = 0; p < song.parts.size(); ++p) {
    const score::Part& part = song.parts[p];
    if (lower(part.name.value) != lower(text)) continue;
    ChartPlayer player;
    player.words = part.name.value;
    player.up = part.from_page.semitones;
    player.sounds = page_capo(song) - player.up;
    if (part.instrument.family != Family::Fretted) return player;
    player.own_part = static_cast<int>(p);
    const std::string note = setup_note(part, song.key);
    player.notes.push_back(note.empty() ? capo_note(part.capo) : note);
    return player;
  }
  return std::nullopt;
}

/// An instrument without frets, by its name.
std::optional<ChartPlayer> of_instrument(const std::string& text, const score::Timeline& song) {
  const theory::Instrument* instrument = theory::find_instrument(text);
  if (instrument == nullptr || instrument->family == Family::Fretted) return std::nullopt;
  return transposing(song, -instrument->sounds.semitones, instrument->name);
}

InsteadFault unplayable(const Instead& instead) {
  std::string chords;
  for (const InsteadChord& chord : instead.chords) {
    chords += (chords.empty() ? "" : ", ") + theory::print(chord.fingered, theory::Accidentals::Signs);
    if (!chord.nearest.empty()) {
      chords += " (nearest: " + theory::print(chord.nearest.front(), theory::Accidentals::Signs) + ")";
    }
  }
  return {"none of the song's chords can be played on " + wish_words(instead.wish) + ": " + chords};
}

base::Result<ChartPlayer, InsteadFault> of_wish(const InsteadWish& wish, const score::Timeline& song) {
  ChartPlayer player;
  player.instead = play_instead(song, wish);
  const Instead& instead = *player.instead;
  if (!instead.any()) {
    return InsteadFault{"the song names no chord and no shape with a common name, so there is nothing to transpose"};
  }
  const bool some = std::any_of(instead.chords.begin(), instead.chords.end(),
                                [](const InsteadChord& chord) { return chord.shape.has_value(); });
  if (!some) return unplayable(instead);
  player.words = wish_words(wish);
  player.notes.push_back(capo_note(instead.capo()));
  player.sounds = instead.capo();
  player.offset = wish.semitones;
  player.up = page_capo(song) + wish.semitones - instead.capo();
  return player;
}

/// To play along with a recording: the capo moves where it can, and the names stay; else they are transposed.
base::Result<ChartPlayer, InsteadFault> of_recording(const score::Recording& recording, const score::Timeline& song) {
  const int steps = static_cast<int>(std::lround(recording.cents / 100));
  const double rest = recording.cents - 100.0 * steps;
  const int part = shapes_part(song);
  const int capo = page_capo(song) + steps;
  ChartPlayer player;
  if (part < 0) {
    player = transposing(song, 0, {});
    player.up += steps;
  } else if (capo >= 0 && capo <= kHighestCapo) {
    player.own_part = part;
    player.sounds = capo;
    player.notes.push_back(capo_note(capo));
  } else {
    InsteadWish wish;
    const score::Part& asking = song.parts[static_cast<std::size_t>(part)];
    wish.instrument = instrument_of(asking);
    wish.tuning = asking.tuning;
    wish.tuning.name = asking.tuning_name.empty() ? asking.tuning.name : asking.tuning_name;
    wish.semitones = steps;
    auto found = of_wish(wish, song);
    if (!found) return found;
    player = *found;
  }
  player.offset = steps;
  player.words = "the recording \u201c" + recording.name.value + "\u201d";
  if (std::abs(rest) >= 0.05) {
    player.notes.push_back("tuner at A4\u00a0=\u00a0" + base::print_decimal(tuner_reference(recording.cents), 1) +
                           "\u00a0Hz");
  }
  return player;
}

const score::Recording* find_recording(std::string text, const score::Timeline& song) {
  text = lower(text);
  if (text.starts_with("recording ")) text = trimmed(std::string_view(text).substr(10));
  for (const score::Recording& recording : song.recordings) {
    if (lower(recording.name.value) == text) return &recording;
  }
  return nullptr;
}

std::vector<std::string> known_players(const score::Timeline& song) {
  std::vector<std::string> known{"usual tuning", "no capo", "capo 3", "B flat", "E flat", "concert", "F"};
  for (const score::Recording& recording : song.recordings) known.push_back(recording.name.value);
  for (const score::Part& part : song.parts) known.push_back(part.name.value);
  for (const std::string& name : theory::instrument_names()) known.push_back(name);
  return known;
}

}  // namespace

bool states_a_key(const score::Timeline& song) {
  if (song.key) return true;
  for (std::size_t s = 0; s < song.sections.size(); ++s) {
    const auto& bars = song.sections[s].bars;
    for (std::size_t b = 0; b < bars.size(); ++b) {
      if (bars[b].show_key && s + b > 0) return true;  // the very first bar always shows one
    }
  }
  return false;
}

std::string shapes_caption(const score::Timeline& song, const ChartPlayer& player) {
  if (player.instead) {
    return "Shapes for " + wish_words(player.instead->wish) + ", " + capo_note(player.instead->capo());
  }
  if (player.own_part < 0) return {};
  score::Part part = song.parts[static_cast<std::size_t>(player.own_part)];
  // To play along with a recording the capo moves.
  if (!player.words.empty() && player.words != part.name.value) part.capo = player.sounds;
  const std::string note = setup_note(part, song.key);
  return "Shapes for " + (note.empty() ? part.name.value + ", usual tuning" : note);
}

ChartPlayer page_player(const score::Timeline& song) {
  ChartPlayer player;
  player.sounds = page_capo(song);
  player.own_part = shapes_part(song);
  for (const score::Part& part : song.parts) {
    if (part.instrument.family != Family::Fretted) continue;
    const std::string note = setup_note(part, song.key);
    if (!note.empty()) player.notes.push_back(note);
  }
  return player;
}

base::Result<ChartPlayer, InsteadFault> read_chart_player(std::string_view text, const score::Timeline& song) {
  const std::string word = trimmed(text);
  if (auto player = of_part(word, song)) return *player;
  if (auto player = in_note(word, song)) return *player;
  if (const score::Recording* recording = find_recording(word, song)) return of_recording(*recording, song);
  if (auto player = of_instrument(word, song)) return *player;
  const auto wish = read_instead(word, song);
  if (wish) return of_wish(*wish, song);
  if (lower(word).find("capo") == std::string::npos) {
    if (const auto near = base::nearest_word(word, known_players(song))) {
      return InsteadFault{"\"" + word +
                          "\" is no capo, tuning, instrument or recording that this song can be printed for; the "
                          "nearest is \"" +
                          *near + "\""};
    }
  }
  return wish.error();
}

}  // namespace tunesheaf::blocks
