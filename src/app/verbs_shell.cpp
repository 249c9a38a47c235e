// The manual page and the completions, for packagers and shells.
#include <ostream>

#include "shell.h"
#include "shell_table.h"
#include "tunesheaf/base/edit_distance.h"
#include "verbs.h"

namespace tunesheaf::app {

int run_shell(const CommandLine& line, const Console& console) {
  const std::string& what = line.operands[0];
  std::string text;
  if (what == "man") {
    text = manual_page();
  } else if (what == "bash") {
    text = bash_completion();
  } else if (what == "zsh") {
    text = zsh_completion();
  } else if (what == "fish") {
    text = fish_completion();
  } else {
    const std::vector<std::string> known = operand_words(*line.command);
    std::string fault = "there is nothing for \"" + what + "\"; there is something for man, bash, zsh and fish";
    if (const auto near = base::nearest_word(what, known)) fault += "; the nearest is " + *near;
    return say_usage(console, fault);
  }
  const auto target = line.option("--output");
  if (!target || *target == "-") {
    console.out << text;
    return kDone;
  }
  return keep_file(console, *target, text);
}

}  // namespace tunesheaf::app
