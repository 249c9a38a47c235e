#include <algorithm>

#include "context.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;

/// "a,b" as its letters.
std::vector<std::string> letters_of(const std::string& text) {
  std::vector<std::string> out(1);
  for (const char c : text) {
    if (c == ',' || c == ' ') {
      if (!out.back().empty()) out.emplace_back();
    } else {
      out.back() += c;
    }
  }
  if (out.back().empty()) out.pop_back();
  return out;
}

void gather_remarks(Context& context, std::size_t index) {
  CheckedSection& section = context.data.sections[index];
  for (int at = static_cast<int>(index), steps = 0; at >= 0 && steps < 1000; ++steps) {
    const CheckedSection& source = context.data.sections[static_cast<std::size_t>(at)];
    for (const song::Remark& remark : source.def->remarks) {
      const bool replaced = std::any_of(section.remarks.begin(), section.remarks.end(),
                                        [&](const song::Remark* r) { return r->letter.value == remark.letter.value; });
      if (!replaced) section.remarks.push_back(&remark);
    }
    at = source.like;
  }
}

void check_see(Context& context, const CheckedSection& section) {
  std::set<std::string> used;
  const auto look = [&](const CheckedMusic& music) {
    for (const PlacedLane& lane : music.lanes) {
      if (lane.kind != LaneKind::See) continue;
      for (const PlacedCell& cell : lane.cells) {
        const auto* word = std::get_if<song::WordCell>(&cell.cell->content);
        if (!word) continue;
        for (const std::string& letter : letters_of(word->text)) {
          used.insert(letter);
          std::vector<std::string> known;
          for (const auto* remark : section.remarks) known.push_back(remark->letter.value);
          if (std::find(known.begin(), known.end(), letter) != known.end()) continue;
          context.say(Kind::UnknownRemark, cell.cell->span,
                      "`see` points to the remark " + diag::quoted(letter) + ", and the section " +
                          diag::quoted(section.def->name.value) + " has none of that letter",
                      "`see` holds letters of the section's `remarks`", nearest_remedy(letter, known, "remarks"));
        }
      }
    }
  };
  look(section.chart);
  for (const CheckedMusic& music : section.parts) look(music);
  for (const song::Remark& remark : section.def->remarks)
    if (used.count(remark.letter.value) == 0)
      context.say(Kind::Unused, remark.letter.span, "no bar points to the remark " + diag::quoted(remark.letter.value),
                  "a `see` lane holds the letter at the bar it speaks of", "add the letter to a `see` lane");
}

}  // namespace

void check_words(Context& context) {
  for (std::size_t i = 0; i < context.data.sections.size(); ++i) {
    gather_remarks(context, i);
    check_see(context, context.data.sections[i]);
  }
}

}  // namespace tunesheaf::check
