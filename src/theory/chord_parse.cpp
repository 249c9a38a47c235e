// A chord suffix is read left to right: quality, extension, then changes in any order, with or without brackets, then
// the bass. The spellings are those in common use on chord sheets.
#include <algorithm>
#include <array>
#include <cstdlib>
#include <utility>

#include "chord_tones.h"
#include "tunesheaf/theory/chord.h"

namespace tunesheaf::theory {
namespace {

constexpr std::size_t kLongestName = 64;  // bytes; no chord name comes near it

bool digit(char c) {
  return c >= '0' && c <= '9';
}
bool blank(char c) {
  return c == ' ' || c == '\t';
}

enum class Third : std::uint8_t { Major, Minor, None, Sus2, Sus4, Sus24 };

struct Op {
  DegreeChange change;
  int number;
  int alter;
  std::size_t at;
};

class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  base::Result<ChordName, ChordError> read();

 private:
  bool end() const { return at_ >= text_.size(); }
  std::string_view rest() const { return text_.substr(at_); }
  bool next_is(std::string_view word) const { return rest().starts_with(word); }
  bool take(std::string_view word) {
    if (!next_is(word)) return false;
    at_ += word.size();
    return true;
  }
  template <std::size_t N>
  bool take_any(const std::array<std::string_view, N>& words) {
    return std::any_of(words.begin(), words.end(), [&](std::string_view w) { return take(w); });
  }
  void skip_blanks() {
    while (!end() && blank(text_[at_])) ++at_;
  }
  char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
  ChordError fail(ChordFault fault) const { return {fault, at_, ""}; }

  bool no_chord() const;
  std::optional<ChordName> functional();
  bool quality();
  bool minor_quality();
  void major_seventh_word();
  bool extension();
  std::optional<ChordError> change();
  std::optional<ChordError> slash(bool& done);
  std::optional<ChordError> add_word();
  std::optional<ChordError> omit_word();
  bool sus_word();
  int read_number();
  std::optional<int> read_sign();
  std::optional<ChordError> finish(ChordName& out) const;
  std::optional<ChordError> other_tones();

  std::string_view text_;
  std::size_t at_ = 0;
  PitchClass root_;
  Third third_ = Third::Major;
  int fifth_ = 0;
  bool no_fifth_ = false;
  std::optional<int> seventh_;
  bool sixth_ = false;
  int extension_ = 0;  // 9, 11 or 13
  bool diminished_ = false;
  bool major_ = false;  // a seventh that follows is major
  bool other_ = false;
  std::vector<Op> ops_;
  std::vector<char> brackets_;
  std::optional<PitchClass> bass_;
};

bool Reader::no_chord() const {
  std::string plain;
  for (const char c : text_) {
    if (c == '.' || blank(c)) continue;
    plain += (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return plain == "nc" || plain == "nochord";
}

std::optional<ChordName> Reader::functional() {
  static constexpr std::array<std::pair<std::string_view, ChordKind>, 9> kWords{{{"N6", ChordKind::Neapolitan},
                                                                                 {"It+6", ChordKind::Italian},
                                                                                 {"It6", ChordKind::Italian},
                                                                                 {"Fr+6", ChordKind::French},
                                                                                 {"Fr6", ChordKind::French},
                                                                                 {"Ger+6", ChordKind::German},
                                                                                 {"Ger6", ChordKind::German},
                                                                                 {"ped", ChordKind::Pedal},
                                                                                 {"Tris", ChordKind::Tristan}}};
  for (const auto& [word, kind] : kWords) {
    if (!take(word)) continue;
    ChordName out;
    out.root = root_;
    out.kind = kind;
    return out;
  }
  return std::nullopt;
}

/// After a minor, diminished or augmented quality: the words that make a seventh major.
void Reader::major_seventh_word() {
  static constexpr std::array<std::string_view, 9> kWords{"maj", "Maj", "MAJ", "ma", "Ma", "/maj", "/ma", "/M", "M"};
  static constexpr std::array<std::string_view, 4> kTriangle{"Δ", "△", "∆", "^"};
  if (take_any(kTriangle)) {
    major_ = true;
    seventh_ = 0;
    return;
  }
  for (const std::string_view word : kWords) {
    // Without a number after it the word means something else ("m" then "add").
    if (!next_is(word) || !digit(peek(word.size()))) continue;
    at_ += word.size();
    major_ = true;
    return;
  }
}

bool Reader::minor_quality() {
  static constexpr std::array<std::string_view, 8> kWords{"minor", "Minor", "min", "Min", "mi", "Mi", "m", "−"};
  const bool minus = peek() == '-' && !(peek(1) == '5');
  if (minus) ++at_;
  if (!minus && !take_any(kWords)) return false;
  third_ = Third::Minor;
  skip_blanks();
  major_seventh_word();
  return true;
}

/// True when a quality was read; a plain major triad has none.
bool Reader::quality() {
  static constexpr std::array<std::string_view, 8> kHalf{
      "half-diminished", "halfdiminished", "halfdim", "half-dim", "hdim", "ø", "Ø", "h"};
  static constexpr std::array<std::string_view, 7> kDim{"diminished", "dim", "Dim", "°", "º", "˚", "o"};
  static constexpr std::array<std::string_view, 4> kAug{"augmented", "aug", "Aug", "+"};
  static constexpr std::array<std::string_view, 8> kMajor{"major", "Major", "maj", "Maj", "MAJ", "Ma", "ma", "M"};
  static constexpr std::array<std::string_view, 4> kTriangle{"Δ", "△", "∆", "^"};
  if (next_is("omit")) return false;
  if (take_any(kHalf)) {
    third_ = Third::Minor;
    fifth_ = -1;
    seventh_ = -1;
    take("7");
    return true;
  }
  if (take_any(kDim)) {
    third_ = Third::Minor;
    fifth_ = -1;
    diminished_ = true;
    major_seventh_word();
    return true;
  }
  const bool signed_tension = next_is("+5") || next_is("+11") || next_is("+13");
  if (!signed_tension && take_any(kAug)) {
    fifth_ = 1;
    major_seventh_word();
    return true;
  }
  if (next_is("madd")) return minor_quality();
  if (next_is("Madd")) return take("M");
  if (take_any(kTriangle)) {
    major_ = true;
    seventh_ = 0;
    return true;
  }
  if (take_any(kMajor)) {
    major_ = true;
    skip_blanks();
    return true;
  }
  return minor_quality();
}

int Reader::read_number() {
  if (!digit(peek())) return 0;
  int value = peek() - '0';
  ++at_;
  if (value == 1 && digit(peek())) {
    value = value * 10 + (peek() - '0');
    ++at_;
  }
  return value;
}

std::optional<int> Reader::read_sign() {
  static constexpr std::array<std::pair<std::string_view, int>, 9> kSigns{
      {{"b", -1}, {"♭", -1}, {"-", -1}, {"−", -1}, {"#", 1}, {"♯", 1}, {"+", 1}, {"𝄫", -2}, {"𝄪", 2}}};
  std::optional<int> alter;
  for (bool found = true; found;) {
    found = false;
    for (const auto& [sign, by] : kSigns) {
      if (!take(sign)) continue;
      alter = alter.value_or(0) + by;
      found = true;
    }
  }
  return alter;
}

/// The number right after the quality.
bool Reader::extension() {
  if (!digit(peek())) return false;
  const std::size_t before = at_;
  const int number = read_number();
  switch (number) {
    case 6:
      sixth_ = true;
      if (next_is("/9") || next_is("(9)") || next_is("9") || next_is(",9")) {
        const bool bracket = peek() == '(';
        at_ += peek() == '9' ? 1 : 2;
        if (bracket) ++at_;
        ops_.push_back({DegreeChange::Add, 9, 0, before});
      }
      return true;
    case 13:
    case 11:
    case 9:
    case 7:
      if (!seventh_) seventh_ = major_ ? 0 : (diminished_ ? -2 : -1);
      extension_ = number == 7 ? 0 : number;
      return true;
    case 5:
      if (third_ != Third::Major || major_ || fifth_ != 0) break;
      third_ = Third::None;
      return true;
    case 4:
      if (third_ == Third::Major && !major_)
        third_ = Third::Sus4;
      else
        ops_.push_back({DegreeChange::Add, 4, 0, before});
      return true;
    case 2:
      ops_.push_back({DegreeChange::Add, 2, 0, before});
      return true;
    default:
      break;
  }
  at_ = before;
  return false;
}

bool Reader::sus_word() {
  static constexpr std::array<std::string_view, 4> kWords{"suspended", "sus", "Sus", "SUS"};
  if (!take_any(kWords)) return false;
  const bool both = next_is("24") || next_is("42") || next_is("2/4") || next_is("4/2");
  if (both) {
    at_ += next_is("24") || next_is("42") ? 2 : 3;
    third_ = Third::Sus24;
  } else if (take("2")) {
    third_ = third_ == Third::Sus4 ? Third::Sus24 : Third::Sus2;
  } else {
    take("4");
    third_ = third_ == Third::Sus2 ? Third::Sus24 : Third::Sus4;
  }
  // "sus7", "sus9", "sus13": the seventh may follow.
  if (!seventh_ && (next_is("7") || next_is("9") || next_is("13"))) extension();
  return true;
}

std::optional<ChordError> Reader::add_word() {
  skip_blanks();
  const std::size_t before = at_;
  static constexpr std::array<std::string_view, 3> kMajorSeventh{"maj7", "M7", "Δ7"};
  if (take_any(kMajorSeventh)) {
    ops_.push_back({DegreeChange::Add, 7, 0, before});
    return std::nullopt;
  }
  const std::optional<int> sign = read_sign();
  const int number = read_number();
  if (number < 2 || number > 13 || number == 8 || number == 10 || number == 12) {
    at_ = before;
    return fail(ChordFault::BadDegree);
  }
  // Players mean the minor seventh by a plain "add7", and may sign it.
  const int alter = sign ? *sign : (number == 7 ? -1 : 0);
  if (std::abs(alter) > 2) return fail(ChordFault::BadDegree);
  ops_.push_back({DegreeChange::Add, number, alter, before});
  return std::nullopt;
}

std::optional<ChordError> Reader::omit_word() {
  skip_blanks();
  const std::size_t before = at_;
  int number = 0;
  if (take("root"))
    number = 1;
  else
    number = read_number();
  static constexpr std::array<std::string_view, 5> kEndings{"rd", "th", "st", "nd", "d"};
  take_any(kEndings);
  if (number < 1 || number > 13 || number == 8 || number == 10 || number == 12) {
    at_ = before;
    return fail(ChordFault::BadDegree);
  }
  ops_.push_back({DegreeChange::Omit, number, 0, before});
  return std::nullopt;
}

/// A slash: a bass note, an added degree, or (in brackets) a mere separator.
std::optional<ChordError> Reader::slash(bool& done) {
  const std::size_t before = at_;
  ++at_;
  skip_blanks();
  if (!brackets_.empty()) return std::nullopt;
  std::size_t taken = 0;
  const std::optional<PitchClass> note = read_pitch_class(rest(), taken);
  if (note) {
    bass_ = note;
    at_ += taken;
    skip_blanks();
    if (!end()) return fail(ChordFault::UnknownSuffix);
    done = true;
    return std::nullopt;
  }
  const std::size_t here = at_;
  const std::optional<int> sign = read_sign();
  const int number = read_number();
  if (number == 9 || number == 11 || number == 13 || (number >= 4 && number <= 6)) {
    const int alter = sign.value_or(0);
    ops_.push_back({alter != 0 ? DegreeChange::Alter : DegreeChange::Add, number, alter, before});
    return std::nullopt;
  }
  at_ = here;
  return fail(ChordFault::BadBass);
}

std::optional<ChordError> Reader::change() {
  static constexpr std::array<std::string_view, 3> kAdd{"add", "Add", "ADD"};
  static constexpr std::array<std::string_view, 5> kOmit{"omit", "Omit", "no ", "no", "No"};
  static constexpr std::array<std::string_view, 7> kMajor{"maj", "Maj", "MAJ", "ma", "M", "Δ", "△"};
  if (take("(") || take("[")) {
    brackets_.push_back(text_[at_ - 1]);
    return std::nullopt;
  }
  if (peek() == ')' || peek() == ']') {
    const char open = peek() == ')' ? '(' : '[';
    if (brackets_.empty() || brackets_.back() != open) return fail(ChordFault::UnknownSuffix);
    brackets_.pop_back();
    ++at_;
    return std::nullopt;
  }
  if (take(",")) return std::nullopt;
  if (take_any(kAdd)) return add_word();
  if (take_any(kOmit)) return omit_word();
  if (sus_word()) return std::nullopt;
  const std::size_t before = at_;
  if (take("alt")) {
    // "Altered" leaves the choice to the player; the commonest voicing stands for it.
    take("7");
    if (!seventh_) seventh_ = -1;
    fifth_ = 1;
    ops_.push_back({DegreeChange::Alter, 9, 1, before});
    return std::nullopt;
  }
  if (take_any(kMajor)) {
    const int number = read_number();
    if (number != 7 && number != 9 && number != 11 && number != 13) {
      at_ = before;
      return fail(ChordFault::UnknownSuffix);
    }
    seventh_ = 0;
    if (number != 7) extension_ = number;
    return std::nullopt;
  }
  if (take("aug")) {
    fifth_ = 1;
    return std::nullopt;
  }
  const std::optional<int> sign = read_sign();
  if (sign && !digit(peek())) {
    if (text_.substr(before, at_ - before) == "+") {
      fifth_ = 1;
      return std::nullopt;
    }
    at_ = before;
    return fail(ChordFault::UnknownSuffix);
  }
  const int number = read_number();
  if (number == 0) return fail(ChordFault::UnknownSuffix);
  const bool sensible = number >= 2 && number <= 13 && number != 8 && number != 10 && number != 12;
  if (!sensible || (sign && std::abs(*sign) > 2)) {
    at_ = before;
    return fail(ChordFault::BadDegree);
  }
  if (sign) {
    ops_.push_back({DegreeChange::Alter, number, *sign, before});
    return std::nullopt;
  }
  if (number == 7 && !seventh_) {
    seventh_ = major_ ? 0 : (diminished_ ? -2 : -1);
    return std::nullopt;
  }
  if (brackets_.empty()) {
    at_ = before;
    return fail(ChordFault::UnknownSuffix);
  }
  ops_.push_back({DegreeChange::Add, number, number == 7 ? -1 : 0, before});
  return std::nullopt;
}

/// "(1,b3,#4)": tones told one by one.
std::optional<ChordError> Reader::other_tones() {
  other_ = true;
  at_ += 2;
  while (take(",") || blank(peek())) {
    skip_blanks();
    const std::size_t before = at_;
    const std::optional<int> sign = read_sign();
    const int number = read_number();
    if (number < 2 || number > 13 || std::abs(sign.value_or(0)) > 2) {
      at_ = before;
      return fail(ChordFault::BadDegree);
    }
    ops_.push_back({DegreeChange::Add, number, sign.value_or(0), before});
  }
  if (!take(")")) return fail(end() ? ChordFault::UnclosedBracket : ChordFault::UnknownSuffix);
  return std::nullopt;
}

std::optional<ChordError> Reader::finish(ChordName& out) const {
  if (other_) {
    out.root = root_;
    out.kind = ChordKind::Other;
    for (const Op& op : ops_) out.degrees.push_back({DegreeChange::Add, op.number, op.alter});
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
  for (Op op : ops_) {
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

base::Result<ChordName, ChordError> Reader::read() {
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
      if (take("dom") && !digit(peek())) seventh_ = -1;
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

}  // namespace

base::Result<ChordName, ChordError> parse_chord(std::string_view text) {
  if (text.size() > kLongestName) return ChordError{ChordFault::UnknownSuffix, kLongestName, ""};
  base::Result<ChordName, ChordError> result = Reader(text).read();
  if (result) return result;
  ChordError error = result.error();
  for (std::size_t n = std::min(error.at, text.size()); n > 0; --n) {
    const base::Result<ChordName, ChordError> shorter = Reader(text.substr(0, n)).read();
    if (!shorter) continue;
    error.understood = print(*shorter);
    break;
  }
  return error;
}

}  // namespace tunesheaf::theory
