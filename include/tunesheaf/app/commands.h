// What each command does. In: a command line, a console and the files. Out: an exit code: 0 done, 1 the song has errors
// or a file could not be written, 2 the command line is off. Invariant: results go to `out`, everything said about the
// work goes to `err`; an output file is either whole and new or the old one. Read next: app/pipeline.h.
#pragma once
#include <iosfwd>
#include <string>
#include <vector>

namespace tunesheaf::app {

struct Console {
  std::ostream& out;
  std::ostream& err;
  bool colour = false;    ///< err is a terminal and NO_COLOR is not set
  bool progress = false;  ///< err is a terminal
};

int run(const std::vector<std::string>& arguments, const Console& console);

}  // namespace tunesheaf::app
