// Music in spoken words. In: pitches, keys, meters, chords, places in a bar. Out: text of letters and digits, as a
// teacher says it: "B flat 3", "three quarters time", "beat 2 and", "F sharp minor seventh". Invariant: two different
// places in a bar never have the same words, so that beat_words can be read back. Read next: aloud/reading.h.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/fraction.h"
#include "tunesheaf/base/lists.h"
#include "tunesheaf/score/timeline.h"

namespace tunesheaf::aloud {

/// "three", "twelve"; digits from 13 on.
std::string number_word(std::int64_t n);
/// "second", "twenty-first"; n from 1 to 99.
std::string ordinal_word(std::int64_t n);
/// "one third", "five eighths", "three quarters"; beyond ninety-ninths "5 parts of 128". Needs 0 < f < 1.
std::string fraction_words(base::Fraction f);
/// "a, b and c".
using base::list_words;
/// "1 bar", "8 bars".
std::string counted(std::int64_t count, const std::string& one, const std::string& many);

std::string pitch_class_words(theory::PitchClass pitch);  ///< "B flat"
std::string pitch_words(theory::Pitch pitch);             ///< "B flat 3"
std::string key_words(const theory::Key& key);            ///< "B flat minor"
std::string meter_words(const theory::Meter& meter);      ///< "three quarters time"
std::string chord_words(const theory::ChordName& chord);  ///< "A minor seventh over G"
/// A chord as typed, by its name where it can be read, else spelt in plain letters.
std::string chord_words(const std::string& typed);
/// "96 quarter notes a minute", with the words of the tempo before; `beat` is what is counted where no unit is stated.
std::string tempo_words(const song::TempoMark& tempo, const theory::Meter& meter);
/// "swing 2 to 1".
std::string feel_words(const song::Feel& feel);
/// "1 minute and 56 seconds"; parts of a second are cut off.
std::string time_words(double seconds);
/// "a quarter tone", "a semitone", "a whole tone", "3 semitones".
std::string amount_words(base::Fraction semitones);
/// "softly (p)" has no place in speech: "p" is "soft", "sfz" "with a sudden accent".
std::string dynamics_words(std::string_view sign);
/// "hat foot" is "hi-hat with the foot".
std::string drum_words(std::string_view lane);
/// Fretting hand, 1 to 5: "index", "middle", "ring", "little", "thumb".
std::string finger_word(int finger);
/// The name of a sign of the language from the one table, hyphens dropped: "h5" on string lanes is "hammer on".
std::string sign_words(std::string_view lane_group, std::string_view sign);

/// Where an onset lies, counted as a band counts: "beat 2", "beat 2 and" (halfway), "beat 2 e", "beat 2 a" (a quarter,
/// three quarters), "second third of beat 2", "last third of beat 2", else "five eighths into beat 2". In beats of
/// three (6/8) the half is "one half into beat 2". A pick-up counts as the end of its bar.
std::string beat_words(const score::Bar& bar, base::Fraction onset);

/// Text of the song file without signs: sharps, flats, ampersands and their like become words, what has no word is
/// left out.
std::string plain(std::string_view text);
/// The text with a full stop, unless it ends a sentence already.
std::string sentence(std::string text);
/// With a capital at the start.
std::string capital(std::string text);

}  // namespace tunesheaf::aloud
