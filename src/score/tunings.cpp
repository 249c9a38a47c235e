// Strings tuned otherwise within the song: where, and in which words the player is told.
#include <algorithm>
#include <set>

#include "builder.h"
#include "tunesheaf/base/lists.h"

namespace tunesheaf::score {
namespace {

std::string note_of(const theory::Tuning& tuning, int string) {
  return theory::print(tuning.string(string).pitch().name, theory::Accidentals::Signs);
}

/// "retune string 6 to D and string 1 to D"
std::string instruction(const check::TunedFrom& from) {
  std::vector<std::string> turns;
  for (const int string : from.strings)
    turns.push_back("string " + std::to_string(string) + " to " + note_of(from.tuning, string));
  const std::string text = "retune " + base::list_words(turns);
  return from.always ? text : "coming back, " + text;
}

}  // namespace

std::string tuned_words(const theory::Tuning& tuning, const theory::Tuning& own) {
  if (tuning.count() != own.count()) return {};
  std::vector<std::string> words;
  for (int string = own.count(); string >= 1; --string)
    if (tuning.string(string).midi() != own.string(string).midi())
      words.push_back("string " + std::to_string(string) + " in " + note_of(tuning, string));
  return base::list_words(words);
}

void build_retunes(const CheckedMusic& from, PartMusic& out) {
  for (const check::TunedFrom& tuned : from.tunings) {
    const Place at{tuned.bar, tuned.onset};
    out.tunings.push_back({at, tuned.tuning, tuned.strings, tuned.up});
    if (tuned.strings.empty()) continue;
    Word word;
    word.kind = WordKind::Retune;
    word.at = at;
    word.text = instruction(tuned);
    word.origin = tuned.cell->span;
    const auto behind = std::upper_bound(out.words.begin(), out.words.end(), at,
                                         [](const Place& place, const Word& other) { return place < other.at; });
    out.words.insert(behind, std::move(word));
  }
}

RetunesWithin retunes_within(const Timeline& timeline, int part) {
  RetunesWithin out;
  std::set<int> up;
  const Part& of = timeline.parts[static_cast<std::size_t>(part)];
  for (std::size_t s = 0; s < timeline.sections.size(); ++s) {
    for (const TunedFrom& from : timeline.sections[s].parts[static_cast<std::size_t>(part)].tunings) {
      up.insert(from.up.begin(), from.up.end());
      const std::string words = tuned_words(from.tuning, of.tuning);
      if (words.empty()) continue;
      auto known =
          std::find_if(out.tunings.begin(), out.tunings.end(), [&](const auto& t) { return t.first == words; });
      if (known == out.tunings.end()) known = out.tunings.insert(known, {words, {}});
      std::vector<int>& sections = known->second;
      if (sections.empty() || sections.back() != static_cast<int>(s)) sections.push_back(static_cast<int>(s));
    }
  }
  out.up.assign(up.rbegin(), up.rend());
  return out;
}

const theory::Tuning& tuning_at(const Part& part, const PartMusic& music, Place at) {
  const TunedFrom* found = nullptr;
  for (const TunedFrom& from : music.tunings)
    if (from.at <= at) found = &from;
  return found ? found->tuning : part.tuning;
}

}  // namespace tunesheaf::score
