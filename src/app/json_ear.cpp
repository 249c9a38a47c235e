#include "json_ear.h"

#include <cmath>

namespace tunesheaf::app {

Json json_of(const theory::Capo& capo) {
  Json out{{"fret", capo.fret}};
  if (!capo.full()) out["strings"] = capo.strings;
  return out;
}

Json json_of(const theory::ChordTone& tone) {
  return {{"note", theory::print(tone.pitch)}, {"degree", theory::print(theory::Degree{tone.number, tone.alter})}};
}

Json json_of(const std::vector<theory::ChordTone>& tones) {
  Json out = Json::array();
  for (const theory::ChordTone& tone : tones) out.push_back(json_of(tone));
  return out;
}

Json json_of(const theory::NameCandidate& candidate) {
  Json out{{"name", theory::print(candidate.name)}, {"cost", candidate.cost}};
  out["reasons"] = Json::array();
  for (const theory::Reason reason : candidate.reasons) out["reasons"].push_back(reason_words(reason));
  out["missing"] = json_of(candidate.missing);
  return out;
}

Json json_of(const theory::Shape& fingered, const theory::Fingering& fingering) {
  Json out{{"fingers", theory::print_fingers(fingered)},
           {"stretch_mm", std::round(fingering.stretch * 10.0) / 10.0},
           {"strain", fingering.strain}};
  out["barres"] = Json::array();
  for (const theory::Barre& barre : fingering.barres) {
    out["barres"].push_back({{"finger", std::string(1, theory::finger_sign(barre.finger))},
                             {"fret", barre.fret},
                             {"from_string", barre.from_string},
                             {"to_string", barre.to_string}});
  }
  return out;
}

Json json_of(const theory::FingerPlace& place) {
  return {{"fret", place.fret}, {"from_string", place.from_string}, {"to_string", place.to_string}};
}

Json json_of(const theory::NearestTuning& near) {
  Json out{{"name", near.name}, {"semitones", near.semitones}};
  out["differences"] = Json::array();
  for (const auto& d : near.differences)
    out["differences"].push_back({{"string", d.string}, {"semitones", d.semitones}});
  return out;
}

Json first_name_json(const theory::Ear& ear) {
  Json out;
  out["name"] = ear.names.empty() ? Json(nullptr) : Json(theory::print(ear.names.front().name));
  out["notes"] = Json::array();
  for (const theory::EarNote& note : ear.notes) out["notes"].push_back(theory::print(note.pitch));
  return out;
}

}  // namespace tunesheaf::app
