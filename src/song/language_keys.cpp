#include "tables.h"

namespace tunesheaf::song {
namespace {

using T = ValueType;

struct KeyRow {
  std::string_view word, value, meaning, example;
  T type = T::Words;
  std::string_view inside{}, choices{};
  bool required = false;
};

void add(std::vector<LanguageEntry>& table, std::string_view where, const std::vector<KeyRow>& rows) {
  for (const KeyRow& row : rows) {
    table.push_back({EntryKind::Key,
                     row.word,
                     where,
                     row.value,
                     row.meaning,
                     row.example,
                     row.type,
                     row.inside,
                     row.choices,
                     row.required,
                     LaneKind{},
                     {}});
  }
}

void add_song_keys(std::vector<LanguageEntry>& table) {
  add(table, "song",
      {{"song", "text", "The title, as it is printed.", "song: The Heron Stair", T::Words, "", "", true},
       {"by", "text", "Who wrote it or plays it.", "by: Saltmarsh Assembly"},
       {"lesson", "text", "The lesson this sheet belongs to.", "lesson: handout 14"},
       {"revision", "text", "The date or number of this state of the sheet; printed on every page.",
        "revision: 2026-03-01"},
       {"video", "address", "The address of the lesson video; times in sections become links into it.",
        "video: https://example.org/lessons/14", T::Address},
       {"credits", "text", "The line of rights at the foot.", "credits: For private study."},
       {"language", "language code", "The language of the texts, for the printed file and for breaking words.",
        "language: en", T::LanguageTag},
       {"about", "text", "A few sentences at the head of the sheet.", "about: A slow waltz for one guitar."},
       {"style", "style name", "The style the sheet is printed in unless another is asked for.", "style: large"},
       {"key", "key",
        "The key that is read on the page: what would sound without the first fretted part's full capo. Shapes of G "
        "behind "
        "a capo at fret 2 are in G, and sound in A.",
        "key: G major"},
       {"meter", "meter", "Beats and beat unit; 5/8, 7/8 and the like state their grouping.", "meter: 7/8 (2+2+3)"},
       {"tempo", "beats a minute", "How fast; the meter's beat is counted unless a note value is named.",
        "tempo: dotted quarter 60", T::Tempo},
       {"feel", "straight or swing", "How the halves of a beat (or of a half beat) share it.", "feel: swing 16ths 3:2",
        T::Feel},
       {"pick-up", "beats",
        "An upbeat: the first bar of every lane in the section that begins the song, as short as is said here. No "
        "number.",
        "pick-up: 1 beat", T::PickUp},
       {"counts in", "part name, or nobody",
        "Who counts the song in. Without it, whoever keeps the beat: the drums, or the first part that starts.",
        "counts in: drums"},
       {"starts", "part names",
        "Who plays from the first bar on; compared with what is written there. Without it, whoever plays there.",
        "starts: [guitar, drums]", T::Parts},
       {"recordings", "names, each with keys",
        "The recordings a player listens to; the first is the one this lesson follows.",
        "recordings: {studio: {sounds: +18 cents}}", T::Named, "recording"},
       {"parts", "names, each with keys", "Who plays. A song that is only a chart needs none.",
        "parts: {guitar: {instrument: guitar, tuning: open G}}", T::Named, "part"},
       {"shapes", "names, each with keys", "What the fretting hand holds, under names of your own.",
        "shapes: {home: {frets: x 0 0 0 0 0}}", T::Named, "shape"},
       {"patterns", "names, each with lanes", "What the picking hand repeats, under names of your own.",
        "patterns: {lilt: \"strum | D : - U : D U |\"}", T::Named, "pattern"},
       {"sections", "names, each with keys", "The sections of the song, each written once.",
        "sections: {tune: {chart: \"chords | G | C |\"}}", T::Named, "section", "", true},
       {"form", "list of sections and signs",
        "The printed order: names of sections, and signs such as segno or D.S. al coda. Without it the sections stand "
        "once each, in the order of the file.",
        "form: [tune, tune, fade]", T::Form}});
}

void add_recording_keys(std::vector<LanguageEntry>& table) {
  add(table, "recording",
      {{"sounds", "cents or semitones", "How far the recording sounds from this page, or the pitch of its A4.",
        "sounds: -2 semitones"},
       {"tempo", "beats a minute", "The recording's tempo where it is not the page's.", "tempo: 104", T::Tempo},
       {"key", "key", "The key as heard on the recording; a claim, checked against what `sounds` implies.",
        "key: F major"},
       {"note", "text", "Whatever else a listener should know.", "note: The last verse is cut."}});
}

void add_part_keys(std::vector<LanguageEntry>& table) {
  add(table, "part",
      {{"instrument", "instrument", "What it is: guitar, bass guitar, ukulele, mandolin, banjo, violin, drum kit ...",
        "instrument: guitar", T::Words, "", "", true},
       {"short", "text", "The short name before every system but the first.", "short: Gtr."},
       {"tuning", "notes or a name", "Notes, low string first, or the name of a tuning. Without it, the usual one.",
        "tuning: D2 G2 D3 G3 B3 D4"},
       {"capo", "fret, or keys",
        "The capo's fret; with `strings`, a partial capo. Frets count from a full capo, "
        "with a partial one from the nut.",
        "capo: {fret: 2, strings: 5 4 3}", T::Capo, "capo"},
       {"clef", "clef", "The clef, where it is not the instrument's usual one.", "clef: bass", T::Choice, "",
        "treble treble-8 alto tenor bass bass-8 grand percussion"},
       {"transposes", "interval",
        "From what sounds to what this player reads, where it is not the instrument's own way; or `not at all`.",
        "transposes: up a major second"},
       {"stand in for", "text", "What this part replaces on the recording.", "stand in for: violins"},
       {"rings", "yes or no", "Yes: a note sounds until its string is struck, stopped or needed.", "rings: yes",
        T::YesNo},
       {"staff", "notation, tab or both", "Which staves the part is printed on.", "staff: both", T::Choice, "",
        "notation tab both"},
       {"scale length", "length", "The sounding length of the open string; it decides how far a hand must stretch.",
        "scale length: 648 mm"},
       {"frets", "number", "How many frets the neck has.", "frets: 22", T::Integer}});
  add(table, "capo",
      {{"fret", "number", "The fret behind which the capo stands.", "fret: 2", T::Integer, "", "", true},
       {"strings", "string numbers", "The strings it stops; without them, all.", "strings: 5 4 3", T::StringList}});
}

void add_shape_keys(std::vector<LanguageEntry>& table) {
  add(table, "shape",
      {{"frets", "one per string",
        "Low string first; x is not played, 0 is open. Run together while each has one digit.", "frets: x 0 2 0 1 2",
        T::Frets, "", "", true},
       {"fingers", "one per string", "1 to 4, T for the thumb, . for no finger; low string first.",
        "fingers: . . 2 . 1 3", T::Fingers},
       {"thumb", "string numbers", "The strings the thumb walks over in a pattern with a `thumb` lane.", "thumb: 5 4",
        T::StringList},
       {"hand", "text", "What the fingers know the shape as.", "hand: the D shape without its middle finger"},
       {"ear", "chord name", "What it sounds: a claim, printed as stated and checked.", "ear: C/G"},
       {"part", "part name", "The part this shape is for, where several could play it.", "part: guitar"},
       {"from", "recording or lesson", "Who says so: the recording (unless told otherwise) or the teacher.",
        "from: lesson", T::WhoSays, "", "recording lesson"},
       {"instead of", "text", "What the recording has here.", "instead of: home"},
       {"says", "text", "A sentence printed with the shape.", "says: Keep the first finger down."}});
}

void add_pattern_keys(std::vector<LanguageEntry>& table) {
  add(table, "pattern",
      {{"lanes", "lanes", "The pattern itself.", "lanes: \"strum | D : - U : D U |\"", T::Lanes, "", "", true},
       {"meter", "meter", "The meter it is made for, where it is not the song's.", "meter: 6/8"},
       {"rings", "yes or no", "No: each note stops at the next. A pattern rings unless told otherwise.", "rings: no",
        T::YesNo},
       {"says", "text", "A sentence printed with the pattern.", "says: The thumb keeps the time."},
       {"from", "recording or lesson", "Who says so.", "from: lesson", T::WhoSays, "", "recording lesson"},
       {"instead of", "text", "What the recording has here.", "instead of: a busier roll"}});
}

void add_section_keys(std::vector<LanguageEntry>& table) {
  add(table, "section",
      {{"letter", "text", "The rehearsal letter; without it the program letters the sections itself.", "letter: B"},
       {"video", "time", "Where the lesson video treats this section; printed as a link.", "video: 1:56", T::Time},
       {"at", "time, or one for each recording",
        "Where the section begins in the recording; two such times imply the tempo.",
        "at: {studio: 0:07, in concert: 0:21}", T::Places},
       {"says", "text", "A sentence printed under the heading.", "says: Let every string ring."},
       {"times", "number, or keys", "How often it is played in a row.", "times: 2", T::CountOrKeys, "times"},
       {"endings", "passes, each with parts", "The bars that end a pass, for each pass or range of passes.",
        "endings: {1: {chart: \"chords | D |\"}, 2: {chart: \"chords | G |\"}}", T::Named, "ending"},
       {"like", "section name", "The section this one repeats; what is written here replaces what is there.",
        "like: air"},
       {"pick-up", "beats",
        "An upbeat: the first bar of every lane here, as short as is said; it overlays the end of the bar before.",
        "pick-up: 1 beat", T::PickUp},
       {"meter", "meter", "The meter of this section; the next one has the song's again unless it says otherwise.",
        "meter: 6/8"},
       {"key", "key", "The key of this section; the next one has the song's again unless it says otherwise.",
        "key: E minor"},
       {"tempo", "beats a minute",
        "The tempo of this section; the next one has the song's again unless it says otherwise.", "tempo: slowly 60",
        T::Tempo},
       {"feel", "straight or swing",
        "The feel of this section; the next one has the song's again unless it says otherwise.", "feel: swing 2:1",
        T::Feel},
       {"rings", "yes or no", "Yes: notes of this section ring on.", "rings: yes", T::YesNo},
       {"from", "recording or lesson", "Who says so.", "from: lesson", T::WhoSays, "", "recording lesson"},
       {"instead of", "text", "What the recording has here.", "instead of: eight bars of drums"},
       {"remarks", "letters, each with a text", "Notes for the margin; the `see` lane says at which bar each stands.",
        "remarks: {a: Hammer from nowhere.}", T::Named, "remark"},
       {"chart", "lanes", "What all players share: chords, hits, words, tempo, meter, key, dynamics, holds.",
        "chart: \"chords | G | C |\"", T::Lanes, "bars"}});
}

void add_inner_keys(std::vector<LanguageEntry>& table) {
  add(table, "bars",
      {{"lanes", "lanes", "What is played.", "lanes: \"1 | 0 : 2 : 3 |\"", T::Lanes},
       {"except", "bars, each with lanes",
        "The bars that differ from the section this one is like: first, last, 3 or 3-4; only the lanes that change.",
        "except: {last: \"1 | 0 |\"}", T::BarLanes},
       {"rings", "yes or no", "Yes: the notes ring on.", "rings: yes", T::YesNo},
       {"from", "recording or lesson", "Who says so.", "from: lesson", T::WhoSays, "", "recording lesson"}});
  add(table, "ending",
      {{"chart", "lanes", "What all players share in this ending.", "chart: \"chords | D |\"", T::Lanes, "bars"}});
  add(table, "remark",
      {{"text", "text", "The note itself.", "text: Hammer from nowhere.", T::Words, "", "", true},
       {"from", "recording or lesson", "Who says so.", "from: lesson", T::WhoSays, "", "recording lesson"},
       {"instead of", "text", "What the recording has here.", "instead of: a pull-off"}});
  add(table, "times",
      {{"until", "text", "The cue that ends the repeats.", "until: the singer sits down", T::Words, "", "", true},
       {"about", "number", "How many that is, more or less; the program counts with it.", "about: 4", T::Integer}});
}

}  // namespace

void add_keys(std::vector<LanguageEntry>& table) {
  add_song_keys(table);
  add_recording_keys(table);
  add_part_keys(table);
  add_shape_keys(table);
  add_pattern_keys(table);
  add_section_keys(table);
  add_inner_keys(table);
}

}  // namespace tunesheaf::song
