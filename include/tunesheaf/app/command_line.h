// The table of commands and the reading of a command line by it. In: argv. Out: a command with its options, or what is
// wrong with the line. Invariant: --help, the usage errors and the reading all come from this one table.
// Read next: app/commands.h.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/base/result.h"

namespace tunesheaf::app {

struct OptionSpec {
  std::string_view name;                       ///< "--paper"
  std::string_view alias;                      ///< "-o", or empty
  std::string_view value;                      ///< what stands behind it, in words; empty for a switch
  std::string_view meaning;                    ///< one line
  std::vector<std::string_view> choices = {};  ///< the only values there are; empty: any
  bool repeats = false;                        ///< may stand there more than once
};

struct CommandSpec {
  std::string_view name;
  std::string_view operands;  ///< "SONG.yaml"
  std::string_view summary;   ///< one line
  std::vector<OptionSpec> options;
  std::size_t least_operands = 0, most_operands = 0;
  std::string_view example;
};

struct CommandLine {
  const CommandSpec* command = nullptr;
  std::vector<std::string> operands;
  std::map<std::string, std::string> options;  ///< by OptionSpec::name, the last one given; switches hold ""
  std::map<std::string, std::vector<std::string>> repeated;  ///< every value of the options that may repeat
  bool wants_help = false;

  std::optional<std::string> option(const std::string& name) const;
  /// Every value of an option that may repeat, in the order given.
  std::vector<std::string> all(const std::string& name) const;
  bool has(const std::string& name) const { return options.count(name) > 0; }
};

const std::vector<CommandSpec>& commands();
/// The error is a sentence for people.
base::Result<CommandLine, std::string> parse_command_line(const std::vector<std::string>& arguments);
/// What `tunesheaf --help` prints.
std::string overview();
/// What `tunesheaf COMMAND --help` prints; at most 24 lines of 80 columns.
std::string help(const CommandSpec& command);

}  // namespace tunesheaf::app
