// Which files a sheet was made from, for make and ninja. In: the names of what was written and of what was read. Out: a
// rule in the language of make, as compilers write it. Invariant: written only after the sheet, whole or not at all;
// fonts and the program itself are not in it. Read next: press.h.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/app/command_line.h"
#include "tunesheaf/app/commands.h"
#include "tunesheaf/app/pipeline.h"
#include "tunesheaf/base/result.h"

namespace tunesheaf::app {

/// "out.pdf: song.yaml styles/large.yaml", then an empty rule for every file read, so that make does not stop where one
/// of them is gone. Blanks, # and : are escaped with a backslash, $ is doubled (GNU make manual, 4.2; ninja manual,
/// depfile). The error is a sentence: a name with a line break cannot be written there.
base::Result<std::string, std::string> depfile_text(const std::vector<std::string>& outputs,
                                                    const std::vector<std::string>& inputs);

/// The song and the style files that `work` read, each once, in the order of reading.
std::vector<std::string> files_read(const Work& work);

/// Writes the file that --depfile asks for; an exit code. Does nothing without that option.
int keep_depfile(const CommandLine& line, const Console& console, const std::vector<std::string>& outputs,
                 const std::vector<std::string>& inputs);

/// What is wrong with --depfile, in one sentence, before anything is written: it would stand on the sheet or on a file
/// that is read. Empty when all is well.
std::string depfile_fault(const CommandLine& line, const std::string& target, const std::vector<std::string>& inputs);

}  // namespace tunesheaf::app
