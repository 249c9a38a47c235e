#include "legend_rows.h"

namespace tunesheaf::song {
namespace {

using G = LegendGroup;

// clang-format off
void add_fretting(LegendRows& rows) {
  add(rows,
      {{G::FrettingHand, "fret, finger", "0 is the open string; finger 1 is the index, T the thumb.", "guitar",
        "3 | 0 4 |\nfinger | - 3 |", {"string lanes 5", "finger 1", "finger T", "finger 1+4"}},
       {G::FrettingHand, "hammer-on", "A finger falls on the fret and makes it sound.", "guitar", "3 | 2 h4 |",
        {"string lanes h5"}},
       {G::FrettingHand, "pull-off", "The finger plucks the string as it leaves.", "guitar", "3 | 4 p2 |",
        {"string lanes p3"}},
       {G::FrettingHand, "from nowhere", "Hammered without a stroke before.", "guitar", "3 | h7 |", {}},
       {G::FrettingHand, "slide", "Slide to the second note; do not strike it.", "guitar", "3 | 5 /7 |",
        {"string lanes /5", "string lanes \\3"}},
       {G::FrettingHand, "slide and strike", "Slide, and strike on arrival.", "guitar", "3 | 7/ 9 |",
        {"string lanes 7/"}},
       {G::FrettingHand, "slide in", "Slide into the note from nowhere.", "guitar", "3 | /9 |", {}},
       {G::FrettingHand, "slide off", "Slide away from the note at its end.", "guitar", "3 | 9\\ . |",
        {"string lanes 7\\"}},
       {G::FrettingHand, "vibrato", "Let the pitch waver.", "guitar", "3 | 7~ |",
        {"string lanes 7~", "string lanes ~", "spans vibrato"}},
       {G::FrettingHand, "wide vibrato", "Let it waver widely.", "guitar", "3 | 7~~ |",
        {"string lanes 7~~", "string lanes ~~"}},
       {G::FrettingHand, "trill", "To and fro between it and the note in brackets.", "guitar", "3 | 7tr9 |",
        {"string lanes 17tr19", "spans trill"}},
       {G::FrettingHand, "grace note", "A quick note just before the beat.", "guitar", "3 | g2h4 |",
        {"string lanes g1h3"}},
       {G::FrettingHand, "tie", "Held over; not struck again.", "guitar", "3 | 5 | -5 . |", {"string lanes -5"}},
       {G::FrettingHand, "glissando", "Over every pitch between the two.", "guitar", "3 | 5 9 |\nglissando | on - |",
        {"spans glissando"}},
       {G::FrettingHand, "retune", "Turn the peg; frets sound so from here on.", "guitar", "4 | 0 0 |\nretune | 4=C3 |",
        {"retune 6=D2", "retune open G", "retune back"}},
       {G::FrettingHand, "barre", "One finger lies across at this fret.", "guitar",
        "2 | 5 |\n3 | 5 |\n4 | 5 |\nbarre | on |", {"spans barre"}}});
}

void add_picking(LegendRows& rows) {
  add(rows,
      {{G::PickingHand, "pick strokes", "Towards the floor; away from the floor.", "guitar", "3 | 5 5 |\npick | D U |",
        {"pick D", "pick U"}},
       {G::PickingHand, "plucking", "p thumb, i index, m middle, a ring, c little.", "guitar",
        "2 | - 1 |\n4 | 3 - |\npluck | p m |",
        {"string lanes p", "string lanes o", "pluck p", "pluck m+a", "pluck >p"}},
       {G::PickingHand, "dead, ghost", "A damped click; hardly played at all.", "guitar", "3 | x (5) |",
        {"string lanes x", "string lanes (5)"}},
       {G::PickingHand, "tremolo", "As many strokes as fit.", "guitar", "3 | 5= |",
        {"string lanes 15=", "spans tremolo picking"}},
       {G::PickingHand, "rake", "Drag over damped strings into the note.", "guitar",
        "2 | - 5 |\n3 | x - |\nrake | on . |", {"spans rake"}},
       {G::PickingHand, "tap", "A finger of the picking hand taps the fret.", "guitar", "3 | t12 p5 |",
        {"string lanes t12"}},
       {G::PickingHand, "palm mute", "The hand lies on the strings; \u00bd, lightly.", "guitar",
        "4 | 3 3 |\npalm mute | on . |\nhalf palm mute | - on |", {"spans palm mute", "spans half palm mute"}},
       {G::PickingHand, "let ring", "Let each note sound on.", "guitar", "2 | - 1 |\n4 | 2 - |\nlet ring | on - |",
        {"spans let ring"}},
       {G::PickingHand, "slap, pop", "The thumb strikes; a finger lets the string snap.", "bass",
        "4 | 3 - |\n2 | - 5 |\npluck | T P |", {}},
       {G::PickingHand, "strum", "Towards the floor; away from the floor.", "strummer", "shape | em |\nstrum | D U |",
        {"strum D", "strum U"}},
       {G::PickingHand, "muted strum", "Over damped strings.", "strummer", "shape | em |\nstrum | xD xU |",
        {"strum x"}},
       {G::PickingHand, "some strings", "Strum only the strings named.", "strummer",
        "shape | em |\nstrum | D6-4 U1-3 |", {"strum D6-4"}},
       {G::PickingHand, "rolled up, down", "Note after note, from below; from above.", "guitar",
        "1 | 0 0 |\n2 | 1 1 |\n3 | 0 0 |\nroll | up down |", {"spans roll"}},
       {G::PickingHand, "body tap", "Tap the body of the instrument.", "guitar", "3 | 5 5 |\nbody tap | x - |",
        {"spans body tap"}},
       {G::PickingHand, "snap", "Pull the string so that it slaps the neck.", "bass",
        "4 | 3 3 |\nsnap pizzicato | on . |", {"spans snap pizzicato"}},
       {G::PickingHand, "rolled, brushed", "String after string; with the backs of the nails.", "strummer",
        "shape | em |\nstrum | D~ D/ |", {"strum D~", "strum D/"}},
       {G::PickingHand, "strong strum", "Stronger than the others.", "strummer", "shape | em |\nstrum | D >D |",
        {"strum >D"}}});
}

void add_bends(LegendRows& rows) {
  add(rows,
      {{G::Bends, "bend", "Push the string up, by so many whole tones.", "guitar", "3 | 7b9 |",
        {"string lanes 7b9", "string lanes b17"}},
       {G::Bends, "quarter bend", "Just enough to be heard.", "guitar", "3 | 7b7.5 |", {}},
       {G::Bends, "bend, release", "Up, then let down again.", "guitar", "3 | 7b9r7 |",
        {"string lanes 7b9r7", "string lanes r15"}},
       {G::Bends, "bent first", "Bend, strike, then let down.", "guitar", "3 | 7pb9 r7 |", {"string lanes 15pb17"}},
       {G::Bends, "unison bend", "Bend to the pitch of the other string.", "guitar", "2 | 5 |\n3 | 7b9 |", {}},
       {G::Bends, "bar: dip", "Down by so many tones and straight back.", "guitar", "3 | 7 |\narm | dip2 |",
        {"arm dip2"}},
       {G::Bends, "bar: dive, back", "Down by so many tones; later back.", "guitar", "3 | 7 - |\narm | dive5 back |",
        {"arm dive5", "arm back"}},
       {G::Bends, "bar: up", "Pulled up by so many tones.", "guitar", "3 | 7 |\narm | up2 |", {"arm up2"}},
       {G::Bends, "bar: scoop", "From below into the note.", "guitar", "3 | 7 |\narm | scoop |", {"arm scoop"}},
       {G::Bends, "bar: shake", "Shake the note with the bar.", "guitar", "3 | 7 |\narm | ~ |", {"arm ~"}},
       {G::Bends, "harmonic", "Touch the string over the fret, and let go.", "guitar", "3 | <12> |",
        {"string lanes <12>", "spans harmonics", "notes <D5>"}},
       {G::Bends, "artificial", "Hold one fret; touch over the other and pluck.", "guitar", "3 | 5<17> |",
        {"string lanes 12<24>"}},
       {G::Bends, "tapped", "Hold one fret; tap over the other.", "guitar", "3 | 5<t17> |", {"string lanes 12<t24>"}},
       {G::Bends, "pinched", "The thumb touches the string as it is struck.", "guitar", "3 | 7<> |",
        {"string lanes 7<>"}}});
}

void add_loudness(LegendRows& rows) {
  add(rows,
      {{G::Loudness, "accents", "Stronger; much stronger.", "violin", "notes | >B4 ^B4 |",
        {"string lanes >5", "string lanes ^5", "notes >D5", "hits >x"}},
       {G::Loudness, "staccato, tenuto", "Short; held to its full length.", "violin", "notes | B4' B4_ |",
        {"string lanes 5'", "string lanes 5_", "spans staccato"}},
       {G::Loudness, "hold", "As long as you like.", "violin", "notes | B4@ |", {"string lanes 5@", "hold @"}},
       {G::Loudness, "short, long hold", "A little longer; very long.", "violin", "notes | B4 B4 |\nhold | short long |", {}},
       {G::Loudness, "breath, break", "A breath before what follows; a break in the sound.", "violin",
        "notes | B4 B4 |\nhold | breath caesura |", {}},
       {G::Loudness, "soft, loud", "p soft, f loud, m in between.", "violin", "notes | B4 D5 |\ndynamics | p f |", {}},
       {G::Loudness, "louder", "Louder by and by.", "violin", "notes | B4 D5 |\ncrescendo | on - |",
        {"spans crescendo"}},
       {G::Loudness, "softer", "Softer by and by.", "violin", "notes | D5 B4 |\ndiminuendo | on - |",
        {"spans diminuendo"}},
       {G::Loudness, "slur", "Played smoothly, in one bow or breath.", "violin", "notes | B4 D5 |\nslur | on - |",
        {"spans slur", "spans legato"}}});
  add(rows,
      {{G::Sound, "volume swell", "From nothing to full, with the volume control.", "guitar",
        "3 | 5 |\nvolume swell | on |", {"spans volume swell"}},
       {G::Sound, "fade in", "The sound comes from nothing.", "guitar", "3 | 5 5 |\nfade in | on - |",
        {"spans fade in"}},
       {G::Sound, "fade out", "The sound goes to nothing.", "guitar", "3 | 5 5 |\nfade out | on - |",
        {"spans fade out"}},
       {G::Sound, "wah", "The wah pedal open, or held closed.", "guitar", "3 | 5 5 |\nwah | open - |", {"spans wah"}},
       {G::Sound, "feedback", "Let the note feed back.", "guitar", "3 | 5 5 |\nfeedback | on |", {"spans feedback"}},
       {G::Sound, "distortion", "Driven until it breaks up.", "guitar", "4 | 3 3 |\ndistortion | on |",
        {"spans distortion"}},
       {G::Sound, "with a slide", "A tube on the finger, over the fret itself.", "guitar", "3 | 5 |\nslide | on |",
        {"spans slide"}}});
}
// clang-format on

}  // namespace

void add_fretted_examples(LegendRows& rows) {
  add_fretting(rows);
  add_picking(rows);
  add_bends(rows);
  add_loudness(rows);
}

}  // namespace tunesheaf::song
