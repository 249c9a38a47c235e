#include "tunesheaf/theory/shape.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "separators.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::theory {
namespace {

constexpr int kHighestFret = 36;

struct Word {
  std::string text;
  std::size_t at;
};

/// Words between blanks; a text that is one word of several signs is taken sign by sign.
std::vector<Word> words(std::string_view text) {
  std::vector<Word> out;
  for (std::size_t i = 0; i < text.size();) {
    if (separates(text[i])) {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < text.size() && !separates(text[end])) ++end;
    out.push_back({std::string(text.substr(i, end - i)), i});
    i = end;
  }
  if (out.size() == 1 && out[0].text.size() > 1) {
    const Word whole = out[0];
    out.clear();
    for (std::size_t i = 0; i < whole.text.size(); ++i) out.push_back({whole.text.substr(i, 1), whole.at + i});
  }
  return out;
}

ShapeError error_of(ShapeFault fault) {
  ShapeError error;
  error.fault = fault;
  return error;
}

int neck_fret(const Capo& capo, int fret) {
  return capo.full() ? fret + capo.fret : fret;
}

std::optional<ShapeError> check_fret(const TunedString& string, const Capo& capo, int number, int fret, int limit) {
  ShapeError error;
  error.string = number;
  error.fret = fret;
  const int on_neck = neck_fret(capo, fret);
  if (limit > 0 && on_neck > limit) {
    error.fault = ShapeFault::FretBeyondNeck;
    error.want = capo.full() ? limit - capo.fret : limit;
    return error;
  }
  if (fret > 0 && string.start_fret > 0 && on_neck <= string.start_fret) {
    error.fault = ShapeFault::FretBelowStart;
    error.want = string.start_fret;
    return error;
  }
  if (fret > 0 && !capo.full() && capo.holds(number) && fret <= capo.fret) {
    error.fault = ShapeFault::FretUnderCapo;
    error.want = capo.fret;
    return error;
  }
  return std::nullopt;
}

/// First and last list place of a finger, and its fret; nothing when it is not down.
struct Stand {
  std::size_t first, last;
  int fret;
};
std::optional<Stand> stand(const Shape& shape, Finger finger) {
  std::optional<Stand> out;
  for (std::size_t i = 0; i < shape.fingers.size() && i < shape.frets.size(); ++i) {
    if (shape.fingers[i] != finger || shape.frets[i].value_or(0) == 0) continue;
    if (!out) out = Stand{i, i, *shape.frets[i]};
    out->last = i;
  }
  return out;
}

void check_fingers(const Shape& shape, std::vector<ShapeError>& out) {
  for (std::size_t i = 0; i < shape.fingers.size(); ++i) {
    if (shape.fingers[i] == Finger::None || shape.frets[i].value_or(0) > 0) continue;
    ShapeError error = error_of(ShapeFault::FingerOnNothing);
    error.string = shape.number_of(i);
    error.finger = shape.fingers[i];
    out.push_back(error);
  }
  for (const Finger finger : kFingers) {
    const std::optional<Stand> at = stand(shape, finger);
    if (!at) continue;
    bool two_frets = false;
    for (std::size_t i = at->first; i <= at->last; ++i) {
      const bool own = shape.fingers[i] == finger;
      const int fret = shape.frets[i].value_or(at->fret);
      ShapeError error;
      error.finger = finger;
      error.string = shape.number_of(i);
      error.fret = at->fret;
      error.other_fret = fret;
      if (own && fret > 0 && fret != at->fret && !two_frets) {
        error.fault = ShapeFault::FingerOnTwoFrets;
        two_frets = true;
        out.push_back(error);
      } else if (!own && fret < at->fret && !two_frets) {
        error.fault = ShapeFault::BarreStopsOpen;
        out.push_back(error);
      }
    }
  }
  for (std::size_t a = 0; a < 4; ++a) {
    for (std::size_t b = a + 1; b < 4; ++b) {
      const std::optional<Stand> low = stand(shape, kFingers[a]);
      const std::optional<Stand> high = stand(shape, kFingers[b]);
      if (!low || !high || high->fret >= low->fret) continue;
      ShapeError error = error_of(ShapeFault::FingersCross);
      error.finger = kFingers[b];
      error.fret = high->fret;
      error.other_fret = low->fret;
      error.string = shape.number_of(high->first);
      out.push_back(error);
    }
  }
}

}  // namespace

char finger_sign(Finger finger) {
  return ".1234T"[static_cast<std::size_t>(finger)];
}

int Shape::lowest_fret() const {
  int out = 0;
  for (const std::optional<int>& fret : frets) {
    if (fret.value_or(0) > 0 && (out == 0 || *fret < out)) out = *fret;
  }
  return out;
}

int Shape::highest_fret() const {
  int out = 0;
  for (const std::optional<int>& fret : frets) out = std::max(out, fret.value_or(0));
  return out;
}

base::Result<std::vector<std::optional<int>>, ShapeError> parse_frets(std::string_view text) {
  std::vector<std::optional<int>> out;
  for (const Word& word : words(text)) {
    if (word.text == "x" || word.text == "X") {
      out.emplace_back(std::nullopt);
      continue;
    }
    const std::optional<std::int64_t> fret = base::parse_integer(word.text);
    const bool digits = word.text.find_first_not_of("0123456789") == std::string::npos;
    if (!fret || !digits || *fret > kHighestFret) {
      ShapeError error = error_of(ShapeFault::BadFret);
      error.at = word.at;
      error.word = word.text;
      return error;
    }
    out.emplace_back(static_cast<int>(*fret));
  }
  if (out.empty()) return error_of(ShapeFault::Empty);
  return out;
}

base::Result<std::vector<Finger>, ShapeError> parse_fingers(std::string_view text) {
  std::vector<Finger> out;
  for (const Word& word : words(text)) {
    const char c = word.text.size() == 1 ? word.text[0] : '?';
    if (c == '.' || c == '-' || c == '0' || c == 'x' || c == 'X') {
      out.push_back(Finger::None);
    } else if (c >= '1' && c <= '4') {
      out.push_back(kFingers[static_cast<std::size_t>(c - '1')]);
    } else if (c == 'T' || c == 't') {
      out.push_back(Finger::Thumb);
    } else {
      ShapeError error = error_of(ShapeFault::BadFinger);
      error.at = word.at;
      error.word = word.text;
      return error;
    }
  }
  if (out.empty()) return error_of(ShapeFault::Empty);
  return out;
}

std::string print_frets(const Shape& shape) {
  const bool wide = shape.highest_fret() > 9;
  std::string out;
  for (const std::optional<int>& fret : shape.frets) {
    if (wide && !out.empty()) out += ' ';
    out += fret ? std::to_string(*fret) : "x";
  }
  return out;
}

std::string print_fingers(const Shape& shape) {
  std::string out;
  for (const Finger finger : shape.fingers) out += finger_sign(finger);
  return out;
}

std::vector<ShapeError> check_shape(const Shape& shape, const Tuning& tuning, const Capo& capo, int frets_on_neck) {
  std::vector<ShapeError> out;
  if (shape.frets.empty()) return {error_of(ShapeFault::Empty)};
  if (shape.count() != tuning.count()) {
    ShapeError error = error_of(ShapeFault::WrongStringCount);
    error.got = shape.count();
    error.want = tuning.count();
    out.push_back(error);
  }
  if (!shape.fingers.empty() && shape.fingers.size() != shape.frets.size()) {
    ShapeError error = error_of(ShapeFault::WrongFingerCount);
    error.got = static_cast<int>(shape.fingers.size());
    error.want = shape.count();
    out.push_back(error);
  }
  if (!out.empty()) return out;
  bool sounds = false;
  for (std::size_t i = 0; i < shape.frets.size(); ++i) {
    if (!shape.frets[i]) continue;
    sounds = true;
    const int number = shape.number_of(i);
    if (auto error = check_fret(tuning.string(number), capo, number, *shape.frets[i], frets_on_neck)) {
      out.push_back(*error);
    }
  }
  if (!sounds) out.push_back(error_of(ShapeFault::NothingSounds));
  if (!shape.fingers.empty()) check_fingers(shape, out);
  return out;
}

std::vector<SoundingString> sounding(const Tuning& tuning, const Capo& capo, const Shape& shape) {
  std::vector<SoundingString> out;
  for (std::size_t i = 0; i < shape.frets.size(); ++i) {
    if (!shape.frets[i]) continue;
    SoundingString string;
    string.string = shape.number_of(i);
    string.fret = *shape.frets[i];
    const int first = sounding_midi(tuning, capo, string.string, string.fret);
    const TunedString& tuned = tuning.string(string.string);
    for (const Pitch pitch : tuned.course) string.midi.push_back(first + pitch.midi() - tuned.midi());
    out.push_back(std::move(string));
  }
  return out;
}

std::vector<int> sounding_midi(const Tuning& tuning, const Capo& capo, const Shape& shape) {
  std::vector<int> out;
  for (const SoundingString& string : sounding(tuning, capo, shape)) {
    out.insert(out.end(), string.midi.begin(), string.midi.end());
  }
  return out;
}

std::vector<Barre> barres(const Shape& shape) {
  std::vector<Barre> out;
  for (const Finger finger : kFingers) {
    const std::optional<Stand> at = stand(shape, finger);
    if (!at || at->first == at->last) continue;
    out.push_back({finger, at->fret, shape.number_of(at->first), shape.number_of(at->last)});
  }
  return out;
}

double fret_place_mm(double scale_length_mm, double fret) {
  return scale_length_mm * (1.0 - std::exp2(-fret / 12.0));
}

double stretch_mm(double scale_length_mm, int from_fret, int to_fret) {
  return std::abs(fret_place_mm(scale_length_mm, to_fret) - fret_place_mm(scale_length_mm, from_fret));
}

}  // namespace tunesheaf::theory
