#include <algorithm>

#include "context.h"
#include "tunesheaf/base/edit_distance.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;

const Track* track_of(const Tracks& tracks, LaneKind kind) {
  for (const Track& track : tracks.tracks)
    if (track.lane->kind == kind) return &track;
  return nullptr;
}

/// A part's music in one section while shapes and patterns are laid out.
class Layer {
 public:
  Layer(Context& context, std::size_t section, std::size_t slot, const SectionContent& content)
      : context_(context),
        section_(context.data.sections[section]),
        slot_(slot),
        content_(content),
        music_(slot == 0 ? section_.chart : section_.parts[slot - 1]) {}

  void chords() {
    for_each_stretch([&](const Tracks& tracks, int first) {
      if (const Track* track = track_of(tracks, LaneKind::Chords)) place_chords(*track, first);
    });
  }

  void shapes_and_patterns() {
    if (slot_ == 0) return;
    for_each_stretch([&](const Tracks& tracks, int first) {
      if (const Track* track = track_of(tracks, LaneKind::Shape)) place_names(*track, first, music_.shapes, true);
      if (const Track* track = track_of(tracks, LaneKind::Pattern)) place_names(*track, first, patterns_, false);
    });
    const bool strums = std::any_of(music_.lanes.begin(), music_.lanes.end(),
                                    [](const PlacedLane& l) { return l.kind == LaneKind::Strum; });
    if (music_.shapes.empty() && (strums || !patterns_.empty())) shapes_from_chords();
    lay();
    music_.plays = !music_.shapes.empty() && !music_.shapes_by_chord;
    for (const PlacedLane& lane : music_.lanes)
      if (plays(lane.kind) && !lane.cells.empty()) music_.plays = true;
  }

 private:
  template <class F>
  void for_each_stretch(F&& f) {
    f(content_.body[slot_], 0);
    for (std::size_t e = 0; e < section_.endings.size(); ++e)
      f(content_.endings[e][slot_], section_.endings[e].first_bar);
  }

  void place_chords(const Track& track, int first) {
    std::vector<PlacedCell> cells;
    place_track(context_, section_, track, first, cells);
    for (const PlacedCell& cell : cells) {
      ChordAt chord{cell.bar, cell.onset, cell.cell, {}, {}, false};
      if (const auto* stated = std::get_if<song::ChordCell>(&cell.cell->content)) {
        chord.text = stated->text;
        chord.none = stated->none;
      } else {
        chord.none = true;
      }
      if (!chord.none) read_chord(chord);
      music_.chords.push_back(std::move(chord));
    }
  }

  void read_chord(ChordAt& chord) {
    auto name = theory::parse_chord(chord.text);
    if (name) {
      chord.name = *name;
      chord.none = name->is_none();
      return;
    }
    for (const auto& shape : context_.song.shapes)
      if (shape.name.value == chord.text) return;
    const std::string& understood = name.error().understood;
    context_.say(Kind::BadChord, chord.cell->span, diag::quoted(chord.text) + " is no chord name",
                 "a chord is a root from A to G, its kind, and a bass after /; N.C. is no chord",
                 understood.empty() ? "write a name such as Am7, Bbmaj7 or D/F#"
                                    : "as far as " + diag::quoted(understood) + " it is understood; mend what follows");
  }

  void place_names(const Track& track, int first, std::vector<InForce>& out, bool shapes) {
    std::vector<PlacedCell> cells;
    place_track(context_, section_, track, first, cells);
    for (const PlacedCell& cell : cells) {
      int index = -1;
      if (const auto* name = std::get_if<song::NameCell>(&cell.cell->content)) {
        const auto found = shapes ? shape_for(context_, name->name, part(), tuning_at(cell.bar, cell.onset))
                                  : pattern_named(name->name);
        if (!found) {
          say_unknown(cell, name->name, shapes);
          continue;
        }
        index = *found;
        if (shapes) {
          context_.data.shapes[static_cast<std::size_t>(index)].used = true;
          check_part(cell, index);
        } else {
          used_patterns_.insert(index);
        }
      }
      out.push_back({cell.bar, cell.onset, index, cell.cell});
    }
  }

  const theory::Tuning& tuning_at(int bar, Fraction onset) const {
    return music_.tuning_at(context_.data.parts[slot_ - 1], bar, onset);
  }

  void check_part(const PlacedCell& cell, int index) {
    const CheckedShape& shape = context_.data.shapes[static_cast<std::size_t>(index)];
    if (!shape.def->part || !part_named(context_, shape.def->part->value)) return;
    const auto& mine = context_.data.parts[slot_ - 1];
    if (shape.def->part->value == mine.def->name.value) return;
    context_.say_both(
        Kind::LaneNotForPart, cell.cell->span, "played by " + diag::quoted(mine.def->name.value), shape.def->part->span,
        "for this part",
        "the shape " + diag::quoted(shape.def->name.value) + " is for the part " + diag::quoted(shape.def->part->value),
        "`part` in a shape keeps it to one part", "take `part` away, or name another shape");
  }

  std::optional<int> pattern_named(const std::string& name) const {
    for (std::size_t i = 0; i < context_.song.patterns.size(); ++i)
      if (context_.song.patterns[i].name.value == name) return static_cast<int>(i);
    return std::nullopt;
  }

  void say_unknown(const PlacedCell& cell, const std::string& name, bool shapes) {
    const auto [at, fresh] =
        context_.misnamed.try_emplace({shapes, name}, Context::Misnamed{cell.cell->span, shapes, 0});
    if (!fresh && at->second.span != cell.cell->span) ++at->second.more;
  }

  void shapes_from_chords() {
    const auto& chords = music_.chords.empty() ? section_.chart.chords : music_.chords;
    music_.shapes_by_chord = !chords.empty();
    for (const ChordAt& chord : chords) {
      const int index = shape_of_chord(context_, chord, part(), tuning_at(chord.bar, chord.onset));
      if (index >= 0) context_.data.shapes[static_cast<std::size_t>(index)].used = true;
      music_.shapes.push_back({chord.bar, chord.onset, index, nullptr});
    }
  }

  /// Bars in which strings are written out while no pattern is named there: what is written takes its place.
  std::vector<char> written_out() const {
    std::vector<char> out(section_.bars.size(), 0);
    for (const PlacedLane& lane : music_.lanes) {
      if (lane.from_pattern || !(plays(lane.kind) || lane.kind == LaneKind::Pluck)) continue;
      for (const PlacedCell& cell : lane.cells) out[static_cast<std::size_t>(cell.bar)] = 1;
    }
    for (const InForce& named : patterns_) out[static_cast<std::size_t>(named.bar)] = 0;
    return out;
  }

  void lay() {
    if (patterns_.empty()) return;
    for (const InForce& named : patterns_) {
      const bool new_here =
          std::find(music_.patterns.begin(), music_.patterns.end(), named.index) == music_.patterns.end();
      if (named.index >= 0 && new_here) music_.patterns.push_back(named.index);
    }
    const std::vector<char> written = written_out();
    std::vector<Gathered> gathered(context_.song.patterns.size());
    std::size_t next = 0;
    int current = -1, since = 0;
    Fraction from;
    for (std::size_t b = 0; b < section_.bars.size(); ++b) {
      from = Fraction(0);
      const int bar = static_cast<int>(b);
      do {
        if (next < patterns_.size() && patterns_[next].bar == bar && patterns_[next].onset <= from) {
          current = patterns_[next].index;
          from = patterns_[next].onset;
          since = bar;
          ++next;
        }
        const bool more = next < patterns_.size() && patterns_[next].bar == bar;
        const Fraction to = more ? patterns_[next].onset : section_.bars[b].length;
        if (current >= 0 && !written[b]) {
          Gathered& pattern = gathered[static_cast<std::size_t>(current)];
          if (!pattern.ready)
            pattern = {true, gather(context_, context_.song.patterns[static_cast<std::size_t>(current)].stanzas)};
          lay_bar(current, pattern.tracks, bar, bar - since, from, to);
        }
        from = to;
        if (!more) break;
      } while (true);
    }
    std::stable_sort(music_.lanes.begin(), music_.lanes.end(),
                     [](const PlacedLane& a, const PlacedLane& b) { return a.from_pattern < b.from_pattern; });
  }

  struct Gathered {
    bool ready = false;
    Tracks tracks;
  };

  void lay_bar(int index, const Tracks& tracks, int bar, int passed, Fraction from, Fraction to) {
    if (tracks.bars == 0) return;
    const auto at = static_cast<std::size_t>(passed % tracks.bars);
    const song::PatternDef& def = context_.song.patterns[static_cast<std::size_t>(index)];
    for (const Track& track : tracks.tracks) {
      const song::LaneBar* lane_bar = track.bars[at];
      if (!lane_bar) continue;
      lay_lane(def, track, *lane_bar, bar, bar + tracks.bars - static_cast<int>(at), from, to);
    }
  }

  void lay_lane(const song::PatternDef& def, const Track& track, const song::LaneBar& lane_bar, int bar, int until_bar,
                Fraction from, Fraction to) {
    const CheckedBar& at = section_.bars[static_cast<std::size_t>(bar)];
    std::vector<theory::BarSpan> beats = at.beats;
    Fraction own = at.length;
    if (at.pick_up) {
      beats = at.meter.beats();
      own = at.meter.bar_length();
    }
    if (def.meter) {
      if (auto meter = theory::parse_meter(def.meter->value)) {
        beats = meter->beats();
        own = meter->bar_length();
      }
    }
    const auto cells = share(lane_bar, beats, own);
    if (cells.empty()) return say_sum(def, track, lane_bar, at);
    const Fraction shift = at.pick_up ? at.meter.bar_length() - at.length : Fraction(0);
    PlacedLane& lane = lane_for(def, *track.lane);
    for (Fraction start; start < to + shift; start += own)
      for (const auto& [span, cell] : cells) {
        const Fraction onset = start + span.onset - shift;
        if (onset < from || !(onset < to) || std::holds_alternative<song::HoldCell>(cell->content)) continue;
        PlacedCell placed{bar, onset, span.length, track.lane->string, cell, nullptr, until_bar};
        if (track.lane->kind == LaneKind::Thumb && track.lane->string == 0) placed.string = thumb_string(def, placed);
        check_muted(def, placed, track.lane->kind);
        lane.cells.push_back(placed);
      }
  }

  PlacedLane& lane_for(const song::PatternDef& def, const song::Lane& lane) {
    for (PlacedLane& placed : music_.lanes)
      if (placed.from_pattern && placed.kind == lane.kind && placed.string == lane.string &&
          placed.subject == lane.subject && placed.rings == def.rings)
        return placed;
    PlacedLane placed = empty_lane(lane);
    placed.from_pattern = true;
    placed.rings = def.rings;
    music_.lanes.push_back(std::move(placed));
    return music_.lanes.back();
  }

  /// The thumb begins on its first string with each shape, and goes on to the next with each stroke.
  int thumb_string(const song::PatternDef& def, const PlacedCell& cell) {
    if (std::holds_alternative<song::SilenceCell>(cell.cell->content)) return last_thumb_;
    const int change = change_at(cell.bar, cell.onset);
    if (change != thumb_change_) {
      thumb_change_ = change;
      thumb_steps_ = 0;
    }
    const int shape = music_.shape_at(cell.bar, cell.onset);
    if (shape < 0) {
      if (change < 0) say_no_thumb(def, cell);
      return 0;
    }
    const auto& strings = context_.data.shapes[static_cast<std::size_t>(shape)].thumb;
    if (strings.empty()) return 0;
    last_thumb_ = strings[static_cast<std::size_t>(thumb_steps_++) % strings.size()];
    return last_thumb_;
  }

  void say_no_thumb(const song::PatternDef& def, const PlacedCell& cell) {
    if (!context_.misnamed.empty()) return;  // the shape is there under another name
    if (!context_.muted_said.insert({&def, -1, static_cast<int>(slot_)}).second) return;
    context_.say(Kind::NoSuchString, cell.cell->span,
                 "the pattern " + diag::quoted(def.name.value) +
                     " plays with the thumb where no shape is held, so no string is known",
                 "in a pattern the thumb walks over the strings of the shape that is held",
                 "name a shape there in a `shape` lane, or give the lane its string: thumb 5");
  }

  /// Index of the last shape that begins at or before a place.
  int change_at(int bar, Fraction onset) const {
    const auto at =
        std::upper_bound(music_.shapes.begin(), music_.shapes.end(), std::pair(bar, onset),
                         [](const auto& key, const InForce& shape) { return key < std::pair(shape.bar, shape.onset); });
    return static_cast<int>(at - music_.shapes.begin()) - 1;
  }

  void check_muted(const song::PatternDef& def, const PlacedCell& cell, LaneKind kind) {
    if (kind != LaneKind::String && kind != LaneKind::Thumb) return;
    if (!std::holds_alternative<song::PluckSign>(cell.cell->content) || cell.string == 0) return;
    const int index = music_.shape_at(cell.bar, cell.onset);
    if (index < 0) return;
    const CheckedShape& shape = context_.data.shapes[static_cast<std::size_t>(index)];
    if (cell.string > shape.shape.count()) {
      if (context_.muted_said.insert({&def, index, cell.string}).second)
        context_.say(Kind::NoSuchString, cell.cell->span,
                     "the pattern " + diag::quoted(def.name.value) + " plucks string " + std::to_string(cell.string) +
                         ", and the instrument has " + std::to_string(shape.shape.count()),
                     "strings are counted from 1, the last in the tuning", "pluck a string the instrument has");
      return;
    }
    const auto place = shape.shape.place_of(cell.string);
    if (shape.shape.frets[place] || place >= shape.def->frets.size()) return;
    if (!context_.muted_said.insert({&def, index, cell.string}).second) return;
    context_.say_both(Kind::MutedString, cell.cell->span, "plucked", shape.def->frets[place].span, "not played",
                      "the pattern " + diag::quoted(def.name.value) + " plucks string " + std::to_string(cell.string) +
                          ", which the shape " + diag::quoted(shape.def->name.value) + " does not play",
                      "a pattern plucks strings that the shape under it lets sound",
                      "give the shape a fret there, or play another pattern over it");
  }

  void say_sum(const song::PatternDef& def, const Track& track, const song::LaneBar& bar, const CheckedBar& at) {
    const std::size_t got = bar.colons ? bar.beats.size() : bar.beats.front().cells.size();
    context_.wrong_sums.push_back({bar.span, def.meter ? def.meter->span : at.meter_span, track.lane->name.value,
                                   def.name.value, theory::print_meter(at.meter), static_cast<int>(got),
                                   static_cast<int>(at.beats.size()), bar.colons, false});
  }

  int part() const { return static_cast<int>(slot_) - 1; }

  Context& context_;
  CheckedSection& section_;
  std::size_t slot_;
  const SectionContent& content_;
  CheckedMusic& music_;
  std::vector<InForce> patterns_;
  std::set<int> used_patterns_;
  int thumb_change_ = -2, thumb_steps_ = 0, last_thumb_ = 0;
};

/// A name that nothing bears, at its first place: a shape that is called otherwise is one slip.
void say_misnamed(Context& context) {
  for (const auto& [key, found] : context.misnamed) {
    std::vector<std::string> known;
    if (found.shape) {
      for (const auto& shape : context.song.shapes) known.push_back(shape.name.value);
    } else {
      for (const auto& pattern : context.song.patterns) known.push_back(pattern.name.value);
    }
    std::string more;
    if (found.more > 0)
      more = ", which is named here and in " + std::to_string(found.more) +
             (found.more == 1 ? " other place" : " other places");
    context.say(Kind::UnknownName, found.span,
                std::string("there is no ") + (found.shape ? "shape" : "pattern") + " called " +
                    diag::quoted(key.second) + more,
                found.shape ? "a `shape` lane holds names that stand under `shapes`"
                            : "a `pattern` lane holds names that stand under `patterns`",
                nearest_remedy(key.second, known, found.shape ? "shapes" : "patterns"));
  }
}

}  // namespace

int CheckedMusic::shape_at(int bar, Fraction onset) const {
  int found = -1;
  const auto at =
      std::upper_bound(shapes.begin(), shapes.end(), std::pair(bar, onset), [](const auto& key, const InForce& s) {
        return key.first < s.bar || (key.first == s.bar && key.second < s.onset);
      });
  if (at != shapes.begin()) found = std::prev(at)->index;
  return found;
}

void lay_patterns(Context& context, const std::vector<SectionContent>& content) {
  for (std::size_t s = 0; s < content.size(); ++s)
    for (std::size_t slot = 0; slot <= context.data.parts.size(); ++slot) {
      Layer layer(context, s, slot, content[s]);
      layer.chords();
      layer.shapes_and_patterns();
    }
  say_misnamed(context);
  say_wrong_sums(context);
}

void check_patterns(Context& context) {
  for (const auto& pattern : context.song.patterns)
    if (pattern.meter) read_meter(context, pattern.meter->span, pattern.meter->value);
}

}  // namespace tunesheaf::check
