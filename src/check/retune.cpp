// Strings tuned otherwise within the song. The form is walked as played: a tuning holds until the next `retune`, across
// sections. A bar has one pitch for each fret, so all ways that lead to it must bring it in one tuning; a section that
// is reached in two must say its own at its beginning.
#include <algorithm>

#include "context.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;
using theory::Tuning;

/// What one cell asks for.
struct Turn {
  const song::Cell* cell = nullptr;
  int bar = 0;
  Fraction onset{};
  std::optional<Tuning> all;
  std::vector<std::pair<int, theory::Pitch>> some;  ///< strings by the player's numbers
  std::set<int> strings, up;                        ///< turned here, and turned up, on some way
  int ways = 0;                                     ///< how often it is come to
  bool idle_at_first = false;                       ///< nothing is turned when it is come to first
};

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> out(1);
  for (const char c : text) {
    if (c != ' ' && c != ',') {
      out.back() += c;
    } else if (!out.back().empty()) {
      out.emplace_back();
    }
  }
  if (out.back().empty()) out.pop_back();
  return out;
}

/// A course moves as one.
void set_string(Tuning& tuning, int number, theory::Pitch pitch) {
  theory::TunedString& string = tuning.strings[tuning.strings.size() - static_cast<std::size_t>(number)];
  const int up = pitch.midi() - string.midi();
  for (theory::Pitch& one : string.course)
    one = &one == &string.course.front() ? pitch : theory::plain_spelling(one.midi() + up);
  tuning.name.clear();
}

class TurnReader {
 public:
  TurnReader(Context& context, const CheckedPart& part) : context_(context), part_(part) {}

  std::optional<Turn> read(const PlacedCell& from) {
    Turn turn;
    turn.cell = from.cell;
    turn.bar = from.bar;
    turn.onset = from.onset;
    const auto* word = std::get_if<song::WordCell>(&from.cell->content);
    if (!word) return std::nullopt;
    if (word->text == "back") {
      turn.all = part_.tuning;
      return turn;
    }
    if (word->text.find('=') == std::string::npos) return whole(turn, word->text);
    for (const std::string& one : words_of(word->text))
      if (!string(turn, one)) return std::nullopt;
    return turn;
  }

 private:
  std::optional<Turn> whole(Turn& turn, const std::string& text) {
    auto tuning = theory::parse_tuning(text, part_.instrument.name);
    if (!tuning) {
      say_tuning_fault(context_, turn.cell->span, tuning.error());
      return std::nullopt;
    }
    if (tuning->count() != part_.strings()) {
      say(turn, Kind::BadTuning,
          diag::quoted(text) + " has " + std::to_string(tuning->count()) + " strings, and the part " +
              diag::quoted(part_.def->name.value) + " has " + std::to_string(part_.strings()),
          "strings can be tuned otherwise within a song, but not come or go",
          "name a tuning of as many strings, or the strings that are turned: 6=D2");
      return std::nullopt;
    }
    turn.all = std::move(*tuning);
    return turn;
  }

  bool string(Turn& turn, const std::string& text) {
    const std::size_t sign = text.find('=');
    const std::string digits = text.substr(0, sign);
    const std::string note = sign == std::string::npos ? std::string() : text.substr(sign + 1);
    const bool number =
        !digits.empty() && digits.size() <= 2 && digits.find_first_not_of("0123456789") == std::string::npos;
    auto pitch = theory::parse_pitch(note);
    if (!number || !pitch) {
      say(turn, Kind::BadTuning, diag::quoted(text) + " does not say how a string is tuned",
          "a string is tuned by its number and its note with the octave, as in 6=D2",
          "write 6=D2, several strings as 6=D2 1=D4, or the name of a tuning");
      return false;
    }
    const int string = static_cast<int>(base::parse_integer(digits).value_or(0));
    if (string < 1 || string > part_.strings()) {
      say(turn, Kind::NoSuchString,
          "the part " + diag::quoted(part_.def->name.value) + " has " + std::to_string(part_.strings()) +
              " strings, and this retunes string " + digits,
          "strings are counted from 1, the last in the tuning", "name a string the instrument has");
      return false;
    }
    const theory::Pitch usual = part_.usual.string(string).pitch();
    if (std::abs(pitch->midi() - usual.midi()) > 12) {
      say(turn, Kind::BadTuning,
          "string " + digits + " is to be tuned to " + theory::print(*pitch) + ", more than an octave from its usual " +
              theory::print(usual),
          "a string that far from what it was made for snaps or hangs slack", "look at the octave; C4 is middle C");
      return false;
    }
    turn.some.emplace_back(string, *pitch);
    return true;
  }

  void say(const Turn& turn, Kind kind, std::string situation, std::string rule, std::string remedy) {
    context_.say(kind, turn.cell->span, std::move(situation), std::move(rule), std::move(remedy));
  }

  Context& context_;
  const CheckedPart& part_;
};

/// One part through the whole song.
class Walk {
 public:
  Walk(Context& context, const std::vector<SectionContent>& content, std::size_t part)
      : context_(context), content_(content), index_(part), part_(context.data.parts[part]) {}

  void run() {
    if (!read() || part_.strings() == 0) return;
    states_.resize(turns_.size());
    for (std::size_t s = 0; s < turns_.size(); ++s) states_[s].resize(context_.data.sections[s].bars.size());
    Tuning now = part_.tuning;
    for (const CheckedPass& pass : context_.data.played) bar(pass.section, pass.bar, now);
    for (std::size_t s = 0; s < states_.size(); ++s) {
      if (context_.data.sections[s].in_form) continue;
      now = part_.tuning;
      for (std::size_t b = 0; b < states_[s].size(); ++b) bar(static_cast<int>(s), static_cast<int>(b), now);
    }
    for (std::size_t s = 0; s < states_.size(); ++s) keep(s);
    say_idle();
    widen_range();
  }

 private:
  bool read() {
    bool any = false;
    TurnReader reader(context_, part_);
    for (const CheckedSection& section : context_.data.sections) {
      turns_.emplace_back();
      for (const PlacedLane& lane : section.parts[index_].lanes) {
        if (lane.kind != LaneKind::Retune || part_.strings() == 0) continue;
        for (const PlacedCell& cell : lane.cells)
          if (auto turn = reader.read(cell)) turns_.back().push_back(std::move(*turn));
      }
      std::stable_sort(turns_.back().begin(), turns_.back().end(),
                       [](const Turn& a, const Turn& b) { return a.bar != b.bar ? a.bar < b.bar : a.onset < b.onset; });
      any = any || !turns_.back().empty();
    }
    return any;
  }

  void bar(int section, int bar, Tuning& now) {
    const auto s = static_cast<std::size_t>(section);
    bool met = false;
    for (Turn& turn : turns_[s]) {
      if (turn.bar != bar) continue;
      if (Fraction(0) < turn.onset && !met) {
        meet(section, bar, now);
        met = true;
      }
      apply(turn, now);
    }
    if (!met) meet(section, bar, now);
  }

  /// The tuning at the beginning of the bar, the same on every way.
  void meet(int section, int bar, const Tuning& now) {
    std::optional<Tuning>& state = states_[static_cast<std::size_t>(section)][static_cast<std::size_t>(bar)];
    if (!state) {
      state = now;
    } else if (!state->same_pitches(now)) {
      clash(section, bar, *state, now);
    }
  }

  void apply(Turn& turn, Tuning& now) {
    const Tuning before = now;
    if (turn.all) now = *turn.all;
    for (const auto& [string, pitch] : turn.some) set_string(now, string, pitch);
    ++turn.ways;
    bool idle = true;
    for (int string = 1; string <= now.count(); ++string) {
      if (now.string(string).midi() == before.string(string).midi()) continue;
      turn.strings.insert(string);
      if (before.string(string).midi() < now.string(string).midi()) turn.up.insert(string);
      idle = false;
    }
    if (turn.ways == 1) turn.idle_at_first = idle;
  }

  void clash(int section, int bar, const Tuning& first, const Tuning& second) {
    const CheckedSection& where = context_.data.sections[static_cast<std::size_t>(section)];
    if (!plays(static_cast<std::size_t>(section), bar) || !clashed_.insert(section).second) return;
    context_.say(Kind::TwoTunings, where.def->name.span,
                 "the " + diag::quoted(part_.def->name.value) + " comes to " + bar_words(bar) + " of " +
                     diag::quoted(where.def->name.value) + " in two tunings: " + theory::print(first) + ", and later " +
                     theory::print(second),
                 "a tuning holds until the next `retune`, in the order of playing; what is printed once must sound the "
                 "same each time",
                 "say the tuning in its first bar, as in `retune | back |`, or write the section out a second time");
  }

  /// A part that rests through a section, or through its body or an ending, may rest there in any tuning.
  bool plays(std::size_t section, int bar) const {
    const auto written = [&](const std::vector<Tracks>& parts) {  // cues are what others play
      const auto& tracks = parts[index_ + 1].tracks;
      return std::any_of(tracks.begin(), tracks.end(), [](const Track& t) { return t.lane->kind != LaneKind::Cue; });
    };
    const SectionContent& content = content_[section];
    const auto& endings = context_.data.sections[section].endings;
    for (std::size_t e = 0; e < content.endings.size(); ++e) {
      const int first = endings[e].first_bar;
      if (bar >= first && bar < first + endings[e].bar_count) return written(content.endings[e]);
    }
    return written(content.body);
  }

  void keep(std::size_t s) {
    CheckedMusic& music = context_.data.sections[s].parts[index_];
    const Tuning* now = &part_.tuning;
    std::size_t next = 0;
    music.tunings.reserve(turns_[s].size() + states_[s].size());
    for (std::size_t b = 0; b < states_[s].size(); ++b) {
      const auto& state = states_[s][b];
      const bool said =
          next < turns_[s].size() && turns_[s][next].bar == static_cast<int>(b) && turns_[s][next].onset == Fraction(0);
      if (state && !said && !state->same_pitches(*now)) {
        music.tunings.push_back({static_cast<int>(b), Fraction(0), *state, nullptr, {}, {}, true});
        now = &music.tunings.back().tuning;
      }
      for (; next < turns_[s].size() && turns_[s][next].bar == static_cast<int>(b); ++next) {
        const Turn& turn = turns_[s][next];
        TunedFrom from{turn.bar,
                       turn.onset,
                       *now,
                       turn.cell,
                       {turn.strings.rbegin(), turn.strings.rend()},
                       {turn.up.rbegin(), turn.up.rend()},
                       !turn.idle_at_first};
        if (said && turn.onset == Fraction(0) && state) from.tuning = *state;
        if (turn.all) from.tuning = *turn.all;
        for (const auto& [string, pitch] : turn.some) set_string(from.tuning, string, pitch);
        music.tunings.push_back(std::move(from));
        now = &music.tunings.back().tuning;
      }
    }
  }

  void say_idle() {
    std::set<const song::Cell*> busy;  // a section that is like another has the cells of that one
    for (const auto& turns : turns_)
      for (const Turn& turn : turns)
        if (!turn.strings.empty()) busy.insert(turn.cell);
    for (const auto& turns : turns_)
      for (const Turn& turn : turns)
        if (turn.ways > 0 && busy.insert(turn.cell).second)
          context_.say(Kind::ChangesNothing, turn.cell->span,
                       context_.words(turn.cell->span) + " turns no string: the " +
                           diag::quoted(part_.def->name.value) + " is tuned so already",
                       "`retune` stands where the player turns a peg", "take it away, or look at the note");
  }

  /// Strings that go lower or higher within the song move the instrument's range with them.
  void widen_range() {
    int low = 0, high = 0;
    for (const CheckedSection& section : context_.data.sections)
      for (const TunedFrom& from : section.parts[index_].tunings)
        for (int string = 1; string <= part_.strings(); ++string) {
          const int up = from.tuning.string(string).midi() - part_.tuning.string(string).midi();
          if (string == part_.strings()) low = std::min(low, up);
          if (string == 1) high = std::max(high, up);
        }
    part_.instrument.lowest += low;
    part_.instrument.highest = std::min(127, part_.instrument.highest + high);
  }

  Context& context_;
  const std::vector<SectionContent>& content_;
  std::size_t index_;
  CheckedPart& part_;
  std::vector<std::vector<Turn>> turns_;                    ///< by section
  std::vector<std::vector<std::optional<Tuning>>> states_;  ///< by section and bar: as the bar begins
  std::set<int> clashed_;
};

}  // namespace

const theory::Tuning& CheckedMusic::tuning_at(const CheckedPart& part, int bar, Fraction onset) const {
  const TunedFrom* found = nullptr;
  for (const TunedFrom& tuned : tunings)
    if (std::pair(tuned.bar, tuned.onset) <= std::pair(bar, onset)) found = &tuned;
  return found ? found->tuning : part.tuning;
}

void check_retunes(Context& context, const std::vector<SectionContent>& content) {
  for (std::size_t p = 0; p < context.data.parts.size(); ++p) Walk(context, content, p).run();
}

}  // namespace tunesheaf::check
