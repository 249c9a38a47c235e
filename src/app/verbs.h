// The functions behind the commands, one each. In: a parsed command line and the console. Out: an exit code.
#pragma once
#include <string>

#include "tunesheaf/app/command_line.h"
#include "tunesheaf/app/commands.h"
#include "tunesheaf/app/pipeline.h"

namespace tunesheaf::app {

enum ExitCode : int { kDone = 0, kSongHasErrors = 1, kUsage = 2 };

int run_handout(const CommandLine& line, const Console& console);
int run_check(const CommandLine& line, const Console& console);
int run_phase(const CommandLine& line, const Console& console);
int run_new(const CommandLine& line, const Console& console);
int run_tidy(const CommandLine& line, const Console& console);
int run_reference(const CommandLine& line, const Console& console);
int run_schema(const CommandLine& line, const Console& console);
int run_chart(const CommandLine& line, const Console& console);
int run_practice(const CommandLine& line, const Console& console);
int run_legend(const CommandLine& line, const Console& console);
int run_audit(const CommandLine& line, const Console& console);
int run_ear(const CommandLine& line, const Console& console);
int run_shapes(const CommandLine& line, const Console& console);
int run_move(const CommandLine& line, const Console& console);
int run_retune(const CommandLine& line, const Console& console);
int run_instead(const CommandLine& line, const Console& console);
int run_aloud(const CommandLine& line, const Console& console);
int run_shell(const CommandLine& line, const Console& console);
int run_tunings(const CommandLine& line, const Console& console);

/// The same with a Work of the caller's, who may then ask what was read.
int print_handout(const CommandLine& line, const Console& console, Work& work);
int print_chart(const CommandLine& line, const Console& console, Work& work);
int print_practice(const CommandLine& line, const Console& console, Work& work);
int run_book(const CommandLine& line, const Console& console);
int run_watch(const CommandLine& line, const Console& console);

/// `audit --sheet chart`.
int audit_chart(const CommandLine& line, const Console& console);

/// `--format json`?
bool wants_json(const CommandLine& line);
/// Prints what the sink holds to `console.err` (check prints to `out`) and gives the exit code it means.
int say_findings(const Work& work, std::ostream& to, bool colour, const CommandLine& line);
/// One line on err: "tunesheaf: <sentence>".
int say_usage(const Console& console, const std::string& sentence);
int say_failure(const Console& console, const std::string& sentence);
/// Writes `text` to a file, whole or not at all; an exit code.
int keep_file(const Console& console, const std::string& path, const std::string& text);

}  // namespace tunesheaf::app
