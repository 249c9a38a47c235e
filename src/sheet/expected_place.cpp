#include "expected_place.h"

namespace tunesheaf::sheet {
namespace {

constexpr int kStepsPerOctave = 7;
/// Steps of the top line above C0, by clef: F5, G4, E4 and A3.
constexpr int kTopTreble = 38, kTopAlto = 32, kTopTenor = 30, kTopBass = 26;

int top_line(const std::string& clef) {
  if (clef.rfind("bass", 0) == 0) return kTopBass;
  if (clef == "alto") return kTopAlto;
  if (clef == "tenor") return kTopTenor;
  return kTopTreble;
}

int octaves_of(const std::string& mark) {
  if (mark == "8va") return -1;
  if (mark == "15ma") return -2;
  if (mark == "8vb") return 1;
  return mark == "15mb" ? 2 : 0;
}

}  // namespace

std::optional<int> height_on_staff(const score::Part& part, bool lower, const score::PartMusic& music,
                                   const score::Note& note, score::Place at) {
  if (!part.kit.empty()) return std::nullopt;
  int octaves = part.octave_shift;
  std::string clef = lower ? "bass" : part.clef;
  for (const score::ClefFrom& from : music.clefs) {
    if (from.staff != (lower ? 1 : 0) || at < from.at) continue;
    clef = from.clef;
    octaves = from.octave_shift;
  }
  for (const score::Mark& mark : music.marks)
    if (mark.from <= at && at < mark.to) octaves += octaves_of(mark.kind);
  return top_line(clef) - note.written.diatonic() - kStepsPerOctave * octaves;
}

int height_on_tab(const score::Part& part, const score::Note& note, bool mirrored) {
  return 2 * (mirrored ? part.tuning.count() - note.string : note.string - 1);
}

std::string figure_of(const score::Note& note) {
  std::string figure = note.dead ? "x" : std::to_string(note.fret);
  if (!note.dead && note.harmonic == song::HarmonicKind::Natural) figure = "<" + figure + ">";
  return note.ghost && !note.dead ? "(" + figure + ")" : figure;
}

std::vector<std::vector<layout::Kind>> marks_of(const score::Event& event, std::size_t index) {
  std::vector<std::vector<layout::Kind>> out;
  const auto want = [&](bool there, std::vector<layout::Kind> kinds) {
    if (there) out.push_back(std::move(kinds));
  };
  if (index == 0) {
    want(event.accents.accent && !event.accents.marcato, {"accent"});
    want(event.accents.marcato, {"marcato"});
    want(event.accents.staccato, {"staccato"});
    want(event.accents.tenuto, {"tenuto"});
    want(event.accents.fermata, {"fermata"});
    want(event.tremolo, {"tremolo"});
    want(!event.grace->notes.empty(), {"grace-head", "grace-figure"});
  }
  const score::Note& note = event.notes[index];
  want(!note.more->bend.empty(), {"bend", "bend-angle"});
  want(note.more->trill_fret || note.more->trill_pitch, {"trill", "trill-figure"});
  want(note.vibrato != song::Vibrato::None, {"vibrato"});
  want(note.slide_off != song::SlideOff::None, {"slide-off"});
  want(note.more->link.kind == song::Arrival::Tap, {"tap"});
  want(note.harmonic == song::HarmonicKind::Artificial || note.harmonic == song::HarmonicKind::Tapped ||
           note.harmonic == song::HarmonicKind::Pinched,
       {"harmonic-letters"});
  want(note.finger > 0, {"fretting-finger"});
  want(note.pluck != 0, {"picking-finger", "slap-pop"});
  want(note.choke, {"choke"});
  want(note.roll_strokes > 0, {"tremolo"});
  want(note.buzz, {"buzz"});
  want(note.drum_grace > 0, {"grace-head"});
  want(note.hand != 0, {"sticking"});
  return out;
}

}  // namespace tunesheaf::sheet
