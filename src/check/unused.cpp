// What is written and never sounds, and what is kept and not yet printed.
#include <algorithm>

#include "context.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;

std::set<std::string> patterns_named(const Context& context) {
  std::set<std::string> out;
  const auto look = [&](const std::vector<song::Stanza>& stanzas) {
    for (const auto& stanza : stanzas)
      for (const auto& lane : stanza.lanes) {
        if (lane.kind != LaneKind::Pattern) continue;
        for (const auto& bar : lane.bars)
          for (const auto& beat : bar.beats)
            for (const auto& cell : beat.cells)
              if (const auto* name = std::get_if<song::NameCell>(&cell.content)) out.insert(name->name);
      }
  };
  const auto look_all = [&](const std::vector<song::PartContent>& parts) {
    for (const auto& content : parts) {
      look(content.stanzas);
      for (const auto& exception : content.except) look(exception.stanzas);
    }
  };
  for (const auto& section : context.song.sections) {
    look_all(section.parts);
    for (const auto& ending : section.endings) look_all(ending.parts);
  }
  return out;
}

void say_lane_not_printed(Context& context, Span span, const std::string& lane, std::string rule, std::string remedy) {
  context.say(Kind::NotPrinted, span, "the lane `" + lane + "` is not printed here", std::move(rule),
              std::move(remedy));
}

/// Lanes that only some kinds of staff have room for.
void say_of_lanes(Context& context, const CheckedSection& section) {
  const bool played =
      std::any_of(section.parts.begin(), section.parts.end(), [](const CheckedMusic& part) { return part.plays; });
  const auto look = [&](const CheckedMusic& music) {
    for (const PlacedLane& lane : music.lanes) {
      if (lane.cells.empty()) continue;
      if (lane.kind == LaneKind::Hits && played)
        context.say(Kind::NotPrinted, lane.cells.front().cell->span,
                    "the lane `" + lane.name + "` is printed on the one-page chart alone",
                    "on the other sheets the parts of this section have staves of their own",
                    "write the rhythm in the parts too where it is to be read on every sheet");
    }
  };
  look(section.chart);
  for (const CheckedMusic& part : section.parts) look(part);
  for (const song::PartContent& content : section.def->parts) {
    if (played) continue;
    for (const song::Stanza& stanza : content.stanzas)
      for (const song::Lane& lane : stanza.lanes)
        if (lane.kind == LaneKind::Key)
          say_lane_not_printed(context, lane.name.span, lane.name.value,
                               "a chart has no signature, and in this section no part plays",
                               "say the new key in words, with a `say` lane");
  }
}

}  // namespace

void check_unused(Context& context) {
  for (std::size_t i = 0; i < context.song.shapes.size() && i < context.data.shapes.size(); ++i) {
    const song::ShapeDef& def = context.song.shapes[i];
    const bool used = std::any_of(context.data.shapes.begin(), context.data.shapes.end(),
                                  [&](const CheckedShape& s) { return s.def == &def && s.used; });
    if (!used)
      context.say(Kind::Unused, def.name.span, "no section plays the shape " + diag::quoted(def.name.value),
                  "a shape is played where a `shape` lane names it", "use it, or take it away");
  }
  const auto patterns = patterns_named(context);
  for (const auto& pattern : context.song.patterns)
    if (patterns.count(pattern.name.value) == 0)
      context.say(Kind::Unused, pattern.name.span, "no section plays the pattern " + diag::quoted(pattern.name.value),
                  "a pattern is played where a `pattern` lane names it", "use it, or take it away");
  for (const CheckedSection& section : context.data.sections)
    if (!section.in_form)
      context.say(Kind::Unused, section.def->name.span,
                  "the form does not name the section " + diag::quoted(section.def->name.value),
                  "only what the form names is printed and played", "add it to the form, or take it away");
}

void say_not_printed(Context& context) {
  for (const CheckedSection& section : context.data.sections)
    if (section.in_form) say_of_lanes(context, section);
}

}  // namespace tunesheaf::check
