// The form: as it is written, signs in words, and as it goes by.
#include "teller.h"

namespace tunesheaf::aloud {
namespace {

using song::FormWord;

std::string until_words(song::Until until) {
  if (until == song::Until::Coda) return ", and from \"to the coda\" go to the coda";
  if (until == song::Until::Fine) return ", and end at \"the end\"";
  return {};
}

std::string step_words(const Teller& teller, const score::FormStep& step) {
  switch (step.entry.word) {
    case FormWord::Section: {
      const score::Section& section = teller.song.sections[static_cast<std::size_t>(step.section)];
      std::string out = plain(section.name.value);
      if (!section.until.empty()) return out + ", until " + plain(section.until);
      if (section.times == 2) out += ", twice";
      if (section.times > 2) out += ", " + number_word(section.times) + " times";
      return out;
    }
    case FormWord::Segno:
      return "here stands the sign";
    case FormWord::Coda:
      return "here begins the coda";
    case FormWord::ToCoda:
      return "here stands \"to the coda\", for the way back";
    case FormWord::Fine:
      return "here stands \"the end\", for the way back";
    case FormWord::DalSegno:
      return "go back to the sign" + until_words(step.entry.until);
    case FormWord::DaCapo:
      return "go back to the beginning" + until_words(step.entry.until);
    case FormWord::Fade:
      break;
  }
  return "fade out";
}

/// Sections in the order they are heard, each with how often in a row.
std::string as_played(const Teller& teller) {
  std::vector<std::string> names;
  const auto& played = teller.song.played;
  for (std::size_t i = 0; i < played.size();) {
    int passes = 1;
    std::size_t last = i;
    while (last + 1 < played.size() && played[last + 1].step == played[i].step &&
           played[last + 1].section == played[i].section) {
      ++last;
      if (played[last].pass > played[last - 1].pass) ++passes;
    }
    std::string name = plain(teller.song.sections[static_cast<std::size_t>(played[i].section)].name.value);
    if (passes > 1) name += passes == 2 ? " twice" : " " + number_word(passes) + " times";
    names.push_back(name);
    i = last + 1;
  }
  return list_words(names);
}

}  // namespace

void tell_form(Teller& teller) {
  const score::Timeline& song = teller.song;
  if (song.form.empty()) return;
  teller.heading("Form");
  std::vector<Sentence> out;
  bool jumps = false;
  for (const score::FormStep& step : song.form) {
    out.push_back({capital(sentence(step_words(teller, step))), "", ""});
    jumps = jumps || step.entry.word == FormWord::DalSegno || step.entry.word == FormWord::DaCapo;
  }
  teller.block(BlockKind::List, std::move(out));
  if (jumps) teller.block(BlockKind::Text, {{"As it is heard: " + sentence(as_played(teller)), "", ""}});
}

}  // namespace tunesheaf::aloud
