#include "shell_table.h"

namespace tunesheaf::app {
namespace {

bool holds(std::string_view text, std::string_view piece) {
  return text.find(piece) != std::string_view::npos;
}

bool names_choices(std::string_view operands) {
  if (!holds(operands, "|")) return false;
  for (const char c : operands) {
    if (c != '|' && !(c >= 'a' && c <= 'z')) return false;
  }
  return true;
}

}  // namespace

Offer offer_of(const OptionSpec& option) {
  if (!option.choices.empty()) return Offer::Words;
  return holds(option.value, "FILE") || holds(option.value, "DIR") ? Offer::AnyFile : Offer::Nothing;
}

Offer offer_of_operands(const CommandSpec& command) {
  if (names_choices(command.operands)) return Offer::Words;
  if (holds(command.operands, ".yaml")) return Offer::SongFiles;
  return holds(command.operands, "FILE") ? Offer::AnyFile : Offer::Nothing;
}

std::vector<std::string> operand_words(const CommandSpec& command) {
  std::vector<std::string> out;
  if (!names_choices(command.operands)) return out;
  std::string_view rest = command.operands;
  for (std::size_t bar = rest.find('|'); bar != std::string_view::npos; bar = rest.find('|')) {
    out.emplace_back(rest.substr(0, bar));
    rest.remove_prefix(bar + 1);
  }
  out.emplace_back(rest);
  return out;
}

std::string joined(const std::vector<std::string_view>& words, const std::string& with) {
  std::string out;
  for (const std::string_view word : words) out += (out.empty() ? "" : with) + std::string(word);
  return out;
}

}  // namespace tunesheaf::app
