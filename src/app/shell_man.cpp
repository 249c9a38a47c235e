// The manual page, in the man macros of roff (groff_man(7)).
#include <array>
#include <cstdio>

#include "shell.h"
#include "shell_table.h"
#include "tunesheaf/base/utf8.h"

namespace tunesheaf::app {
namespace {

/// Text that roff prints as it stands: hyphens as minus signs for copying, other signs by their number.
std::string roff(std::string_view text) {
  std::string out;
  for (const char32_t c : base::code_points(text)) {
    if (c == U'\\') {
      out += "\\e";
    } else if (c == U'-') {
      out += "\\-";
    } else if (c == U'\n') {
      out += '\n';
    } else if (c < 0x80) {
      if ((c == U'.' || c == U'\'') && (out.empty() || out.back() == '\n')) out += "\\&";
      out += static_cast<char>(c);
    } else {
      std::array<char, 16> number{};
      std::snprintf(number.data(), number.size(), "\\[u%04X]", static_cast<unsigned>(c));
      out += number.data();
    }
  }
  return out;
}

std::string option_head(const OptionSpec& option) {
  std::string out = ".TP\n";
  if (!option.alias.empty()) out += "\\fB" + roff(option.alias) + "\\fR, ";
  out += "\\fB" + roff(option.name) + "\\fR";
  if (!option.value.empty()) out += " \\fI" + roff(option.value) + "\\fR";
  return out + "\n";
}

std::string command_part(const CommandSpec& command) {
  std::string out = ".SS \"tunesheaf " + roff(command.name);
  if (!command.operands.empty()) out += " " + roff(command.operands);
  std::string summary(command.summary);
  summary[0] = summary[0] >= 'a' && summary[0] <= 'z' ? static_cast<char>(summary[0] - 'a' + 'A') : summary[0];
  out += "\"\n" + roff(summary) + ".\n";
  for (const OptionSpec& option : command.options) {
    out += option_head(option) + roff(option.meaning) + "\n";
  }
  return out + ".PP\nExample:\n.PP\n.EX\n" + roff(command.example) + "\n.EE\n";
}

}  // namespace

std::string manual_page() {
  std::string out =
      ".TH TUNESHEAF 1 \"\" Tunesheaf \"User Commands\"\n"
      ".SH NAME\ntunesheaf \\- lesson sheets from song files\n"
      ".SH SYNOPSIS\n\\fBtunesheaf\\fR \\fICOMMAND\\fR [\\fIOPTION\\fR]... [\\fIOPERAND\\fR]...\n"
      ".SH DESCRIPTION\n"
      "Tunesheaf reads a song from one text file: tuning, shapes, what each instrument plays, remarks. It says where "
      "the "
      "file disagrees with itself, and prints sheets for students and players.\n"
      ".PP\nEvery command takes \\fB\\-\\-help\\fR.\n"
      ".SH COMMANDS\n";
  for (const CommandSpec& command : commands()) out += command_part(command);
  out +=
      ".SH \"EXIT STATUS\"\n"
      ".TP\n0\nDone.\n"
      ".TP\n1\nThe song has errors, or a file could not be written.\n"
      ".TP\n2\nThe command line is off.\n"
      ".SH ENVIRONMENT\n"
      ".TP\n\\fBNO_COLOR\\fR\nWhen it is set to anything, findings are printed without colour.\n"
      ".TP\n\\fBTUNESHEAF_STYLES\\fR\nThe folder of named styles, where it is not beside the program.\n"
      ".TP\n\\fBXDG_CACHE_HOME\\fR\nThe songs of books that are laid out already are kept below it, in "
      "tunesheaf/songs (usually in ~/.cache); the folder may be deleted at any time.\n"
      ".SH FILES\n"
      "A sheet printed earlier stays as it was until the new one is whole.\n"
      ".SH SAFETY\n"
      "Strings under raised tension can snap: keep your face away, go up slowly, and ask a repairer if unsure. Rest a "
      "hand that hurts, and ask a teacher or a doctor.\n";
  return out;
}

}  // namespace tunesheaf::app
