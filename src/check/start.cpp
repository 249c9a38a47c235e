// Who counts in and who starts, as the song states it.
#include <algorithm>

#include "context.h"

namespace tunesheaf::check {
namespace {

/// A name that is no part's; a song without parts may name whom it likes.
bool unknown_part(Context& context, const song::Text& name, const std::string& rule) {
  if (context.data.parts.empty() || part_named(context, name.value)) return false;
  std::vector<std::string> names;
  for (const CheckedPart& part : context.data.parts) names.push_back(part.def->name.value);
  context.say(Kind::UnknownName, name.span, "there is no part called " + diag::quoted(name.value), rule,
              nearest_remedy(name.value, names, "parts"));
  return true;
}

/// For each part whether it sounds up to the end of the first whole bar that is played.
std::vector<bool> sound_at_first(const Context& context) {
  std::vector<bool> out(context.data.parts.size(), false);
  for (const CheckedPass& pass : context.data.played) {
    const CheckedSection& section = context.data.sections[static_cast<std::size_t>(pass.section)];
    const auto bar = static_cast<std::size_t>(pass.bar);
    for (std::size_t p = 0; p < out.size() && p < section.parts.size(); ++p)
      out[p] = out[p] || sounding_bars(section, context.data.parts[p], section.parts[p])[bar];
    if (!section.bars[bar].pick_up) break;
  }
  return out;
}

}  // namespace

void check_start(Context& context) {
  const song::Song& song = context.song;
  if (song.counts_in && song.counts_in->value != song::kNobody)
    unknown_part(context, *song.counts_in,
                 "`counts in` names the part whose player counts, or " + diag::quoted(song::kNobody));
  std::vector<bool> starts(context.data.parts.size(), false);
  bool known = !song.starts.empty() && !context.data.parts.empty();
  for (const song::Text& name : song.starts) {
    if (unknown_part(context, name, "`starts` names the parts that play from the first bar on")) known = false;
    if (const auto part = part_named(context, name.value)) starts[static_cast<std::size_t>(*part)] = true;
  }
  if (!known || !context.wrong_sums.empty() || context.data.played.empty()) return;
  const std::vector<bool> sounds = sound_at_first(context);
  for (const song::Text& name : song.starts) {
    const auto part = static_cast<std::size_t>(*part_named(context, name.value));
    if (!sounds[part])
      context.say(Kind::ClaimDiffers, name.span,
                  diag::quoted(name.value) + " is said to start, and rests in the first bar",
                  "who starts plays in the first bar of the song", "write its first bar, or take the name away");
  }
  for (std::size_t p = 0; p < starts.size(); ++p) {
    if (starts[p] || !sounds[p]) continue;
    const std::string& name = context.data.parts[p].def->name.value;
    context.say(Kind::ClaimDiffers, song.starts.front().span,
                diag::quoted(name) + " plays in the first bar, and is not among those who start",
                "who starts plays in the first bar of the song", "name it too, or let it rest there");
  }
}

}  // namespace tunesheaf::check
