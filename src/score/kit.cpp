#include "tunesheaf/theory/kit.h"

#include "builder.h"

namespace tunesheaf::score {

int drum_of(Part& part, const std::string& name) {
  for (std::size_t i = 0; i < part.kit.size(); ++i)
    if (part.kit[i].name == name) return static_cast<int>(i);
  part.kit.push_back({name, theory::drum_place(name)});
  return static_cast<int>(part.kit.size() - 1);
}

void place_kit(Part& part) {
  std::vector<std::string> drums;
  for (const Drum& drum : part.kit) drums.push_back(drum.name);
  const theory::DrumStaff staff = theory::drum_staff(drums);
  for (std::size_t i = 0; i < part.kit.size(); ++i) part.kit[i].place = staff.places[i];
  if (!drums.empty()) part.kit_lines = staff.lines;
}

int drum_key(const Drum& drum, const song::DrumSign& sign) {
  constexpr int kOpenHat = 46, kOpenTriangle = 81, kMuteTriangle = 80, kMuteHighConga = 62;
  if (drum.name == "hat" && (sign.open || sign.half_open)) return kOpenHat;
  if (drum.name == "triangle") return sign.open ? kOpenTriangle : kMuteTriangle;
  if (drum.name == "conga" && !sign.open) return kMuteHighConga;
  return drum.place.midi;
}

}  // namespace tunesheaf::score
