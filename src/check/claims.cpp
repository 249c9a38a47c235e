// What the song states although it could be computed: chord names, keys of recordings, places in time. A claim that
// does not hold is a warning; it is printed as stated.
#include <algorithm>
#include <cmath>
#include <map>

#include "context.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/theory/naming.h"
#include "tunesheaf/theory/timing.h"

namespace tunesheaf::check {
namespace {

using theory::Accidentals;

std::string pitches_text(const std::vector<theory::PitchClass>& pitches) {
  std::string out;
  for (std::size_t i = 0; i < pitches.size(); ++i)
    out += (i == 0 ? "" : i + 1 == pitches.size() ? " and " : ", ") + theory::print(pitches[i]);
  return out;
}

/// "no G, no Bb; C and E are not in the name; Db is lowest".
std::string difference(const theory::ChordName& stated, const std::vector<int>& midi, const theory::ClaimCheck& found) {
  std::string out, absent;
  const auto add = [&](const std::string& text) { out += (out.empty() ? "" : "; ") + text; };
  for (const theory::ChordTone& tone : theory::tones(stated)) {
    const bool sounds = std::any_of(midi.begin(), midi.end(), [&](int key) { return key % 12 == tone.pitch.number(); });
    if (!sounds) absent += (absent.empty() ? "no " : ", no ") + theory::print(tone.pitch);
  }
  if (!absent.empty()) add(absent);
  if (!found.foreign.empty()) {
    add(pitches_text(found.foreign) + (found.foreign.size() == 1 ? " is not in the name" : " are not in the name"));
  }
  if (found.bass) add(theory::print(*found.bass) + " is lowest");
  return out;
}

std::string sound_text(const std::vector<int>& midi, const theory::ChordName& stated, const Context& context) {
  std::string out;
  for (const theory::Pitch& pitch : theory::spell_all(midi, stated, context.data.key)) {
    out += (out.empty() ? "" : " ") + theory::print(pitch.name);
  }
  return out;
}

void check_ear(Context& context, const CheckedShape& shape) {
  if (!shape.ear || shape.midi.empty() || shape.part < 0) return;
  std::vector<int> page = shape.midi;
  for (int& key : page) key -= context.data.page_capo;
  const auto found = theory::check_claim(*shape.ear, page, {context.data.key, {}});
  if (found.fits) return;
  const CheckedPart& part = context.data.parts[static_cast<std::size_t>(shape.part)];
  std::vector<diag::Label> labels = {{shape.def->ear->span, "stated"}, {shape.def->frets_span, "sounds otherwise"}};
  if (part.def->tuning) labels.push_back({part.def->tuning->span, "in this tuning"});
  std::string remedy = "mend the frets, the tuning or the name; the page prints the name as stated";
  if (shape.computed)
    remedy = "what sounds is called " + theory::print(*shape.computed) + "; the page prints the name as stated";
  context.sink.add(
      {Kind::ClaimDiffers, std::move(labels),
       "the shape " + diag::quoted(shape.def->name.value) + " does not sound as " + context.words(shape.def->ear->span),
       "you wrote " + theory::print(*shape.ear) + "; the shape sounds " + sound_text(page, *shape.ear, context) + "; " +
           difference(*shape.ear, page, found),
       remedy});
}

/// ", which at fret 3 would make it so", where a capo of the page's player could.
std::string capo_that_fits(const Context& context, const CheckedRecording& recording) {
  const bool fretted = std::any_of(context.data.parts.begin(), context.data.parts.end(), [](const CheckedPart& part) {
    return part.instrument.family == theory::Family::Fretted;
  });
  if (!fretted || recording.key->mode != context.data.key->mode) return {};
  const int up = recording.key->tonic.number() - context.data.key->tonic.number() - recording.offset.semitones();
  const int fret = ((up % 12) + 12) % 12;
  constexpr int kFarCapo = 7;
  if (fret > kFarCapo) return {};
  return fret == 0 ? "; without a capo it would hold"
                   : "; with the capo at fret " + std::to_string(fret) + " it would hold";
}

void check_recording_key(Context& context, const CheckedRecording& recording) {
  if (!recording.key || !context.data.key) return;
  const int up = context.data.page_capo + recording.offset.semitones();
  const theory::Key sounds = up == 0 ? *context.data.key : theory::transposed(*context.data.key, up);
  if (sounds.tonic.number() == recording.key->tonic.number() && sounds.mode == recording.key->mode) return;
  const Span cause = recording.def->sounds ? recording.def->sounds->span : context.song.key->span;
  context.say_both(Kind::ClaimDiffers, recording.def->key->span, "stated", cause, "by this",
                   "the recording " + diag::quoted(recording.def->name.value) + " is said to be in " +
                       theory::print(*recording.key) + ", and this page puts it in " + theory::print(sounds),
                   "a recording sounds in the page's key, raised by the capo and by what `sounds` says",
                   "mend `key`, `sounds` or the capo" + capo_that_fits(context, recording));
}

struct Sighting {
  Fraction wholes;
  Fraction seconds;
  int section = 0;
  Span span{};
};

/// For each recording: where the sections that say `at` begin as played, in whole notes, and when.
std::map<int, std::vector<Sighting>> sightings(const Context& context) {
  std::map<int, std::vector<Sighting>> out;
  std::set<int> seen;
  Fraction cursor;
  int step = -1;
  for (const CheckedPass& pass : context.data.played) {
    const CheckedSection& section = context.data.sections[static_cast<std::size_t>(pass.section)];
    const CheckedBar& bar = section.bars[static_cast<std::size_t>(pass.bar)];
    if (pass.step != step && seen.insert(pass.section).second) {
      std::size_t i = 0;
      for (const auto& [recording, seconds] : section.at) {
        const Span span = i < section.def->at.size() ? section.def->at[i].at.span : section.def->name.span;
        out[recording].push_back({cursor, seconds, pass.section, span});
        ++i;
      }
    }
    step = pass.step;
    if (!bar.pick_up || cursor < bar.length) cursor += bar.length;
  }
  return out;
}

double wholes_per_minute(const song::TempoMark& tempo, const theory::Meter& meter) {
  const Fraction unit = tempo.unit_stated ? tempo.unit : theory::written_duration(meter.tempo_unit());
  return (tempo.per_minute * unit).to_double();
}

std::vector<theory::TimedPlace> timed(const std::vector<Sighting>& list) {
  std::vector<theory::TimedPlace> out;
  out.reserve(list.size());
  for (const Sighting& s : list) out.push_back({s.wholes, s.seconds.to_double()});
  return out;
}

std::string clock_text(double seconds) {
  const long all = std::max(0L, std::lround(seconds));
  const std::string rest = std::to_string(all % 60);
  return std::to_string(all / 60) + ":" + (rest.size() < 2 ? "0" : "") + rest;
}

bool steady(const Context& context) {
  const auto moves = [](const CheckedMusic& music) {
    return std::any_of(music.lanes.begin(), music.lanes.end(),
                       [](const PlacedLane& l) { return l.kind == song::LaneKind::Tempo && !l.cells.empty(); });
  };
  for (const CheckedSection& section : context.data.sections) {
    if (section.def->tempo || section.until || moves(section.chart)) return false;
    for (const CheckedMusic& music : section.parts)
      if (moves(music)) return false;
  }
  return true;
}

/// Every place's distance from the steady tempo, as "verse +0.1, bridge −1.4 seconds".
std::string residual_words(const Context& context, const std::vector<Sighting>& list, const theory::TempoFit& fit) {
  std::string out;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const auto& section = *context.data.sections[static_cast<std::size_t>(list[i].section)].def;
    const double off = fit.residuals[i];
    const bool none = std::abs(off) < 0.05;
    out += (i == 0 ? "" : ", ") + section.name.value + " " +
           (none ? "0" : (off > 0 ? "+" : "−") + base::print_fixed(std::abs(off), 1));
  }
  return "off one steady tempo, in seconds: " + out;
}

/// One time far from where all the others put it looks mistyped.
void check_doubtful(Context& context, int recording, const std::vector<Sighting>& list, const theory::TempoFit& fit) {
  if (!fit.doubtful || !steady(context)) return;
  const Sighting& odd = list[*fit.doubtful];
  const std::size_t other = *fit.doubtful == 0 ? 1 : *fit.doubtful - 1;
  const auto& section = *context.data.sections[static_cast<std::size_t>(odd.section)].def;
  const auto& name = context.data.recordings[static_cast<std::size_t>(recording)].def->name.value;
  const double apart = odd.seconds.to_double() - fit.doubtful_should_be;
  context.say_both(Kind::ClaimDiffers, odd.span, "stated", list[other].span, "one of the others",
                   "the section " + diag::quoted(section.name.value) + " is said to begin at " +
                       clock_text(odd.seconds.to_double()) + " of " + diag::quoted(name) +
                       ", and by all the other places it begins at " + clock_text(fit.doubtful_should_be),
                   "at one tempo that is " + base::print_decimal(std::abs(apart), 0) + " seconds too " +
                       (apart > 0 ? "late" : "early") + "; " + residual_words(context, list, fit),
                   "listen again, and mend the time; or mend the form, if bars were miscounted there");
}

/// Places that lie off the steady tempo all of them imply: more than two seconds, or one in twenty of the time since
/// the place before. One that stands out alone has been named already.
void check_residuals(Context& context, int recording, const std::vector<Sighting>& list, const theory::TempoFit& fit) {
  constexpr double kSeconds = 2.0, kShare = 0.05;
  if (list.size() < 3 || fit.doubtful || !steady(context)) return;
  std::size_t worst = 0;
  bool off = false;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const double since = i == 0 ? 0.0 : (list[i].seconds - list[i - 1].seconds).to_double();
    // Whole seconds at both ends make one more.
    const bool far = std::abs(fit.residuals[i]) > kSeconds ||
                     (std::abs(fit.residuals[i]) > theory::kTimeSlack && std::abs(fit.residuals[i]) > kShare * since);
    if (far && (!off || std::abs(fit.residuals[worst]) < std::abs(fit.residuals[i]))) worst = i;
    off = off || far;
  }
  if (!off) return;
  const auto& section = *context.data.sections[static_cast<std::size_t>(list[worst].section)].def;
  const auto& name = context.data.recordings[static_cast<std::size_t>(recording)].def->name.value;
  const double apart = fit.residuals[worst];
  const double beat = theory::written_duration(context.data.meter.tempo_unit()).to_double();
  const std::size_t other = worst == 0 ? 1 : worst - 1;
  context.say_both(
      Kind::ClaimDiffers, list[worst].span, "stated", list[other].span, "one of the others",
      "the section " + diag::quoted(section.name.value) + " begins at " + clock_text(list[worst].seconds.to_double()) +
          " of " + diag::quoted(name) + ", " + base::print_decimal(std::abs(apart), 1) + " seconds " +
          (apart > 0 ? "later" : "earlier") + " than one steady tempo through all its places",
      "together they imply " + base::print_decimal(60.0 / (fit.seconds_per_whole * beat), 1) +
          " beats a minute; places are allowed two seconds, and one in twenty; " + residual_words(context, list, fit),
      "listen again, count the bars of the form, or write a `tempo` where the pace changes");
}

void check_tempo(Context& context, int recording, const std::vector<Sighting>& list, double wholes) {
  const auto& def = *context.data.recordings[static_cast<std::size_t>(recording)].def;
  const std::optional<source::Spanned<song::TempoMark>>& stated = def.tempo ? def.tempo : context.song.tempo;
  if (!stated || !(Fraction(0) < stated->value.per_minute) || !steady(context)) return;
  if (!def.tempo && recording > 0) return;  // another recording may go at another pace
  const double said = wholes_per_minute(stated->value, context.data.meter);
  // Times are given to the second: allow what a second at both ends makes, and three in a hundred.
  const double minutes = (list.back().seconds - list.front().seconds).to_double() / 60.0;
  const double slack = 0.03 + (minutes > 0 ? 1.0 / 60.0 / minutes : 1.0);
  if (std::abs(wholes / said - 1.0) <= slack) return;
  const double unit = stated->value.unit_stated ? stated->value.unit.to_double()
                                                : theory::written_duration(context.data.meter.tempo_unit()).to_double();
  context.say_both(Kind::ClaimDiffers, stated->span, "stated", list.back().span, "by this place",
                   "the tempo is stated as " + base::print_decimal(said / unit, 1) + ", and the places in " +
                       diag::quoted(def.name.value) + " imply about " + base::print_decimal(wholes / unit, 0),
                   "from one place to the next as many bars go by as the form holds",
                   "mend the tempo, the places, or the form; a bar too many in a section shows in the same way");
}

}  // namespace

void check_times(Context& context) {
  for (CheckedSection& section : context.data.sections) {
    if (section.def->video) section.video = section.def->video->value;
    for (const song::RecordingTime& time : section.def->at) {
      int index = context.data.recordings.empty() ? -1 : 0;
      if (time.recording) {
        index = -1;
        std::vector<std::string> names;
        for (std::size_t i = 0; i < context.data.recordings.size(); ++i) {
          names.push_back(context.data.recordings[i].def->name.value);
          if (names.back() == time.recording->value) index = static_cast<int>(i);
        }
        if (index < 0)
          context.say(Kind::UnknownName, time.recording->span,
                      "there is no recording called " + diag::quoted(time.recording->value),
                      "`at` gives a place in one of the song's `recordings`",
                      nearest_remedy(time.recording->value, names, "recordings"));
      } else if (index < 0) {
        context.say(Kind::UnknownName, time.at.span, "`at` is a place in a recording, and the song names no recording",
                    "recordings stand under `recordings`; the first is the one this lesson follows",
                    "name the recording, or use `video` for a place in the lesson video");
      }
      if (index >= 0) section.at.push_back({index, time.at.value});
    }
  }
  for (auto& [recording, list] : sightings(context)) {
    bool forwards = true;
    for (std::size_t i = 1; i < list.size(); ++i) {
      if (list[i - 1].seconds < list[i].seconds) continue;
      forwards = false;
      const auto name = [&](int s) {
        return diag::quoted(context.data.sections[static_cast<std::size_t>(s)].def->name.value);
      };
      context.say_both(Kind::TimesBackwards, list[i].span, "then this", list[i - 1].span, "first this",
                       "the section " + name(list[i].section) + " comes after " + name(list[i - 1].section) +
                           " in the form, and not later in the recording",
                       "`at` says where a section is first heard", "mend one of the times, or the form");
    }
    const auto fit = theory::fit_tempo(timed(list));
    if (!forwards || !fit) continue;
    if (context.sink.has_errors()) continue;  // bars that are not yet counted right put every place elsewhere
    const double wholes = 60.0 / fit->seconds_per_whole;
    const double unit = theory::written_duration(context.data.meter.tempo_unit()).to_double();
    context.data.implied_tempos.push_back({recording, wholes / unit});
    for (std::size_t i = 0; i < list.size(); ++i) {
      context.data.section_times.push_back({recording, list[i].section, list[i].seconds, fit->residuals[i]});
    }
    check_doubtful(context, recording, list, *fit);
    check_residuals(context, recording, list, *fit);
    check_tempo(context, recording, list, wholes);
  }
}

void check_claims(Context& context) {
  for (const CheckedShape& shape : context.data.shapes) {
    check_ear(context, shape);
    check_hand(context, shape);
  }
  check_song_key(context);
  check_chart(context);
  for (const CheckedRecording& recording : context.data.recordings) check_recording_key(context, recording);
}

}  // namespace tunesheaf::check
