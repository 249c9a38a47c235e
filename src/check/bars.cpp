#include <algorithm>

#include "context.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;

/// A value of the section, or of the one it is like.
template <class T>
const std::optional<T>* inherited(const Context& context, std::size_t section,
                                  std::optional<T> song::SectionDef::*member) {
  for (int at = static_cast<int>(section), steps = 0; at >= 0 && steps < 1000; ++steps) {
    const CheckedSection& s = context.data.sections[static_cast<std::size_t>(at)];
    if (s.def->*member) return &(s.def->*member);
    at = s.like;
  }
  return nullptr;
}

std::string count_words(int count, const char* one, const char* many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string content_name(const Context& context, std::size_t slot) {
  return slot == 0 ? "chart" : context.data.parts[slot - 1].def->name.value;
}

/// How many bars a section (or ending) has; says which parts disagree.
int count_bars(Context& context, const std::vector<Tracks>& parts, const std::string& where) {
  int bars = 0;
  std::size_t first = 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].bars == 0) continue;
    if (bars == 0) {
      bars = parts[i].bars;
      first = i;
      continue;
    }
    if (parts[i].bars == bars) continue;
    context.say_both(Kind::PartsUnequal, parts[i].span, count_words(parts[i].bars, "bar", "bars"), parts[first].span,
                     count_words(bars, "bar", "bars"),
                     "in " + where + " the part " + diag::quoted(content_name(context, i)) + " has " +
                         count_words(parts[i].bars, "bar", "bars") + ", and " +
                         diag::quoted(content_name(context, first)) + " has " + std::to_string(bars),
                     "all parts of a section run through the same bars; a part that rests throughout is left out",
                     "count again where one of them lacks a bar");
  }
  return bars;
}

std::optional<Fraction> pick_up_length(const std::string& text, const theory::Meter& meter) {
  const std::size_t blank = text.find(' ');
  const std::string amount = text.substr(0, blank);
  std::optional<Fraction> number;
  if (const std::size_t slash = amount.find('/'); slash != std::string::npos) {
    const auto above = base::parse_integer(std::string_view(amount).substr(0, slash));
    const auto below = base::parse_integer(std::string_view(amount).substr(slash + 1));
    if (above && below && *below > 0 && *below <= 1024 && *above > 0 && *above < 1024)
      number = Fraction(*above, *below);
  } else if (const auto whole = base::parse_integer(amount); whole && *whole > 0 && *whole < 100) {
    number = Fraction(*whole);
  }
  const std::string unit = blank == std::string::npos ? "" : text.substr(blank + 1);
  if (unit == "beat" || unit == "beats") {
    if (!number) return std::nullopt;
    const auto beats = meter.beats();
    Fraction length;
    for (std::size_t i = beats.size(); i > 0 && Fraction(0) < *number; --i) {
      length += beats[i - 1].length * base::min(*number, Fraction(1));
      *number -= base::min(*number, Fraction(1));
    }
    return Fraction(0) < *number ? std::nullopt : std::optional(length);
  }
  if (blank == std::string::npos && amount.find('/') != std::string::npos) return number;
  if (const auto value = theory::parse_value_words(text)) return theory::written_duration(*value);
  return std::nullopt;
}

/// The beats of a bar that is shorter than its meter: the end of the full bar.
std::vector<theory::BarSpan> tail_beats(const theory::Meter& meter, Fraction length) {
  std::vector<theory::BarSpan> out;
  const Fraction cut = meter.bar_length() - length;
  for (const auto& beat : meter.beats()) {
    if (beat.end() <= cut) continue;
    const Fraction onset = base::max(beat.onset, cut);
    out.push_back({onset - cut, beat.end() - onset});
  }
  return out;
}

void make_pick_up(Context& context, CheckedSection& section, const song::Text& text) {
  if (section.bars.empty()) return;
  CheckedBar& bar = section.bars.front();
  const auto length = pick_up_length(text.value, bar.meter);
  if (!length || !(*length < bar.meter.bar_length())) {
    context.say(
        Kind::BadPickUp, text.span,
        diag::quoted(text.value) + (length ? " is no shorter than a bar" : " does not say how long the pick-up is"),
        "a pick-up is written as `1 beat`, `2 beats` or a note value such as 1/8, shorter than the bar",
        "say how much sounds before the first full bar");
    return;
  }
  bar.pick_up = true;
  bar.length = *length;
  bar.beats = tail_beats(bar.meter, *length);
}

/// First cell of a bar that says something, and whether something follows or precedes it in the bar.
const song::Cell* only_cell(const song::LaneBar& bar, bool& alone) {
  const song::Cell* found = nullptr;
  alone = true;
  bool first = true;
  for (const auto& beat : bar.beats)
    for (const auto& cell : beat.cells) {
      if (!std::holds_alternative<song::HoldCell>(cell.content)) {
        if (found || !first) alone = false;
        if (!found) found = &cell;
      }
      first = false;
    }
  return found;
}

std::string text_of(const Context& context, const song::Cell& cell) {
  if (const auto* word = std::get_if<song::WordCell>(&cell.content)) return word->text;
  return std::string(context.file.slice(cell.span));
}

class BarMaker {
 public:
  BarMaker(Context& context, std::size_t index, const SectionContent& content)
      : context_(context), section_(context.data.sections[index]), content_(content), index_(index) {
    meter_ = context.data.meter;
    key_ = context.data.key;
    if (context.song.meter) meter_span_ = context.song.meter->span;
    if (const auto* text = inherited(context, index, &song::SectionDef::meter)) {
      if (auto read = read_meter(context, (*text)->span, (*text)->value)) meter_ = *read;
      meter_span_ = (*text)->span;
    }
    if (const auto* text = inherited(context, index, &song::SectionDef::key))
      if (auto read = read_key(context, (*text)->span, (*text)->value)) key_ = *read;
  }

  void make() {
    const std::string where = "the section " + diag::quoted(section_.def->name.value);
    section_.body_bars = count_bars(context_, content_.body, where);
    add_bars(content_.body, section_.body_bars, -1);
    for (std::size_t e = 0; e < content_.endings.size(); ++e) {
      const std::string label = "ending " + content_.ending_defs[e]->label.value + " of " + where;
      const int count = count_bars(context_, content_.endings[e], label);
      section_.endings.push_back(
          {content_.ending_defs[e], content_.ending_defs[e]->passes, static_cast<int>(section_.bars.size()), count});
      add_bars(content_.endings[e], count, static_cast<int>(e));
    }
    const auto* pick_up = inherited(context_, index_, &song::SectionDef::pick_up);
    if (pick_up) {
      make_pick_up(context_, section_, **pick_up);
    } else if (context_.song.pick_up && opens_the_song()) {
      make_pick_up(context_, section_, *context_.song.pick_up);
    }
  }

 private:
  bool opens_the_song() const {
    for (const song::FormEntry& entry : context_.song.form)
      if (entry.word == song::FormWord::Section) return entry.text.value == section_.def->name.value;
    return index_ == 0;
  }

  void add_bars(const std::vector<Tracks>& parts, int count, int ending) {
    for (int b = 0; b < count; ++b) {
      const song::LaneBar* shown = nullptr;
      meter_change_ = key_change_ = nullptr;
      for (const Tracks& tracks : parts)
        for (const Track& track : tracks.tracks) {
          // A part with fewer bars than the first has been spoken of already.
          const auto at = static_cast<std::size_t>(b);
          const song::LaneBar* bar = at < track.bars.size() ? track.bars[at] : nullptr;
          if (!bar) continue;
          if (!shown) shown = bar;
          if (track.lane->kind == LaneKind::Meter) change_meter(*bar);
          if (track.lane->kind == LaneKind::Key) change_key(*bar);
        }
      CheckedBar bar;
      bar.meter = meter_;
      bar.meter_span = meter_span_;
      bar.key = key_;
      bar.length = meter_.bar_length();
      bar.beats = meter_.beats();
      bar.ending = ending;
      bar.from = section_.def->from;
      if (shown) bar.span = shown->span;
      if (unsure_) context_.unsure_meter.insert({&section_, static_cast<int>(section_.bars.size())});
      section_.bars.push_back(std::move(bar));
    }
  }

  const song::Cell* change_in(const song::LaneBar& bar, Kind kind, const char* what) {
    bool alone = true;
    const song::Cell* cell = only_cell(bar, alone);
    if (!cell) return nullptr;
    if (!alone) {
      context_.say(kind, cell->span, std::string("the ") + what + " changes inside a bar",
                   std::string("a new ") + what + " stands alone in its bar and holds from the bar's beginning",
                   "write it at the beginning of a bar");
      return nullptr;
    }
    return cell;
  }

  void change_meter(const song::LaneBar& bar) {
    if (const song::Cell* cell = change_in(bar, Kind::BadMeter, "meter"))
      if (auto read = read_meter(context_, cell->span, text_of(context_, *cell))) {
        if (meter_change_ && !(meter_ == *read)) return two_changes(Kind::BadMeter, "meters", *cell, *meter_change_);
        meter_change_ = cell;
        meter_ = *read;
        meter_span_ = cell->span;
      }
  }
  void change_key(const song::LaneBar& bar) {
    if (const song::Cell* cell = change_in(bar, Kind::BadKey, "key"))
      if (auto read = read_key(context_, cell->span, text_of(context_, *cell))) {
        if (key_change_ && !(key_ == *read)) return two_changes(Kind::BadKey, "keys", *cell, *key_change_);
        key_change_ = cell;
        key_ = *read;
      }
  }
  /// Which of them counts nobody can know: no bar is counted against it.
  void two_changes(Kind kind, const std::string& what, const song::Cell& second, const song::Cell& first) {
    context_.say_both(kind, second.span, "here", first.span, "and here",
                      "two " + what + " are stated for one bar: " + context_.words(first.span) + " and " +
                          context_.words(second.span),
                      "a change of meter or key holds for everyone", "state it once, in the chart or in one part");
    if (kind == Kind::BadMeter) unsure_ = true;
  }

  Context& context_;
  CheckedSection& section_;
  const SectionContent& content_;
  std::size_t index_;
  theory::Meter meter_;
  std::optional<theory::Key> key_;
  Span meter_span_{};
  const song::Cell *meter_change_ = nullptr, *key_change_ = nullptr;  ///< stated in the bar at hand
  bool unsure_ = false;
};

bool special(LaneKind kind) {
  return kind == LaneKind::Shape || kind == LaneKind::Pattern || kind == LaneKind::Chords || kind == LaneKind::Meter ||
         kind == LaneKind::Key;
}

PlacedLane& placed_for(CheckedMusic& music, const song::Lane& lane, bool rings) {
  for (PlacedLane& placed : music.lanes)
    if (placed.kind == lane.kind && placed.string == lane.string && placed.subject == lane.subject) return placed;
  PlacedLane placed = empty_lane(lane);
  placed.rings = rings;
  music.lanes.push_back(std::move(placed));
  return music.lanes.back();
}

void place_all(Context& context, CheckedSection& section, const Tracks& tracks, int first, CheckedMusic& music,
               bool rings) {
  music.from = tracks.stated ? tracks.from : music.from;
  for (const Track& track : tracks.tracks) {
    if (special(track.lane->kind)) continue;
    place_track(context, section, track, first, placed_for(music, *track.lane, tracks.rings.value_or(rings)).cells);
  }
}

/// The `string` lane's cells are numbers that go with the `fret` cells at the same onsets.
void join_string_and_fret(Context& context, CheckedMusic& music) {
  const auto lane_of = [&](LaneKind kind) {
    return std::find_if(music.lanes.begin(), music.lanes.end(), [&](const PlacedLane& l) { return l.kind == kind; });
  };
  const auto strings = lane_of(LaneKind::StringOf);
  const auto frets = lane_of(LaneKind::FretOf);
  if (strings == music.lanes.end() && frets == music.lanes.end()) return;
  if (strings == music.lanes.end() || frets == music.lanes.end()) {
    const auto& only = strings == music.lanes.end() ? frets : strings;
    if (!only->cells.empty())
      context.say(Kind::LaneAlone, only->cells.front().cell->span,
                  std::string("the lane ") +
                      (strings == music.lanes.end() ? "`fret` has no lane `string`" : "`string` has no lane `fret`") +
                      " beside it",
                  "a single line of notes takes two lanes: `string` says on which string, `fret` at which fret",
                  "write the other lane too");
    music.lanes.erase(only);
    return;
  }
  int string = 0;
  std::size_t next = 0;
  for (PlacedCell& cell : frets->cells) {
    const auto before = [&](const PlacedCell& c) {
      return c.bar < cell.bar || (c.bar == cell.bar && c.onset <= cell.onset);
    };
    for (; next < strings->cells.size() && before(strings->cells[next]); ++next) {
      if (const auto* number = std::get_if<song::StringNumberCell>(&strings->cells[next].cell->content))
        string = number->string;
      cell.second = strings->cells[next].cell;
    }
    cell.string = string;
    if (string == 0 && !std::holds_alternative<song::SilenceCell>(cell.cell->content))
      context.say(Kind::LaneAlone, cell.cell->span, "this fret has no string",
                  "the lane `string` holds a string's number at the first note and wherever the string changes",
                  "write the string above it");
  }
  music.lanes.erase(strings);
}

void mark_authority(Context& context, CheckedSection& section, const CheckedMusic& music) {
  for (const PlacedLane& lane : music.lanes) {
    if (lane.kind != LaneKind::From) continue;
    for (const PlacedCell& cell : lane.cells) {
      const std::string text = text_of(context, *cell.cell);
      if (text != "lesson" && text != "recording" && !std::holds_alternative<song::SilenceCell>(cell.cell->content)) {
        context.say(Kind::UnknownName, cell.cell->span, diag::quoted(text) + " is no source",
                    "`from` says who says so: recording or lesson",
                    nearest_remedy(text, {"lesson", "recording"}, "words"));
        continue;
      }
      for (auto b = static_cast<std::size_t>(cell.bar); b < section.bars.size(); ++b)
        section.bars[b].from = text == "lesson" ? song::Authority::Lesson : song::Authority::Recording;
    }
  }
}

void note_sum(Context& context, const song::LaneBar& bar, const CheckedBar& at, const song::Lane& lane) {
  std::size_t cells = 0;
  for (const auto& beat : bar.beats) cells += beat.cells.size();
  context.wrong_sums.push_back({bar.span,
                                at.meter_span,
                                lane.name.value,
                                {},
                                theory::print_meter(at.meter),
                                static_cast<int>(bar.colons ? bar.beats.size() : cells),
                                static_cast<int>(at.beats.size()),
                                bar.colons,
                                at.pick_up});
}

}  // namespace

std::vector<std::pair<theory::BarSpan, const song::Cell*>> share(const song::LaneBar& bar,
                                                                 const std::vector<theory::BarSpan>& beats,
                                                                 Fraction length) {
  std::vector<std::pair<theory::BarSpan, const song::Cell*>> out;
  const auto split = [&](Fraction onset, Fraction whole, const std::vector<song::Cell>& cells, std::size_t from,
                         std::size_t count) {
    const Fraction each = whole / Fraction(static_cast<std::int64_t>(count));
    for (std::size_t i = 0; i < count; ++i)
      out.push_back({{onset + each * Fraction(static_cast<std::int64_t>(i)), each}, &cells[from + i]});
  };
  if (bar.colons) {
    if (bar.beats.size() != beats.size()) return {};
    for (std::size_t i = 0; i < beats.size(); ++i)
      split(beats[i].onset, beats[i].length, bar.beats[i].cells, 0, bar.beats[i].cells.size());
    return out;
  }
  if (bar.beats.empty() || beats.empty()) return {};
  const auto& cells = bar.beats.front().cells;
  const std::size_t count = cells.size(), beat_count = beats.size();
  // The largest length that every beat is a multiple of: an eighth in 7/8.
  Fraction unit = beats.front().length;
  for (const auto& beat : beats)
    for (Fraction rest = beat.length; rest != Fraction(0);) {
      const Fraction next = unit.modulo(rest);
      unit = rest;
      rest = next;
    }
  const Fraction units = length / unit;
  const bool uneven = units != Fraction(static_cast<std::int64_t>(beat_count));
  if (count == 1) {
    split(0, length, cells, 0, 1);
  } else if (uneven && units.den() == 1 && count % static_cast<std::size_t>(units.num()) == 0) {
    split(0, length, cells, 0, count);
  } else if (count % beat_count == 0) {
    const std::size_t each = count / beat_count;
    for (std::size_t i = 0; i < beat_count; ++i) split(beats[i].onset, beats[i].length, cells, i * each, each);
  } else if (beat_count % count == 0) {
    const std::size_t each = beat_count / count;
    for (std::size_t i = 0; i < count; ++i)
      split(beats[i * each].onset, beats[(i + 1) * each - 1].end() - beats[i * each].onset, cells, i, 1);
  } else {
    return {};
  }
  return out;
}

void place_track(Context& context, const CheckedSection& section, const Track& track, int first,
                 std::vector<PlacedCell>& out) {
  for (std::size_t i = 0; i < track.bars.size(); ++i) {
    const song::LaneBar* bar = track.bars[i];
    const std::size_t index = static_cast<std::size_t>(first) + i;
    if (!bar || index >= section.bars.size()) continue;
    const CheckedBar& at = section.bars[index];
    const auto cells = share(*bar, at.beats, at.length);
    const bool unsure = context.unsure_meter.count({&section, static_cast<int>(index)}) > 0;
    if (cells.empty() && !unsure) note_sum(context, *bar, at, *track.lane);
    for (const auto& [span, cell] : cells) {
      if (std::holds_alternative<song::HoldCell>(cell->content)) continue;
      out.push_back({static_cast<int>(index), span.onset, span.length, track.lane->string, cell, nullptr, 0});
    }
  }
}

std::vector<Fraction> bar_starts(const CheckedSection& section) {
  std::vector<Fraction> starts;
  Fraction at;
  for (const CheckedBar& bar : section.bars) {
    starts.push_back(at);
    at += bar.length;
  }
  starts.push_back(at);
  return starts;
}

void check_bars(Context& context, const std::vector<SectionContent>& content) {
  for (std::size_t i = 0; i < content.size(); ++i) {
    CheckedSection& section = context.data.sections[i];
    BarMaker(context, i, content[i]).make();
    section.parts.resize(context.data.parts.size());
    const auto* rings = inherited(context, i, &song::SectionDef::rings);
    for (std::size_t slot = 0; slot <= context.data.parts.size(); ++slot) {
      CheckedMusic& music = slot == 0 ? section.chart : section.parts[slot - 1];
      const bool ring = rings ? (*rings)->value : slot > 0 && context.data.parts[slot - 1].rings;
      place_all(context, section, content[i].body[slot], 0, music, ring);
      for (std::size_t e = 0; e < section.endings.size(); ++e)
        place_all(context, section, content[i].endings[e][slot], section.endings[e].first_bar, music, ring);
      join_string_and_fret(context, music);
      mark_authority(context, section, music);
    }
  }
}

}  // namespace tunesheaf::check
