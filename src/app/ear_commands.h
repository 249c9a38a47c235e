// The rows of the command table for the ear and the hand: ear, shapes, move, retune, instead, tunings. Read next:
// tunesheaf/app/command_line.h.
#pragma once
#include <vector>

#include "tunesheaf/app/command_line.h"

namespace tunesheaf::app {

std::vector<CommandSpec> ear_commands();

}  // namespace tunesheaf::app
