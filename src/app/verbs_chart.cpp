// `chart`: a song on one page, for whoever plays it tonight.
#include <filesystem>
#include <ostream>

#include "press.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/sheet/chart.h"
#include "verbs.h"

namespace tunesheaf::app {
namespace {

using blocks::ChartNames;

std::string beside(const std::string& song_path) {
  const std::filesystem::path path(song_path);
  return (path.parent_path() / (path.stem().string() + "-chart.pdf")).string();
}

ChartNames names_of(const CommandLine& line) {
  const std::string word = line.option("--names").value_or("hand");
  if (word == "ear") return ChartNames::Ear;
  if (word == "degrees") return ChartNames::Degrees;
  return word == "roman" ? ChartNames::Roman : ChartNames::Hand;
}

/// Chords that the player cannot play, each with the nearest that can be played.
void say_unplayable(const blocks::ChartPlayer& player, const Console& console) {
  if (!player.instead) return;
  for (const blocks::InsteadChord& chord : player.instead->chords) {
    if (chord.shape) continue;
    console.err << "tunesheaf: no hand can play " << theory::print(chord.fingered, theory::Accidentals::Signs) << " on "
                << player.words;
    if (!chord.nearest.empty()) {
      console.err << "; the nearest is " << theory::print(chord.nearest.front(), theory::Accidentals::Signs);
    }
    console.err << "\n";
  }
}

void say_folded(const sheet::Chart& chart, const Console& console) {
  if (chart.told.empty()) return;
  console.err << "folded to fit one page, chord names " << base::print_decimal(chart.chord_size.points(), 1)
              << " pt:\n";
  for (const std::string& told : chart.told) console.err << "  " << told << "\n";
}

void say_without_chords(const score::Timeline& song, const Console& console) {
  for (const std::size_t s : blocks::played_without_chords(song)) {
    console.err
        << "no chord is named in \"" << song.sections[s].name.value
        << "\": the chart says N.C. there; if somebody is to play chords, write a `chords` lane under `chart`\n";
  }
}

/// The chart of the command line, or nothing when something was said and the work ends with `code`.
std::optional<sheet::Chart> chart_of(Press& press, Work& work, const CommandLine& line, const Console& console,
                                     int& code) {
  const score::Timeline& song = *work.timeline;
  const ChartNames names = names_of(line);
  if ((names == ChartNames::Degrees || names == ChartNames::Roman) && !blocks::states_a_key(song)) {
    code =
        say_failure(console, "the song states no key, and degrees count from a key; write one, such as `key: G major`");
    return std::nullopt;
  }
  blocks::ChartPlayer player = blocks::page_player(song);
  if (const auto wished = line.option("--for")) {
    auto read = blocks::read_chart_player(*wished, song);
    if (!read) {
      code = say_usage(console, "--for: " + read.error().sentence);
      return std::nullopt;
    }
    player = std::move(read.value());
  }
  say_unplayable(player, console);
  auto chart = press.chart(work, std::move(player), names);
  if (chart) return std::move(chart.value());
  say_findings(work, console.err, console.colour, line);
  code = say_failure(console, chart.error().sentence);
  return std::nullopt;
}

/// What a handout does not print is no matter of the chart.
void keep_for_chart(Work& work) {
  diag::Sink kept;
  for (const diag::Diagnostic& one : work.sink.sorted()) {
    if (one.kind != diag::Kind::NotPrinted) kept.add(one);
  }
  work.sink = std::move(kept);
}

/// Reads the song and opens the press; nothing when something was said and the work ends with `code`.
std::unique_ptr<Press> opened(Work& work, const CommandLine& line, const Console& console, int& code) {
  DiskFiles disk;
  if (!read_text(work, disk, line.operands[0]) || !to_timeline(work)) {
    code = say_findings(work, console.err, console.colour, line);
    return nullptr;
  }
  keep_for_chart(work);
  return open_press(work, line, console, code);
}

}  // namespace

int run_chart(const CommandLine& line, const Console& console) {
  Work work;
  return print_chart(line, console, work);
}

int print_chart(const CommandLine& line, const Console& console, Work& work) {
  const std::string target = line.option("--output").value_or(beside(line.operands[0]));
  int code = kDone;
  const auto format = page_format(target, console, code);
  if (!format) return code;
  const auto press = opened(work, line, console, code);
  if (!press) return code;
  const auto chart = chart_of(*press, work, line, console, code);
  if (!chart) return code;
  say_folded(*chart, console);
  say_without_chords(*work.timeline, console);
  return write_sheet(chart->sheet, *press, work, {line, target, *format}, console);
}

int audit_chart(const CommandLine& line, const Console& console) {
  Work work;
  int code = kDone;
  const auto press = opened(work, line, console, code);
  if (!press) return code;
  const auto chart = chart_of(*press, work, line, console, code);
  if (!chart) return code;
  return say_audit(chart->sheet, work, line, console);
}

}  // namespace tunesheaf::app
