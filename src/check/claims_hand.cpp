// What `hand` says the fingers hold. A text that names a familiar shape ("the D shape with the middle finger lifted")
// is compared with the fingers; one that only likens ("two fingers of the D shape, spread") is the player's own
// business.
#include <algorithm>
#include <array>

#include "context.h"
#include "tunesheaf/base/ascii.h"
#include "tunesheaf/theory/familiar.h"

namespace tunesheaf::check {
namespace {

using base::lower;

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> out;
  std::string word;
  for (const char c : std::string(text) + " ") {
    const bool joint = c == ' ' || c == ',' || c == '.' || c == ';' || c == '(' || c == ')';
    if (!joint) {
      word += c;
    } else if (!word.empty()) {
      out.push_back(std::move(word));
      word.clear();
    }
  }
  return out;
}

/// Words that make a likeness of a name.
bool likens(const std::vector<std::string>& words) {
  constexpr std::array<std::string_view, 12> kLoose{"of",   "like",  "almost", "nearly", "half", "spread",
                                                    "part", "about", "kind",   "no",     "not",  "small"};
  return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
    return std::find(kLoose.begin(), kLoose.end(), lower(word)) != kLoose.end();
  });
}

/// The chord before the word "shape": "D", "D minor", "Am7"; nothing when there is none.
std::optional<theory::ChordName> named_shape(const std::vector<std::string>& words) {
  for (std::size_t i = 1; i < words.size(); ++i) {
    if (lower(words[i]) != "shape") continue;
    const std::string kind = lower(words[i - 1]);
    const bool two = i >= 2 && (kind == "minor" || kind == "major");
    const std::string name = two ? words[i - 2] + (kind == "minor" ? "m" : "") : words[i - 1];
    const auto chord = theory::parse_chord(name);
    if (chord) return *chord;
  }
  return std::nullopt;
}

std::string held_words(const theory::Familiar& held) {
  std::string out = "the " + held.name + " shape";
  if (held.frets_up != 0) {
    out += ", " + std::to_string(std::abs(held.frets_up)) + (held.frets_up > 0 ? " frets up" : " frets down");
  }
  if (held.strings_over != 0) {
    out += ", " + std::to_string(std::abs(held.strings_over)) + " strings over towards string " +
           (held.strings_over > 0 ? "1" : "6");
  }
  if (!held.changes.empty()) {
    out += ", with " + std::to_string(held.changes.size()) + (held.changes.size() == 1 ? " finger" : " fingers") +
           " changed";
  }
  return out;
}

}  // namespace

void check_hand(Context& context, const CheckedShape& shape) {
  if (!shape.def->hand || shape.part < 0 || shape.midi.empty()) return;
  const std::vector<std::string> words = words_of(shape.def->hand->value);
  if (likens(words)) return;
  const auto claimed = named_shape(words);
  if (!claimed) return;
  const std::string& instrument = context.data.parts[static_cast<std::size_t>(shape.part)].instrument.name;
  constexpr std::size_t kAll = 200;
  const auto near = theory::familiar_shapes(shape.shape, instrument, kAll);
  if (near.empty()) return;
  const bool plain = lower(words.back()) == "shape";
  const bool holds = std::any_of(near.begin(), near.end(), [&](const theory::Familiar& one) {
    const auto name = theory::parse_chord(one.name);
    // "the D shape" and no more is that shape itself, where the fingers stand exactly in some familiar one.
    const bool near_enough = !plain || one.changes.empty() || !near.front().changes.empty();
    return name && *name == *claimed && near_enough;
  });
  if (holds) return;
  context.say_both(
      Kind::ClaimDiffers, shape.def->hand->span, "stated", shape.def->frets_span, "held otherwise",
      "the shape " + diag::quoted(shape.def->name.value) + " is not held as " + context.words(shape.def->hand->span),
      "you wrote the " + theory::print(*claimed) + " shape; the fingers stand as in " + held_words(near.front()),
      "mend `hand`, the frets or the fingers; the page prints `hand` as stated");
}

}  // namespace tunesheaf::check
