// What a shell may offer at a place on the command line.
#pragma once
#include <string>
#include <vector>

#include "tunesheaf/app/command_line.h"

namespace tunesheaf::app {

enum class Offer : unsigned char { Nothing, Words, SongFiles, AnyFile };

/// What stands behind an option: its choices, a file where its value says so, else nothing that could be known.
Offer offer_of(const OptionSpec& option);
/// What the operands are: the words of "a|b|c", song files, files.
Offer offer_of_operands(const CommandSpec& command);
/// The words of operands such as "man|bash".
std::vector<std::string> operand_words(const CommandSpec& command);
std::string joined(const std::vector<std::string_view>& words, const std::string& with);

}  // namespace tunesheaf::app
