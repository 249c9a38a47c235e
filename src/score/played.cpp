// The song as it goes by: bars in the order of playing, with their places in time.
#include <algorithm>
#include <cmath>

#include "builder.h"
#include "tunesheaf/score/clock.h"

namespace tunesheaf::score {
namespace {

/// Where nothing states a tempo, and no two places in a recording imply one: a walking pace.
constexpr double kPlainWholesPerMinute = 100.0 / 4.0;

/// How far a rit. slows down where nothing says it: to seven tenths, and an accel. as far the other way.
constexpr double kSlowest = 0.7;

struct TempoChange {
  Place at;
  song::TempoMark tempo;
  std::optional<Place> until{};  ///< of a stretch that slows or quickens
};

std::vector<TempoChange> changes_of(const Section& section) {
  std::vector<TempoChange> out;
  const auto look = [&](const std::vector<Word>& words) {
    for (const Word& word : words)
      if (word.kind == WordKind::Tempo && word.tempo) out.push_back({word.at, *word.tempo});
  };
  look(section.words);
  for (const PartMusic& music : section.parts) look(music.words);
  for (const PartMusic& music : section.parts) {
    for (const Mark& mark : music.marks) {
      if (mark.kind != "ritardando" && mark.kind != "accelerando") continue;
      const auto same = [&](const TempoChange& c) { return c.at == mark.from && c.tempo.words == mark.kind; };
      if (std::any_of(out.begin(), out.end(), same)) continue;
      song::TempoMark tempo;
      tempo.words = mark.kind;
      out.push_back({mark.from, tempo, mark.to});
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const TempoChange& a, const TempoChange& b) { return a.at < b.at; });
  return out;
}

class Player {
 public:
  explicit Player(Builder& builder) : builder_(builder), out_(builder.out) {
    for (const Section& section : out_.sections) changes_.push_back(changes_of(section));
    base_ = kPlainWholesPerMinute;
    if (!out_.implied_tempos.empty())
      base_ = out_.implied_tempos.front().second * theory::written_duration(out_.meter.tempo_unit()).to_double();
    if (out_.tempo && Fraction(0) < out_.tempo->per_minute) base_ = wholes_per_minute(*out_.tempo, out_.meter);
  }

  void play() {
    int step = -1, pass = 0;
    for (const check::CheckedPass& from : builder_.song.played) {
      const int index = builder_.printed[static_cast<std::size_t>(from.section)];
      const Section& section = out_.sections[static_cast<std::size_t>(index)];
      if (from.step != step || from.pass != pass) {
        step = from.step;
        pass = from.pass;
        begin(section);
      }
      bar(section, index, from);
    }
    out_.seconds = seconds_;
  }

 private:
  void begin(const Section& section) {
    section_rate_ = base_;
    if (section.tempo && Fraction(0) < section.tempo->per_minute && !section.bars.empty())
      section_rate_ = wholes_per_minute(*section.tempo, section.bars.front().meter);
    rate_ = section_rate_;
    slope_left_ = Fraction(0);
  }

  void bar(const Section& section, int index, const check::CheckedPass& from) {
    const Bar& bar = section.bars[static_cast<std::size_t>(from.bar)];
    PlayedBar played;
    played.section = index;
    played.bar = from.bar;
    played.pass = from.pass;
    played.step = from.step;
    played.rate = rate_;
    // A pick-up overlays the end of what was played before it, where that is long enough.
    if (bar.pick_up && bar.length <= cursor_ && !laid_.empty()) {
      overlay(played, bar.length);
    } else {
      played.start = cursor_;
      played.seconds = seconds_;
      cursor_ += bar.length;
      seconds_ += duration(played, bar, index, from.bar);
      laid_.push_back(out_.played.size());
    }
    if (!bar.pick_up) ++number_;
    played.number = number_;
    out_.played.push_back(std::move(played));
  }

  /// The same beats at the same moments: a pick-up keeps the time of the bars it lies over, which may be several.
  void overlay(PlayedBar& played, Fraction length) {
    played.start = cursor_ - length;
    auto under = laid_.rbegin();
    while (played.start < out_.played[*under].start) ++under;
    const PlayedBar& first = out_.played[*under];
    const TempoPiece begins = tempo_within(first, played.start - first.start);
    played.seconds = first.seconds + begins.seconds;
    played.rate = begins.rate;
    if (begins.per_whole != 0) played.pieces.push_back({Fraction(0), 0, begins.rate, begins.per_whole});
    for (auto at = under.base() - 1; at != laid_.end(); ++at) {
      const PlayedBar& bar = out_.played[*at];
      const auto piece = [&](const TempoPiece& from) {
        const Fraction place = bar.start + from.from - played.start;
        if (!(Fraction(0) < place)) return;
        played.pieces.push_back({place, bar.seconds + from.seconds - played.seconds, from.rate, from.per_whole});
      };
      if (bar.pieces.empty() || Fraction(0) < bar.pieces.front().from) piece({Fraction(0), 0, bar.rate, 0});
      for (const TempoPiece& from : bar.pieces) piece(from);
    }
  }

  /// Seconds from here over some music, on a slope where a rit. or accel. is under way.
  double pass_by(Fraction length) {
    const double wholes = length.to_double();
    if (!(Fraction(0) < slope_left_)) return wholes * 60.0 / rate_;
    const Fraction sloping = base::min(length, slope_left_);
    const double before = rate_, x = sloping.to_double();
    rate_ += slope_ * x;
    slope_left_ -= sloping;
    const double sloped = x * 60.0 * std::log(rate_ / before) / (rate_ - before);
    return sloped + (wholes - x) * 60.0 / rate_;
  }

  void change(const TempoChange& change, const Bar& bar, int section) {
    slope_left_ = Fraction(0);
    const std::string& words = change.tempo.words;
    const auto begins = [&](const char* word) { return words.rfind(word, 0) == 0; };
    if (Fraction(0) < change.tempo.per_minute) {
      rate_ = wholes_per_minute(change.tempo, bar.meter);
    } else if (begins("a tempo") || begins("tempo I")) {
      rate_ = section_rate_;
    } else if (begins("rit") || begins("rall")) {
      slope_to(change, section, kSlowest);
    } else if (begins("accel") || begins("string")) {
      slope_to(change, section, 1.0 / kSlowest);
    }
  }

  /// The tempo moves evenly to the end of its stretch; of a word alone, up to the next word about it, or to the
  /// section's end.
  void slope_to(const TempoChange& change, int section, double share) {
    const Place& from = change.at;
    const auto& changes = changes_[static_cast<std::size_t>(section)];
    const auto& bars = out_.sections[static_cast<std::size_t>(section)].bars;
    Place to{static_cast<int>(bars.size()), Fraction(0)};
    for (const TempoChange& other : changes)
      if (from < other.at) {
        to = other.at;
        break;
      }
    if (change.until && *change.until < to) to = *change.until;
    Fraction length = to.onset - from.onset;
    for (int b = from.bar; b < to.bar; ++b) length += bars[static_cast<std::size_t>(b)].length;
    slope_left_ = length;
    if (Fraction(0) < length) slope_ = rate_ * (share - 1.0) / length.to_double();
  }

  double duration(PlayedBar& played, const Bar& bar, int section, int index) {
    double seconds = 0;
    Fraction at;
    const auto piece = [&] {
      const bool slopes = Fraction(0) < slope_left_;
      played.pieces.push_back({at, seconds, rate_, slopes ? slope_ : 0.0});
    };
    if (Fraction(0) < slope_left_) piece();
    for (const TempoChange& other : changes_[static_cast<std::size_t>(section)]) {
      if (other.at.bar != index) continue;
      if (played.pieces.empty() && Fraction(0) < other.at.onset) piece();
      seconds += pass_by(other.at.onset - at);
      at = other.at.onset;
      change(other, bar, section);
      piece();
    }
    return seconds + pass_by(bar.length - at);
  }

  Builder& builder_;
  Timeline& out_;
  std::vector<std::vector<TempoChange>> changes_;
  double base_ = kPlainWholesPerMinute, section_rate_ = base_, rate_ = base_;
  double slope_ = 0;  ///< change of the rate in a whole note while slope_left_ lasts
  Fraction slope_left_;
  Fraction cursor_;
  std::vector<std::size_t> laid_;  ///< indices of the bars played so far, without pick-ups that lie over others
  double seconds_ = 0;
  int number_ = 0;
};

/// What the fretting hand has to do with shapes in one bar.
struct HandInBar {
  std::vector<int> begins{};  ///< shapes that begin here
  bool elsewhere = false;     ///< frets are played here, and no shape is in force: the hand has left the last one
};

std::vector<HandInBar> hand_by_bar(const CheckedSection& section, const CheckedMusic& music) {
  using song::LaneKind;
  std::vector<HandInBar> out(section.bars.size());
  for (const check::InForce& shape : music.shapes)
    if (shape.index >= 0) out[static_cast<std::size_t>(shape.bar)].begins.push_back(shape.index);
  for (const PlacedLane& lane : music.lanes) {
    if (lane.kind != LaneKind::String && lane.kind != LaneKind::Thumb && lane.kind != LaneKind::FretOf) continue;
    for (const PlacedCell& cell : lane.cells)
      if (std::holds_alternative<song::StringSign>(cell.cell->content) && music.shape_at(cell.bar, cell.onset) < 0)
        out[static_cast<std::size_t>(cell.bar)].elsewhere = true;
  }
  return out;
}

}  // namespace

double wholes_per_minute(const song::TempoMark& tempo, const theory::Meter& meter) {
  const Fraction unit = tempo.unit_stated ? tempo.unit : theory::written_duration(meter.tempo_unit());
  return (tempo.per_minute * unit).to_double();
}

void build_played(Builder& builder) {
  for (const auto& [recording, tempo] : builder.song.implied_tempos)
    builder.out.implied_tempos.push_back(
        {builder.out.recordings[static_cast<std::size_t>(recording)].name.value, tempo});
  Player(builder).play();
}

void build_moves(Builder& builder) {
  std::map<std::pair<int, int>, std::size_t> known;
  auto& moves = builder.out.moves;
  for (std::size_t p = 0; p < builder.song.parts.size(); ++p) {
    const CheckedPart& part = builder.song.parts[p];
    if (part.strings() == 0) continue;
    std::vector<std::vector<HandInBar>> hands;
    for (const CheckedSection& section : builder.song.sections) hands.push_back(hand_by_bar(section, section.parts[p]));
    const theory::Neck neck{part.scale_length_mm > 0 ? static_cast<double>(part.scale_length_mm) : 650.0,
                            part.capo.full() ? part.capo.fret : 0, part.frets};
    int last = -1;
    for (const check::CheckedPass& pass : builder.song.played) {
      const HandInBar& hand = hands[static_cast<std::size_t>(pass.section)][static_cast<std::size_t>(pass.bar)];
      if (hand.elsewhere) last = -1;
      for (const int shape : hand.begins) {
        if (shape == last) continue;
        if (last >= 0) {
          const auto [at, fresh] = known.try_emplace({last, shape}, moves.size());
          if (fresh) {
            const auto move = theory::move_between(builder.song.shapes[static_cast<std::size_t>(last)].shape,
                                                   builder.song.shapes[static_cast<std::size_t>(shape)].shape, neck);
            moves.push_back({last, shape, 0, move.value_or(theory::Move{})});
          }
          ++moves[at->second].count;
        }
        last = shape;
      }
    }
  }
}

}  // namespace tunesheaf::score
