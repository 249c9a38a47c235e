// The signs of a sheet in plain words, and which head on the staff is which drum. In: a Setting. Out: a short table of
// the signs that this song's shown parts really use, each drawn beside its words, and per drum kit its key. Invariant:
// a sign that does not occur is not listed. Read next: sheet/sheet.h.
#pragma once
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

enum class LegendSign : std::uint8_t {
  HammerOn,
  PullOff,
  Slide,
  SlideIn,
  SlideOff,
  Tap,
  Glissando,
  Slur,
  Bend,
  BentFirst,
  Release,
  Vibrato,
  Trill,
  Tremolo,
  Rake,
  Dead,
  Ghost,
  Held,
  Tie,
  HalfOnTab,
  MirroredTab,
  NaturalHarmonic,
  ArtificialHarmonic,
  PinchedHarmonic,
  TappedHarmonic,
  Grace,
  DownStroke,
  UpStroke,
  StrumDown,
  StrumUp,
  PartialStrum,
  Brush,
  NoChord,
  Bow,
  Rolled,
  FrettingFingers,
  PluckingFingers,
  Slap,
  Pop,
  SnapPizzicato,
  Pizzicato,
  BodyTap,
  Accent,
  Marcato,
  Staccato,
  Tenuto,
  Fermata,
  ShortHold,
  LongHold,
  Breath,
  Caesura,
  ArmMove,
  PalmMute,
  HalfPalmMute,
  LetRing,
  Barre,
  Swell,
  FadeIn,
  FadeOut,
  RepeatAndFade,
  Louder,
  Softer,
  Dynamics,
  EffectSpan,
  Wah,
  WithSlide,
  Pedal,
  OctaveLine,
  TempoChange,
  OpenDrum,
  HalfOpenDrum,
  OpenTone,
  Choke,
  Flam,
  Drag,
  DrumRoll,
  BuzzRoll,
  Sticking,
  BarRepeat,
  Slash,
  Repeat,
  Ending,
  RepeatTimes,
  Segno,
  Coda,
  DaCapo,
  Fine,
  Cue,
  RemarkNumber
};

/// In the order of the enumeration, each at most once.
struct SignList {
  std::vector<LegendSign> signs;
  /// Where one row stands for several words ("rit.", "accel."): the one that the sheet prints first.
  std::map<LegendSign, std::string> printed{};
};
SignList sign_list(const Setting& setting);
/// Those of one section.
SignList sign_list(const Setting& setting, int section);
/// The signs alone.
std::vector<LegendSign> signs_used(const Setting& setting);
/// What the player does: "hammer-on: the fretting finger makes the second note sound".
std::string_view words_of(LegendSign sign);
/// Where a player looks for it.
enum class SignKind : std::uint8_t { FrettingHand, PickingHand, Bends, Loudness, Sound, Drums, OtherPlayers, Way };
SignKind group_of(LegendSign sign);
std::string_view words_of(SignKind group);

Flow drum_key(const Setting& setting);
Flow sign_legend(const Setting& setting);
/// The same of these signs, whatever the song; nothing of none. Many are grouped under headings.
Flow sign_legend(const Setting& setting, const SignList& list);

}  // namespace tunesheaf::blocks
