#include "tunesheaf/book/song_pages.h"

#include <algorithm>
#include <cmath>

#include "tunesheaf/base/bytes.h"
#include "tunesheaf/blocks/practice_plan.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/paint/pack.h"

namespace tunesheaf::book {
namespace {

using base::ByteReader;
using base::ByteWriter;

constexpr double kParts = 1000000;  // a difficulty is kept to a millionth

std::vector<int> keys_of(const theory::Tuning& tuning) {
  std::vector<int> out;
  for (const theory::TunedString& string : tuning.strings) out.push_back(string.midi());
  return out;
}

const score::Part* students_part(const score::Timeline& song) {
  for (const score::Part& part : song.parts) {
    if (part.instrument.family == theory::Family::Fretted && part.tuning.count() > 0) return &part;
  }
  return nullptr;
}

SongTuning tuning_of(const score::Timeline& song) {
  SongTuning out;
  const score::Part* part = students_part(song);
  if (part == nullptr) return out;
  out.instrument = part->instrument.name;
  out.strings = keys_of(part->tuning);
  out.usual = keys_of(part->usual);
  out.capo = part->capo;
  if (part->tuning.same_pitches(part->usual)) {
    out.words = "usual tuning";
  } else {
    const std::string letters = theory::letters(part->tuning, theory::Accidentals::Signs);
    out.words = part->tuning_name.empty() ? letters : part->tuning_name + " · " + letters;
  }
  if (out.instrument != "guitar") out.words = out.instrument + ", " + out.words;
  if (out.capo > 0) out.words += ", capo " + std::to_string(out.capo);
  return out;
}

std::optional<double> difficulty_of(const blocks::Setting& setting) {
  const score::Timeline& song = setting.song;
  if (song.parts.empty() || song.sections.empty()) return std::nullopt;
  const score::Part* part = students_part(song);
  blocks::Setting student = setting;
  student.parts = {part == nullptr ? 0 : static_cast<int>(part - song.parts.data())};
  double hardest = 0;
  for (std::size_t s = 0; s < song.sections.size(); ++s) {
    hardest = std::max(hardest, blocks::practice_plan(student, static_cast<int>(s)).difficulty);
  }
  return std::round(hardest * kParts) / kParts;
}

void put(ByteWriter& out, const std::vector<int>& numbers) {
  out.number(numbers.size());
  for (const int n : numbers) out.whole(n);
}

std::vector<int> numbers(ByteReader& in) {
  std::vector<int> out;
  for (std::size_t n = in.count(); n > 0 && in.ok(); --n) out.push_back(static_cast<int>(in.whole()));
  return out;
}

void put_findings(ByteWriter& out, const std::vector<diag::Diagnostic>& findings) {
  out.number(findings.size());
  for (const diag::Diagnostic& finding : findings) {
    out.text(diag::name(finding.kind));
    for (const std::string* text : {&finding.situation, &finding.rule, &finding.remedy}) out.text(*text);
    out.number(finding.labels.size());
    for (const diag::Label& label : finding.labels) {
      out.number(label.span.begin);
      out.number(label.span.end);
      out.text(label.text);
    }
  }
}

diag::Diagnostic finding(ByteReader& in) {
  diag::Diagnostic out;
  const std::string_view name = in.text();
  const auto& kinds = diag::all_kinds();
  const auto kind = std::find_if(kinds.begin(), kinds.end(), [&](diag::Kind k) { return diag::name(k) == name; });
  if (kind == kinds.end()) {
    in.fail();
    return out;
  }
  out.kind = *kind;
  for (std::string* text : {&out.situation, &out.rule, &out.remedy}) *text = in.text();
  for (std::size_t n = in.count(); n > 0 && in.ok(); --n) {
    diag::Label label;
    label.span.begin = static_cast<std::uint32_t>(in.at_most(UINT32_MAX));
    label.span.end = static_cast<std::uint32_t>(in.at_most(UINT32_MAX));
    label.text = in.text();
    out.labels.push_back(std::move(label));
  }
  return out;
}

}  // namespace

SongPages facts_of(const blocks::Setting& setting, bool chart) {
  const score::Timeline& song = setting.song;
  SongPages out;
  out.title = song.title.value;
  if (song.by) out.by = song.by->value;
  if (song.key) {
    out.key = blocks::key_words(*song.key);
    out.fifths = song.key->fifths();
    const theory::Mode mode = song.key->mode;
    out.minor = mode == theory::Mode::Minor || mode == theory::Mode::Dorian || mode == theory::Mode::Phrygian ||
                mode == theory::Mode::Locrian;
  }
  out.tuning = tuning_of(song);
  out.difficulty = difficulty_of(setting);
  for (const score::ShapeUse& shape : song.shapes) {
    if (shape.used) out.shapes.push_back({blocks::with_signs(shape.name.value), theory::print_frets(shape.shape)});
  }
  if (!chart) out.signs = blocks::signs_used(setting);
  return out;
}

std::string pack(const SongPages& song) {
  ByteWriter out;
  for (const std::string* text : {&song.title, &song.by, &song.key, &song.tuning.instrument, &song.tuning.words}) {
    out.text(*text);
  }
  out.number(song.fifths ? 1 : 0);
  out.whole(song.fifths.value_or(0));
  out.number(song.minor ? 1 : 0);
  put(out, song.tuning.strings);
  put(out, song.tuning.usual);
  out.whole(song.tuning.capo);
  out.whole(song.difficulty ? std::llround(*song.difficulty * kParts) : -1);
  out.number(song.shapes.size());
  for (const NamedShape& shape : song.shapes) {
    out.text(shape.name);
    out.text(shape.frets);
  }
  out.number(song.signs.size());
  for (const blocks::LegendSign sign : song.signs) out.number(static_cast<std::uint64_t>(sign));
  out.whole(song.mirror.units());
  put_findings(out, song.findings);
  out.text(paint::pack(song.pages));
  return out.take();
}

std::optional<SongPages> unpack(std::string_view bytes) {
  ByteReader in(bytes);
  SongPages song;
  for (std::string* text : {&song.title, &song.by, &song.key, &song.tuning.instrument, &song.tuning.words}) {
    *text = in.text();
  }
  const bool has_key = in.at_most(1) == 1;
  const int fifths = static_cast<int>(in.whole());
  if (has_key) song.fifths = fifths;
  song.minor = in.at_most(1) == 1;
  song.tuning.strings = numbers(in);
  song.tuning.usual = numbers(in);
  song.tuning.capo = static_cast<int>(in.whole());
  if (const std::int64_t difficulty = in.whole(); difficulty >= 0) {
    song.difficulty = static_cast<double>(difficulty) / kParts;
  }
  for (std::size_t n = in.count(); n > 0 && in.ok(); --n) {
    NamedShape shape;
    shape.name = in.text();
    shape.frets = in.text();
    song.shapes.push_back(std::move(shape));
  }
  for (std::size_t n = in.count(); n > 0 && in.ok(); --n) {
    song.signs.push_back(
        static_cast<blocks::LegendSign>(in.at_most(static_cast<std::size_t>(blocks::LegendSign::RemarkNumber))));
  }
  song.mirror = base::Length::raw(in.whole());
  for (std::size_t n = in.count(); n > 0 && in.ok(); --n) song.findings.push_back(finding(in));
  auto pages = paint::unpack(in.text());
  if (!pages || !in.ok() || !in.at_end()) return std::nullopt;
  song.pages = std::move(*pages);
  return song;
}

std::string_view technique_of(blocks::LegendSign sign) {
  using S = blocks::LegendSign;
  switch (sign) {
    case S::HammerOn:
      return "hammer-ons";
    case S::PullOff:
      return "pull-offs";
    case S::Slide:
    case S::SlideIn:
    case S::SlideOff:
      return "slides";
    case S::Tap:
      return "tapping";
    case S::Glissando:
      return "glissandi";
    case S::Rake:
      return "rakes";
    case S::SnapPizzicato:
    case S::Pizzicato:
      return "pizzicato";
    case S::BodyTap:
      return "taps on the body";
    case S::Brush:
      return "brushed strokes";
    case S::Flam:
    case S::Drag:
    case S::DrumRoll:
    case S::BuzzRoll:
      return "drum rudiments";
    case S::Bend:
    case S::BentFirst:
    case S::Release:
      return "bends";
    case S::Vibrato:
      return "vibrato";
    case S::Trill:
      return "trills";
    case S::Tremolo:
      return "tremolo";
    case S::Dead:
      return "muted notes";
    case S::Ghost:
      return "ghost notes";
    case S::NaturalHarmonic:
      return "harmonics";
    case S::ArtificialHarmonic:
      return "artificial harmonics";
    case S::PinchedHarmonic:
      return "pinched harmonics";
    case S::TappedHarmonic:
      return "tapped harmonics";
    case S::Grace:
      return "grace notes";
    case S::DownStroke:
    case S::UpStroke:
      return "plectrum strokes";
    case S::StrumDown:
    case S::StrumUp:
    case S::Slash:
      return "strumming";
    case S::Bow:
      return "bowing";
    case S::Rolled:
      return "rolled chords";
    case S::PluckingFingers:
      return "fingerpicking";
    case S::Slap:
    case S::Pop:
      return "slap and pop";
    case S::ArmMove:
      return "vibrato bar";
    case S::PalmMute:
    case S::HalfPalmMute:
      return "palm mute";
    case S::LetRing:
      return "let ring";
    case S::Barre:
      return "barre";
    case S::Swell:
    case S::FadeIn:
    case S::FadeOut:
      return "volume swells";
    case S::EffectSpan:
    case S::Wah:
      return "effects";
    case S::WithSlide:
      return "with a tube on the finger";
    case S::Pedal:
      return "pedal";
    case S::OpenDrum:
    case S::HalfOpenDrum:
    case S::Choke:
      return "open hi-hat, choked cymbals";
    case S::Accent:
    case S::Staccato:
    case S::Fermata:
    case S::Louder:
    case S::Softer:
    case S::Dynamics:
    case S::RemarkNumber:
    case S::Held:
    case S::HalfOnTab:
    case S::MirroredTab:
    case S::Cue:
    case S::Slur:
    case S::PartialStrum:
    case S::NoChord:
    case S::Tenuto:
    case S::ShortHold:
    case S::LongHold:
    case S::Breath:
    case S::Caesura:
    case S::OctaveLine:
    case S::TempoChange:
    case S::Sticking:
    case S::BarRepeat:
    case S::Tie:
    case S::FrettingFingers:
    case S::Marcato:
    case S::Repeat:
    case S::Ending:
    case S::RepeatTimes:
    case S::Segno:
    case S::Coda:
    case S::DaCapo:
    case S::Fine:
    case S::RepeatAndFade:
    case S::OpenTone:
      return {};  // how it is written, not how it is played
  }
  return {};
}

}  // namespace tunesheaf::book
