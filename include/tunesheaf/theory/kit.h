// Kit notation: which head, place and voice stands for which drum. In: the drums a part uses, by the names of the
// language. Out: how many lines its staff has and where each drum stands on it. Invariant: no two drums of a part share
// head, place and ring, so that every stroke can be told from every other. A drum set has five lines and usual places
// (Weinberg 1998, from memory); anything else is ranked from low to high on as few lines as hold it. Read next:
// score/timeline.h (Drum), engrave/drum_heads.h.
//
//     strokes   lines   places, half spaces over the middle
//       1         1      0
//      2, 3       1     -1 .. 1     below, on, above the line; with an even number nothing stands in the middle
//      4, 5       2     -2 .. 2
//      6, 7       3     -3 .. 3     and so on up to five lines
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace tunesheaf::theory {

enum class DrumHead : std::uint8_t { Black, Cross, Diamond, Triangle, CircleCross };
/// What a lane of its own says of the hi-hat's opening; strokes on the `hat` lane say it themselves.
enum class DrumRing : std::uint8_t { None, Open, HalfOpen };

struct DrumPlace {
  int midi = 38;     ///< General MIDI Level 1 percussion key
  int position = 0;  ///< half spaces over the staff's middle
  DrumHead head = DrumHead::Black;
  DrumRing ring = DrumRing::None;
  bool feet = false;  ///< lower voice, stems down
};

struct DrumStaff {
  int lines = 5;
  std::vector<DrumPlace> places;  ///< one per drum, in the order asked for
};

/// What is known of one drum, with its place on the staff of a drum set; a name unknown here is a struck skin in the
/// middle.
DrumPlace drum_place(std::string_view drum);
/// Whether it belongs to a drum set: one such drum makes the part's staff that of a set.
bool is_of_drum_set(std::string_view drum);
DrumStaff drum_staff(const std::vector<std::string>& drums);

/// "cross", "circle-cross" …; for dumps.
std::string_view name(DrumHead head);

}  // namespace tunesheaf::theory
