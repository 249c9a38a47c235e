#include <algorithm>
#include <map>

#include "context.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/song/language.h"

namespace tunesheaf::check {
namespace {

using song::FormWord;
using song::Until;

std::vector<std::string> form_signs() {
  std::vector<std::string> out;
  for (const song::LanguageEntry& entry : song::language())
    if (entry.kind == song::EntryKind::FormWord) out.emplace_back(entry.word);
  return out;
}

/// A song of more bars than this, as played, is a slip of the pen.
constexpr std::size_t kMostBars = 200000;

bool times_stated(const song::SectionDef& def) {
  return def.times.span.length() > 0 && def.times.span != def.name.span;
}

std::optional<int> section_named(const Context& context, const std::string& name) {
  for (std::size_t i = 0; i < context.song.sections.size(); ++i)
    if (context.song.sections[i].name.value == name) return static_cast<int>(i);
  return std::nullopt;
}

const song::Times& times_of(const Context& context, std::size_t index) {
  for (int at = static_cast<int>(index), steps = 0; at >= 0 && steps < 1000; ++steps) {
    const CheckedSection& section = context.data.sections[static_cast<std::size_t>(at)];
    if (times_stated(*section.def) || section.like < 0) return section.def->times;
    at = section.like;
  }
  return context.song.sections[index].times;
}

/// The last time round must have an ending where other times have one, or the page leaves no way out.
void check_last_ending(Context& context, const CheckedSection& section) {
  if (section.endings.empty() || section.until || section.times < 2) return;
  const CheckedEnding* last = nullptr;
  for (const CheckedEnding& ending : section.endings) {
    for (const int pass : ending.passes) {
      if (pass >= section.times) return;
    }
    last = &ending;
  }
  const Span times = section.def->times.span.length() > 0 ? section.def->times.span : section.def->name.span;
  const std::string number = std::to_string(section.times);
  context.say_both(Kind::EndingMissing, last->def->label.span, "the last ending", times, number + " times",
                   "there is no ending for time " + number + ", the last",
                   "where a section has endings, its last time needs one: the page shows where it goes on",
                   "write the ending " + number + ", or name several times at once: `1-2`");
}

/// Each time round has one ending, where others have one.
void check_shared_endings(Context& context, const CheckedSection& section) {
  std::map<int, const CheckedEnding*> of;
  for (const CheckedEnding& ending : section.endings)
    for (const int pass : ending.passes) {
      const auto [at, fresh] = of.try_emplace(pass, &ending);
      if (!fresh)
        return context.say_both(Kind::BadEnding, ending.def->label.span, "again", at->second->def->label.span, "first",
                                "time " + std::to_string(pass) + " has two endings",
                                "each time round goes into one ending", "name each time once");
    }
  if (section.until || of.empty()) return;
  // A number beyond the times round is a fault of its own.
  for (int pass = of.begin()->first; pass < of.rbegin()->first && of.rbegin()->first <= section.times; ++pass)
    if (of.count(pass) == 0)
      return context.say(Kind::EndingMissing, of.upper_bound(pass)->second->def->label.span,
                         "there is no ending for time " + std::to_string(pass) + ", between two that have one",
                         "where a section has endings, each time round has one",
                         "write the ending " + std::to_string(pass) + ", or name several times at once: `1-2`");
}

void check_endings(Context& context, CheckedSection& section) {
  const bool own = !section.def->endings.empty();
  if (own) check_last_ending(context, section);
  if (own) check_shared_endings(context, section);
  for (const CheckedEnding& ending : section.endings) {
    if (own && section.times < 2 && !section.until) {
      context.say(Kind::BadEnding, ending.def->label.span,
                  "the section " + diag::quoted(section.def->name.value) + " has endings, and is played once",
                  "endings belong to a section that is repeated", "say how often it is played: `times: 2`");
      return;
    }
    for (const int pass : ending.passes) {
      if (pass < 1 || pass > section.times) {
        if (!own) continue;
        const Span times = section.def->times.span.length() > 0 ? section.def->times.span : section.def->name.span;
        context.say_both(Kind::BadEnding, ending.def->label.span, "pass " + std::to_string(pass), times,
                         std::to_string(section.times) + " times",
                         "there is an ending for pass " + std::to_string(pass) + ", and the section is played " +
                             std::to_string(section.times) + " times",
                         "each ending names passes that are played", "mend the ending's number, or `times`");
      }
    }
    if (own && ending.bar_count == 0)
      context.say(Kind::EmptySection, ending.def->label.span, "ending " + ending.def->label.value + " holds no bars",
                  {}, "write its bars, or take it away");
  }
}

/// Sections of the form in the order of its signs; unknown names are said.
void resolve_steps(Context& context) {
  const song::Song& song = context.song;
  auto& form = context.data.form;
  if (song.form.empty()) {
    for (std::size_t i = 0; i < song.sections.size(); ++i)
      form.push_back({{FormWord::Section, Until::None, song.sections[i].name}, static_cast<int>(i)});
  }
  for (std::size_t i = 0; i < song.form.size(); ++i) {
    const song::FormEntry& entry = song.form[i];
    const auto section = section_named(context, entry.text.value);
    if (entry.word == FormWord::Section) {
      if (!section) {
        std::vector<std::string> names;
        for (const auto& s : song.sections) names.push_back(s.name.value);
        // A sign written a little wrong is nearer to its sign than to a section.
        std::vector<std::string> all = form_signs();
        all.insert(all.end(), names.begin(), names.end());
        if (const auto near = base::nearest_word(entry.text.value, all)) names = {*near};
        context.say(Kind::UnknownName, entry.text.span,
                    "the form names " + diag::quoted(entry.text.value) + ", and there is no section of that name",
                    "the form lists sections, and signs such as segno, to coda, D.S. al coda, fine and fade",
                    nearest_remedy(entry.text.value, names, "sections"));
        continue;
      }
      form.push_back({entry, *section});
      continue;
    }
    form.push_back({entry, -1});
    const bool named_next = i + 1 < song.form.size() && song.form[i + 1].word == FormWord::Section &&
                            song.form[i + 1].text.value == entry.text.value;
    if (entry.word == FormWord::Coda && section && !named_next)
      form.push_back({{FormWord::Section, Until::None, entry.text}, *section});
  }
  for (const CheckedStep& step : form)
    if (step.section >= 0) context.data.sections[static_cast<std::size_t>(step.section)].in_form = true;
}

const CheckedStep* first_of(const CheckedData& data, FormWord word) {
  for (const CheckedStep& step : data.form)
    if (step.entry.word == word) return &step;
  return nullptr;
}

/// Signs that stand twice or behind the place that needs them.
void check_order(Context& context, std::size_t i) {
  const auto& form = context.data.form;
  const song::FormEntry& entry = form[i].entry;
  const auto say = [&](const std::string& what, const std::string& rule, const std::string& remedy) {
    context.say(Kind::BadForm, entry.text.span, what, rule, remedy);
  };
  const auto before = [&](FormWord word) {
    return std::any_of(form.begin(), form.begin() + static_cast<std::ptrdiff_t>(i),
                       [&](const CheckedStep& step) { return step.entry.word == word; });
  };
  if (entry.word == FormWord::Coda && before(FormWord::Coda))
    say("there are two codas", "`to coda` jumps to the first one, and the second is never reached", "keep one of them");
  if (entry.word == FormWord::ToCoda && before(FormWord::Coda))
    say("`to coda` stands behind the coda", "`to coda` jumps onwards, to a coda that is still to come",
        "move it before the coda");
  if (entry.word == FormWord::Fade && i + 1 < form.size())
    say("the song fades before its end", "`fade` is the end: the song fades out there",
        "move it to the end of the form, or take away what follows");
}

/// A section behind a jump that does not come back this way is never heard.
void check_reached(Context& context) {
  std::set<int> heard;
  for (const CheckedPass& pass : context.data.played) heard.insert(pass.step);
  for (std::size_t i = 0; i < context.data.form.size(); ++i) {
    const CheckedStep& step = context.data.form[i];
    if (step.section < 0 || heard.count(static_cast<int>(i)) > 0) continue;
    if (context.data.sections[static_cast<std::size_t>(step.section)].bars.empty()) continue;
    context.say(Kind::BadForm, step.entry.text.span,
                "the form never gets to " + diag::quoted(step.entry.text.value) + " here",
                "the signs lead past it, as players read them", "move it before the jump, or mend the signs");
    return;
  }
}

void check_signs(Context& context) {
  const auto has = [&](FormWord word) { return first_of(context.data, word) != nullptr; };
  const auto jumps = [&](Until until) {
    return std::any_of(context.data.form.begin(), context.data.form.end(),
                       [&](const CheckedStep& s) { return s.entry.until == until; });
  };
  for (std::size_t i = 0; i < context.data.form.size(); ++i) {
    const song::FormEntry& entry = context.data.form[i].entry;
    const auto say = [&](const std::string& what, const std::string& rule, const std::string& remedy) {
      context.say(Kind::BadForm, entry.text.span, what, rule, remedy);
    };
    if (entry.word == FormWord::ToCoda && !has(FormWord::Coda))
      say("`to coda` has no coda to go to", "`to coda` jumps to the sign `coda` in the form",
          "write coda before the last part");
    if (entry.word == FormWord::ToCoda && has(FormWord::Coda) && !jumps(Until::Coda))
      say("`to coda` is never taken", "it is taken after D.S. al coda or D.C. al coda",
          "write the jump back, or take `to coda` away");
    if (entry.word == FormWord::Coda && !has(FormWord::ToCoda))
      say("the coda is never jumped to", "`to coda` says from where the coda is reached",
          "write `to coda` where the players leave the tune");
    if (entry.word == FormWord::DalSegno) {
      bool before = false;
      for (std::size_t j = 0; j < i; ++j) before = before || context.data.form[j].entry.word == FormWord::Segno;
      if (!before)
        say(diag::quoted(entry.text.value) + " has no segno before it to go back to",
            "D.S. goes back to the sign `segno`", "write segno where the players go on, or D.C. for the beginning");
    }
    if (entry.until == Until::Coda && !has(FormWord::ToCoda))
      say(diag::quoted(entry.text.value) + " has no `to coda` on its way",
          "al coda: play on until `to coda`, then jump", "write `to coda` where the players leave the tune");
    if (entry.until == Until::Fine && !has(FormWord::Fine))
      say(diag::quoted(entry.text.value) + " has no fine to end at", "al fine: play on until `fine`",
          "write fine where the song ends");
    if (entry.word == FormWord::Segno && !has(FormWord::DalSegno))
      say("the segno is never gone back to", "D.S. goes back to the sign `segno`; without one it changes nothing",
          "write the jump back, or take `segno` away");
    check_order(context, i);
    if (entry.word == FormWord::Fine && !jumps(Until::Fine))
      say("`fine` is never obeyed", "the song ends there after D.S. al fine or D.C. al fine",
          "write the jump back, or take `fine` away");
  }
}

void play_section(CheckedData& data, int step, bool again) {
  const int index = data.form[static_cast<std::size_t>(step)].section;
  const CheckedSection& section = data.sections[static_cast<std::size_t>(index)];
  // What D.S. or D.C. brings again is played without its repeats (common practice): the last pass. What comes for the
  // first time after a jump has all of them.
  for (int pass = again ? section.times : 1; pass <= section.times; ++pass) {
    if (data.played.size() > kMostBars) return;
    for (int bar = 0; bar < section.body_bars; ++bar) data.played.push_back({step, index, bar, pass});
    for (const CheckedEnding& ending : section.endings)
      if (std::find(ending.passes.begin(), ending.passes.end(), pass) != ending.passes.end())
        for (int bar = 0; bar < ending.bar_count; ++bar)
          data.played.push_back({step, index, ending.first_bar + bar, pass});
  }
}

void unroll(Context& context) {
  CheckedData& data = context.data;
  std::vector<char> taken(data.form.size(), 0), played(data.form.size(), 0);
  bool after_jump = false;
  Until until = Until::None;
  const auto find = [&](FormWord word, std::size_t from) {
    for (std::size_t i = from; i < data.form.size(); ++i)
      if (data.form[i].entry.word == word) return i;
    return data.form.size();
  };
  for (std::size_t i = 0; i < data.form.size();) {
    const CheckedStep& step = data.form[i];
    if (step.entry.word == FormWord::Section) {
      play_section(data, static_cast<int>(i), played[i] != 0);
      played[i] = 1;
    }
    if (step.entry.word == FormWord::Fine && after_jump && until == Until::Fine) break;
    if (step.entry.word == FormWord::ToCoda && after_jump && until == Until::Coda) {
      i = find(FormWord::Coda, i);
      until = Until::None;
      continue;
    }
    const bool jump = step.entry.word == FormWord::DalSegno || step.entry.word == FormWord::DaCapo;
    if (jump && !taken[i]) {
      taken[i] = 1;
      after_jump = true;
      until = step.entry.until;
      std::size_t back = 0;
      for (std::size_t j = 0; j < i && step.entry.word == FormWord::DalSegno; ++j)
        if (data.form[j].entry.word == FormWord::Segno) back = j;
      i = back;
      continue;
    }
    ++i;
  }
  if (data.played.size() > kMostBars)
    context.say(Kind::BadForm, context.song.form_span,
                "as played the song has more than " + std::to_string(kMostBars) + " bars",
                "a song this long is a slip of the pen", "look at `times` and at the form");
}

}  // namespace

void check_form_reached(Context& context) {
  if (!context.sink.has_errors()) check_reached(context);
}

void check_form(Context& context) {
  auto& sections = context.data.sections;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    const song::Times& times = times_of(context, i);
    sections[i].times = std::clamp(times.count, 1, 1000);
    sections[i].until = times.until.has_value();
    if (times.count < 1 || times.count > 1000)
      context.say(Kind::BadForm, times.span, "a section cannot be played " + std::to_string(times.count) + " times",
                  "`times` says how often in a row: 1 or more", "write a smaller number");
    check_endings(context, sections[i]);
  }
  resolve_steps(context);
  for (const CheckedSection& section : sections)
    if (section.in_form && section.body_bars == 0 && !section.def->like)
      context.say(Kind::EmptySection, section.def->name.span,
                  "the section " + diag::quoted(section.def->name.value) + " holds no bars",
                  "a section holds lanes for a part or for the chart, or is `like` another", "write its bars");
  check_signs(context);
  unroll(context);
}

}  // namespace tunesheaf::check
