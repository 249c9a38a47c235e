// The signs of a sheet in the words of a player.
#include "tunesheaf/blocks/legend.h"

namespace tunesheaf::blocks {

std::string_view words_of(LegendSign sign) {
  switch (sign) {
    case LegendSign::Glissando:
      return "glide over every pitch between the two";
    case LegendSign::Slur:
      return "slur: in one breath or one bow, without a new stroke";
    case LegendSign::Rake:
      return "drag over muted strings into the note";
    case LegendSign::PartialStrum:
      return "strum these strings only";
    case LegendSign::Brush:
      return "brush the strings lightly";
    case LegendSign::NoChord:
      return "no chord here";
    case LegendSign::SnapPizzicato:
      return "pull so hard that the string snaps back";
    case LegendSign::Pizzicato:
      return "pluck with the finger, not the bow";
    case LegendSign::BodyTap:
      return "tap the body of the instrument";
    case LegendSign::Tenuto:
      return "held for its full length";
    case LegendSign::ShortHold:
      return "hold it a little";
    case LegendSign::LongHold:
      return "hold it long";
    case LegendSign::Breath:
      return "breathe before going on";
    case LegendSign::Caesura:
      return "stop; silence, then go on together";
    case LegendSign::OctaveLine:
      return "an octave (15: two octaves) higher or lower than written";
    case LegendSign::TempoChange:
      return "rit.: slower by and by; accel.: faster by and by";
    case LegendSign::Flam:
      return "flam: a soft stroke just before";
    case LegendSign::Drag:
      return "drag, ruff: two soft strokes or more just before";
    case LegendSign::DrumRoll:
      return "roll: the more strokes through the stem, the faster";
    case LegendSign::BuzzRoll:
      return "buzz roll: press the stick into the head";
    case LegendSign::Cue:
      return "small staff: what the part named there plays while you rest";
    case LegendSign::Sticking:
      return "right hand, left hand";
    case LegendSign::BarRepeat:
      return "play the bar before again (with a 2: the two bars)";
    case LegendSign::Repeat:
      return "play again what stands between the two";
    case LegendSign::Ending:
      return "played only at that time through";
    case LegendSign::RepeatTimes:
      return "how often it is played in all";
    case LegendSign::Segno:
      return "D.S.: go on from this sign";
    case LegendSign::Coda:
      return "on the way back jump from one of these to the other";
    case LegendSign::DaCapo:
      return "D.C.: go on from the beginning";
    case LegendSign::Fine:
      return "on the way back it ends here";
    case LegendSign::HammerOn:
      return "hammer-on (h): a fretting finger makes the note sound";
    case LegendSign::PullOff:
      return "pull-off (p): the finger plucks as it leaves";
    case LegendSign::Slide:
      return "slide: the note glides to the next";
    case LegendSign::SlideIn:
      return "slide into the note from nowhere";
    case LegendSign::SlideOff:
      return "slide away from the note";
    case LegendSign::Tap:
      return "tap the note on the neck";
    case LegendSign::Bend:
      return "bend, by so many whole tones";
    case LegendSign::BentFirst:
      return "bend first, then strike";
    case LegendSign::Release:
      return "let the bend down again; a small fret in brackets is where it ends";
    case LegendSign::Vibrato:
      return "vibrato: the wider the wave, the wider the vibrato";
    case LegendSign::Trill:
      return "trill: to and fro with the note in brackets or the next above";
    case LegendSign::Tremolo:
      return "tremolo: again and again, as fast as you can";
    case LegendSign::Dead:
      return "muted: a click without pitch";
    case LegendSign::Ghost:
      return "in brackets, full size: hardly played, more felt than heard";
    case LegendSign::Tie:
      return "tied: sounds on, is not struck again";
    case LegendSign::Held:
      return "tied: sounds on, is not struck again; a small fret in brackets recalls it";
    case LegendSign::HalfOnTab:
      return "tab: a long stem is a quarter note, a short one a half; a whole note has none";
    case LegendSign::MirroredTab:
      return "this tab is mirrored: the letters are its strings, string 1 is the lowest line";
    case LegendSign::NaturalHarmonic:
      return "harmonic: only touch the string there, press nothing";
    case LegendSign::ArtificialHarmonic:
      return "artificial harmonic: press the plain fret, touch over the one in brackets";
    case LegendSign::PinchedHarmonic:
      return "pinched harmonic, off the thumb";
    case LegendSign::TappedHarmonic:
      return "tapped harmonic: press the plain fret, tap over the one in brackets";
    case LegendSign::Grace:
      return "grace note, just before the beat";
    case LegendSign::DownStroke:
      return "pick towards the floor";
    case LegendSign::UpStroke:
      return "pick away from the floor";
    case LegendSign::StrumDown:
      return "strum towards the floor";
    case LegendSign::StrumUp:
      return "strum away from the floor";
    case LegendSign::Bow:
      return "bow down, bow up";
    case LegendSign::Rolled:
      return "rolled: one note after the other";
    case LegendSign::FrettingFingers:
      return "finger of the fretting hand, 1 the index to 4 the little finger";
    case LegendSign::PluckingFingers:
      return "thumb, index, middle, ring of the picking hand";
    case LegendSign::Slap:
      return "slap: the side of the thumb strikes the string";
    case LegendSign::Pop:
      return "pop: pull the string off the neck";
    case LegendSign::Accent:
      return "accent: stronger";
    case LegendSign::Marcato:
      return "strong accent";
    case LegendSign::Staccato:
      return "short";
    case LegendSign::Fermata:
      return "hold as long as you like";
    case LegendSign::ArmMove:
      return "vibrato bar: down or up, by so many whole tones";
    case LegendSign::PalmMute:
      return "the palm lies on the strings";
    case LegendSign::HalfPalmMute:
      return "the palm lies on the strings lightly";
    case LegendSign::LetRing:
      return "let it ring on";
    case LegendSign::Barre:
      return "one finger lies across the strings at this fret";
    case LegendSign::Swell:
      return "swell: from nothing to full, with the volume control";
    case LegendSign::FadeOut:
      return "fade out: from full to nothing";
    case LegendSign::FadeIn:
      return "fade in: from nothing to full";
    case LegendSign::RepeatAndFade:
      return "again and again, softer each time, until nothing is heard";
    case LegendSign::Louder:
      return "louder by and by";
    case LegendSign::Softer:
      return "softer by and by";
    case LegendSign::Dynamics:
      return "how loud: p soft, f loud, m in between";
    case LegendSign::EffectSpan:
      return "an effect is on as far as the dashes go";
    case LegendSign::Wah:
      return "wah pedal open; held closed";
    case LegendSign::WithSlide:
      return "with a tube on the finger, over the fret itself, as far as the dashes go";
    case LegendSign::Pedal:
      return "pedal down, pedal up";
    case LegendSign::OpenDrum:
      return "open hi-hat";
    case LegendSign::HalfOpenDrum:
      return "hi-hat half open";
    case LegendSign::OpenTone:
      return "open stroke: let the skin ring";
    case LegendSign::Choke:
      return "catch the cymbal at once";
    case LegendSign::Slash:
      return "strum the shape in this rhythm";
    case LegendSign::RemarkNumber:
      return "a remark in the margin, by its number";
  }
  return {};
}

SignKind group_of(LegendSign sign) {
  using S = LegendSign;
  using G = SignKind;
  switch (sign) {
    case S::HammerOn:
    case S::PullOff:
    case S::Slide:
    case S::SlideIn:
    case S::SlideOff:
    case S::Glissando:
    case S::Vibrato:
    case S::Trill:
    case S::Held:
    case S::Tie:
    case S::HalfOnTab:
    case S::MirroredTab:
    case S::Grace:
    case S::FrettingFingers:
    case S::Barre:
      return G::FrettingHand;
    case S::Tap:
    case S::Tremolo:
    case S::Rake:
    case S::Dead:
    case S::Ghost:
    case S::DownStroke:
    case S::UpStroke:
    case S::StrumDown:
    case S::StrumUp:
    case S::PartialStrum:
    case S::Brush:
    case S::NoChord:
    case S::Rolled:
    case S::PluckingFingers:
    case S::Slap:
    case S::Pop:
    case S::SnapPizzicato:
    case S::BodyTap:
    case S::PalmMute:
    case S::HalfPalmMute:
    case S::LetRing:
    case S::Slash:
      return G::PickingHand;
    case S::Bend:
    case S::BentFirst:
    case S::Release:
    case S::ArmMove:
    case S::NaturalHarmonic:
    case S::ArtificialHarmonic:
    case S::PinchedHarmonic:
    case S::TappedHarmonic:
      return G::Bends;
    case S::Accent:
    case S::Marcato:
    case S::Staccato:
    case S::Tenuto:
    case S::Fermata:
    case S::ShortHold:
    case S::LongHold:
    case S::Breath:
    case S::Caesura:
    case S::Slur:
    case S::Louder:
    case S::Softer:
    case S::Dynamics:
    case S::TempoChange:
      return G::Loudness;
    case S::Swell:
    case S::FadeIn:
    case S::FadeOut:
    case S::EffectSpan:
    case S::Wah:
    case S::WithSlide:
      return G::Sound;
    case S::OpenDrum:
    case S::HalfOpenDrum:
    case S::OpenTone:
    case S::Choke:
    case S::Flam:
    case S::Drag:
    case S::DrumRoll:
    case S::BuzzRoll:
    case S::Sticking:
      return G::Drums;
    case S::Bow:
    case S::Pizzicato:
    case S::Pedal:
    case S::OctaveLine:
    case S::Cue:
      return G::OtherPlayers;
    case S::BarRepeat:
    case S::Repeat:
    case S::Ending:
    case S::RepeatTimes:
    case S::Segno:
    case S::Coda:
    case S::DaCapo:
    case S::Fine:
    case S::RepeatAndFade:
    case S::RemarkNumber:
      return G::Way;
  }
  return G::Way;
}

std::string_view words_of(SignKind group) {
  switch (group) {
    case SignKind::FrettingHand:
      return "The fretting hand";
    case SignKind::PickingHand:
      return "The picking hand";
    case SignKind::Bends:
      return "Bends, bar, harmonics";
    case SignKind::Loudness:
      return "How strong, how long";
    case SignKind::Sound:
      return "The sound";
    case SignKind::Drums:
      return "Drums";
    case SignKind::OtherPlayers:
      return "Bow, keys, voice";
    case SignKind::Way:
      return "The way through the song";
  }
  return {};
}

}  // namespace tunesheaf::blocks
