// What to play instead. In: a song in time, and a wish in a player's words ("usual tuning", "capo 3", "ukulele", "a
// semitone down", or some of them with commas between). Out: the wish understood; every chord of the song with its name
// as fingered there and a shape; every capo position weighed; the block for a handout. Invariant: what is played sounds
// the song's chords, moved by the semitones wished for. Read next: theory/instead.h.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/result.h"
#include "tunesheaf/blocks/setting.h"
#include "tunesheaf/theory/instead.h"

namespace tunesheaf::blocks {

/// A capo further up leaves little neck to play on: common practice, no source.
inline constexpr int kHighestCapo = 7;

struct InsteadWish {
  const theory::Instrument* instrument = nullptr;  ///< one that is known by its name, or the song's own
  theory::Tuning tuning;
  std::optional<int> capo;  ///< the fret wished for; nothing: all are weighed
  int semitones = 0;        ///< how far the other version sounds above the song
};

/// Why a wish is not understood, as one sentence with the nearest that would be.
struct InsteadFault {
  std::string sentence;
};
/// A part's instrument as it is known by its name; one that is made for the song is the part's own.
const theory::Instrument* instrument_of(const score::Part& part);
base::Result<InsteadWish, InsteadFault> read_instead(std::string_view text, const score::Timeline& song);

/// One chord of the song, in the order of first use.
struct InsteadChord {
  std::string page_name;       ///< as the song's page calls it
  theory::ChordName fingered;  ///< what the hand plays, named behind the capo
  int times = 0;               ///< how often it comes on the page
  std::optional<theory::FoundShape> shape;
  std::vector<theory::ChordName> nearest;  ///< where no hand can play it: the nearest that can be played
};

struct Instead {
  InsteadWish wish;
  std::vector<theory::InsteadOption> options;  ///< best first
  std::vector<InsteadChord> chords;            ///< of the best option
  std::vector<std::string> unnamed;            ///< shapes of the song without a common name: left out
  int page_capo = 0;                           ///< of the song's page
  bool any() const { return !chords.empty() && !options.empty(); }
  int capo() const { return options.front().capo; }
};
Instead play_instead(const score::Timeline& song, const InsteadWish& wish);

/// "guitar, usual tuning", "ukulele, low G", "guitar, D2 A2 D3 G3 A3 D4".
std::string wish_words(const InsteadWish& wish);

/// Empty when the song names no chord.
Flow instead_block(const Setting& setting, const Instead& instead);

}  // namespace tunesheaf::blocks
