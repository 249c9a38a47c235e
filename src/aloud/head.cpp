// The head of a reading: what the song is, the recordings, how bars and beats are named.
#include <algorithm>
#include <cmath>

#include "teller.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::aloud {
namespace {

std::string cents_words(double cents) {
  const std::string n = base::print_decimal(std::abs(cents), 1);
  return n + (n == "1" ? " cent" : " cents");
}

/// A recording against these notes, in whole semitones and the cents left over.
std::string offset_words(double cents) {
  const auto semitones = std::lround(cents / 100);
  const double rest = cents - 100.0 * static_cast<double>(semitones);
  const bool exact = std::abs(rest) < 0.05;
  if (semitones == 0 && exact) return "at the pitch of these notes";
  if (semitones == 0) return cents_words(rest) + (rest > 0 ? " sharp" : " flat") + " of these notes";
  const std::string steps =
      counted(std::labs(semitones), "semitone", "semitones") + (semitones > 0 ? " above" : " below");
  if (exact) return steps + " these notes";
  return steps + " these notes, and " + cents_words(rest) + (rest > 0 ? " sharp" : " flat") + " of that";
}

std::string recording_words(const Teller& teller, const score::Recording& recording) {
  std::string out = plain(recording.name.value) + (recording.followed ? ", which this lesson follows" : "") +
                    ": sounds " + offset_words(recording.cents);
  if (recording.sounding_key) out += ", in " + key_words(*recording.sounding_key);
  if (recording.tempo) out += ", " + tempo_words(*recording.tempo, teller.song.meter);
  const double rest = recording.cents - 100.0 * std::round(recording.cents / 100);
  if (std::abs(rest) >= 0.05) {
    const std::string reference = base::print_decimal(440.0 * std::exp2(rest / 1200.0), 1);
    out += ". To play along, set the tuner to A 4 at " + reference + " hertz";
  }
  if (!recording.note.empty()) out += ". " + plain(recording.note);
  return capital(sentence(out));
}

void tell_facts(Teller& teller) {
  const score::Timeline& song = teller.song;
  std::vector<Sentence> out;
  const auto fact = [&](const std::string& lead, const std::string& text) {
    if (!text.empty()) out.push_back({lead, sentence(text), ""});
  };
  const auto ours = [&](const std::string& text) { out.push_back({sentence(text), "", ""}); };
  if (song.by) fact("By ", plain(song.by->value));
  if (song.lesson) fact("Lesson: ", plain(song.lesson->value));
  if (song.key) ours("Key: " + key_words(*song.key));
  ours("Meter: " + meter_words(song.meter));
  if (song.tempo) ours("Tempo: " + tempo_words(*song.tempo, song.meter));
  if (song.feel.unit != Fraction(0)) ours("Feel: " + feel_words(song.feel));
  if (song.counts_in) {
    const std::string name = plain(song.counts_in->value);
    ours(name == song::kNobody ? "Nobody counts in" : "Counted in by: " + name);
  }
  if (!song.starts.empty()) {
    std::vector<std::string> names;
    for (const score::Text& name : song.starts) names.push_back(plain(name.value));
    ours(std::string(names.size() == 1 ? "Starts: " : "Start: ") + list_words(names));
  }
  if (song.tempo && song.seconds > 0) ours("It lasts about " + time_words(song.seconds));
  if (song.video) out.push_back({"Video of the lesson", "", song.video->value});
  if (song.about) fact("", plain(song.about->value));
  if (song.credits) fact("", plain(song.credits->value));
  teller.block(BlockKind::Text, std::move(out));
}

void tell_recordings(Teller& teller) {
  std::vector<Sentence> out;
  for (const score::Recording& recording : teller.song.recordings)
    out.push_back({recording_words(teller, recording), "", ""});
  if (out.empty()) return;
  teller.heading("Recordings");
  teller.block(BlockKind::List, std::move(out));
}

bool any_part(const Teller& teller, bool (*is)(const score::Part&)) {
  for (std::size_t p = 0; p < teller.song.parts.size(); ++p) {
    if (teller.wants_part(static_cast<int>(p)) && is(teller.song.parts[p])) return true;
  }
  return false;
}

void tell_how(Teller& teller) {
  teller.heading("How this is read");
  std::vector<Sentence> out;
  const auto say = [&](const char* text) { out.push_back({text, "", ""}); };
  say("Beats are counted from 1 in each bar: \"beat 2 and\" is halfway through beat 2, \"beat 2 e\" is a quarter of "
      "the "
      "beat after it begins, \"beat 2 a\" is a quarter before it ends.");
  if (any_part(teller, [](const score::Part& p) { return p.tuning.count() > 0; })) {
    say("Strings are numbered as players number them: string 1 is the last to be named in the tuning, the lowest "
        "string has the highest number. Fingers are those of the fretting hand; what the picking hand does is said "
        "first, as in \"index plucks string 3\".");
  }
  if (any_part(teller, [](const score::Part& p) { return p.instrument.family != theory::Family::Drums; })) {
    say("A note goes on until the next one or until a rest is named. C 4 is middle C.");
  }
  say("Bars that are the same as earlier ones are not said again: those bars are named.");
  teller.block(BlockKind::Text, std::move(out));
}

}  // namespace

std::string authority_words(song::Authority from, const std::string& instead_of) {
  std::string out;
  if (from == song::Authority::Lesson) out += ", the teacher's own";
  if (!instead_of.empty()) out += ", instead of " + plain(instead_of);
  return out;
}

void tell_head(Teller& teller) {
  const score::Timeline& song = teller.song;
  std::string title = plain(song.title.value);
  teller.out.title = title;
  teller.out.language = song.language;
  teller.out.blocks.push_back({BlockKind::Title, {{title, "", ""}}});
  if (!teller.whole()) {
    std::string what = "This is a part of the lesson";
    if (teller.request.section) {
      what += ": section " + plain(song.sections[static_cast<std::size_t>(*teller.request.section)].name.value);
    }
    if (teller.request.bars) {
      what += (teller.request.section ? ", bars " : ": bars ") + std::to_string(teller.request.bars->first) + " to " +
              std::to_string(teller.request.bars->second);
    }
    if (teller.request.part) what += ", for the " + plain(teller.part(*teller.request.part).name.value);
    teller.block(BlockKind::Text, {{what + ".", "", ""}});
    return;
  }
  tell_facts(teller);
  tell_recordings(teller);
  tell_how(teller);
}

}  // namespace tunesheaf::aloud
