// Theory's values as JSON, for programs that ask the commands of the ear and the hand. In: values. Out: objects with
// plain ASCII names (Bb, F#) and numbers. Invariant: one value has one form in all commands. Read next: words_ear.h.
#pragma once
#include "tunesheaf/theory/finding.h"
#include "words_ear.h"

namespace tunesheaf::app {

Json json_of(const theory::Capo& capo);
Json json_of(const theory::ChordTone& tone);
Json json_of(const std::vector<theory::ChordTone>& tones);
Json json_of(const theory::NameCandidate& candidate);
Json json_of(const theory::Shape& fingered, const theory::Fingering& fingering);
Json json_of(const theory::FingerPlace& place);
Json json_of(const theory::NearestTuning& near);
/// The first name and the notes.
Json first_name_json(const theory::Ear& ear);

}  // namespace tunesheaf::app
