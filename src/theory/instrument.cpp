// The table of instruments. Tunings and ranges are common practice; programs are General MIDI (0-based); scale lengths
// are those of common full-size instruments.
#include "tunesheaf/theory/instrument.h"

#include <algorithm>
#include <array>

#include "tunesheaf/base/ascii.h"

namespace tunesheaf::theory {
namespace {

using base::lower;

struct Strings {
  std::string_view name, also, tuning;
  Family family;
  Clef clef;
  int program, scale_mm, frets, reach;  // reach: semitones from the highest open string to the highest note
};

constexpr std::array kStrings{
    Strings{"guitar", "acoustic guitar;steel-string guitar;rhythm guitar", "E2 A2 D3 G3 B3 E4", Family::Fretted,
            Clef::Treble8, 25, 650, 24, 24},
    Strings{"classical guitar", "nylon-string guitar;nylon guitar;spanish guitar", "E2 A2 D3 G3 B3 E4", Family::Fretted,
            Clef::Treble8, 24, 650, 20, 20},
    Strings{"electric guitar", "lead guitar", "E2 A2 D3 G3 B3 E4", Family::Fretted, Clef::Treble8, 27, 648, 24, 24},
    Strings{"7-string guitar", "seven-string guitar", "B1 E2 A2 D3 G3 B3 E4", Family::Fretted, Clef::Treble8, 27, 648,
            24, 24},
    Strings{"8-string guitar", "eight-string guitar", "F#1 B1 E2 A2 D3 G3 B3 E4", Family::Fretted, Clef::Treble8, 27,
            686, 24, 24},
    Strings{"12-string guitar", "twelve-string guitar;twelve-string", "E2/E3 A2/A3 D3/D4 G3/G4 B3/B3 E4/E4",
            Family::Fretted, Clef::Treble8, 25, 648, 20, 20},
    Strings{"baritone guitar", "baritone", "B1 E2 A2 D3 F#3 B3", Family::Fretted, Clef::Treble8, 27, 686, 24, 24},
    Strings{"Russian guitar", "russian 7-string", "D2 G2 B2 D3 G3 B3 D4", Family::Fretted, Clef::Treble8, 24, 650, 20,
            20},
    Strings{"lap steel", "steel guitar", "C3 E3 G3 A3 C4 E4", Family::Fretted, Clef::Treble8, 26, 572, 24, 24},
    Strings{"bass guitar", "bass;electric bass;4-string bass", "E1 A1 D2 G2", Family::Fretted, Clef::Bass8, 33, 864, 24,
            24},
    Strings{"5-string bass guitar", "5-string bass;five-string bass", "B0 E1 A1 D2 G2", Family::Fretted, Clef::Bass8,
            33, 864, 24, 24},
    Strings{"6-string bass guitar", "6-string bass;six-string bass", "B0 E1 A1 D2 G2 C3", Family::Fretted, Clef::Bass8,
            33, 864, 24, 24},
    Strings{"fretless bass", "", "E1 A1 D2 G2", Family::Fretted, Clef::Bass8, 35, 864, 0, 24},
    Strings{"ukulele", "uke;soprano ukulele;concert ukulele;tenor ukulele", "G4 C4 E4 A4", Family::Fretted,
            Clef::Treble, 24, 380, 19, 19},
    Strings{"baritone ukulele", "baritone uke", "D3 G3 B3 E4", Family::Fretted, Clef::Treble8, 24, 510, 19, 19},
    Strings{"mandolin", "", "G3 D4 A4 E5", Family::Fretted, Clef::Treble, 25, 353, 24, 24},
    Strings{"mandola", "tenor mandola", "C3 G3 D4 A4", Family::Fretted, Clef::Treble8, 25, 420, 22, 22},
    Strings{"octave mandolin", "octave mandola", "G2 D3 A3 E4", Family::Fretted, Clef::Treble8, 25, 510, 22, 22},
    Strings{"bouzouki", "irish bouzouki", "G2 D3 A3 D4", Family::Fretted, Clef::Treble8, 25, 660, 22, 22},
    Strings{"banjo", "5-string banjo;five-string banjo", "G4@5 D3 G3 B3 D4", Family::Fretted, Clef::Treble8, 105, 670,
            22, 22},
    Strings{"tenor banjo", "4-string banjo", "C3 G3 D4 A4", Family::Fretted, Clef::Treble8, 105, 580, 19, 19},
    Strings{"Irish tenor banjo", "", "G2 D3 A3 E4", Family::Fretted, Clef::Treble8, 105, 530, 19, 19},
    Strings{"cavaquinho", "", "D4 G4 B4 D5", Family::Fretted, Clef::Treble, 24, 340, 17, 17},
    Strings{"charango", "", "G4/G4 C5/C5 E5/E4 A4/A4 E5/E5", Family::Fretted, Clef::Treble, 24, 370, 18, 18},
    Strings{"violin", "fiddle", "G3 D4 A4 E5", Family::Bowed, Clef::Treble, 40, 328, 0, 24},
    Strings{"viola", "", "C3 G3 D4 A4", Family::Bowed, Clef::Alto, 41, 380, 0, 19},
    Strings{"cello", "violoncello", "C2 G2 D3 A3", Family::Bowed, Clef::Bass, 42, 690, 0, 24},
    Strings{"double bass", "upright bass;contrabass;string bass", "E1 A1 D2 G2", Family::Bowed, Clef::Bass8, 43, 1060,
            0, 24},
};

struct Plain {
  std::string_view name, also;
  Family family;
  Clef clef;
  Interval sounds;
  int lowest, highest, program;
};

constexpr Interval kAsWritten{0, 0}, kToneDown{-1, -2}, kSixthDown{-5, -9}, kNinthDown{-8, -14}, kFifthDown{-4, -7},
    kThirteenthDown{-12, -21}, kOctaveUp{7, 12}, kTwoOctavesUp{14, 24};

constexpr std::array kPlain{
    Plain{"piano", "keys;keyboard;pianoforte", Family::Keyed, Clef::Grand, kAsWritten, 21, 108, 0},
    Plain{"electric piano", "", Family::Keyed, Clef::Grand, kAsWritten, 28, 103, 4},
    Plain{"harpsichord", "", Family::Keyed, Clef::Grand, kAsWritten, 29, 89, 6},
    Plain{"organ", "", Family::Keyed, Clef::Grand, kAsWritten, 24, 108, 16},
    Plain{"accordion", "", Family::Keyed, Clef::Grand, kAsWritten, 29, 105, 21},
    Plain{"harp", "", Family::Keyed, Clef::Grand, kAsWritten, 24, 103, 46},
    Plain{"synthesizer", "synth;synthesiser", Family::Keyed, Clef::Grand, kAsWritten, 21, 108, 80},
    Plain{"glockenspiel", "bells", Family::Keyed, Clef::Treble, kTwoOctavesUp, 79, 108, 9},
    Plain{"vibraphone", "vibes", Family::Keyed, Clef::Treble, kAsWritten, 53, 89, 11},
    Plain{"marimba", "", Family::Keyed, Clef::Grand, kAsWritten, 36, 96, 12},
    Plain{"xylophone", "", Family::Keyed, Clef::Treble, kOctaveUp, 65, 108, 13},
    Plain{"voice", "vocals;vocal;singer;lead vocal;backing vocals", Family::Voice, Clef::Treble, kAsWritten, 40, 86,
          52},
    Plain{"soprano", "soprano voice", Family::Voice, Clef::Treble, kAsWritten, 58, 84, 52},
    Plain{"mezzo-soprano", "mezzo", Family::Voice, Clef::Treble, kAsWritten, 55, 81, 52},
    Plain{"alto", "alto voice;contralto", Family::Voice, Clef::Treble, kAsWritten, 52, 77, 52},
    Plain{"tenor", "tenor voice", Family::Voice, Clef::Treble8, kAsWritten, 47, 72, 52},
    Plain{"baritone voice", "", Family::Voice, Clef::Bass, kAsWritten, 43, 69, 52},
    Plain{"bass voice", "", Family::Voice, Clef::Bass, kAsWritten, 38, 64, 52},
    Plain{"flute", "", Family::Wind, Clef::Treble, kAsWritten, 59, 98, 73},
    Plain{"piccolo", "", Family::Wind, Clef::Treble, kOctaveUp, 74, 108, 72},
    Plain{"whistle", "tin whistle;penny whistle", Family::Wind, Clef::Treble, kOctaveUp, 74, 98, 74},
    Plain{"recorder", "descant recorder;soprano recorder", Family::Wind, Clef::Treble, kOctaveUp, 72, 98, 74},
    Plain{"oboe", "", Family::Wind, Clef::Treble, kAsWritten, 58, 93, 68},
    Plain{"bassoon", "", Family::Wind, Clef::Bass, kAsWritten, 34, 77, 70},
    Plain{"clarinet", "clarinet in Bb", Family::Wind, Clef::Treble, kToneDown, 50, 94, 71},
    Plain{"soprano saxophone", "soprano sax", Family::Wind, Clef::Treble, kToneDown, 56, 88, 64},
    Plain{"alto saxophone", "alto sax;saxophone;sax", Family::Wind, Clef::Treble, kSixthDown, 49, 81, 65},
    Plain{"tenor saxophone", "tenor sax", Family::Wind, Clef::Treble, kNinthDown, 44, 76, 66},
    Plain{"baritone saxophone", "baritone sax", Family::Wind, Clef::Treble, kThirteenthDown, 36, 69, 67},
    Plain{"trumpet", "trumpet in Bb;cornet", Family::Wind, Clef::Treble, kToneDown, 52, 86, 56},
    Plain{"horn", "french horn", Family::Wind, Clef::Treble, kFifthDown, 34, 77, 60},
    Plain{"trombone", "", Family::Wind, Clef::Bass, kAsWritten, 34, 77, 57},
    Plain{"tuba", "", Family::Wind, Clef::Bass, kAsWritten, 26, 65, 58},
    Plain{"harmonica", "mouth organ", Family::Wind, Clef::Treble, kAsWritten, 48, 96, 22},
    Plain{"drum kit", "drums;kit;drum set", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
    Plain{"cajon", "cajón", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
    Plain{"congas", "conga", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
    Plain{"bongos", "bongo", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
    Plain{"djembe", "", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
    Plain{"hand drum", "frame drum;bodhran;bodhrán", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
    Plain{"tambourine", "", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
    Plain{"shaker", "maracas;egg", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
    Plain{"percussion", "", Family::Drums, Clef::Percussion, kAsWritten, 35, 81, 0},
};

std::vector<std::string> split(std::string_view list) {
  std::vector<std::string> out;
  while (!list.empty()) {
    const std::size_t end = list.find(';');
    out.emplace_back(list.substr(0, end));
    list = end == std::string_view::npos ? std::string_view() : list.substr(end + 1);
  }
  return out;
}

Instrument from(const Strings& row) {
  Instrument out;
  out.name = std::string(row.name);
  out.also = split(row.also);
  out.family = row.family;
  out.clef = row.clef;
  out.program = row.program;
  out.scale_length_mm = row.scale_mm;
  out.frets = row.frets;
  out.usual = parse_tuning_notes(row.tuning).value();
  out.usual->name = "usual";
  out.lowest = 127;
  out.highest = 0;
  for (const TunedString& string : out.usual->strings) {
    for (const Pitch pitch : string.course) {
      out.lowest = std::min(out.lowest, pitch.midi());
      out.highest = std::max(out.highest, pitch.midi());
    }
  }
  out.highest += row.reach;
  return out;
}

Instrument from(const Plain& row) {
  Instrument out;
  out.name = std::string(row.name);
  out.also = split(row.also);
  out.family = row.family;
  out.clef = row.clef;
  out.sounds = row.sounds;
  out.lowest = row.lowest;
  out.highest = row.highest;
  out.program = row.program;
  return out;
}

}  // namespace

const std::vector<Instrument>& instruments() {
  static const std::vector<Instrument> kAll = [] {
    std::vector<Instrument> all;
    all.reserve(kStrings.size() + kPlain.size());
    for (const Strings& row : kStrings) all.push_back(from(row));
    for (const Plain& row : kPlain) all.push_back(from(row));
    return all;
  }();
  return kAll;
}

const Instrument* find_instrument(std::string_view name) {
  const std::string wanted = lower(name);
  for (const Instrument& instrument : instruments()) {
    if (lower(instrument.name) == wanted) return &instrument;
  }
  for (const Instrument& instrument : instruments()) {
    for (const std::string& word : instrument.also) {
      if (lower(word) == wanted) return &instrument;
    }
  }
  return nullptr;
}

std::vector<std::string> instrument_names() {
  std::vector<std::string> out;
  out.reserve(instruments().size());
  for (const Instrument& instrument : instruments()) out.push_back(instrument.name);
  return out;
}

std::string_view family_name(Family family) {
  switch (family) {
    case Family::Fretted:
      return "fretted";
    case Family::Bowed:
      return "bowed";
    case Family::Keyed:
      return "keyed";
    case Family::Voice:
      return "voice";
    case Family::Wind:
      return "wind";
    case Family::Drums:
      return "drums";
  }
  return "";
}

int clef_octaves(Clef clef) {
  return clef == Clef::Treble8 || clef == Clef::Bass8 ? -1 : 0;
}

std::optional<Pitch> written_pitch(const Instrument& instrument, Pitch sounding) {
  return transpose(sounding, Interval{-instrument.sounds.steps, -instrument.sounds.semitones});
}

std::optional<Pitch> sounding_pitch(const Instrument& instrument, Pitch written) {
  return transpose(written, instrument.sounds);
}

}  // namespace tunesheaf::theory
