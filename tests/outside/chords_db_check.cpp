// Our chord theory against an open set of fingerings (npm package @tombatossals/chords-db, MIT): 2069 for guitar, 2114
// for ukulele, with the MIDI keys they sound. The set has errors; tests/facts/chord_exceptions.tsv lists them, and each
// must be reported as a mismatch. Usage: outside_chords_db LIB_FOLDER FACTS_FOLDER
#include <algorithm>
#include <fstream>
#include <iostream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "tunesheaf/theory/finding.h"
#include "tunesheaf/theory/naming.h"
#include "tunesheaf/theory/shape.h"
#include "tunesheaf/theory/tuning.h"

namespace {

using namespace tunesheaf::theory;

struct Case {
  std::string instrument, key, suffix;
  int number = 0;  // from 1 within its chord
  Shape shape;
  std::vector<int> midi;
  ChordName stated;
};

/// The set's suffixes in the spelling of players. A leading accidental would read as the root's.
std::string suffix_as_typed(const std::string& suffix) {
  if (suffix == "major") return "";
  if (suffix == "minor") return "m";
  if (suffix == "b13b9") return "7(b9,b13)";
  if (suffix == "b13#9") return "7(#9,b13)";
  return suffix;
}

std::vector<Case> read_cases(const std::string& folder, const std::string& instrument) {
  std::ifstream file(folder + "/" + instrument + ".json");
  const nlohmann::json data = nlohmann::json::parse(file);
  std::vector<Case> out;
  for (const auto& [key, chords] : data.at("chords").items()) {
    for (const auto& chord : chords) {
      int number = 0;
      for (const auto& position : chord.at("positions")) {
        Case c;
        c.instrument = instrument;
        c.key = chord.at("key");
        c.suffix = chord.at("suffix");
        c.number = ++number;
        const int base = position.at("baseFret");
        for (const int fret : position.at("frets")) {
          if (fret < 0)
            c.shape.frets.emplace_back(std::nullopt);
          else
            c.shape.frets.emplace_back(fret == 0 ? 0 : fret + base - 1);
        }
        c.midi = position.at("midi").get<std::vector<int>>();
        out.push_back(std::move(c));
      }
    }
  }
  return out;
}

bool left_out(const Case& c) {
  return c.suffix == "alt" || c.suffix == "7sg";
}

std::string id(const std::string& instrument, const std::string& key, const std::string& suffix, int number) {
  return instrument + "\t" + key + "\t" + suffix + "\t" + std::to_string(number);
}
std::string id(const Case& c) {
  return id(c.instrument, c.key, c.suffix, c.number);
}

std::set<std::string> read_exceptions(const std::string& path) {
  std::ifstream file(path);
  std::set<std::string> out;
  std::string line;
  while (std::getline(file, line)) {
    if (line.empty() || line[0] == '#' || line.starts_with("instrument")) continue;
    std::istringstream row(line);
    std::string instrument, key, suffix, number;
    std::getline(row, instrument, '\t');
    std::getline(row, key, '\t');
    std::getline(row, suffix, '\t');
    std::getline(row, number, '\t');
    out.insert(id(instrument, key, suffix, std::stoi(number)));
  }
  return out;
}

int failures = 0;

void demand(const std::string& what, long got, long want, bool ok) {
  std::cout << (ok ? "ok    " : "FAIL  ") << what << ": " << got << " of " << want << "\n";
  if (!ok) ++failures;
}

unsigned bits(const std::vector<int>& midi) {
  unsigned out = 0;
  for (const int key : midi) out |= 1U << static_cast<unsigned>(key % 12);
  return out;
}

bool same_name(const ChordName& a, const ChordName& b) {
  const auto bass = [](const ChordName& c) { return c.bass.value_or(c.root).number(); };
  return a.root.number() == b.root.number() && bass(a) == bass(b) && tone_bits(a) == tone_bits(b) && a.kind == b.kind &&
         a.degrees == b.degrees;
}

bool same_upper(const ChordName& a, const ChordName& b) {
  return a.root.number() == b.root.number() && a.kind == b.kind && a.degrees == b.degrees;
}

/// A stated slash bass must sound; these rows do not all keep it lowest, so the tones alone are judged here.
bool accepted(const Case& c) {
  const ClaimCheck claim = check_claim(c.stated, c.midi);
  const bool bass_sounds = !c.stated.bass || (bits(c.midi) >> static_cast<unsigned>(c.stated.bass->number()) & 1U) != 0;
  return claim.foreign.empty() && claim.absent.empty() && bass_sounds;
}

struct Figures {
  long midi = 0, all = 0, accepted = 0, named = 0, exceptions = 0, exceptions_reported = 0;
  long whole_root = 0, whole_root_first = 0, whole_inverted = 0, whole_inverted_among = 0;
  long good = 0, found = 0;
};

void check_names(const Case& c, Figures& f) {
  const bool whole = bits(c.midi) == tone_bits(c.stated);
  if (!whole || c.midi.empty()) return;
  const int lowest = *std::min_element(c.midi.begin(), c.midi.end()) % 12;
  const std::vector<NameCandidate> names = name_candidates(c.midi);
  const int stated_bass = c.stated.bass.value_or(c.stated.root).number();
  if (!c.stated.bass && lowest == c.stated.root.number()) {
    ++f.whole_root;
    const bool first = !names.empty() && same_name(names[0].name, c.stated);
    f.whole_root_first += first ? 1 : 0;
    if (!first) {
      std::cout << "  first name: " << id(c) << " " << print(c.stated) << " got "
                << (names.empty() ? "none" : print(names[0].name)) << "\n";
    }
    return;
  }
  if (c.stated.bass && lowest != stated_bass) return;
  ++f.whole_inverted;
  const bool among = std::any_of(names.begin(), names.end(), [&](const NameCandidate& n) {
    return c.stated.bass ? same_name(n.name, c.stated) : same_upper(n.name, c.stated);
  });
  f.whole_inverted_among += among ? 1 : 0;
  if (!among) std::cout << "  not among the names: " << id(c) << " " << print(c.stated) << "\n";
}

/// Shapes of one chord in one instrument's usual tuning, found once.
class Finder {
 public:
  explicit Finder(const Tuning& tuning) : tuning_(tuning) {}
  bool finds(const Case& c) {
    ChordName chord = c.stated;
    const std::string name = print(chord);
    auto it = found_.find(name);
    if (it == found_.end()) {
      FindingLimits limits;
      limits.stretch_frets = 4;
      limits.highest_fret = 20;
      limits.bass = BassRule::Any;
      limits.most = 0;
      limits.held = HeldRule::Any;
      limits.most_muted_inside = 6;
      limits.least_sounding = 1;
      std::set<std::string> shapes;
      for (const FoundShape& s : find_shapes(chord, tuning_, {}, limits)) shapes.insert(print_frets(s.shape));
      it = found_.emplace(name, std::move(shapes)).first;
    }
    return it->second.contains(print_frets(c.shape));
  }

 private:
  Tuning tuning_;
  std::map<std::string, std::set<std::string>> found_;
};

void check_instrument(const std::string& instrument, const std::string& folder, const std::set<std::string>& exceptions,
                      Figures& f, long want_named, long want_accepted) {
  const Tuning tuning = find_tuning(instrument, "usual").value();
  Finder finder(tuning);
  const Figures before = f;
  for (Case& c : read_cases(folder, instrument)) {
    ++f.all;
    f.midi += sounding_midi(tuning, {}, c.shape) == c.midi ? 1 : 0;
    if (left_out(c)) continue;
    ++f.named;
    c.stated = parse_chord(c.key + suffix_as_typed(c.suffix)).value();
    const bool fits = accepted(c);
    f.accepted += fits ? 1 : 0;
    const bool exception = exceptions.contains(id(c));
    if (exception) {
      ++f.exceptions;
      f.exceptions_reported += fits ? 0 : 1;
      continue;
    }
    if (!fits) std::cout << "  refused: " << id(c) << " " << print_frets(c.shape) << "\n";
    check_names(c, f);
    if (!fits) continue;
    ++f.good;
    const bool found = finder.finds(c);
    f.found += found ? 1 : 0;
    if (!found) std::cout << "  not found: " << id(c) << " " << print_frets(c.shape) << "\n";
  }
  const long named = f.named - before.named, kept = f.accepted - before.accepted;
  demand(instrument + ": stated names accepted", kept, named, named == want_named && kept == want_accepted);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: outside_chords_db LIB_FOLDER FACTS_FOLDER\n";
    return 2;
  }
  const std::string folder = argv[1];
  const std::set<std::string> exceptions = read_exceptions(std::string(argv[2]) + "/chord_exceptions.tsv");
  Figures f;
  check_instrument("guitar", folder, exceptions, f, 2018, 1988);
  check_instrument("ukulele", folder, exceptions, f, 2077, 2073);
  demand("frets to MIDI keys", f.midi, f.all, f.all == 4183 && f.midi == f.all);
  demand("exceptions reported", f.exceptions_reported, f.exceptions, f.exceptions == 34 && f.exceptions_reported == 34);
  demand("first name, whole shapes with the root lowest", f.whole_root_first, f.whole_root,
         f.whole_root_first == f.whole_root && f.whole_root >= 1320);
  demand("name among the candidates, whole inverted shapes", f.whole_inverted_among, f.whole_inverted,
         f.whole_inverted > 0 && f.whole_inverted_among == f.whole_inverted);
  demand("good shapes found by the shape finder", f.found, f.good, f.good == 4061 && f.found == f.good);
  return failures == 0 ? 0 : 1;
}
