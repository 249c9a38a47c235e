// Fingers for frets. In: a shape without fingers, the neck. Out: the fingering with the least strain, with its barres,
// stretch and strain, or nothing when no hand can hold it. Invariant: fingers never cross; a barre never silences an
// open string that should ring. Read next: shape.h, move.h, finding.h.
#pragma once
#include <optional>
#include <vector>

#include "tunesheaf/theory/shape.h"

namespace tunesheaf::theory {

/// What the hand stands on. A full capo makes the neck shorter: pass its fret so that stretches are measured there.
struct Neck {
  double scale_length_mm = 650.0;
  int capo_fret = 0;
  int frets = 0;  // from the nut; 0: unknown
};

/// The widest reach of a grown hand between index and little finger, in mm between their frets (four frets at the nut
/// of a 650 mm guitar: 134 mm). Common practice, calibrated on open-position shapes in use.
constexpr double kWidestStretchMm = 135.0;

struct Fingering {
  std::vector<Finger> fingers;  // per string, low string first
  std::vector<Barre> barres;
  double stretch = 0.0;           // mm between the lowest and the highest stopped fret
  int strain = 0;                 // the formula is in fingering.cpp; lower is easier
  std::vector<int> muted_inside;  // not played, between played strings: player's numbers
};

/// Least strain first choice; nothing when no hand can hold the shape.
std::optional<Fingering> finger_shape(const Shape& shape, const Neck& neck = {});
bool playable(const Shape& shape, const Neck& neck = {});
/// Strain of a shape whose fingers are given.
int strain_of(const Shape& shape, const Neck& neck = {});

/// Who mutes a string that is not played.
enum class MutedBy : std::uint8_t { NotStruck, FingerBefore, FingerAfter, ThumbTip };
struct Mute {
  int string = 1;
  MutedBy by = MutedBy::NotStruck;
  Finger finger = Finger::None;  // the finger whose tip or flat touches it
};
std::vector<Mute> mutes(const Shape& fingered);

}  // namespace tunesheaf::theory
