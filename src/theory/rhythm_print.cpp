#include <array>

#include "tunesheaf/theory/rhythm.h"

// The signs of a printed spelling:
//   B W H Q 8 16 32 …  values, with . or .. for dots     r  before a rest, "bar" for a whole-bar rest
//   ~  behind a piece tied to the next, before a piece tied from outside    3(…) 5:6(…)  a tuplet, {…} where it has no
//   bracket [ … ]  a beam, > < behind a value: a partial beam forwards, backwards (once a level)
namespace tunesheaf::theory {
namespace {

constexpr std::array<const char*, 12> kValueSigns{"B",  "W",  "H",   "Q",   "8",   "16",
                                                  "32", "64", "128", "256", "512", "1024"};

std::string figure(const Tuplet& tuplet) {
  const bool usual =
      (tuplet.normal & (tuplet.normal - 1)) == 0 && tuplet.normal < tuplet.actual && tuplet.normal * 2 > tuplet.actual;
  const std::string number = std::to_string(tuplet.actual);
  return usual ? number : number + ":" + std::to_string(tuplet.normal);
}

std::string body(const SpelledPiece& piece, bool first) {
  if (piece.whole_bar_rest) return "bar";
  std::string out = first && piece.tie_from_previous ? "~" : "";
  if (piece.rest) out += "r";
  out += kValueSigns[static_cast<std::size_t>(piece.value)];
  out.append(static_cast<std::size_t>(piece.dots), '.');
  for (BeamMark mark : piece.beam_marks) {
    if (mark == BeamMark::kHookForward) out += ">";
    if (mark == BeamMark::kHookBack) out += "<";
  }
  if (piece.tie_to_next) out += "~";
  return out;
}

}  // namespace

std::string print_spelling(const Spelling& spelling) {
  std::string out;
  for (int i = 0; i < static_cast<int>(spelling.pieces.size()); ++i) {
    const SpelledPiece& piece = spelling.pieces[static_cast<std::size_t>(i)];
    const Tuplet* tuplet = piece.tuplet < 0 ? nullptr : &spelling.tuplets[static_cast<std::size_t>(piece.tuplet)];
    const Beam* beam = piece.beam < 0 ? nullptr : &spelling.beams[static_cast<std::size_t>(piece.beam)];
    if (i > 0) out += " ";
    const bool beam_outside = beam && tuplet && (beam->first < tuplet->first || beam->last > tuplet->last);
    if (beam && beam_outside && beam->first == i) out += "[";
    if (tuplet && tuplet->first == i) out += figure(*tuplet) + (tuplet->bracket ? "(" : "{");
    if (beam && !beam_outside && beam->first == i) out += "[";
    out += body(piece, i == 0 || !spelling.pieces[static_cast<std::size_t>(i - 1)].tie_to_next);
    if (beam && !beam_outside && beam->last == i) out += "]";
    if (tuplet && tuplet->last == i) out += tuplet->bracket ? ")" : "}";
    if (beam && beam_outside && beam->last == i) out += "]";
  }
  return out;
}

}  // namespace tunesheaf::theory
