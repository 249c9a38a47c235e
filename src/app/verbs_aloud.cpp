// The lesson for those who hear it: tunesheaf aloud.
#include <algorithm>
#include <ostream>

#include "tunesheaf/aloud/print.h"
#include "tunesheaf/aloud/reading.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/number.h"
#include "verbs.h"

namespace tunesheaf::app {
namespace {

bool ends_with(const std::string& text, std::string_view end) {
  return text.size() > end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

/// The index of a name, or a sentence that names the nearest or all.
base::Result<int, std::string> find_name(const std::string& what, const std::string& name,
                                         const std::vector<std::string>& known) {
  const auto found = std::find(known.begin(), known.end(), name);
  if (found != known.end()) return static_cast<int>(found - known.begin());
  std::string text = "the song has no " + what + " \"" + name + "\"";
  if (known.empty()) return text + "; it has none";
  if (const auto near = base::nearest_word(name, known)) return text + "; the nearest is \"" + *near + "\"";
  text += "; it has ";
  for (std::size_t i = 0; i < known.size(); ++i) text += (i == 0 ? "\"" : ", \"") + known[i] + "\"";
  return text;
}

/// "5-8" or "5".
std::optional<std::pair<int, int>> parse_bars(const std::string& text) {
  const std::size_t dash = text.find('-');
  const auto first = base::parse_integer(text.substr(0, dash));
  const auto last = dash == std::string::npos ? first : base::parse_integer(text.substr(dash + 1));
  constexpr std::int64_t kMost = 1000000;
  if (!first || !last || *first < 1 || *last < *first || *last > kMost) return std::nullopt;
  return std::pair(static_cast<int>(*first), static_cast<int>(*last));
}

/// Printed numbers of the bars to choose from.
std::pair<int, int> bars_of(const score::Timeline& song, std::optional<int> section) {
  int first = 0, last = 0;
  for (std::size_t s = 0; s < song.sections.size(); ++s) {
    if (section && *section != static_cast<int>(s)) continue;
    for (const score::Bar& bar : song.sections[s].bars) {
      if (bar.number == 0) continue;
      first = first == 0 ? bar.number : std::min(first, bar.number);
      last = std::max(last, bar.number);
    }
  }
  return {first, last};
}

base::Result<aloud::Request, std::string> make_request(const score::Timeline& song, const CommandLine& line) {
  aloud::Request request;
  if (const auto name = line.option("--part")) {
    std::vector<std::string> known;
    for (const score::Part& part : song.parts) known.push_back(part.name.value);
    const auto found = find_name("part", *name, known);
    if (!found) return found.error();
    request.part = *found;
  }
  if (const auto name = line.option("--section")) {
    std::vector<std::string> known;
    for (const score::Section& section : song.sections) known.push_back(section.name.value);
    const auto found = find_name("section", *name, known);
    if (!found) return found.error();
    request.section = *found;
  }
  if (const auto text = line.option("--bars")) {
    request.bars = parse_bars(*text);
    if (!request.bars) return "\"" + *text + "\" names no bars; write --bars 5-8, or --bars 5 for one";
    const auto [first, last] = bars_of(song, request.section);
    if (request.bars->first < first || request.bars->second > last) {
      return "\"" + *text + "\" lies off the " + (request.section ? "section" : "song") + ", which has bars " +
             std::to_string(first) + " to " + std::to_string(last);
    }
  }
  return request;
}

}  // namespace

int run_aloud(const CommandLine& line, const Console& console) {
  const std::string target = line.option("--output").value_or("-");
  const bool page = ends_with(target, ".html") || ends_with(target, ".htm");
  if (target != "-" && !page && !ends_with(target, ".txt")) {
    return say_usage(console, "\"" + target + "\" should end in .txt or .html");
  }
  Work work;
  DiskFiles disk;
  if (!read_text(work, disk, line.operands[0]) || !to_timeline(work)) {
    return say_findings(work, console.err, console.colour, line);
  }
  const auto request = make_request(*work.timeline, line);
  if (!request) return say_usage(console, request.error());
  const aloud::Reading reading = aloud::read(*work.timeline, *request);
  const std::string text = page ? aloud::to_html(reading) : aloud::to_text(reading);
  const int code = say_findings(work, console.err, console.colour, line);
  if (target == "-") {
    console.out << text;
    return code;
  }
  const int kept = keep_file(console, target, text);
  return kept == kDone ? code : kept;
}

}  // namespace tunesheaf::app
