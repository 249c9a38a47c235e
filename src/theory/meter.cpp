#include "tunesheaf/theory/meter.h"

#include <numeric>
#include <optional>

#include "tunesheaf/base/ascii.h"

namespace tunesheaf::theory {
namespace {

using base::Fraction;
using base::is_digit;

constexpr int kMaxCount = 64;
constexpr int kMaxBeatUnits = 4;

bool is_blank(char c) {
  return c == ' ' || c == '\t';
}

/// Reads a meter from left to right; every reader leaves `at` behind what it took.
class MeterReader {
 public:
  explicit MeterReader(std::string_view text) : text_(text) {}

  base::Result<Meter, MeterError> read() {
    skip_blanks();
    if (at_ == text_.size()) return fault(MeterFault::kEmpty);
    if (text_[at_] == 'C' || text_[at_] == 'c') return read_sign();
    if (auto bad = read_figures()) return *bad;
    if (auto bad = read_grouping()) return *bad;
    skip_blanks();
    if (at_ != text_.size()) return fault(MeterFault::kTrailing);
    if (auto bad = check()) return *bad;
    return meter_;
  }

 private:
  base::Result<Meter, MeterError> read_sign() {
    ++at_;
    meter_.sign = MeterSign::kCommon;
    if (at_ < text_.size() && text_[at_] == '|') {
      ++at_;
      meter_.sign = MeterSign::kCut;
      meter_.count = meter_.unit = 2;
    }
    skip_blanks();
    if (at_ == text_.size()) return meter_;
    return fault(at_ == 1 ? MeterFault::kNotAMeter : MeterFault::kTrailing);
  }

  std::optional<MeterError> read_figures() {
    auto first = number();
    if (!first) return fault(MeterFault::kNotAMeter);
    std::vector<int> parts{*first};
    skip_blanks();
    while (take('+')) {
      auto part = number();
      if (!part) return fault(MeterFault::kNotAMeter);
      parts.push_back(*part);
      skip_blanks();
    }
    if (!take('/')) return fault(MeterFault::kNotAMeter);
    auto unit = number();
    if (!unit) return fault(MeterFault::kNotAMeter);
    meter_.count = std::accumulate(parts.begin(), parts.end(), 0);
    meter_.unit = *unit;
    if (parts.size() > 1) {
      meter_.grouping = std::move(parts);
      meter_.sign = MeterSign::kAdditive;
    }
    return std::nullopt;
  }

  std::optional<MeterError> read_grouping() {
    skip_blanks();
    if (meter_.sign == MeterSign::kAdditive || !take('(')) return std::nullopt;
    do {
      auto part = number();
      if (!part) return fault(MeterFault::kGroupingBroken);
      meter_.grouping.push_back(*part);
      skip_blanks();
    } while (take('+'));
    if (!take(')')) return fault(MeterFault::kGroupingBroken);
    return std::nullopt;
  }

  std::optional<MeterError> check() {
    if (meter_.count < 1 || meter_.count > kMaxCount) return fault(MeterFault::kBadCount);
    if (meter_.unit < 1 || meter_.unit > 64 || (meter_.unit & (meter_.unit - 1)) != 0)
      return fault(MeterFault::kBadUnit);
    if (meter_.grouping.empty()) {
      const bool irregular = meter_.unit >= 8 && meter_.count > 4 && meter_.count % 3 != 0;
      return irregular ? std::optional(fault(MeterFault::kGroupingMissing)) : std::nullopt;
    }
    for (int part : meter_.grouping) {
      if (part == 0) return fault(MeterFault::kGroupingZero);
      if (meter_.unit >= 8 && part > kMaxBeatUnits) return fault(MeterFault::kGroupingTooLong, part);
    }
    const int sum = std::accumulate(meter_.grouping.begin(), meter_.grouping.end(), 0);
    return sum == meter_.count ? std::nullopt : std::optional(fault(MeterFault::kGroupingSum));
  }

  MeterError fault(MeterFault what, int group = 0) const {
    return {what,  meter_.count, meter_.unit, std::accumulate(meter_.grouping.begin(), meter_.grouping.end(), 0),
            group, at_};
  }

  std::optional<int> number() {
    skip_blanks();
    int value = 0;
    const std::size_t begin = at_;
    for (; at_ < text_.size() && is_digit(text_[at_]); ++at_) {
      if (value < 100000) value = value * 10 + (text_[at_] - '0');
    }
    return at_ == begin ? std::nullopt : std::optional(value);
  }

  bool take(char c) {
    if (at_ >= text_.size() || text_[at_] != c) return false;
    ++at_;
    return true;
  }

  void skip_blanks() {
    while (at_ < text_.size() && is_blank(text_[at_])) ++at_;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  Meter meter_;
};

std::vector<BarSpan> spans_of(const std::vector<int>& lengths, int unit) {
  std::vector<BarSpan> out;
  int at = 0;
  for (int length : lengths) {
    out.push_back({Fraction(at, unit), Fraction(length, unit)});
    at += length;
  }
  return out;
}

std::vector<int> default_groups(int beats) {
  switch (beats) {
    case 5:
      return {3, 2};
    case 7:
      return {4, 3};
    default:
      break;
  }
  if (beats <= 3) return {beats};
  if (beats == 4) return {2, 2};
  const int size = beats % 3 == 0 ? 3 : 4;
  std::vector<int> groups(static_cast<std::size_t>(beats / size), size);
  if (beats % size != 0) groups.push_back(beats % size);
  return groups;
}

std::vector<int> beat_sizes(const Meter& meter) {
  if (meter.has_grouped_beats()) return meter.grouping;
  if (meter.is_compound()) return std::vector<int>(static_cast<std::size_t>(meter.count / 3), 3);
  return std::vector<int>(static_cast<std::size_t>(meter.count), 1);
}

/// Halvings needed to reach `onset` within a stretch of `length`; kOffGrid where none does.
int halvings(Fraction onset, Fraction length) {
  const Fraction part = onset / length;
  for (int k = 1; k <= 20; ++k) {
    if (part.den() == (std::int64_t{1} << k)) return k;
  }
  return Meter::kOffGrid;
}

}  // namespace

bool Meter::is_compound() const {
  return unit >= 8 && count > 3 && count % 3 == 0 && grouping.empty();
}

std::vector<BarSpan> Meter::beats() const {
  return spans_of(beat_sizes(*this), unit);
}

int Meter::beat_count() const {
  if (has_grouped_beats()) return static_cast<int>(grouping.size());
  return is_compound() ? count / 3 : count;
}

std::vector<int> Meter::beat_groups() const {
  if (has_grouped_beats()) return std::vector<int>(grouping.size(), 1);
  if (!grouping.empty()) return grouping;
  return default_groups(beat_count());
}

std::vector<BarSpan> Meter::beam_groups() const {
  if (has_grouped_beats() || is_compound()) return beats();
  if (!grouping.empty()) return spans_of(grouping, unit);
  if (unit == 1 || unit == 2) return spans_of(beat_sizes(*this), unit);
  if (count <= 3) return {{Fraction(0), bar_length()}};
  if (count == 4) return spans_of({2, 2}, unit);
  return spans_of(beat_sizes(*this), unit);
}

WrittenValue Meter::tempo_unit() const {
  int size = 1;
  if (is_compound()) {
    size = 3;
  } else if (has_grouped_beats()) {
    size = grouping.front();
    for (int part : grouping) {
      if (part != size) size = 1;
    }
  }
  return value_of_duration(Fraction(size, unit)).value_or(WrittenValue{});
}

int Meter::level(Fraction onset) const {
  const Fraction at = onset.modulo(bar_length());
  if (at == Fraction(0)) return 0;
  const std::vector<int> sizes = beat_sizes(*this);
  const std::vector<int> groups = beat_groups();
  std::size_t group = 0;
  int left = groups.front();
  int begin = 0;
  for (int size : sizes) {
    if (left == 0) left = groups[++group];
    const Fraction start(begin, unit);
    if (at == start) return left == groups[group] ? 1 : 2;
    const Fraction inside = at - start;
    const Fraction length(size, unit);
    if (inside < length) {
      if (size != 3) return std::min(2 + halvings(inside, length), kOffGrid);
      const Fraction third = inside.modulo(Fraction(1, unit));
      return third == Fraction(0) ? 3 : std::min(3 + halvings(third, Fraction(1, unit)), kOffGrid);
    }
    --left;
    begin += size;
  }
  return kOffGrid;
}

base::Result<Meter, MeterError> parse_meter(std::string_view text) {
  return MeterReader(text).read();
}

std::string print_meter(const Meter& meter) {
  if (meter.sign == MeterSign::kCommon) return "C";
  if (meter.sign == MeterSign::kCut) return "C|";
  std::string groups;
  for (int part : meter.grouping) groups += (groups.empty() ? "" : "+") + std::to_string(part);
  if (meter.sign == MeterSign::kAdditive) return groups + "/" + std::to_string(meter.unit);
  const std::string figures = std::to_string(meter.count) + "/" + std::to_string(meter.unit);
  return groups.empty() ? figures : figures + " (" + groups + ")";
}

}  // namespace tunesheaf::theory
