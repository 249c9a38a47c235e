// The sign of a drum's head. In: the head that theory/kit.h chose, and a written value. Out: a music sign, the same on
// the staff and in the key of the drums. Read next: text/music_signs.h.
#pragma once
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/theory/kit.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::engrave {

/// A half note and a whole one have open heads where the shape has one; a cross stands alone.
text::MusicSign drum_head_sign(theory::DrumHead head, theory::NoteValue value = theory::NoteValue::kQuarter);

/// A cross: struck through by a ledger line it would be a star, so its ledger line lies on either side.
bool is_cross(text::MusicSign head);
/// How far the ledger line of a cross reaches out on either side, in staff spaces, and in, as a share of its width.
constexpr double kCrossLedger = 0.4, kCrossLedgerIn = 0.15;

}  // namespace tunesheaf::engrave
