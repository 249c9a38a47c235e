#include "tables.h"

namespace tunesheaf::song {
namespace {

struct SignRow {
  std::string_view word, value, meaning, example;
};

void add(std::vector<LanguageEntry>& table, EntryKind kind, std::string_view where, const std::vector<SignRow>& rows) {
  for (const SignRow& row : rows) table.push_back({kind, row.word, where, row.value, row.meaning, row.example});
}

void add_common_signs(std::vector<LanguageEntry>& table) {
  add(table, EntryKind::Sign, "every lane",
      {{"-", "nothing new", "What sounds goes on. An empty cell, beat or bar says the same.", "1 | 0 : - : - |"},
       {".", "silence", "Silence from here on.", "1 | 0 : - : . |"},
       {"%", "repeat", "Alone in a bar: the bar before, once more.", "1 | 0 : 2 : 3 | % |"},
       {"%%", "repeat of two", "Alone in a bar: the bar two before, once more. Two of them bring two bars back.",
        "1 | 0 : 2 : 3 | 2 : 0 : - | %% | %% |"},
       {"\"...\"", "text", "Quotes hold a text or name with blanks, |, : or # in it.", "say | \"2:1, or so\" |"},
       {"#", "comment", "After a blank: the rest of the line is a comment.", "1 | 0 : 2 |  # easy"}});
}

void add_string_signs(std::vector<LanguageEntry>& table) {
  add(table, EntryKind::Sign, "string lanes",
      {{"5", "fret", "The string is struck, stopped at this fret; 0 is open.", "1 | 5 |"},
       {"x", "dead", "The string is struck while damped.", "1 | x |"},
       {"(5)", "ghost", "Softly, hardly there.", "1 | (5) |"},
       {"h5", "hammer-on", "The finger falls on the fret and sounds it, from the note before on this string.",
        "1 | 3 h5 |"},
       {"p3", "pull-off", "The finger leaves the string and sounds the note behind it.", "1 | 5 p3 |"},
       {"/5", "slide up", "Slid up to this fret, not struck; with nothing before, slid in from below.", "1 | 3 /5 |"},
       {"\\3", "slide down", "Slid down to this fret, not struck; with nothing before, slid in from above.",
        "1 | 5 \\3 |"},
       {"7/", "slide on", "Slides to the next fret, which is struck on arrival; before silence, slid off upwards.",
        "1 | 7/ 9 |"},
       {"7\\", "slide off", "Slid off downwards.", "1 | 7\\ |"},
       {"7b9", "bend", "Bent until it sounds as this fret; .5 is a quarter tone.", "1 | 7b9 |"},
       {"7b9r7", "bend and release", "Bent, then let down again.", "1 | 7b9r7 |"},
       {"15pb17", "pre-bend", "Bent before it is struck.", "1 | 15pb17 |"},
       {"b17", "bend on", "The sounding note goes on and is bent to sound as this fret.", "1 | 15 : b17 |"},
       {"r15", "release on", "The sounding note goes on and is let down to this fret.", "1 | 15pb17 : r15 |"},
       {"~", "vibrato on", "The sounding note goes on, now with vibrato.", "1 | 7 : ~ |"},
       {"~~", "wide vibrato on", "The sounding note goes on, now with wide vibrato.", "1 | 7 : ~~ |"},
       {"7~", "vibrato", "With vibrato.", "1 | 7~ |"},
       {"7~~", "wide vibrato", "With wide vibrato.", "1 | 7~~ |"},
       {"t12", "tap", "A finger of the picking hand taps the fret.", "1 | 5 t12 |"},
       {"17tr19", "trill", "A trill with the other fret.", "1 | 17tr19 |"},
       {"15=", "tremolo", "As many strokes as fit.", "1 | 15= |"},
       {"-5", "tie", "The same note held over from before, stated again without being struck.", "1 | 5 | -5 |"},
       {"g1h3", "grace note",
        "A quick note before the beat, hammered, pulled (p) or slid (/ \\) into the main one; g1-3 strikes both.",
        "1 | g1h3 |"},
       {"<12>", "natural harmonic", "The string is touched over the fret.", "1 | <12> |"},
       {"12<24>", "artificial harmonic", "Stopped at the first fret, touched over the second.", "1 | 12<24> |"},
       {"12<t24>", "tapped harmonic", "Stopped at the first fret, tapped over the second.", "1 | 12<t24> |"},
       {"7<>", "pinched harmonic", "The picking thumb touches the string as it strikes.", "1 | 7<> |"},
       {"p", "finger", "In a pattern or over a shape: this string is plucked, here by p, i, m, a, c, T or P.",
        "1 | p i m a |"},
       {"o", "pluck", "In a pattern or over a shape: this string is plucked, by no stated finger.", "1 | o |"},
       {">5", "accent", "Struck harder. Before or behind any struck sign.", "1 | >5 |"},
       {"^5", "strong accent", "Struck much harder.", "1 | ^5 |"},
       {"5'", "staccato", "Short.", "1 | 5' |"},
       {"5_", "tenuto", "Held to its full length.", "1 | 5_ |"},
       {"5@", "hold", "Held as long as one likes.", "1 | 5@ |"}});
  add(table, EntryKind::Sign, "string",
      {{"2", "string number", "The string on which the note of the `fret` lane is played.", "string | 2 : 1 |"}});
}

void add_hand_signs(std::vector<LanguageEntry>& table) {
  add(table, EntryKind::Sign, "strum",
      {{"D", "down stroke", "Down over the strings of the shape.", "strum | D |"},
       {"U", "up stroke", "Up over the strings of the shape.", "strum | U |"},
       {"x", "muted stroke", "Over damped strings; xD and xU state the direction.", "strum | x xU |"},
       {"D6-4", "some strings", "Over these strings alone; D4 is one string.", "strum | D6-4 U1-3 |"},
       {"D~", "rolled stroke", "String after string, so that each is heard.", "strum | D~ |"},
       {"D/", "brushed stroke", "With the backs of the nails or the flesh of the thumb.", "strum | D/ |"},
       {"(D)", "ghost stroke", "Softly, hardly there.", "strum | (D) |"},
       {">D", "accent", "Struck harder; ^ ' _ @ as on string lanes.", "strum | >D D' |"}});
  add(table, EntryKind::Sign, "pluck",
      {{"p", "finger", "Thumb p, index i, middle m, ring a, little c; on bass T is a thumb slap, P a pop.",
        "pluck | p i m a |"},
       {"m+a", "together", "Several fingers at once.", "pluck | p m+a |"},
       {">p", "accent", "Plucked harder; ^ ' _ @ as on string lanes.", "pluck | >p |"}});
  add(table, EntryKind::Sign, "pick",
      {{"D", "down stroke", "Down with the pick.", "pick | D |"},
       {"U", "up stroke", "Up with the pick.", "pick | U |"}});
  add(table, EntryKind::Sign, "finger",
      {{"1", "finger", "Index 1, middle 2, ring 3, little 4.", "finger | 1 2 3 4 |"},
       {"T", "thumb", "The thumb of the fretting hand.", "finger | T |"},
       {"1+4", "together", "Several fingers at once.", "finger | 1+4 |"}});
  add(table, EntryKind::Sign, "arm",
      {{"dip2", "dip", "Down by so many semitones and straight back; .5 is a quarter tone.", "arm | dip2 |"},
       {"dive5", "dive", "Down by so many semitones, and stays there.", "arm | dive5 |"},
       {"up2", "up", "Up by so many semitones, and stays there.", "arm | up2 |"},
       {"scoop", "scoop", "From below into the note as it is struck.", "arm | scoop |"},
       {"back", "back", "Back to where it rests.", "arm | dive5 : back |"},
       {"~", "shake", "Shaken with the bar.", "arm | ~ |"}});
  add(table, EntryKind::Sign, "retune",
      {{"6=D2", "string", "This string to this note, low or high as written; several stand as 6=D2 1=D4.",
        "retune | 6=D2 1=D4 |"},
       {"open G", "tuning", "All strings at once: a tuning by its name, or all the notes, low string first.",
        "retune | open G |"},
       {"back", "back", "All strings as the part is tuned.", "retune | 6=D2 | back |"}});
  add(table, EntryKind::Sign, "bow",
      {{"D", "down bow", "Down bow.", "bow | D |"}, {"U", "up bow", "Up bow.", "bow | U |"}});
}

void add_pitch_signs(std::vector<LanguageEntry>& table) {
  add(table, EntryKind::Sign, "notes",
      {{"D5", "pitch", "A note and its octave (C4 is middle C), with # or b.", "notes | D5 F#5 Bb4 |"},
       {"D5+F5", "together", "Notes struck at once.", "notes | D5+F5 |"},
       {"-D5", "tie", "The same notes held over from before, stated again without being struck.", "notes | D5 | -D5 |"},
       {"x", "dead", "A stroke without a pitch.", "notes | x |"},
       {"(D5)", "ghost", "Softly, hardly there.", "notes | (D5) |"},
       {"<D5>", "harmonic", "A harmonic that sounds this pitch.", "notes | <D5> |"},
       {"D5=", "tremolo", "As many strokes as fit.", "notes | D5= |"},
       {"D5trE5", "trill", "A trill with the other note.", "notes | D5trE5 |"},
       {"gC5-D5", "grace note", "A quick note before the beat.", "notes | gC5-D5 |"},
       {">D5", "accent", "Harder; ^ ' _ @ as on string lanes.", "notes | >D5 D5' |"}});
}

void add_drum_signs(std::vector<LanguageEntry>& table) {
  add(table, EntryKind::Sign, "drums",
      {{"x", "stroke", "A stroke; on the hi-hat, closed.", "hat | x |"},
       {"o", "open stroke", "A stroke left to ring; on the hi-hat, open.", "hat | o |"},
       {"h", "half open", "On the hi-hat, half open.", "hat | h |"},
       {"(x)", "ghost", "Softly, hardly there.", "snare | (x) |"},
       {">x", "accent", "Harder; ^ ' _ @ as on string lanes.", "snare | >x |"},
       {"fx", "flam", "One grace note before the stroke.", "snare | fx |"},
       {"dx", "drag", "Two grace notes before the stroke.", "snare | dx |"},
       {"rx", "ruff", "Three grace notes before the stroke.", "snare | rx |"},
       {"x/", "roll", "One stroke through the stem: each half of the note is struck; x// and x/// roll faster.",
        "snare | x/// |"},
       {"xz", "buzz roll", "The stick is pressed into the head: a roll of strokes that nobody counts.", "snare | xz |"},
       {"x!", "choke", "Struck and damped by hand at once.", "crash | x! |"},
       {"R", "right hand", "A stroke with the right hand; also behind a sign, xR.", "snare | R L R L |"},
       {"L", "left hand", "A stroke with the left hand; also behind a sign, xL.", "snare | xR fxL |"}});
  add(table, EntryKind::Sign, "hits",
      {{"x", "hit", "All together.", "hits | x |"},
       {"(x)", "ghost", "Softly, hardly there.", "hits | (x) |"},
       {">x", "accent", "Harder; ^ ' _ @ as on string lanes.", "hits | >x x' |"}});
}

void add_word_signs(std::vector<LanguageEntry>& table) {
  add(table, EntryKind::Sign, "spans",
      {{"on", "begins", "The span begins here; - goes on, . ends it.", "palm mute | on : - : . |"}});
  add(table, EntryKind::Sign, "chords",
      {{"Am7", "chord", "The name of a chord.", "chords | Am7 - D7 G |"},
       {"N.C.", "no chord", "No chord from here on.", "chords | N.C. |"}});
  add(table, EntryKind::Sign, "lyric",
      {{"wa-", "syllable", "A part of a word; the word goes on with the next syllable.", "lyric | wa- : ter : - : - |"},
       {"ah -", "held vowel", "The syllable before is held; over further notes a line runs to the last of them.",
        "lyric | ah : - : - : oh |"}});
  add(table, EntryKind::Sign, "see",
      {{"a", "remark", "The letter of a remark; several stand as a,b.", "see | a : - : b |"}});
  add(table, EntryKind::Sign, "hold", {{"@", "hold", "Everyone holds.", "hold | - : @ |"}});
}

}  // namespace

void add_signs(std::vector<LanguageEntry>& table) {
  add_common_signs(table);
  add_string_signs(table);
  add_hand_signs(table);
  add_pitch_signs(table);
  add_drum_signs(table);
  add_word_signs(table);
}

void add_form_words(std::vector<LanguageEntry>& table) {
  add(table, EntryKind::FormWord, "form",
      {{"segno", "sign", "The place D.S. goes back to.", "form: [segno, tune, D.S.]"},
       {"coda", "sign", "The place `to coda` jumps to. A section of this name is played there.",
        "form: [segno, tune, to coda, tune, D.S. al coda, coda, tune]"},
       {"to coda", "sign", "On the way back after D.S. al coda or D.C. al coda: from here to the coda.",
        "form: [tune, to coda, tune, D.C. al coda, coda, tune]"},
       {"fine", "sign", "Where D.S. al fine or D.C. al fine ends.", "form: [tune, fine, tune, D.C. al fine]"},
       {"D.S.", "jump", "Back to the segno.", "form: [segno, tune, D.S.]"},
       {"D.S. al coda", "jump", "Back to the segno, then from `to coda` to the coda.",
        "form: [segno, tune, to coda, tune, D.S. al coda, coda, tune]"},
       {"D.S. al fine", "jump", "Back to the segno, ends at `fine`.", "form: [segno, tune, fine, tune, D.S. al fine]"},
       {"D.C.", "jump", "Back to the beginning.", "form: [tune, D.C.]"},
       {"D.C. al coda", "jump", "Back to the beginning, then from `to coda` to the coda.",
        "form: [tune, to coda, tune, D.C. al coda, coda, tune]"},
       {"D.C. al fine", "jump", "Back to the beginning, ends at `fine`.", "form: [tune, fine, tune, D.C. al fine]"},
       {"fade", "end", "The song fades out at the end.", "form: [tune, fade]"}});
}

}  // namespace tunesheaf::song
