#include <unistd.h>

#include <cstdlib>
#include <iostream>
#include <string>
#include <vector>

#include "tunesheaf/app/commands.h"

int main(int argc, char** argv) {
  const bool terminal = isatty(STDERR_FILENO) != 0;
  const char* no_colour = std::getenv("NO_COLOR");
  const bool plain = no_colour != nullptr && *no_colour != '\0';
  const tunesheaf::app::Console console{std::cout, std::cerr, terminal && !plain, terminal};
  return tunesheaf::app::run(std::vector<std::string>(argv + 1, argv + argc), console);
}
