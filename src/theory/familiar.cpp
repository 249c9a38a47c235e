// Distance: 3 for each finger lifted, added or moved, 2 and 1 a string when carried over, 2 and 1 for each three frets
// when carried up, 1 for each common place held by another finger.
#include "tunesheaf/theory/familiar.h"

#include <algorithm>
#include <array>
#include <cstdlib>

#include "tunesheaf/theory/instrument.h"

namespace tunesheaf::theory {
namespace {

struct Grip {
  std::string_view name, frets, fingers;
};

/// First-position shapes of common practice, the best known first.
constexpr std::array kGuitar{
    Grip{"C", "x32010", ".32.1."},     Grip{"G", "320003", "21...3"},       Grip{"D", "xx0232", "...132"},
    Grip{"A", "x02220", "..123."},     Grip{"E", "022100", ".231.."},       Grip{"Am", "x02210", "..231."},
    Grip{"Em", "022000", ".23..."},    Grip{"Dm", "xx0231", "...231"},      Grip{"F", "133211", "134211"},
    Grip{"Bm", "x24432", ".13421"},    Grip{"B", "x24442", ".13331"},       Grip{"Fm", "133111", "134111"},
    Grip{"G7", "320001", "32...1"},    Grip{"C7", "x32310", ".3241."},      Grip{"D7", "xx0212", "...213"},
    Grip{"A7", "x02020", "..2.3."},    Grip{"E7", "020100", ".2.1.."},      Grip{"B7", "x21202", ".213.4"},
    Grip{"Fmaj7", "xx3210", "..321."}, Grip{"Cadd9", "x32033", ".21.34"},   Grip{"Dmaj7", "xx0222", "...111"},
    Grip{"Am7", "x02010", "..2.1."},   Grip{"small F", "xx3211", "..3211"},
};
constexpr std::array kUkulele{
    Grip{"C", "0003", "...3"},  Grip{"F", "2010", "2.1."},  Grip{"G", "0232", ".132"},  Grip{"Am", "2000", "2..."},
    Grip{"A", "2100", "21.."},  Grip{"D", "2220", "123."},  Grip{"Dm", "2210", "231."}, Grip{"Em", "0432", ".321"},
    Grip{"G7", "0212", ".213"}, Grip{"C7", "0001", "...1"}, Grip{"E7", "1202", "12.3"}, Grip{"Bb", "3211", "3211"},
};
constexpr std::array kMandolin{
    Grip{"G", "0023", "..12"},  Grip{"C", "0230", ".12."},  Grip{"D", "2002", "1..2"},      Grip{"A", "2200", "12.."},
    Grip{"Em", "0220", ".12."}, Grip{"Am", "2230", "123."}, Grip{"chop G", "7523", "4312"},
};

struct Spot {
  int string, fret;
  Finger finger;
};

std::vector<Spot> spots(const Shape& shape) {
  std::vector<Spot> out;
  for (std::size_t i = 0; i < shape.frets.size(); ++i) {
    if (shape.frets[i].value_or(0) <= 0) continue;
    const Finger finger = i < shape.fingers.size() ? shape.fingers[i] : Finger::None;
    out.push_back({shape.number_of(i), *shape.frets[i], finger});
  }
  return out;
}

FingerPlace place(const Spot& spot) {
  return {spot.fret, spot.string, spot.string};
}

/// The familiar shape carried over and up against the stops of the new one; nothing when they are too far apart.
std::optional<Familiar> compare(const Grip& row, const Shape& base, const std::vector<Spot>& goal, int over, int up) {
  std::vector<Spot> lifted, added = goal;
  int common = 0, other_finger = 0;
  for (Spot spot : spots(base)) {
    spot.string -= over;
    spot.fret += up;
    if (spot.string < 1 || spot.string > base.count() || spot.fret < 1) return std::nullopt;
    const auto same = std::find_if(added.begin(), added.end(),
                                   [&](const Spot& s) { return s.string == spot.string && s.fret == spot.fret; });
    if (same == added.end()) {
      lifted.push_back(spot);
      continue;
    }
    ++common;
    if (same->finger != Finger::None && same->finger != spot.finger) ++other_finger;
    added.erase(same);
  }
  Familiar out;
  while (!lifted.empty() && !added.empty()) {
    const Spot from = lifted.front(), to = added.front();
    const bool before_it = from.string == to.string && to.fret > from.fret && to.finger != Finger::None;
    if (before_it && to.finger != from.finger) {
      // The finger behind may stay down: players say that the other one is added.
      out.changes.push_back({MoveKind::Added, to.finger, std::nullopt, place(to)});
    } else {
      const MoveKind kind = from.string == to.string ? MoveKind::Slides : MoveKind::Moves;
      out.changes.push_back({kind, from.finger, place(from), place(to)});
    }
    lifted.erase(lifted.begin());
    added.erase(added.begin());
  }
  for (const Spot& spot : lifted) out.changes.push_back({MoveKind::Lifts, spot.finger, place(spot), std::nullopt});
  for (const Spot& spot : added) out.changes.push_back({MoveKind::Added, spot.finger, std::nullopt, place(spot)});
  const int changed = static_cast<int>(out.changes.size());
  const bool one_finger = spots(base).size() == 1 && goal.size() == 1;
  if ((common < 2 && !one_finger) || common == 0 || changed > 2 || changed >= common + (common == 2 ? 0 : 1)) {
    return std::nullopt;
  }
  out.name = std::string(row.name);
  out.shape = base;
  out.strings_over = over;
  out.frets_up = up;
  out.distance = 3 * changed + other_finger;
  if (over != 0) out.distance += 2 + std::abs(over);
  if (up != 0) out.distance += 2 + std::abs(up) / 3;
  return out;
}

template <std::size_t N>
void search(const std::array<Grip, N>& rows, const Shape& shape, std::vector<Familiar>& out) {
  const std::vector<Spot> goal = spots(shape);
  for (const Grip& row : rows) {
    Shape base;
    base.frets = parse_frets(row.frets).value();
    base.fingers = parse_fingers(row.fingers).value();
    if (base.count() != shape.count()) return;
    std::optional<Familiar> best;
    for (int over = -2; over <= 2; ++over) {
      for (int up = -3; up <= 12; ++up) {
        std::optional<Familiar> here = compare(row, base, goal, over, up);
        if (here && (!best || here->distance < best->distance)) best = std::move(here);
      }
    }
    if (best) out.push_back(std::move(*best));
  }
}

}  // namespace

std::vector<Familiar> familiar_shapes(const Shape& shape, std::string_view instrument, std::size_t most) {
  const Instrument* known = find_instrument(instrument);
  std::vector<Familiar> out;
  if (known == nullptr || !known->usual) return out;
  const int strings = known->usual->count();
  if (known->name == "ukulele" || known->name == "baritone ukulele")
    search(kUkulele, shape, out);
  else if (known->name == "mandolin" || known->name == "octave mandolin")
    search(kMandolin, shape, out);
  else if (known->family == Family::Fretted && strings == 6)
    search(kGuitar, shape, out);
  std::stable_sort(out.begin(), out.end(),
                   [](const Familiar& a, const Familiar& b) { return a.distance < b.distance; });
  if (out.size() > most) out.resize(most);
  return out;
}

}  // namespace tunesheaf::theory
