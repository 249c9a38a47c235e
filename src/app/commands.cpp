#include "tunesheaf/app/commands.h"

#include <array>
#include <ostream>
#include <utility>

#include "tunesheaf/style/load.h"
#include "verbs.h"

namespace tunesheaf::app {
namespace {

using Verb = int (*)(const CommandLine&, const Console&);
constexpr std::array<std::pair<std::string_view, Verb>, 21> kVerbs{
    {{"handout", run_handout},   {"chart", run_chart},   {"check", run_check},         {"phase", run_phase},
     {"new", run_new},           {"tidy", run_tidy},     {"reference", run_reference}, {"schema", run_schema},
     {"practice", run_practice}, {"legend", run_legend}, {"audit", run_audit},         {"ear", run_ear},
     {"shapes", run_shapes},     {"move", run_move},     {"retune", run_retune},       {"instead", run_instead},
     {"tunings", run_tunings},   {"shell", run_shell},   {"aloud", run_aloud},         {"watch", run_watch},
     {"book", run_book}}};

}  // namespace

int say_usage(const Console& console, const std::string& sentence) {
  console.err << "tunesheaf: " << sentence << "\n";
  return kUsage;
}

int say_failure(const Console& console, const std::string& sentence) {
  console.err << "tunesheaf: " << sentence << "\n";
  return kSongHasErrors;
}

int run(const std::vector<std::string>& arguments, const Console& console) {
  if (arguments.empty()) {
    console.err << overview();
    return kUsage;
  }
  const auto line = parse_command_line(arguments);
  if (!line) return say_usage(console, line.error());
  if (line->wants_help) {
    console.out << (line->command == nullptr ? overview() : help(*line->command));
    return kDone;
  }
  for (const std::string& setting : line->all("--set")) {
    if (const auto read = style::read_override(setting); !read) return say_usage(console, "--set: " + read.error());
  }
  for (const auto& [name, verb] : kVerbs) {
    if (name == line->command->name) return verb(*line, console);
  }
  return say_usage(console, "the command " + std::string(line->command->name) + " is in the table but does nothing");
}

}  // namespace tunesheaf::app
