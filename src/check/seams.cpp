// What goes on over the beginning of a section: a tie, a pull-off or a bend that needs a note before it, judged on
// every pass through the form.
#include <algorithm>
#include <map>

#include "context.h"

namespace tunesheaf::check {
namespace {

using song::Arrival;
using song::StringSign;

struct Edge {
  const PlacedCell* first = nullptr;  ///< the string's first cell of the stretch
  const PlacedCell* last = nullptr;   ///< and its last
};

/// Lanes of pitches stand beside the strings under numbers of their own.
int pitch_lane(song::LaneKind kind) {
  using song::LaneKind;
  return kind == LaneKind::Notes ? -1 : kind == LaneKind::Right ? -2 : kind == LaneKind::Left ? -3 : 0;
}

/// First and last cell on every string of one stretch (the body or one ending) of one part.
std::map<int, Edge> edges(const CheckedMusic& music, const CheckedSection& section, int ending) {
  std::map<int, Edge> out;
  for (const PlacedLane& lane : music.lanes) {
    const int pitches = pitch_lane(lane.kind);
    if (!on_strings(lane.kind) && pitches == 0) continue;
    for (const PlacedCell& cell : lane.cells) {
      if (section.bars[static_cast<std::size_t>(cell.bar)].ending != ending) continue;
      Edge& edge = out[pitches != 0 ? pitches : cell.string];
      const auto at = [](const PlacedCell& c) { return std::pair(c.bar, c.onset); };
      if (!edge.first || at(cell) < at(*edge.first)) edge.first = &cell;
      if (!edge.last || at(*edge.last) <= at(cell)) edge.last = &cell;
    }
  }
  return out;
}

/// The fret that sounds at the end of a stretch, if it is known.
std::optional<int> fret_of(const Context& context, const CheckedMusic& music, const PlacedCell& cell) {
  if (const auto* sign = std::get_if<StringSign>(&cell.cell->content)) return sign->fret;
  if (!std::holds_alternative<song::PluckSign>(cell.cell->content)) return std::nullopt;
  const int index = music.shape_at(cell.bar, cell.onset);
  if (index < 0) return std::nullopt;
  const theory::Shape& shape = context.data.shapes[static_cast<std::size_t>(index)].shape;
  if (cell.string < 1 || cell.string > shape.count()) return std::nullopt;
  return shape.frets[shape.place_of(cell.string)];
}

bool needs_before(const StringSign& sign) {
  return sign.tied || sign.continues || (sign.arrival == Arrival::PullOff && sign.grace.empty());
}

using Stretch = std::pair<int, int>;  // section, ending

class Seams {
 public:
  explicit Seams(Context& context) : context_(context) {}

  void run() {
    const auto& played = context_.data.played;
    std::map<std::pair<Stretch, Stretch>, bool> done;
    Stretch before{-1, -1};
    for (std::size_t i = 0; i < played.size(); ++i) {
      const CheckedSection& section = context_.data.sections[static_cast<std::size_t>(played[i].section)];
      const int ending = section.bars[static_cast<std::size_t>(played[i].bar)].ending;
      const Stretch now{played[i].section, ending};
      const int first = ending < 0 ? 0 : section.endings[static_cast<std::size_t>(ending)].first_bar;
      if (played[i].bar == first) {
        if (!done[{before, now}]) seam(before, now);
        done[{before, now}] = true;
      }
      before = now;
    }
  }

 private:
  const std::map<int, Edge>& edges_of(Stretch stretch, std::size_t part) {
    const auto [at, fresh] = edges_.try_emplace({stretch, part});
    if (fresh) {
      const CheckedSection& section = context_.data.sections[static_cast<std::size_t>(stretch.first)];
      at->second = edges(section.parts[part], section, stretch.second);
    }
    return at->second;
  }

  void seam(Stretch before, Stretch now) {
    const CheckedSection& section = context_.data.sections[static_cast<std::size_t>(now.first)];
    for (std::size_t p = 0; p < section.parts.size(); ++p)
      for (const auto& [string, edge] : edges_of(now, p)) {
        const auto* sign = std::get_if<StringSign>(&edge.first->cell->content);
        if (sign && needs_before(*sign)) judge(before, now, p, string, *edge.first, *sign);
        const auto* pitches = std::get_if<song::PitchSign>(&edge.first->cell->content);
        if (pitches && pitches->tied) judge_pitches(before, now, p, string, *edge.first, *pitches);
      }
  }

  void judge(Stretch before, Stretch now, std::size_t part, int string, const PlacedCell& cell,
             const StringSign& sign) {
    const std::string what = sign.tied ? "tie" : sign.continues ? "sign" : "pull-off";
    const PlacedCell* last = nullptr;
    const CheckedMusic* music = nullptr;
    if (before.first >= 0) {
      music = &context_.data.sections[static_cast<std::size_t>(before.first)].parts[part];
      const auto& ends = edges_of(before, part);
      if (const auto at = ends.find(string); at != ends.end()) last = at->second.last;
    }
    const bool sounds = last && !std::holds_alternative<song::SilenceCell>(last->cell->content);
    const std::string& name = context_.data.sections[static_cast<std::size_t>(now.first)].def->name.value;
    const std::string when =
        before.first < 0
            ? "where the song opens with it"
            : "when it comes after " +
                  diag::quoted(context_.data.sections[static_cast<std::size_t>(before.first)].def->name.value);
    if (!sounds) {
      context_.say(Kind::NothingBefore, cell.cell->span,
                   "the " + what + " at the beginning of " + diag::quoted(name) + " has nothing before it on string " +
                       std::to_string(string) + " " + when,
                   "what goes on over the beginning of a section must do so each time the form reaches it",
                   "strike the note here, or let the string sound at the end of what comes before");
      return;
    }
    // From the body into its own ending strings.cpp has compared the frets.
    if (before.first == now.first && before.second < 0 && now.second >= 0) return;
    const auto fret = fret_of(context_, *music, *last);
    if (sign.tied && fret && sign.fret && *fret != *sign.fret)
      context_.say_both(Kind::TieDiffers, cell.cell->span, "fret " + std::to_string(*sign.fret), last->cell->span,
                        "fret " + std::to_string(*fret),
                        "the tie into " + diag::quoted(name) + " goes from fret " + std::to_string(*fret) +
                            " to fret " + std::to_string(*sign.fret),
                        "a tie holds one and the same note, each time the form reaches it",
                        "strike the new note, or write the same fret");
  }

  void judge_pitches(Stretch before, Stretch now, std::size_t part, int lane, const PlacedCell& cell,
                     const song::PitchSign& sign) {
    if (before.first == now.first && before.second < 0 && now.second >= 0) return;
    const std::string& name = context_.data.sections[static_cast<std::size_t>(now.first)].def->name.value;
    const song::PitchSign* last = nullptr;
    Span span{};
    if (before.first >= 0) {
      const auto& ends = edges_of(before, part);
      if (const auto at = ends.find(lane); at != ends.end()) {
        last = std::get_if<song::PitchSign>(&at->second.last->cell->content);
        span = at->second.last->cell->span;
      }
    }
    if (!last) {
      context_.say(Kind::NothingBefore, cell.cell->span,
                   "the tie at the beginning of " + diag::quoted(name) + " has nothing before it " +
                       (before.first < 0 ? "where the song opens with it"
                                         : "when it comes after " + diag::quoted(section_name(before))),
                   "what goes on over the beginning of a section must do so each time the form reaches it",
                   "strike the note here, or let it sound at the end of what comes before");
      return;
    }
    for (const theory::Pitch& pitch : sign.pitches) {
      const bool same = std::any_of(last->pitches.begin(), last->pitches.end(),
                                    [&](const theory::Pitch& p) { return p.midi() == pitch.midi(); });
      if (same) continue;
      context_.say_both(Kind::TieDiffers, cell.cell->span, "held", span, "from here",
                        "the tie into " + diag::quoted(name) + " goes to " + theory::print(pitch) +
                            ", which does not sound before it",
                        "a tie holds one and the same note, each time the form reaches it",
                        "strike the new note, or write the same pitch");
      return;
    }
  }

  const std::string& section_name(Stretch stretch) const {
    return context_.data.sections[static_cast<std::size_t>(stretch.first)].def->name.value;
  }

  Context& context_;
  std::map<std::pair<Stretch, std::size_t>, std::map<int, Edge>> edges_;
};

}  // namespace

void check_seams(Context& context) {
  Seams(context).run();
}

}  // namespace tunesheaf::check
