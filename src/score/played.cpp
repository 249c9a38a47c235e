// The song as it goes by: bars in the order of playing, with their places in time.
#include <algorithm>

#include "builder.h"

namespace tunesheaf::score {
namespace {

/// Where nothing states a tempo, and no two places in a recording imply one: a walking pace.
constexpr double kPlainWholesPerMinute = 100.0 / 4.0;

struct TempoChange {
  Place at;
  song::TempoMark tempo;
};

std::vector<TempoChange> changes_of(const Section& section) {
  std::vector<TempoChange> out;
  const auto look = [&](const std::vector<Word>& words) {
    for (const Word& word : words)
      if (word.kind == WordKind::Tempo && word.tempo) out.push_back({word.at, *word.tempo});
  };
  look(section.words);
  for (const PartMusic& music : section.parts) look(music.words);
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
  }

  void bar(const Section& section, int index, const check::CheckedPass& from) {
    const Bar& bar = section.bars[static_cast<std::size_t>(from.bar)];
    PlayedBar played;
    played.section = index;
    played.bar = from.bar;
    played.pass = from.pass;
    played.step = from.step;
    const bool overlays = bar.pick_up && !out_.played.empty();
    if (overlays) {
      // A pick-up overlays the end of the bar before.
      played.start = cursor_ - bar.length;
      played.seconds = seconds_ - bar.length.to_double() * 60.0 / rate_;
    } else {
      played.start = cursor_;
      played.seconds = seconds_;
      cursor_ += bar.length;
      seconds_ += duration(bar, index, from.bar);
    }
    if (!bar.pick_up) ++number_;
    played.number = number_;
    out_.played.push_back(played);
  }

  double duration(const Bar& bar, int section, int index) {
    double seconds = 0;
    Fraction at;
    for (const TempoChange& change : changes_[static_cast<std::size_t>(section)]) {
      if (change.at.bar != index) continue;
      seconds += (change.at.onset - at).to_double() * 60.0 / rate_;
      at = change.at.onset;
      if (Fraction(0) < change.tempo.per_minute) {
        rate_ = wholes_per_minute(change.tempo, bar.meter);
      } else if (change.tempo.words.rfind("a tempo", 0) == 0 || change.tempo.words.rfind("tempo I", 0) == 0) {
        rate_ = section_rate_;
      }
    }
    return seconds + (bar.length - at).to_double() * 60.0 / rate_;
  }

  Builder& builder_;
  Timeline& out_;
  std::vector<std::vector<TempoChange>> changes_;
  double base_ = kPlainWholesPerMinute, section_rate_ = base_, rate_ = base_;
  Fraction cursor_;
  double seconds_ = 0;
  int number_ = 0;
};

/// Shapes that begin in each bar of each part of a section.
using ShapesByBar = std::vector<std::vector<int>>;

ShapesByBar shapes_by_bar(const CheckedSection& section, const CheckedMusic& music) {
  ShapesByBar out(section.bars.size());
  for (const check::InForce& shape : music.shapes)
    if (shape.index >= 0) out[static_cast<std::size_t>(shape.bar)].push_back(shape.index);
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
    std::vector<ShapesByBar> shapes;
    for (const CheckedSection& section : builder.song.sections)
      shapes.push_back(shapes_by_bar(section, section.parts[p]));
    const theory::Neck neck{part.scale_length_mm > 0 ? static_cast<double>(part.scale_length_mm) : 650.0,
                            part.capo.full() ? part.capo.fret : 0, part.frets};
    int last = -1;
    for (const check::CheckedPass& pass : builder.song.played)
      for (const int shape : shapes[static_cast<std::size_t>(pass.section)][static_cast<std::size_t>(pass.bar)]) {
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

}  // namespace tunesheaf::score
