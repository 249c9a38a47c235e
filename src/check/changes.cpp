// What is written and changes nothing on the page: named, so that nobody waits for it.
#include <algorithm>

#include "context.h"

namespace tunesheaf::check {
namespace {

using theory::Family;

void say_shapes(Context& context) {
  for (const song::ShapeDef& shape : context.song.shapes)
    if (shape.instead_of && shape.from != song::Authority::Lesson)
      context.say(Kind::ChangesNothing, shape.instead_of->span,
                  "the shape " + diag::quoted(shape.name.value) +
                      " stands in for something and is said to be the "
                      "recording's own",
                  "`instead of` names what the recording has where the lesson has something else",
                  "add `from: lesson` to the shape, or take `instead of` away");
}

/// The first sign of a kind that is heard or meant and leaves no mark on the page, and how many there are.
struct Unmarked {
  const PlacedCell* first = nullptr;
  int count = 0;
  void add(const PlacedCell& cell) {
    if (count++ == 0) first = &cell;
  }
};

void say_unmarked(Context& context, const Unmarked& found, const std::string& what, const std::string& remedy) {
  if (found.count == 0) return;
  const std::string more =
      found.count > 1 ? ", here and in " + std::to_string(found.count - 1) + " more" : std::string();
  context.say(Kind::NotPrinted, found.first->cell->span,
              what + " " + context.words(found.first->cell->span) + " is not marked on the page" + more,
              "the rhythm is printed, and this is not", remedy);
}

bool marked_hit(const song::DrumSign& hit) {
  return hit.ghost || hit.accents.any() || hit.grace > 0 || hit.roll > 0;
}

void say_signs(Context& context) {
  Unmarked ghosts, hits;
  const auto look = [&](const CheckedSection& section, const CheckedMusic& music) {
    for (const PlacedLane& lane : music.lanes)
      for (const PlacedCell& cell : lane.cells) {
        const auto* strum = std::get_if<song::StrumSign>(&cell.cell->content);
        const auto* hit = std::get_if<song::DrumSign>(&cell.cell->content);
        if (strum && strum->ghost) ghosts.add(cell);
        if (hit && &music == &section.chart && lane.kind == song::LaneKind::Hits && marked_hit(*hit)) hits.add(cell);
      }
  };
  for (const CheckedSection& section : context.data.sections) {
    if (!section.in_form) continue;
    // Beside parts no hit is printed at all, and that is said of the lane.
    const bool played =
        std::any_of(section.parts.begin(), section.parts.end(), [](const auto& part) { return part.plays; });
    if (!played) look(section, section.chart);
    for (const CheckedMusic& music : section.parts) look(section, music);
  }
  say_unmarked(context, ghosts, "the soft stroke", "it is heard softer; say it in a `say` lane where it matters");
  say_unmarked(context, hits, "the manner of the hit", "say it in a `say` lane where it matters");
}

}  // namespace

void say_changes_nothing(Context& context) {
  say_shapes(context);
  say_signs(context);
}

}  // namespace tunesheaf::check
