// The leaf that says what every sign means.
#include <map>

#include "press.h"
#include "tunesheaf/song/legend.h"
#include "verbs.h"

namespace tunesheaf::app {
namespace {

using song::FormWord;

/// The words of the form that an example shows, as the reader of a song makes them.
song::FormEntry form_entry(std::string_view word) {
  static const std::map<std::string_view, FormWord> kWords{
      {"segno", FormWord::Segno},   {"coda", FormWord::Coda},   {"to coda", FormWord::ToCoda}, {"fine", FormWord::Fine},
      {"D.S.", FormWord::DalSegno}, {"D.C.", FormWord::DaCapo}, {"fade", FormWord::Fade}};
  song::FormEntry entry;
  entry.word = kWords.at(word);
  return entry;
}

/// A form that leads nowhere, for it is only looked at: each word stands at its own example.
void place_form_words(score::Timeline& timeline) {
  std::vector<score::FormStep> form;
  for (std::size_t i = 0; i < song::legend_examples().size(); ++i) {
    const std::string_view word = song::legend_examples()[i].form;
    score::FormStep section;
    section.section = static_cast<int>(i);
    const bool before = word == "segno" || word == "coda";
    if (before) form.push_back({form_entry(word), -1});
    form.push_back(section);
    if (!before && !word.empty()) form.push_back({form_entry(word), -1});
  }
  timeline.form = std::move(form);
}

std::vector<blocks::SignGroup> groups() {
  std::vector<blocks::SignGroup> out;
  std::optional<song::LegendGroup> group;
  int section = 0;
  for (const song::LegendExample& example : song::legend_examples()) {
    if (group != example.group) out.push_back({std::string(song::words_of(example.group)), {}});
    group = example.group;
    // What the hands do on strings is seen on the strings; how loud and how long, on the notes.
    const bool strings = example.group <= song::LegendGroup::Bends || example.group == song::LegendGroup::Sound;
    out.back().cells.push_back(
        {section++, std::string(example.name), std::string(example.words), strings ? "tab" : "notation"});
  }
  return out;
}

}  // namespace

int run_legend(const CommandLine& line, const Console& console) {
  const std::string target = line.option("--output").value_or("signs.pdf");
  int code = kDone;
  const auto format = page_format(target, console, code);
  if (!format) return code;
  Work work;
  work.file = work.files.add("signs", song::legend_song());
  if (!to_timeline(work)) return say_findings(work, console.err, console.colour, line);
  place_form_words(*work.timeline);
  const auto press = open_press(work, line, console, code);
  if (!press) return code;
  return write_sheet(press->legend(work, groups()), *press, work, {line, target, *format}, console);
}

}  // namespace tunesheaf::app
