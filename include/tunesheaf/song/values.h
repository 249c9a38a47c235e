// Values typed as one short text. In: "1:56", "dotted quarter 60", "swing 16ths 3:2", "1 beat". Out: the value, or
// nothing when the text is none. Invariant: a text is understood from end to end or not at all. Read next: read.h.
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/song/song.h"

namespace tunesheaf::song {

/// "12", "12.5", "0.25", exactly; at most six digits before the point and four behind it.
std::optional<base::Fraction> parse_exact(std::string_view text);
/// Minutes and seconds, "0:41", "1:02.5", or with hours, "1:02:03"; in seconds.
std::optional<base::Fraction> parse_time(std::string_view text);
/// "96", "quarter = 96", "dotted quarter 60", "slowly 60", or words alone ("rit."), which leave per_minute at 0.
/// A number is 10 to 600 a minute.
std::optional<TempoMark> parse_tempo(std::string_view text);
/// "straight", "swing", "swing 2:1", "swing 16ths 3:2", "swing 8ths".
std::optional<Feel> parse_feel(std::string_view text);

/// From what sounds to what a player reads: "up a major second", "down a minor third", "up an octave and a major
/// sixth", "down two octaves", "up a tone", "not at all". Fourths, fifths and octaves are perfect unless called
/// otherwise; at most four octaves.
std::optional<theory::Interval> parse_transposition(std::string_view text);

/// An upbeat: beats of the meter, or a share of a whole note.
struct PickUp {
  bool in_beats = true;
  base::Fraction amount{};
};
/// "1 beat", "2 beats", "1.5 beats", "half a beat", "1/8", "3/8".
std::optional<PickUp> parse_pick_up(std::string_view text);
/// A language tag as in BCP 47: "en", "de-AT", "sr-Latn"; a language of two or three letters, then subtags of one to
/// eight letters and digits with hyphens between them.
bool is_language_tag(std::string_view text);
/// An address that a reader can follow: http:// or https://, a host, and no blanks.
bool is_web_address(std::string_view text);
/// "2", "3-4", "1, 3": numbers from 1 to 99 without repeats; empty when the text is none of these.
std::vector<int> parse_passes(std::string_view text);

}  // namespace tunesheaf::song
