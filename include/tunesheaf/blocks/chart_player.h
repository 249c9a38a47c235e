// For whom a chart is printed, and what its chords are called there. In: the song in time, a player in plain words
// ("capo 3", "usual tuning", "B flat", "concert", "ukulele", a part or a recording of the song), the kind of names
// wished for. Out: the player understood; every chord of the page under the name this player reads. Invariant: what is
// read sounds what the song sounds, moved by the player's own `offset` (of a recording, or a change of pitch asked
// for), and is spelled by the key it is read in. Read next: blocks/chart.h.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/blocks/instead.h"
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::blocks {

/// What chords are called: as fingered (or as read, for an instrument without frets), as sounding, in numbers of the
/// scale's degrees, in roman numerals.
enum class ChartNames : std::uint8_t { Hand, Ear, Degrees, Roman };

struct ChartPlayer {
  std::string words;                    ///< "B♭ instruments"; empty: as the song's own page
  std::vector<std::string> notes;       ///< what this player does: "capo at fret 3", "set the tuner to A4 = 444.6 Hz"
  int up = 0;                           ///< semitones from the song's page to what this player reads
  int sounds = 0;                       ///< semitones from what is read to what sounds
  int offset = 0;                       ///< semitones from the song's own sound to this player's
  int own_part = -1;                    ///< the part whose shapes hold; -1: no shapes of the song hold
  std::optional<Instead> instead = {};  ///< shapes found for this player
};

/// True where the song says in which key it is; else a bar's key is only a way to write notes.
bool states_a_key(const score::Timeline& song);

/// The player of the song's own page.
ChartPlayer page_player(const score::Timeline& song);
/// What the shapes of a player are for: "Shapes for guitar tuned D G D G B D, capo at fret 2"; empty where there are
/// none.
std::string shapes_caption(const score::Timeline& song, const ChartPlayer& player);
/// The fault is a sentence with the nearest that would be understood, or with the chords that cannot be played.
base::Result<ChartPlayer, InsteadFault> read_chart_player(std::string_view text, const score::Timeline& song);

/// One chord as it stands on the chart, in the pieces that are set in different sizes.
struct ChartName {
  std::string root;     ///< "B♭", "♭7", "IV", "N.C."
  std::string quality;  ///< beside the root and smaller: "m", "dim"
  std::string raised;   ///< above the line: "7(♭9)", "maj7"
  std::string bass;     ///< "/F♯"
  std::string text() const { return root + quality + raised + bass; }
  friend bool operator==(const ChartName&, const ChartName&) = default;
};

/// `key` is that of the song's page at the bar; degrees and numerals need it.
ChartName chart_name(const theory::ChordName& chord, const ChartPlayer& player, ChartNames names,
                     const std::optional<theory::Key>& key);
/// The chord as this player reads it (Hand) or as it sounds (Ear); the chord itself for degrees and numerals.
theory::ChordName chord_for(const theory::ChordName& chord, const ChartPlayer& player, ChartNames names,
                            const std::optional<theory::Key>& key);
/// The key this player reads or hears where the song's page has `key`.
theory::Key key_for(const theory::Key& key, const ChartPlayer& player, ChartNames names);

/// The chords of a section in order: those that are stated, where there are some, else those of the shapes of its
/// first part that has any. Every one has a name, or a shape, or is N.C.
std::vector<const score::Harmony*> chords_of(const score::Section& section);
/// Sections in which a part with pitches plays and nobody names a chord, though others have chords: a chart says N.C.
/// there. Indices into Timeline::sections.
std::vector<std::size_t> played_without_chords(const score::Timeline& song);

}  // namespace tunesheaf::blocks
