#include "tunesheaf/app/command_line.h"

#include <algorithm>

#include "ear_commands.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/utf8.h"

namespace tunesheaf::app {
namespace {

OptionSpec format_option() {
  return {"--format", "", "WAY", "how findings are printed: people, lines or json", {"people", "lines", "json"}};
}

OptionSpec style_option() {
  return {"--style", "", "NAME|FILE", "one of the styles, or a style file of your own"};
}

OptionSpec set_option() {
  return {"--set", "", "TOKEN=VALUE", "over the style, such as \"body.size=12 pt\"; may repeat", {}, true};
}

OptionSpec depfile_option() {
  return {"--depfile", "", "FILE", "also says, for make and ninja, what was read"};
}

std::vector<CommandSpec> make_commands() {
  return {
      {"handout",
       "SONG.yaml",
       "prints the song as a handout",
       {{"--output", "-o", "FILE", "FILE.pdf, .svg or .png; usually beside the song"},
        {"--paper", "", "SIZE", "a4 (usual) or letter", {"a4", "letter"}},
        style_option(),
        set_option(),
        {"--parts", "", "NAME,…", "only these parts, with commas between"},
        {"--recording", "", "NAME", "the recording to follow, by its name in the song"},
        {"--instead", "", "WHOM", "also what to play in the usual tuning, with capo 3 …"},
        depfile_option(),
        format_option()},
       1,
       1,
       "tunesheaf handout heron.yaml --paper letter -o heron.pdf"},
      {"chart",
       "SONG.yaml",
       "prints the song on one page, for the stand",
       {{"--output", "-o", "FILE", "FILE.pdf, .svg or .png; usually beside the song"},
        {"--for", "", "WHOM", "capo 3, usual tuning, B flat, ukulele, RECORDING"},
        {"--names",
         "",
         "KIND",
         "hand (usual: as fingered), ear, degrees or roman",
         {"hand", "ear", "degrees", "roman"}},
        {"--paper", "", "SIZE", "a4 (usual) or letter", {"a4", "letter"}},
        style_option(),
        set_option(),
        depfile_option(),
        format_option()},
       1,
       1,
       "tunesheaf chart heron.yaml --for \"capo 3\" -o heron.pdf"},
      {"aloud",
       "SONG.yaml",
       "says the song in sentences, to be heard",
       {{"--output", "-o", "FILE", "FILE.txt or .html; the terminal if not said"},
        {"--part", "", "NAME", "only this part, by its name in the song"},
        {"--section", "", "NAME", "only this section"},
        {"--bars", "", "A-B", "only these bars, by their printed numbers"},
        format_option()},
       1,
       1,
       "tunesheaf aloud heron.yaml --part guitar -o heron.html"},
      {"practice",
       "SONG.yaml",
       "prints a practice sheet for every section",
       {{"--section", "", "NAME,…", "only these sections, with commas between"},
        {"--output", "-o", "FILE|FOLDER", "one file, or a folder for one file a section"},
        {"--paper", "", "SIZE", "a4 (usual) or letter", {"a4", "letter"}},
        style_option(),
        set_option(),
        {"--parts", "", "NAME,…", "whose music; usually the first fretted part's"},
        depfile_option(),
        format_option()},
       1,
       1,
       "tunesheaf practice heron.yaml --section air -o air.pdf"},
      {"book",
       "BOOK.yaml",
       "prints many songs as one book",
       {{"--output", "-o", "FILE", "FILE.pdf, .svg or .png; usually beside the book"},
        {"--paper", "", "SIZE", "a4 or letter; usually as the book says", {"a4", "letter"}},
        style_option(),
        set_option(),
        {"--threads", "", "N", "how many songs at a time; usually one a core"},
        {"--fresh", "", "", "lays every song out anew"},
        depfile_option(),
        format_option()},
       1,
       1,
       "tunesheaf book quay.yaml -o quay.pdf\n  (tunesheaf reference book explains BOOK.yaml)"},
      {"watch",
       "SONG.yaml",
       "prints again whenever the song is saved",
       {{"--sheet", "", "SHEET", "handout (usual), chart or practice", {"handout", "chart", "practice"}},
        {"--output", "-o", "FILE", "as for that sheet; usually beside the song"},
        {"--paper", "", "SIZE", "a4 (usual) or letter", {"a4", "letter"}},
        style_option(),
        set_option(),
        {"--parts", "", "NAME,…", "of a handout or practice sheets: these parts"},
        {"--for", "", "WHOM", "of a chart: capo 3, B flat, ukulele …"},
        {"--names", "", "KIND", "of a chart: hand, ear, degrees or roman", {"hand", "ear", "degrees", "roman"}},
        format_option()},
       1,
       1,
       "tunesheaf watch heron.yaml --sheet chart"},
      {"check",
       "SONG.yaml",
       "says what is wrong or doubtful in a song",
       {format_option(), {"--strict", "", "", "doubts count as errors"}},
       1,
       1,
       "tunesheaf check heron.yaml --strict"},
      {"phase",
       "NAME SONG.yaml",
       "prints what a song is after a phase",
       {{"--paper", "", "SIZE", "a4 (usual) or letter", {"a4", "letter"}},
        style_option(),
        set_option(),
        {"--parts", "", "NAME,…", "only these parts, with commas between"},
        {"--recording", "", "NAME", "the recording to follow, by its name in the song"}},
       2,
       2,
       "tunesheaf phase timeline heron.yaml\n  (NAME is nodes, song, checked, timeline, layout or display)"},
      {"new",
       "FILE.yaml",
       "writes a short song to start from",
       {{"--instrument", "", "NAME", "guitar (usual), ukulele, violin, drum kit …"},
        {"--tuning", "", "TUNING", "a tuning's name or its notes, low string first"},
        {"--meter", "", "METER", "4/4 (usual), 3/4, 6/8 …"}},
       1,
       1,
       "tunesheaf new mine.yaml --instrument ukulele --meter 3/4"},
      {"tidy",
       "SONG.yaml",
       "aligns the lanes, changes nothing else",
       {{"--output", "-o", "FILE", "where to; usually the song itself; - is the terminal"}},
       1,
       1,
       "tunesheaf tidy heron.yaml"},
      {"reference", "[WORD]", "explains the song language and the styles", {}, 0, 6, "tunesheaf reference palm mute"},
      {"schema",
       "song|book",
       "prints a JSON Schema for editors",
       {{"--output", "-o", "FILE", "where to (the terminal if not said)"}},
       0,
       1,
       "tunesheaf schema -o song.schema.json"},
      {"legend",
       "",
       "prints what every sign means",
       {{"--output", "-o", "FILE", "FILE.pdf, .svg or .png; usually signs.pdf"},
        {"--paper", "", "SIZE", "a4 (usual) or letter", {"a4", "letter"}},
        style_option(),
        set_option(),
        depfile_option(),
        format_option()},
       0,
       0,
       "tunesheaf legend --style large -o signs.pdf"},
      {"shell",
       "man|bash|zsh|fish",
       "prints the manual page, or completion",
       {{"--output", "-o", "FILE", "where to (the terminal if not said)"}},
       1,
       1,
       "tunesheaf shell bash -o ~/.local/share/bash-completion/completions/tunesheaf"},
      {"audit",
       "SONG.yaml",
       "says where the pages break a rule",
       {{"--sheet", "", "SHEET", "handout (usual), chart or practice", {"handout", "chart", "practice"}},
        {"--for", "", "WHOM", "of a chart: capo 3, B flat, ukulele …"},
        {"--names", "", "KIND", "of a chart: hand, ear, degrees or roman", {"hand", "ear", "degrees", "roman"}},
        {"--paper", "", "SIZE", "a4 (usual) or letter", {"a4", "letter"}},
        style_option(),
        set_option(),
        {"--parts", "", "NAME,…", "only these parts, with commas between"},
        {"--instead", "", "WHOM", "also what to play in the usual tuning, with capo 3 …"}},
       1,
       1,
       "tunesheaf audit heron.yaml"},
  };
}

std::vector<std::string> command_names() {
  std::vector<std::string> names;
  for (const CommandSpec& command : commands()) names.emplace_back(command.name);
  return names;
}

const OptionSpec* find_option(const CommandSpec& command, std::string_view word) {
  for (const OptionSpec& option : command.options) {
    if (word == option.name || (!option.alias.empty() && word == option.alias)) return &option;
  }
  return nullptr;
}

std::string unknown_option(const CommandSpec& command, const std::string& word) {
  std::vector<std::string> known;
  for (const OptionSpec& option : command.options) known.emplace_back(option.name);
  std::string text = "`" + std::string(command.name) + "` has no option \"" + word + "\"";
  if (const auto near = base::nearest_word(word, known)) return text + "; the nearest is " + *near;
  if (known.empty()) return text + "; it has none at all";
  text += "; it has ";
  for (std::size_t i = 0; i < known.size(); ++i) text += (i == 0 ? "" : ", ") + known[i];
  return text;
}

std::string wrong_choice(const OptionSpec& option, const std::string& value) {
  std::string text = "\"" + value + "\" is no value for " + std::string(option.name) + "; it takes ";
  for (std::size_t i = 0; i < option.choices.size(); ++i) {
    text += (i == 0 ? "" : i + 1 == option.choices.size() ? " or " : ", ") + std::string(option.choices[i]);
  }
  return text;
}

/// ASCII only, as all choices are.
std::string in_lower_case(std::string text) {
  for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return text;
}

/// Reads the option at arguments[i], moving i over its value; empty when all is well.
std::string take_option(const std::vector<std::string>& arguments, std::size_t& i, CommandLine& line) {
  std::string word = arguments[i];
  std::optional<std::string> value;
  if (const auto equals = word.find('='); equals != std::string::npos && word.starts_with("--")) {
    value = word.substr(equals + 1);
    word.resize(equals);
  }
  const OptionSpec* option = find_option(*line.command, word);
  if (option == nullptr) return unknown_option(*line.command, word);
  const std::string name(option->name);
  if (line.has(name) && !option->repeats) return name + " is given twice; once is enough";
  if (option->value.empty()) {
    if (value) return name + " is a switch and takes no value";
    line.options[name] = "";
    return {};
  }
  if (!value) {
    if (i + 1 >= arguments.size()) return word + " needs a value: " + std::string(option->value);
    value = arguments[++i];
  }
  if (value->empty()) return word + " needs a value: " + std::string(option->value);
  if (!option->choices.empty()) *value = in_lower_case(*value);
  if (!option->choices.empty() &&
      std::find(option->choices.begin(), option->choices.end(), *value) == option->choices.end()) {
    return wrong_choice(*option, *value);
  }
  line.options[name] = *value;
  if (option->repeats) line.repeated[name].push_back(*value);
  return {};
}

/// To a width in columns of the screen; a text as wide keeps a blank behind it.
std::string padded(std::string text, std::size_t width) {
  const std::size_t columns = base::display_columns(text);
  return text.append(columns < width ? width - columns : 1, ' ');
}

}  // namespace

std::optional<std::string> CommandLine::option(const std::string& name) const {
  const auto found = options.find(name);
  if (found == options.end()) return std::nullopt;
  return found->second;
}

std::vector<std::string> CommandLine::all(const std::string& name) const {
  const auto found = repeated.find(name);
  return found == repeated.end() ? std::vector<std::string>{} : found->second;
}

const std::vector<CommandSpec>& commands() {
  static const std::vector<CommandSpec> kCommands = [] {
    std::vector<CommandSpec> all = make_commands();
    for (CommandSpec& command : ear_commands()) all.push_back(std::move(command));
    return all;
  }();
  return kCommands;
}

base::Result<CommandLine, std::string> parse_command_line(const std::vector<std::string>& arguments) {
  CommandLine line;
  if (arguments.empty()) return std::string("say what to do: " + std::string(commands().front().example));
  if (arguments[0] == "--help" || arguments[0] == "-h" || arguments[0] == "help") {
    line.wants_help = true;
    return line;
  }
  for (const CommandSpec& command : commands()) {
    if (arguments[0] == command.name) line.command = &command;
  }
  if (line.command == nullptr) {
    std::string text = "there is no command \"" + arguments[0] + "\"";
    if (const auto near = base::nearest_word(arguments[0], command_names())) text += "; the nearest is " + *near;
    return text;
  }
  bool only_operands = false;
  for (std::size_t i = 1; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (!only_operands && word == "--") {
      only_operands = true;
    } else if (!only_operands && (word == "--help" || word == "-h")) {
      line.wants_help = true;
    } else if (!only_operands && word.size() > 1 && word[0] == '-' && !line.command->options.empty()) {
      const std::string fault = take_option(arguments, i, line);
      if (!fault.empty()) return fault;
    } else {
      line.operands.push_back(word);
    }
  }
  if (line.wants_help) return line;
  const std::string shape = "tunesheaf " + std::string(line.command->name) + " " + std::string(line.command->operands);
  if (line.operands.size() < line.command->least_operands) return "something is missing: " + shape;
  if (line.operands.size() > line.command->most_operands) {
    return "\"" + line.operands[line.command->most_operands] + "\" is one word too many: " + shape;
  }
  return line;
}

std::string overview() {
  std::string text = "Lesson sheets from song files. To start: tunesheaf new mine.yaml\n\n";
  for (const CommandSpec& command : commands()) {
    text += "  tunesheaf " + padded(std::string(command.name) + " " + std::string(command.operands), 24) +
            std::string(command.summary) + "\n";
  }
  text += "COMMAND --help says more. Exit 0: done. 1: errors, file not written. 2: usage.\n";
  return text;
}

std::string help(const CommandSpec& command) {
  std::string text = "tunesheaf " + std::string(command.name);
  if (!command.operands.empty()) text += " " + std::string(command.operands);
  text += ": " + std::string(command.summary) + "\n\n";
  for (const OptionSpec& option : command.options) {
    std::string left(option.name);
    if (!option.alias.empty()) left = std::string(option.alias) + ", " + left;
    if (!option.value.empty()) left += " " + std::string(option.value);
    text += "  " + padded(left, 24) + std::string(option.meaning) + "\n";
  }
  if (!command.options.empty()) text += "\n";
  text += "  " + std::string(command.example) + "\n";
  return text;
}

}  // namespace tunesheaf::app
