// Completion for bash, zsh and fish.
#include "shell.h"
#include "shell_table.h"

namespace tunesheaf::app {
namespace {

/// Within single quotes of a shell of the Bourne family.
std::string shell_quoted(std::string_view text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::string names_of(const OptionSpec& option, const std::string& with) {
  return std::string(option.name) + (option.alias.empty() ? "" : with + std::string(option.alias));
}

std::string words_of(const CommandSpec& command) {
  std::string out;
  for (const std::string& word : operand_words(command)) out += (out.empty() ? "" : " ") + word;
  return out;
}

std::string bash_option(const OptionSpec& option) {
  const std::string head = "        " + names_of(option, "|") + ") ";
  switch (offer_of(option)) {
    case Offer::Words:
      return head + "options= kind= words=" + shell_quoted(joined(option.choices, " ")) + " ;;\n";
    case Offer::AnyFile:
    case Offer::SongFiles:
      return head + "options= words= kind=any ;;\n";
    case Offer::Nothing:
      break;
  }
  return head + "return ;;\n";
}

std::string bash_command(const CommandSpec& command) {
  std::string options = "--help";
  std::string cases;
  for (const OptionSpec& option : command.options) {
    options += " " + names_of(option, " ");
    if (!option.value.empty()) cases += bash_option(option);
  }
  const Offer operands = offer_of_operands(command);
  const char* kind = operands == Offer::SongFiles ? "yaml" : operands == Offer::AnyFile ? "any" : "";
  std::string out = "    " + std::string(command.name) + ")\n      options=" + shell_quoted(options) + " kind=" + kind +
                    " words=" + shell_quoted(words_of(command)) + "\n";
  if (!cases.empty()) out += "      case $prev in\n" + cases + "      esac\n";
  return out + "      ;;\n";
}

/// In a description of zsh's _arguments, brackets and colons mean something.
std::string zsh_text(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
    out += c;
  }
  return out;
}

std::string zsh_value(const OptionSpec& option) {
  if (option.value.empty()) return {};
  std::string out = ":" + zsh_text(option.value) + ":";
  switch (offer_of(option)) {
    case Offer::Words:
      return out + "(" + joined(option.choices, " ") + ")";
    case Offer::AnyFile:
    case Offer::SongFiles:
      return out + "_files";
    case Offer::Nothing:
      break;
  }
  return out;
}

std::string zsh_command(const CommandSpec& command) {
  std::string out = "    " + std::string(command.name) + ")\n      _arguments '--help[says more]'";
  for (const OptionSpec& option : command.options) {
    const std::string rest = "[" + zsh_text(option.meaning) + "]" + zsh_value(option);
    out += " \\\n        ";
    if (option.alias.empty()) {
      out += shell_quoted(std::string(option.name) + rest);
    } else {
      out += "'(" + names_of(option, " ") + ")'{" + names_of(option, ",") + "}" + shell_quoted(rest);
    }
  }
  switch (offer_of_operands(command)) {
    case Offer::SongFiles:
      out += " \\\n        '*:song:_files -g \"*.yaml\"'";
      break;
    case Offer::AnyFile:
      out += " \\\n        '*:file:_files'";
      break;
    case Offer::Words:
      out += " \\\n        '1:which:(" + words_of(command) + ")'";
      break;
    case Offer::Nothing:
      break;
  }
  return out + "\n      ;;\n";
}

std::string fish_text(std::string_view text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c;
  }
  return out + "'";
}

std::string fish_command(const CommandSpec& command) {
  const std::string name(command.name);
  const std::string here = "complete -c tunesheaf -n '__fish_seen_subcommand_from " + name + "'";
  std::string out =
      "complete -c tunesheaf -n __fish_use_subcommand -a " + name + " -d " + fish_text(command.summary) + "\n";
  for (const OptionSpec& option : command.options) {
    out += here + " -l " + std::string(option.name.substr(2));
    if (option.alias.size() == 2) out += " -s " + std::string(option.alias.substr(1));
    const Offer offer = offer_of(option);
    if (offer == Offer::Words) {
      out += " -x -a " + fish_text(joined(option.choices, " "));
    } else if (!option.value.empty()) {
      out += offer == Offer::Nothing ? " -x" : " -r -F";
    }
    out += " -d " + fish_text(option.meaning) + "\n";
  }
  switch (offer_of_operands(command)) {
    case Offer::SongFiles:
      return out + here + " -k -a '(__fish_complete_suffix .yaml)'\n";
    case Offer::AnyFile:
      return out + here + " -F\n";
    case Offer::Words:
      return out + here + " -a " + fish_text(words_of(command)) + "\n";
    case Offer::Nothing:
      break;
  }
  return out;
}

}  // namespace

std::string bash_completion() {
  std::string names, cases;
  for (const CommandSpec& command : commands()) {
    names += std::string(command.name) + " ";
    cases += bash_command(command);
  }
  return "# Completion of tunesheaf for bash.\n"
         "_tunesheaf() {\n"
         "  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} options= words= kind=\n"
         "  COMPREPLY=()\n"
         "  if ((COMP_CWORD == 1)); then\n"
         "    COMPREPLY=($(compgen -W '" +
         names +
         "--help' -- \"$cur\"))\n"
         "    return\n"
         "  fi\n"
         "  # --paper=a4 comes in three words\n"
         "  if [[ $cur == '=' ]]; then\n"
         "    cur=\n"
         "  elif [[ $prev == '=' ]]; then\n"
         "    prev=${COMP_WORDS[COMP_CWORD-2]}\n"
         "  fi\n"
         "  case ${COMP_WORDS[1]} in\n" +
         cases +
         "    *) return ;;\n"
         "  esac\n"
         "  if [[ $cur == -* && -n $options ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$options\" -- \"$cur\"))\n"
         "  elif [[ -n $words ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n"
         "  elif [[ -n $kind ]]; then\n"
         "    local IFS=$'\\n'\n"
         "    compopt -o filenames 2>/dev/null\n"
         "    if [[ $kind == yaml ]]; then\n"
         "      COMPREPLY=($(compgen -d -- \"$cur\") $(compgen -f -X '!*.yaml' -- \"$cur\"))\n"
         "    else\n"
         "      COMPREPLY=($(compgen -f -- \"$cur\"))\n"
         "    fi\n"
         "  fi\n"
         "}\n"
         "complete -F _tunesheaf tunesheaf\n";
}

std::string zsh_completion() {
  std::string list, cases;
  for (const CommandSpec& command : commands()) {
    list += "    " + shell_quoted(zsh_text(command.name) + ":" + zsh_text(command.summary)) + "\n";
    cases += zsh_command(command);
  }
  return "#compdef tunesheaf\n"
         "# Completion of tunesheaf for zsh.\n"
         "_tunesheaf() {\n"
         "  local -a commands\n"
         "  commands=(\n" +
         list +
         "  )\n"
         "  if (( CURRENT == 2 )); then\n"
         "    _describe -t commands command commands\n"
         "    return\n"
         "  fi\n"
         "  local command=$words[2]\n"
         "  shift words\n"
         "  (( CURRENT-- ))\n"
         "  case $command in\n" +
         cases +
         "  esac\n"
         "}\n"
         "_tunesheaf \"$@\"\n";
}

std::string fish_completion() {
  std::string out = "# Completion of tunesheaf for fish.\ncomplete -c tunesheaf -f\n";
  for (const CommandSpec& command : commands()) out += fish_command(command);
  return out;
}

}  // namespace tunesheaf::app
