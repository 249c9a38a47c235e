// The command table for a shell: a manual page and completions. In: commands(). Out: text in the language of man, bash,
// zsh or fish. Invariant: nothing is said here that the table does not hold, but for the frame around it. Read next:
// app/command_line.h.
#pragma once
#include <string>

namespace tunesheaf::app {

/// Roff, for man: tunesheaf(1).
std::string manual_page();
std::string bash_completion();
std::string zsh_completion();
std::string fish_completion();

}  // namespace tunesheaf::app
