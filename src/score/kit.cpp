#include <array>

#include "builder.h"

namespace tunesheaf::score {
namespace {

struct DrumRow {
  const char* name;
  int midi;      ///< General MIDI Level 1 percussion key
  int position;  ///< steps above the middle line (common practice: kick in the lowest space, snare in the third)
  bool cross, feet;
};

constexpr std::array kDrums = std::to_array<DrumRow>({
    {"kick", 36, -3, false, true},         {"kick 2", 35, -4, false, true},       {"snare", 38, 1, false, false},
    {"cross-stick", 37, 1, true, false},   {"rim", 38, 1, false, false},          {"hat", 42, 5, true, false},
    {"hat open", 46, 5, true, false},      {"hat half", 46, 5, true, false},      {"hat foot", 44, -5, true, true},
    {"ride", 51, 4, true, false},          {"ride bell", 53, 4, true, false},     {"crash", 49, 6, true, false},
    {"crash 2", 57, 7, true, false},       {"splash", 55, 7, true, false},        {"china", 52, 8, true, false},
    {"high tom", 50, 3, false, false},     {"mid tom", 47, 2, false, false},      {"low tom", 45, 0, false, false},
    {"floor tom", 43, -1, false, false},   {"tom 1", 50, 3, false, false},        {"tom 2", 47, 2, false, false},
    {"tom 3", 45, 0, false, false},        {"tom 4", 43, -1, false, false},       {"cowbell", 56, 2, true, false},
    {"wood block", 76, 3, true, false},    {"tambourine", 54, 3, true, false},    {"shaker", 82, 2, true, false},
    {"maracas", 70, 2, true, false},       {"claves", 75, 3, true, false},        {"guiro", 73, 2, true, false},
    {"triangle", 81, 5, true, false},      {"claps", 39, 1, true, false},         {"snaps", 39, 3, true, false},
    {"stomp", 36, -3, true, true},         {"bass", 64, -3, false, false},        {"slap", 62, 1, true, false},
    {"tone", 63, -1, false, false},        {"open", 63, -1, false, false},        {"muffled", 62, -1, true, false},
    {"heel", 64, -3, true, false},         {"toe", 62, -1, true, false},          {"tap", 62, 3, true, false},
    {"ghost", 62, 1, false, false},        {"doum", 64, -3, false, false},        {"tek", 60, 1, false, false},
    {"ka", 61, 3, false, false},           {"conga", 63, 0, false, false},        {"high conga", 63, 1, false, false},
    {"low conga", 64, -1, false, false},   {"high bongo", 60, 1, false, false},   {"low bongo", 61, -1, false, false},
    {"high timbale", 65, 1, false, false}, {"low timbale", 66, -1, false, false}, {"hand drum", 63, 0, false, false},
});

}  // namespace

int drum_of(Part& part, const std::string& name) {
  for (std::size_t i = 0; i < part.kit.size(); ++i)
    if (part.kit[i].name == name) return static_cast<int>(i);
  Drum drum{name, 38, 0, false, false};
  for (const DrumRow& row : kDrums)
    if (name == row.name) drum = {name, row.midi, row.position, row.cross, row.feet};
  part.kit.push_back(drum);
  return static_cast<int>(part.kit.size() - 1);
}

int drum_key(const Drum& drum, const song::DrumSign& sign) {
  constexpr int kOpenHat = 46, kOpenTriangle = 81, kMuteTriangle = 80, kMuteHighConga = 62;
  if (drum.name == "hat" && (sign.open || sign.half_open)) return kOpenHat;
  if (drum.name == "triangle") return sign.open ? kOpenTriangle : kMuteTriangle;
  if (drum.name == "conga" && !sign.open) return kMuteHighConga;
  return drum.midi;
}

}  // namespace tunesheaf::score
