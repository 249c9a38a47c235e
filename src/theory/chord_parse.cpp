#include <algorithm>
#include <cstdlib>
#include <utility>

#include "chord_reader.h"
#include "chord_tones.h"

namespace tunesheaf::theory {
namespace {

constexpr std::size_t kLongestName = 64;  // bytes; no chord name comes near it

}  // namespace

bool ChordReader::no_chord() const {
  std::string plain;
  for (const char c : text_) {
    if (c == '.' || c == ' ' || c == '\t') continue;
    plain += (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return plain == "nc" || plain == "nochord";
}

std::optional<ChordError> ChordReader::finish(ChordName& out) const {
  if (other_) {
    out.root = root_;
    out.kind = ChordKind::Other;
    for (const ChordChange& op : ops_) out.degrees.push_back({DegreeChange::Add, op.number, op.alter});
    if (bass_ != root_) out.bass = bass_;
    return std::nullopt;
  }
  std::vector<DegreeTone> tones{{1, 0}};
  const bool sus4 = third_ == Third::Sus4 || third_ == Third::Sus24;
  if (third_ == Third::Major) tones.push_back({3, 0});
  if (third_ == Third::Minor) tones.push_back({3, -1});
  if (third_ == Third::Sus2 || third_ == Third::Sus24) tones.push_back({2, 0});
  if (sus4) tones.push_back({4, 0});
  tones.push_back({5, fifth_});
  if (sixth_) tones.push_back({6, 0});
  if (seventh_) tones.push_back({7, *seventh_});
  if (extension_ >= 9) tones.push_back({9, 0});
  // A suspended fourth is the eleventh already; over a suspended second nobody plays one.
  const bool suspended = sus4 || third_ == Third::Sus2;
  if (extension_ >= 11 && !suspended) tones.push_back({11, 0});
  if (extension_ >= 13) tones.push_back({13, 0});
  std::vector<int> replaced;
  for (ChordChange op : ops_) {
    // A raised fourth over an eleventh chord is its eleventh, raised.
    if (op.change == DegreeChange::Alter && op.number == 4 && contains_number(tones, 11)) op.number = 11;
    const bool present = contains_number(tones, op.number);
    if (op.change == DegreeChange::Omit) {
      if (!present) return ChordError{ChordFault::Contradiction, op.at, ""};
      std::erase_if(tones, [&](DegreeTone t) { return t.number == op.number; });
      continue;
    }
    const bool first = std::find(replaced.begin(), replaced.end(), op.number) == replaced.end();
    if (op.change == DegreeChange::Alter && first) {
      std::erase_if(tones, [&](DegreeTone t) { return t.number == op.number; });
      replaced.push_back(op.number);
    }
    tones.push_back({op.number, op.alter});
  }
  out = canonical(root_, std::move(tones), bass_);
  return std::nullopt;
}

base::Result<ChordName, ChordError> ChordReader::read() {
  ChordName out;
  if (no_chord()) {
    out.kind = ChordKind::None;
    return out;
  }
  skip_blanks();
  if (end()) return ChordError{ChordFault::Empty, 0, ""};
  std::size_t taken = 0;
  const std::optional<PitchClass> root = read_pitch_class(rest(), taken);
  if (!root || std::abs(root->alter) > 2) return fail(ChordFault::NoRoot);
  root_ = *root;
  at_ += taken;
  skip_blanks();
  std::optional<ChordName> kept = functional();
  if (!kept) {
    if (next_is("(1,") || next_is("(1)")) {
      if (std::optional<ChordError> error = other_tones()) return *error;
    } else {
      if (take("dom") && !is_digit(peek())) seventh_ = -1;
      quality();
      skip_blanks();
      extension();
    }
  }
  bool done = false;
  for (skip_blanks(); !end() && !done; skip_blanks()) {
    std::optional<ChordError> error;
    if (peek() == '/') {
      error = slash(done);
    } else if (kept || other_) {
      error = fail(ChordFault::UnknownSuffix);
    } else {
      error = change();
    }
    if (error) return *error;
  }
  if (!brackets_.empty()) return fail(ChordFault::UnclosedBracket);
  if (kept) {
    if (bass_ != root_) kept->bass = bass_;
    return *kept;
  }
  if (std::optional<ChordError> error = finish(out)) return *error;
  return out;
}

base::Result<ChordName, ChordError> parse_chord(std::string_view text) {
  if (text.size() > kLongestName) return ChordError{ChordFault::UnknownSuffix, kLongestName, ""};
  base::Result<ChordName, ChordError> result = ChordReader(text).read();
  if (result) return result;
  ChordError error = result.error();
  for (std::size_t n = std::min(error.at, text.size()); n > 0; --n) {
    const base::Result<ChordName, ChordError> shorter = ChordReader(text.substr(0, n)).read();
    if (!shorter) continue;
    error.understood = print(*shorter);
    break;
  }
  return error;
}

}  // namespace tunesheaf::theory
