// What a chord is called on a chart.
#include <algorithm>
#include <cstdlib>

#include "tunesheaf/blocks/chart_player.h"
#include "tunesheaf/theory/chord.h"

namespace tunesheaf::blocks {
namespace {

bool plain(const theory::ChordName& chord) {
  return std::abs(chord.root.alter) <= 1 && (!chord.bass || std::abs(chord.bass->alter) <= 1);
}

/// The key as moved; of two that are equally hard to read, the one of the page's side: sharps become F sharp, not G
/// flat.
theory::Key moved_key(const theory::Key& key, int semitones) {
  const theory::Key out = theory::transposed(key, semitones);
  const auto twin = theory::enharmonic(out);
  const bool as_hard = twin && std::abs(twin->fifths()) == std::abs(out.fifths());
  return as_hard && key.fifths() > 0 && out.fifths() < 0 ? *twin : out;
}

/// Letters go by interval, as the chord's place in the key does; where that needs a double accidental, by the key.
theory::ChordName moved(const theory::ChordName& chord, int semitones, const std::optional<theory::Key>& key) {
  if (semitones % 12 == 0 || chord.is_none()) return chord;
  if (!key) return theory::transposed(chord, semitones, std::nullopt);
  const theory::Key into = moved_key(*key, semitones);
  const auto by_interval = theory::transposed(chord, theory::between(key->tonic, into.tonic));
  if (by_interval && plain(*by_interval)) return *by_interval;
  return theory::transposed(chord, semitones, into);
}

int way(const ChartPlayer& player, ChartNames names) {
  return names == ChartNames::Ear ? player.up + player.sounds : names == ChartNames::Hand ? player.up : 0;
}

/// Parts what follows the root: a quality that stands on the line, what is raised, the bass.
ChartName parted(std::string root, std::string rest, std::string bass) {
  ChartName name{std::move(root), {}, {}, std::move(bass)};
  for (const std::string_view quality : {"dim", "m"}) {
    if (!rest.starts_with(quality) || rest.starts_with("maj")) continue;
    name.quality = quality;
    rest.erase(0, quality.size());
    break;
  }
  name.raised = std::move(rest);
  return name;
}

/// What is printed between root and bass.
std::string suffix(const theory::ChordName& chord) {
  theory::ChordName bare = chord;
  bare.bass.reset();
  return theory::print(bare, theory::Accidentals::Signs)
      .substr(theory::print(chord.root, theory::Accidentals::Signs).size());
}

ChartName numeral(const theory::ChordName& chord, const theory::Key& key) {
  const std::string whole = theory::roman_numeral(chord, key, theory::Accidentals::Signs);
  const std::size_t first = whole.find_first_of("IVXivx");
  if (first == std::string::npos) return {whole, {}, {}, {}};
  const std::size_t end = std::min(whole.find_first_not_of("IVXivx", first), whole.size());
  const std::size_t slash = chord.bass ? whole.rfind('/') : std::string::npos;
  const std::size_t raised_end = std::min(slash, whole.size());
  return {whole.substr(0, end),
          {},
          whole.substr(end, raised_end - end),
          slash == std::string::npos ? std::string() : whole.substr(slash)};
}

}  // namespace

theory::ChordName chord_for(const theory::ChordName& chord, const ChartPlayer& player, ChartNames names,
                            const std::optional<theory::Key>& key) {
  return moved(chord, way(player, names), key);
}

theory::Key key_for(const theory::Key& key, const ChartPlayer& player, ChartNames names) {
  const int semitones = names == ChartNames::Ear ? player.up + player.sounds : player.up;
  return semitones % 12 == 0 ? key : moved_key(key, semitones);
}

ChartName chart_name(const theory::ChordName& chord, const ChartPlayer& player, ChartNames names,
                     const std::optional<theory::Key>& key) {
  if (chord.is_none()) return {"N.C.", {}, {}, {}};
  if (names == ChartNames::Roman && key) return numeral(chord, *key);
  if (names == ChartNames::Degrees && key) {
    const std::string bass =
        chord.bass ? "/" + theory::print(theory::degree(*chord.bass, *key), theory::Accidentals::Signs) : std::string();
    return parted(theory::print(theory::degree(chord.root, *key), theory::Accidentals::Signs), suffix(chord), bass);
  }
  const theory::ChordName read = chord_for(chord, player, names, key);
  const std::string bass = read.bass ? "/" + theory::print(*read.bass, theory::Accidentals::Signs) : std::string();
  return parted(theory::print(read.root, theory::Accidentals::Signs), suffix(read), bass);
}

std::vector<const score::Harmony*> chords_of(const score::Section& section) {
  const auto stated = [](const score::Harmony& harmony) { return harmony.none || !harmony.stated.empty(); };
  const bool any_stated = std::any_of(section.harmony.begin(), section.harmony.end(), stated);
  std::vector<const score::Harmony*> out;
  int first_part = 1 << 20;
  for (const score::Harmony& harmony : section.harmony) first_part = std::min(first_part, harmony.part);
  for (const score::Harmony& harmony : section.harmony) {
    if (any_stated ? !stated(harmony) : harmony.part != first_part) continue;
    if (!harmony.name && harmony.shape < 0 && !harmony.none) continue;
    const bool again = !out.empty() && out.back()->at == harmony.at;
    if (again && out.back()->part <= harmony.part) continue;
    if (again) out.pop_back();
    out.push_back(&harmony);
  }
  return out;
}

std::vector<std::size_t> played_without_chords(const score::Timeline& song) {
  std::vector<std::size_t> out;
  for (std::size_t s = 0; s < song.sections.size(); ++s) {
    const auto& parts = song.sections[s].parts;
    const bool played = std::any_of(parts.begin(), parts.end(), [&](const score::PartMusic& music) {
      return !music.voices.empty() && song.parts[static_cast<std::size_t>(music.part)].kit.empty();
    });
    if (played && chords_of(song.sections[s]).empty()) out.push_back(s);
  }
  return out.size() == song.sections.size() ? std::vector<std::size_t>{} : out;
}

}  // namespace tunesheaf::blocks
