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
  for (const song::PartDef& part : context.song.parts)
    if (part.transposes)
      context.say(Kind::NotPrinted, part.transposes->span,
                  "the part " + diag::quoted(part.name.value) + " is printed at the page's pitch, not transposed",
                  "`transposes` is kept, and the handout does not show it yet",
                  "write the part's notes as the page has them; the player transposes");
}

}  // namespace tunesheaf::check
