#include "tables.h"

namespace tunesheaf::song {
namespace {

using K = LaneKind;

struct LaneRow {
  K kind;
  std::string_view word, value, meaning, example;
  std::string_view choices{};
};

void add(std::vector<LanguageEntry>& table, std::string_view where, const std::vector<LaneRow>& rows) {
  for (const LaneRow& row : rows) {
    const bool has_subject = row.kind == K::Kit || row.kind == K::Mark || row.kind == K::Clef;
    table.push_back({EntryKind::Lane,
                     row.word,
                     where,
                     row.value,
                     row.meaning,
                     row.example,
                     ValueType::None,
                     {},
                     row.choices,
                     false,
                     row.kind,
                     has_subject ? row.word : std::string_view{}});
  }
}

void add_string_lanes(std::vector<LanguageEntry>& table) {
  add(table, "strings",
      {{K::String, "1 ... 12", "string signs", "A string by its number; 1 is the last of the tuning list.",
        "1 | 0 : h2 : p0 |"},
       {K::Thumb, "thumb N", "string signs", "String N in the lower voice, beside the fingers' own strings.",
        "thumb 5 | 0 : - : - |"},
       {K::Thumb, "thumb", "picking fingers",
        "In a pattern: the thumb's strokes; it walks over the strings that the shape lists under `thumb`.",
        "thumb | p : - : p |"},
       {K::StringOf, "string", "string numbers", "With `fret`: on which string the single line is played.",
        "string | 1 : 2 : - |"},
       {K::FretOf, "fret", "string signs", "With `string`: the frets of a single line.", "fret | 3 : 5 : h7 |"},
       {K::Shape, "shape", "shape names", "The shape the fretting hand holds from here on.", "shape | home |"},
       {K::Pattern, "pattern", "pattern names",
        "The pattern the picking hand plays from here on, over the shape. A bar with an empty cell and notes of its "
        "own "
        "plays these instead.",
        "pattern | lilt |"},
       {K::Strum, "strum", "strokes", "Strokes over the strings of the shape.", "strum | D : - U : D U |"},
       {K::Pluck, "pluck", "picking fingers", "The finger of the picking hand for each note.", "pluck | p : i : m+a |"},
       {K::Pick, "pick", "D and U", "The stroke of the pick for each note.", "pick | D U : D U |"},
       {K::Finger, "finger", "fretting fingers", "The finger of the fretting hand for each note.",
        "finger | 1 : 3 : 1+4 |"},
       {K::Arm, "arm", "moves of the vibrato bar", "Moves of the vibrato bar, in semitones.",
        "arm | dip2 : - : back |"},
       {K::Retune, "retune", "strings and notes, or a tuning",
        "Strings that the player tunes otherwise here. From then on, in the order of playing, frets sound as tuned.",
        "retune | 6=D2 | - | back |"},
       {K::Bow, "bow", "D and U", "Bow strokes, down and up.", "bow | D : U : - |", "D U"}});
}

void add_cue_lane(std::vector<LanguageEntry>& table) {
  add(table, "cues",
      {{K::Cue, "cue", "the name of a part",
        "Over bars in which the player rests: what that part plays there, shown small. From the bar of the name to the "
        "end of the section, or to the bar of a dot. Who rests through a section has it on the sheet of `--parts`.",
        "cue | - | fiddle | - | . |"}});
}

constexpr std::string_view kClefs = "treble treble-8 alto tenor bass bass-8";

void add_pitch_lanes(std::vector<LanguageEntry>& table) {
  add(table, "pitches",
      {{K::Notes, "notes", "pitches", "A melody, or chords, in concert pitch as the page writes it.",
        "notes | D5 : - : E5+G5 |"},
       {K::Right, "right", "pitches", "The right hand on keys.", "right | C5 : E5 |"},
       {K::Left, "left", "pitches", "The left hand on keys.", "left | C3 : G3 |"},
       {K::Clef, "clef", "clef", "Another clef from here on, to the end of the section.", "clef | tenor : - : bass |",
        kClefs},
       {K::Clef, "right clef", "clef", "Another clef for the right hand on keys.", "right clef | bass |", kClefs},
       {K::Clef, "left clef", "clef", "Another clef for the left hand on keys.", "left clef | treble : - : bass |",
        kClefs},
       {K::Pedal, "pedal", "on, change, half and .", "The sustaining pedal: down, lifted and down again, half down.",
        "pedal | on : - : . |", "on change half"}});
}

void add_chart_lanes(std::vector<LanguageEntry>& table) {
  add(table, "shared",
      {{K::Chords, "chords", "chord names", "Stated chords, printed as typed and checked; N.C. for none.",
        "chords | Am7 : - : N.C. |"},
       {K::Hits, "hits", "strokes", "Rhythm that all players make together.", "hits | x : . : >x |"},
       {K::Lyric, "lyric", "words",
        "Words that are sung. Without colons a bar's words are one cue; with colons each word has its place in its "
        "beat.",
        "lyric | Row the : boat : - |"},
       {K::Say, "say", "text", "A word to the players, printed above its bar or beat.", "say | softly now |"},
       {K::Count, "count", "counts", "The count spoken under the notes.", "count | 1 : 2 & : 3 e & a |"},
       {K::Dynamics, "dynamics", "p, mf, f ...", "How loud.", "dynamics | mf : - : f |",
        "pppp ppp pp p mp mf f ff fff ffff sf sfz fp sfp rf rfz fz n"},
       {K::Tempo, "tempo", "tempo", "A change of tempo, in numbers or in words.", "tempo | rit. : - : a tempo |"},
       {K::Meter, "meter", "meter", "A change of meter from this bar on.", "meter | 5/4 (3+2) |"},
       {K::Key, "key", "key", "A change of key from this bar on.", "key | E minor |"},
       {K::Hold, "hold", "@, breath, caesura",
        "A hold (fermata) over everyone, short or long where it matters; a breath or a break before what follows.",
        "hold | - : breath : @ |", "@ short long breath caesura"},
       {K::See, "see", "letters of remarks", "Where each of the section's remarks stands.", "see | a : - : b |"},
       {K::From, "from", "recording or lesson", "Who says so, bar by bar.", "from | lesson |", "recording lesson"}});
}

void add_mark_lanes(std::vector<LanguageEntry>& table) {
  const auto mark = [&](std::string_view word, std::string_view meaning, std::string_view example,
                        std::string_view choices = "on") {
    add(table, "spans", {{K::Mark, word, "on - - .", meaning, example, choices}});
  };
  mark("palm mute", "The edge of the picking hand damps the strings.", "palm mute | on : - : . |");
  mark("half palm mute", "The same, more lightly.", "half palm mute | on |");
  mark("let ring", "Notes sound until their string is struck, stopped or needed.", "let ring | on : - : . |");
  mark("slur", "One curve over the notes: one breath, one bow, or played smoothly.", "slur | on : - : . |");
  mark("8va", "Sounds an octave above what stands there.", "8va | on |");
  mark("8vb", "Sounds an octave below what stands there.", "8vb | on |");
  mark("15ma", "Sounds two octaves above what stands there.", "15ma | on |");
  mark("15mb", "Sounds two octaves below what stands there.", "15mb | on |");
  mark("crescendo", "Louder by and by.", "crescendo | on : - : . |");
  mark("diminuendo", "Softer by and by.", "diminuendo | on : - : . |");
  mark("accelerando", "Faster by and by.", "accelerando | on |");
  mark("ritardando", "Slower by and by.", "ritardando | on |");
  mark("wah", "The wah pedal: on, or held open or closed.", "wah | open : - : closed |", "on open closed");
  mark("volume swell", "The note fades in under the volume control.", "volume swell | on |");
  mark("fade in", "From nothing to full.", "fade in | on |");
  mark("fade out", "From full to nothing.", "fade out | on |");
  mark("feedback", "The note is left to feed back.", "feedback | on : - : . |");
  mark("rake", "The pick drags over damped strings into the note.", "rake | on : . |");
  mark("trill", "A trill over the whole length.", "trill | on : - : . |");
  mark("vibrato", "Vibrato over the whole length; wide where it should be.", "vibrato | wide : - : . |", "on wide");
  mark("harmonics", "Everything under it is played as harmonics.", "harmonics | on : - : . |");
  mark("tremolo picking", "As many strokes as fit.", "tremolo picking | on : - : . |");
  mark("barre", "A finger lies across; half covers only some strings.", "barre | on : - : . |", "on half");
  mark("roll", "The chord is rolled: up from its lowest note, down from its highest.", "roll | up : - : down |",
       "on up down");
  mark("body tap", "A tap on the body of the instrument.", "body tap | x : - : x |", "x");
  mark("glissando", "Over every pitch between two notes.", "glissando | on : . |");
  mark("snap pizzicato", "The string is pulled so that it slaps the neck.", "snap pizzicato | on : - : . |");
  mark("staccato", "Everything under it is short.", "staccato | on : . |");
  mark("legato", "Everything under it is joined.", "legato | on : . |");
  mark("pizzicato", "Plucked, not bowed.", "pizzicato | on : - : . |");
  mark("with mute", "The instrument's mute is on.", "with mute | on |");
  mark("near the bridge", "Played near the bridge.", "near the bridge | on |");
  mark("over the neck", "Played over the fingerboard.", "over the neck | on |");
  mark("slide", "Played with a slide on the finger.", "slide | on |");
  mark("distortion", "The sound is driven until it breaks up.", "distortion | on |");
  mark("brushes", "Played with brushes.", "brushes | on |");
  mark("mallets", "Played with soft mallets.", "mallets | on |");
  mark("snares off", "The snare drum's wires are off.", "snares off | on |");
}

void add_kit_lanes(std::vector<LanguageEntry>& table) {
  const auto drum = [&](std::string_view word, std::string_view meaning, std::string_view example) {
    add(table, "drums", {{K::Kit, word, "strokes", meaning, example}});
  };
  drum("kick", "The bass drum.", "kick | x : - : x |");
  drum("kick 2", "The second bass drum or pedal.", "kick 2 | x x : x x |");
  drum("snare", "The snare drum.", "snare | - : x : fx |");
  drum("cross-stick", "The stick laid across the snare drum and struck on its rim.", "cross-stick | - : x |");
  drum("rim", "Rim and head of the snare drum at once.", "rim | - : >x |");
  drum("hat", "The hi-hat with sticks: x closed, h half open, o open.", "hat | x x : x o |");
  drum("hat open", "The open hi-hat, where it has a lane of its own.", "hat open | - : x |");
  drum("hat half", "The half-open hi-hat, where it has a lane of its own.", "hat half | - : x |");
  drum("hat foot", "The hi-hat closed by the foot.", "hat foot | - : x |");
  drum("ride", "The ride cymbal.", "ride | x : x x |");
  drum("ride bell", "The bell of the ride cymbal.", "ride bell | x : - |");
  drum("crash", "The crash cymbal.", "crash | x! |");
  drum("crash 2", "The second crash cymbal.", "crash 2 | x |");
  drum("splash", "The splash cymbal.", "splash | x |");
  drum("china", "The china cymbal.", "china | x |");
  drum("high tom", "The high tom.", "high tom | x x |");
  drum("mid tom", "The middle tom.", "mid tom | x x |");
  drum("low tom", "The low tom.", "low tom | x x |");
  drum("floor tom", "The floor tom.", "floor tom | x : x |");
  drum("tom 1", "The first tom, counted from the highest.", "tom 1 | x |");
  drum("tom 2", "The second tom.", "tom 2 | x |");
  drum("tom 3", "The third tom.", "tom 3 | x |");
  drum("tom 4", "The fourth tom.", "tom 4 | x |");
  drum("cowbell", "The cowbell.", "cowbell | x : x |");
  drum("wood block", "The wood block.", "wood block | x : x |");
  drum("tambourine", "The tambourine.", "tambourine | x x : >x x |");
  drum("shaker", "The shaker.", "shaker | x x : x x |");
  drum("maracas", "The maracas.", "maracas | x x |");
  drum("claves", "The claves.", "claves | x : x |");
  drum("guiro", "The guiro.", "guiro | x : x x |");
  drum("triangle", "The triangle: o rings, x is damped.", "triangle | x : o |");
  drum("claps", "Hands clapped.", "claps | - : x |");
  drum("snaps", "Fingers snapped.", "snaps | - : x |");
  drum("stomp", "A foot on the floor.", "stomp | x : - |");
  drum("bass", "The bass tone of a cajon, conga or hand drum.", "bass | o : - |");
  drum("slap", "The slap of a cajon, conga or hand drum.", "slap | - : x |");
  drum("tone", "The open tone of a conga or hand drum.", "tone | - : o o |");
  drum("open", "The open tone of a conga.", "open | - : o o |");
  drum("muffled", "The muffled tone of a conga.", "muffled | x |");
  drum("heel", "The heel of the hand.", "heel | x - |");
  drum("toe", "The tips of the fingers, after the heel.", "toe | - x |");
  drum("tap", "A light touch of the fingers.", "tap | x x |");
  drum("ghost", "Touches that are felt more than heard.", "ghost | x x |");
  drum("doum", "The low stroke of a hand drum.", "doum | x : - |");
  drum("tek", "The high stroke of a hand drum, strong hand.", "tek | - : x |");
  drum("ka", "The high stroke of a hand drum, other hand.", "ka | - x |");
  drum("conga", "The conga; x slap, o open tone.", "conga | x : o o |");
  drum("high conga", "The higher conga.", "high conga | o |");
  drum("low conga", "The lower conga.", "low conga | o |");
  drum("high bongo", "The higher bongo.", "high bongo | x x |");
  drum("low bongo", "The lower bongo.", "low bongo | x |");
  drum("high timbale", "The higher timbale.", "high timbale | x |");
  drum("low timbale", "The lower timbale.", "low timbale | x |");
  drum("hand drum", "A hand drum on a single lane.", "hand drum | x : o |");
}

}  // namespace

void add_lanes(std::vector<LanguageEntry>& table) {
  add_string_lanes(table);
  add_pitch_lanes(table);
  add_cue_lane(table);
  add_chart_lanes(table);
  add_mark_lanes(table);
  add_kit_lanes(table);
}

}  // namespace tunesheaf::song
