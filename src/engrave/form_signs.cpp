// Signs of the form at the ends of a section. In: the Timeline's form and its bars as played. Out: segno, coda, fine
// and jumps, a jump with the time at which it is taken where the section's end is passed at others too.
#include <algorithm>
#include <set>

#include "tunesheaf/engrave/system.h"

namespace tunesheaf::engrave {
namespace {

using song::FormWord;

std::string words_of(const song::FormEntry& entry) {
  const std::string until = entry.until == song::Until::Coda   ? " al Coda"
                            : entry.until == song::Until::Fine ? " al Fine"
                                                               : "";
  switch (entry.word) {
    case FormWord::ToCoda:
      return "To Coda";
    case FormWord::Fine:
      return "Fine";
    case FormWord::DalSegno:
      return "D.S." + until;
    case FormWord::DaCapo:
      return "D.C." + until;
    case FormWord::Fade:
      return "fade out";
    default:
      return "";
  }
}

/// A step of the form as it is played: how often in a row.
struct Visit {
  int step = 0, section = 0, times = 1;
  int ending = 0;  ///< that its last pass takes; 0 where it has none
};

std::vector<Visit> visits_of(const score::Timeline& timeline) {
  std::vector<Visit> out;
  int pass = 0, bar = 0;
  for (const score::PlayedBar& played : timeline.played) {
    const bool back = played.pass < pass || (played.pass == pass && played.bar < bar);
    if (out.empty() || played.step != out.back().step || back) {
      out.push_back({played.step, played.section, 1});
    } else if (played.pass != pass) {
      ++out.back().times;
    }
    const score::Section& section = timeline.sections[static_cast<std::size_t>(played.section)];
    const std::vector<int>& ending = section.bars[static_cast<std::size_t>(played.bar)].ending;
    if (!ending.empty()) out.back().ending = ending.back();
    pass = played.pass;
    bar = played.bar;
  }
  return out;
}

/// What a section without its repeats ends with, where all of them that the jump comes to have that ending: the last.
std::string ending_words(const std::vector<Visit>& visits, std::size_t first) {
  std::set<int> taken;
  for (std::size_t i = first; i < visits.size() && (i == first || visits[i].step > visits[i - 1].step); ++i) {
    if (visits[i].ending > 1 && visits[i].times == 1) taken.insert(visits[i].ending);
  }
  if (taken.size() != 1) return {};
  const int last = *taken.begin();
  return ", " + std::to_string(last) + (last == 2 ? "nd" : last == 3 ? "rd" : "th") + " ending";
}

/// Whether the jump before `first` plays once what was repeated before it; what is new there has its own repeats.
bool without_repeats(const std::vector<Visit>& visits, std::size_t first) {
  bool once = false;
  for (std::size_t i = first; i < visits.size() && (i == first || visits[i].step > visits[i - 1].step); ++i) {
    int before = 0;
    for (std::size_t j = 0; j < first; ++j) {
      if (visits[j].section == visits[i].section) before = std::max(before, visits[j].times);
    }
    if (before > 1 && visits[i].times > 1) return false;
    once = once || before > 1;
  }
  return once;
}

/// Which time leaves by a jump at the end of a section that is passed more than once.
std::string leaving_time(const score::Section& section, std::size_t visits) {
  if (!section.until.empty()) return "last time: ";
  if (section.bars.empty() || !section.bars.back().ending.empty()) return {};
  if (section.times > 2) return "after \u00d7" + std::to_string(section.times) + ": ";
  if (section.times == 2) return "2nd time: ";
  return visits > 1 ? "1st time: " : "";
}

/// A jump at the end of the step `step` of the form, with all that a player must know of it.
std::string jump_words(const score::Timeline& timeline, const score::FormStep& jump, std::size_t step) {
  const std::vector<Visit> visits = visits_of(timeline);
  const auto here = [&](const Visit& v) { return v.step == static_cast<int>(step); };
  const auto count = static_cast<std::size_t>(std::count_if(visits.begin(), visits.end(), here));
  const score::Section& section = timeline.sections[static_cast<std::size_t>(timeline.form[step].section)];
  std::string out = leaving_time(section, count) + words_of(jump.entry);
  for (std::size_t i = 1; i < visits.size(); ++i) {
    if (!here(visits[i - 1]) || visits[i].step > visits[i - 1].step) continue;
    return out + (without_repeats(visits, i) ? ", no repeats" + ending_words(visits, i) : "");
  }
  return out;
}

}  // namespace

bool goes_on_with(const score::Timeline& timeline, int section, int next) {
  bool here = false;
  for (const score::FormStep& step : timeline.form) {
    if (step.entry.word == FormWord::Section) {
      if (here && step.section == next) return true;
      here = step.section == section;
    } else if (step.entry.word != FormWord::Segno) {
      here = false;
    }
  }
  return false;
}

std::vector<FormSign> form_signs(const score::Timeline& timeline, int section) {
  std::vector<FormSign> signs;
  const auto& form = timeline.form;
  const int last_bar = static_cast<int>(timeline.sections[static_cast<std::size_t>(section)].bars.size()) - 1;
  const auto add = [&](const score::FormStep& step, BarEdge edge, std::string words) {
    const FormSign sign{edge == BarEdge::Begin ? 0 : last_bar, edge, step.entry.word, std::move(words),
                        step.entry.text.span};
    const bool known = std::any_of(signs.begin(), signs.end(), [&](const FormSign& s) {
      return s.word == sign.word && s.edge == sign.edge && s.text == sign.text;
    });
    if (!known) signs.push_back(sign);
  };
  for (std::size_t i = 0; i < form.size(); ++i) {
    if (form[i].section != section) continue;
    if (form[i].entry.word == FormWord::Coda) add(form[i], BarEdge::Begin, {});  // a section of that name
    for (std::size_t j = i; j-- > 0 && form[j].entry.word != FormWord::Section;) {
      if (form[j].entry.word == FormWord::Segno || form[j].entry.word == FormWord::Coda)
        add(form[j], BarEdge::Begin, {});
    }
    for (std::size_t j = i + 1; j < form.size() && form[j].entry.word != FormWord::Section; ++j) {
      const FormWord word = form[j].entry.word;
      const bool jump = word == FormWord::DaCapo || word == FormWord::DalSegno;
      if (word == FormWord::Segno || word == FormWord::Coda) continue;
      add(form[j], BarEdge::End, jump ? jump_words(timeline, form[j], i) : words_of(form[j].entry));
    }
  }
  return signs;
}

}  // namespace tunesheaf::engrave
