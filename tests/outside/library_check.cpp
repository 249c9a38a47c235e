// Our pitches, intervals, keys, scales and chord spellings against a theory library (npm packages @tonaljs/*, MIT, the
// versions pinned in package.json), whose answers dump.mjs has written as JSON. Usage: outside_library DUMP.json FACTS
#include <algorithm>
#include <cmath>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>

#include "tunesheaf/theory/chord.h"
#include "tunesheaf/theory/key.h"
#include "tunesheaf/theory/pitch.h"

namespace {

using namespace tunesheaf::theory;
using nlohmann::json;

int failures = 0;

struct Count {
  std::string what;
  long good = 0, all = 0;
  void add(bool ok, const std::string& detail) {
    ++all;
    good += ok ? 1 : 0;
    if (!ok) std::cout << "  " << what << ": " << detail << "\n";
  }
  ~Count() {
    const bool ok = good == all && all > 0;
    std::cout << (ok ? "ok    " : "FAIL  ") << what << ": " << good << " of " << all << "\n";
    if (!ok) ++failures;
  }
};

/// "-10M" to "-M10".
Interval interval_of(const std::string& name) {
  const bool down = name[0] == '-';
  const std::string body = down ? name.substr(1) : name;
  const std::size_t letters = body.find_first_not_of("0123456789");
  const std::string ours = (down ? "-" : "") + body.substr(letters) + body.substr(0, letters);
  return parse_interval(ours).value();
}

void check_notes(const json& notes) {
  Count midi{"note, MIDI key and back"}, hertz{"frequency of a MIDI key"}, twins{"plain spelling is one of the two"};
  for (const json& n : notes) {
    const int key = n.at("midi");
    const std::string flat = n.at("flat"), sharp = n.at("sharp");
    const std::optional<Pitch> pitch = parse_pitch(flat);
    midi.add(pitch && pitch->midi() == key && print(*pitch) == flat && parse_pitch(sharp)->midi() == key, flat);
    const double want = n.at("freq");
    hertz.add(std::abs(frequency(key) - want) <= 1e-9 * want, flat);
    const std::string plain = print(plain_spelling(key));
    twins.add(plain == flat || plain == sharp, plain);
  }
}

void check_intervals(const json& data) {
  Count sizes{"size of an interval"}, moved{"transposition with spelling"};
  for (const json& i : data.at("intervals")) {
    const std::string name = i.at("name");
    sizes.add(interval_of(name).semitones == i.at("semitones").get<int>(), name);
  }
  for (const json& t : data.at("transpositions")) {
    const std::string from = t.at("from"), by = t.at("by"), to = t.at("to");
    const std::optional<Pitch> got = transpose(parse_pitch(from).value(), interval_of(by));
    const std::optional<Pitch> want = parse_pitch(to);
    // More than three accidentals are no spelling to us; the library goes on writing them.
    const bool ok = got ? print(*got) == to : !want.has_value();
    moved.add(ok, from + " " + by + " " + to);
  }
}

std::string joined(const json& notes) {
  std::string out;
  for (const json& n : notes) out += n.get<std::string>() + " ";
  return out;
}

void check_keys(const json& data) {
  Count signature{"key signature"}, scale{"scale of a key"}, modes{"scale of a mode"}, grades{"roman numeral in a key"};
  const auto spelled = [](const Key& key) {
    std::string out;
    for (const PitchClass pc : key.scale()) out += print(pc) + " ";
    return out;
  };
  for (const json& k : data.at("keys")) {
    const std::string name = k.at("name");
    const Key key = parse_key(name).value();
    signature.add(key.fifths() == k.at("alteration").get<int>(), name);
    scale.add(spelled(key) == joined(k.at("scale")), name + ": " + spelled(key));
  }
  for (const json& g : data.at("grades")) {
    const std::string text = g.at("chord"), name = g.at("key"), grade = g.at("grade");
    const ChordName chord = parse_chord(text).value();
    std::string got = roman_numeral(chord, parse_key(name).value(), Accidentals::Ascii);
    got = got.substr(0, got.find_first_not_of("IVXivx"));
    std::transform(got.begin(), got.end(), got.begin(), [](char c) { return c == 'i' ? 'I' : (c == 'v' ? 'V' : c); });
    grades.add(got == grade, name + " " + text + " " + got);
  }
  for (const json& m : data.at("modes")) {
    const std::string name = m.at("name");
    modes.add(spelled(parse_key(name).value()) == joined(m.at("scale")), name);
  }
}

void check_scales(const json& scales) {
  Count types{"scale type with spelling on three tonics"};
  for (const json& s : scales) {
    bool ok = true;
    for (const json& on : s.at("on")) {
      const PitchClass tonic = parse_pitch_class(on.at("tonic").get<std::string>()).value();
      std::string got;
      for (const json& i : s.at("intervals")) got += print(transpose(tonic, interval_of(i)).value()) + " ";
      ok = ok && got == joined(on.at("notes"));
    }
    types.add(ok, s.at("name"));
  }
}

std::set<std::string> known_differences(const std::string& path) {
  std::ifstream file(path);
  std::set<std::string> out;
  std::string line;
  while (std::getline(file, line)) {
    if (line.empty() || line[0] == '#') continue;
    out.insert(line.substr(0, line.find('\t')));
  }
  return out;
}

/// Chord texts: what both read must be the same set of notes, but for the readings listed with their reason.
void check_chords(const json& chords, const std::string& facts) {
  Count spelling{"chord tones with spelling"}, reading{"chord text read as the same notes"};
  const std::set<std::string> known = known_differences(facts + "/chord_readings.tsv");
  std::set<std::string> used;
  for (const json& c : chords) {
    const std::string text = c.at("text"), tonic_name = c.at("tonic");
    const PitchClass tonic = parse_pitch_class(tonic_name).value();
    unsigned want = 0;
    std::set<std::string> notes;
    for (std::size_t i = 0; i < c.at("notes").size(); ++i) {
      const std::string note = c.at("notes")[i];
      notes.insert(note);
      spelling.add(print(transpose(tonic, interval_of(c.at("intervals")[i])).value()) == note, text + " " + note);
      want |= 1U << static_cast<unsigned>(parse_pitch_class(note)->number());
    }
    const std::string suffix = text.substr(tonic_name.size());
    if (known.contains(suffix)) {
      used.insert(suffix);
      continue;
    }
    const auto ours = parse_chord(text);
    reading.add(ours.ok() && tone_bits(*ours) == want, text + ": " + (ours ? print(*ours) : "not read"));
    if (!ours) continue;
    for (const ChordTone& tone : tones(*ours)) {
      // A tone of the same letter must be spelled alike.
      const bool there = notes.contains(print(tone.pitch));
      const bool letter = std::any_of(notes.begin(), notes.end(), [&](const std::string& n) {
        return parse_pitch_class(n)->number() == tone.pitch.number() && n[0] == print(tone.pitch)[0];
      });
      if (letter) spelling.add(there, text + " " + print(tone.pitch));
    }
  }
  std::cout << "      " << used.size() << " of " << known.size() << " listed readings met\n";
  if (used.size() != known.size()) ++failures;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: outside_library DUMP.json FACTS_FOLDER\n";
    return 2;
  }
  std::ifstream file(argv[1]);
  const json data = json::parse(file);
  check_notes(data.at("notes"));
  check_intervals(data);
  check_keys(data);
  check_scales(data.at("scales"));
  check_chords(data.at("chords"), argv[2]);
  return failures == 0 ? 0 : 1;
}
