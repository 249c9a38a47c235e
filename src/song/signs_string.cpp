#include <utility>

#include "signs.h"
#include "tunesheaf/song/values.h"

namespace tunesheaf::song {
namespace {

constexpr const char* kAfterFret =
    "after a fret: b and the fret it is bent to, r and the fret it is let down to, ~, tr and a fret, =, /, \\, <>, "
    "or an accent (> ^ ' _ @)";
constexpr const char* kFretWanted = "a fret from 0 to 36";
constexpr std::size_t kMostRunTogether = 8;  // figures; more are no row of frets

/// Reads a cell of a string lane. The order is: accents, tie, how the note is reached, the note, what happens to it.
class StringSignReader {
 public:
  explicit StringSignReader(std::string_view cell) : cursor_(cell) {}

  SignResult read() {
    cursor_.take_accents(sign_.accents);
    if (const auto pluck = read_pluck()) return CellContent(*pluck);
    if (auto fault = read_note()) return *fault;
    cursor_.take_accents(sign_.accents);
    if (!cursor_.done()) return cursor_.fault(kAfterFret, two_notes());
    return CellContent(sign_);
  }

 private:
  using Fault = std::optional<SignFault>;

  /// A picking finger alone: this string, at the fret of the shape.
  std::optional<PluckSign> read_pluck() {
    SignCursor ahead = cursor_;
    const char finger = ahead.peek();
    if (finger == '\0' || std::string_view("pimacTPo").find(finger) == std::string_view::npos) return std::nullopt;
    ahead.skip(1);
    PluckSign pluck;
    pluck.accents = sign_.accents;
    ahead.take_accents(pluck.accents);
    if (!ahead.done()) return std::nullopt;
    if (finger != 'o') pluck.fingers = std::string(1, finger);
    return pluck;
  }

  Fault read_note() {
    if (cursor_.take('(')) {
      sign_.ghost = true;
      if (auto fault = read_inner()) return fault;
      if (!cursor_.take(')')) return cursor_.fault("the ) that closes the ghost note", two_notes());
      return std::nullopt;
    }
    return read_inner();
  }

  Fault read_inner() {
    if (cursor_.take('x')) {
      sign_.dead = true;
      return std::nullopt;
    }
    const char first = cursor_.peek();
    if (first == '~' || first == 'r' || (first == 'b' && is_digit(cursor_.peek(1)))) {
      sign_.continues = true;
      return read_changes();
    }
    if (cursor_.take('-')) sign_.tied = true;
    if (first == 'g') return read_grace();
    if (first == '<') return read_natural_harmonic();
    if (!sign_.tied) read_arrival();
    if (auto fault = read_fret()) return fault;
    return read_changes();
  }

  void read_arrival() {
    if (cursor_.take('h')) {
      sign_.arrival = Arrival::HammerOn;
    } else if (cursor_.take('p')) {
      sign_.arrival = Arrival::PullOff;
    } else if (cursor_.take('/')) {
      sign_.arrival = Arrival::LegatoSlide;
    } else if (cursor_.take('\\')) {
      sign_.arrival = Arrival::LegatoSlide;
      sign_.slides_down = true;
    } else if (cursor_.take('t')) {
      sign_.arrival = Arrival::Tap;
    }
  }

  Fault read_fret() {
    const bool bare = cursor_.at() == 0 && !is_digit(cursor_.peek());
    const auto fret = cursor_.take_fret();
    if (!fret) return cursor_.fault(bare ? "a fret, x, or the letter of a picking finger" : kFretWanted, frets_apart());
    sign_.fret = *fret;
    return std::nullopt;
  }

  /// "g1h3", "g5h7p5", "g1-3": frets joined by how each is reached; the last one is the note itself.
  Fault read_grace() {
    cursor_.skip(1);
    auto fret = cursor_.take_fret();
    if (!fret) return cursor_.fault("the fret of the grace note");
    for (int count = 0; cursor_.peek() != '\0'; ++count) {
      GraceNote grace{*fret, Arrival::Struck};
      if (cursor_.take('h')) {
        grace.to_main = Arrival::HammerOn;
      } else if (cursor_.peek() == 'p' && cursor_.peek(1) != 'b') {
        cursor_.skip(1);
        grace.to_main = Arrival::PullOff;
      } else if (cursor_.take('/') || cursor_.take('\\')) {
        grace.to_main = Arrival::LegatoSlide;
      } else if (!cursor_.take('-')) {
        if (count > 0) break;
        return cursor_.fault("h, p, /, \\ or - and the main note's fret");
      }
      if (count == 6) return cursor_.fault("no more than six grace notes");
      sign_.grace.push_back(grace);
      fret = cursor_.take_fret();
      if (!fret) return cursor_.fault(kFretWanted);
    }
    if (sign_.grace.empty()) return cursor_.fault("h, p, /, \\ or - and the main note's fret");
    sign_.fret = *fret;
    return read_changes();
  }

  Fault read_natural_harmonic() {
    cursor_.skip(1);
    const auto fret = cursor_.take_fret();
    if (!fret) return cursor_.fault("the fret over which the string is touched");
    if (!cursor_.take('>')) return cursor_.fault("the > that closes the harmonic");
    sign_.fret = *fret;
    sign_.harmonic = HarmonicKind::Natural;
    return read_changes();
  }

  Fault read_changes() {
    while (!cursor_.done()) {
      const std::size_t before = cursor_.at();
      if (auto fault = read_change()) return fault;
      if (cursor_.at() == before) break;
    }
    return std::nullopt;
  }

  Fault read_change() {
    const char c = cursor_.peek();
    if (c == 'b') return read_bend(BendStage::Action::Bend, 1);
    if (c == 'p' && cursor_.peek(1) == 'b') return read_bend(BendStage::Action::Prebend, 2);
    if (c == 'r') return read_bend(BendStage::Action::Release, 1);
    if (c == '~' && sign_.vibrato == Vibrato::None) {
      sign_.vibrato = cursor_.take("~~") ? Vibrato::Wide : (cursor_.take('~'), Vibrato::Narrow);
    } else if (c == 't' && cursor_.peek(1) == 'r' && !sign_.trill) {
      cursor_.skip(2);
      sign_.trill = cursor_.take_fret();
      if (!sign_.trill) return cursor_.fault("the other fret of the trill");
    } else if (c == '=' && !sign_.tremolo) {
      cursor_.skip(1);
      sign_.tremolo = true;
    } else if (c == '<' && sign_.harmonic == HarmonicKind::None && sign_.fret) {
      return read_harmonic();
    } else if (!sign_.continues && (c == '/' || c == '\\') && !is_digit(cursor_.peek(1))) {
      if (sign_.slides_to_next || sign_.slide_off != SlideOff::None) return std::nullopt;
      cursor_.skip(1);
      if (c == '/') {
        sign_.slides_to_next = true;
      } else {
        sign_.slide_off = SlideOff::Down;
      }
    }
    return std::nullopt;
  }

  Fault read_bend(BendStage::Action action, std::size_t letters) {
    if (action == BendStage::Action::Prebend && !sign_.bends.empty()) return std::nullopt;
    cursor_.skip(letters);
    const auto fret = cursor_.take_number();
    if (!fret || *fret > base::Fraction(kHighestFret + 12)) {
      return cursor_.fault(action == BendStage::Action::Release ? "the fret it is let down to"
                                                                : "the fret it is bent to sound as");
    }
    sign_.bends.push_back({action, *fret});
    return std::nullopt;
  }

  /// "7<>", "12<24>", "12<t24>".
  Fault read_harmonic() {
    cursor_.skip(1);
    if (cursor_.take('>')) {
      sign_.harmonic = HarmonicKind::Pinched;
      return std::nullopt;
    }
    sign_.harmonic = cursor_.take('t') ? HarmonicKind::Tapped : HarmonicKind::Artificial;
    sign_.touch = cursor_.take_fret();
    if (!sign_.touch) return cursor_.fault("the fret that is touched, or > for a pinched harmonic");
    if (!cursor_.take('>')) return cursor_.fault("the > that closes the harmonic");
    return std::nullopt;
  }

  /// "57" and "1012" are no frets: with blanks between them they are two, "5 7" and "10 12".
  std::string frets_apart() const {
    const std::string_view digits = cursor_.rest();
    const bool all_digits = digits.find_first_not_of("0123456789") == std::string_view::npos;
    if (cursor_.at() > 0 || !all_digits || digits.size() < 2 || digits.size() > kMostRunTogether) return {};
    const std::size_t each = digits.size() == 2 || digits.size() % 2 > 0 ? 1 : 2;
    std::string apart;
    for (std::size_t at = 0; at < digits.size(); at += each) {
      const std::string_view fret = digits.substr(at, each);
      const bool two_figures = each == 2 && (fret[0] == '1' || fret[0] == '2');
      if (each == 2 && !two_figures) return single_digits(digits);
      apart += (apart.empty() ? "" : " ") + std::string(fret);
    }
    return apart;
  }

  static std::string single_digits(std::string_view digits) {
    std::string apart;
    for (const char c : digits) apart += (apart.empty() ? "" : " ") + std::string(1, c);
    return apart;
  }

  /// "5h7" holds two notes: "5 h7" is what it may mean.
  std::string two_notes() const {
    const std::string_view rest = cursor_.rest();
    const bool joined = cursor_.at() > 0 && rest.size() > 1 &&
                        std::string_view("hp/\\t").find(rest[0]) != std::string_view::npos && is_digit(rest[1]) &&
                        is_digit(cursor_.all()[cursor_.at() - 1]);
    if (!joined) return {};
    return std::string(cursor_.all().substr(0, cursor_.at())) + " " + std::string(rest);
  }

  SignCursor cursor_;
  StringSign sign_;
};

}  // namespace

SignResult parse_string_sign(std::string_view cell) {
  return StringSignReader(cell).read();
}

}  // namespace tunesheaf::song
