// The one table of the song language: every key, lane and sign. In: nothing. Out: entries from which reading, the
// nearest-word hints, the JSON Schema, the written reference and the tests are all made. Invariant: the reader accepts
// nothing that is not here, and reads everything that is. Read next: song/read.h.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/song/lane.h"

namespace tunesheaf::song {

enum class EntryKind : unsigned char { Key, Lane, Sign, FormWord };

/// What may stand behind a key.
enum class ValueType : unsigned char {
  None,  ///< lanes, signs and form words have none
  Words,
  LanguageTag,  ///< en, de-AT
  Address,      ///< https://example.org/lessons/14
  Integer,
  YesNo,
  Time,         ///< 1:56
  Places,       ///< a time, or one for each recording
  Tempo,        ///< 96, dotted quarter 60
  Feel,         ///< straight, swing 2:1
  PickUp,       ///< 1 beat
  Capo,         ///< a fret, or the keys of `inside`
  Frets,        ///< x 0 2 0 1 2
  Fingers,      ///< . . 2 . 1 3
  StringList,   ///< 5 4
  WhoSays,      ///< recording or lesson
  Choice,       ///< one of `choices`
  Named,        ///< names of the writer's own, each with the keys of `inside`
  CountOrKeys,  ///< a number, or the keys of `inside`
  Lanes,        ///< lanes, or the keys of `inside`
  BarLanes,     ///< bars ("first", "3-4"), each with lanes
  Form,         ///< a list of section names and form words
  Parts         ///< a name of a part, or a list of them
};

struct LanguageEntry {
  EntryKind kind{};
  std::string_view word;     ///< the key, lane name, or sign as typed ("h5")
  std::string_view where;    ///< keys: "song", "part", "shape", …; lanes: the group; signs: the lanes they stand on
  std::string_view value;    ///< what may stand behind it, in words
  std::string_view meaning;  ///< one or two plain sentences
  std::string_view example;  ///< one line that is valid at that place
  ValueType type = ValueType::None;
  std::string_view inside{};   ///< the place of the keys inside
  std::string_view choices{};  ///< words allowed, separated by blanks
  bool required = false;
  LaneKind lane{};             ///< lanes only
  std::string_view subject{};  ///< lanes only: the drum's or mark's table name
};

/// Keys, lanes, signs, form words, in the order of the reference.
const std::vector<LanguageEntry>& language();
/// Keys that are accepted at a place ("song", "section", …), in the order of the reference.
std::vector<std::string> keys_at(std::string_view place);
/// Entries whose word or sign matches, or all when the word is empty; printed for people. A word that is unknown is
/// answered with the nearest ones.
std::string print_reference(std::string_view word);
/// JSON Schema, draft 2020-12.
std::string json_schema();

}  // namespace tunesheaf::song
