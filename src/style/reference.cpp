#include <algorithm>
#include <vector>

#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/style/tokens.h"

namespace tunesheaf::style {
namespace {

std::string group_of(const Token& token) {
  const std::size_t point = token.name.find('.');
  return point == std::string::npos ? "" : token.name.substr(0, point);
}

std::string field_of(const Token& token) {
  const std::size_t point = token.name.find('.');
  return point == std::string::npos ? token.name : token.name.substr(point + 1);
}

std::string padded(std::string text, std::size_t width) {
  text.resize(std::max(text.size() + 2, width), ' ');
  return text;
}

/// Every token in a line of its own; the text that a role sets stands over its tokens.
std::string whole_reference() {
  std::string out =
      "Tokens of a style\n"
      "=================\n"
      "A style is a YAML file that says `extends: house` (or another style) and names only what it\n"
      "changes. On the command line: --set body.size=12pt. Lengths have units: mm, pt, or sp (one staff\n"
      "space); shares have %. Behind each token stands its value in the house style.\n";
  std::string group = "none";
  for (const Token& token : tokens()) {
    if (group_of(token) != group) {
      group = group_of(token);
      out += "\n";
      if (!token.of.empty()) out += group + ": " + token.of + "\n";
    }
    out += "  " + padded(token.name, 28) + padded(token.standard, 11) + token.meaning + "\n";
  }
  return out;
}

std::string entry(const Token& token) {
  std::string out = token.name + "  -  token of a style: " + unit_words(token.unit) + "\n      ";
  out += (token.of.empty() || token.unit == Unit::Words ? "" : token.of + ": ") + token.meaning + "\n";
  if (!token.words.empty()) {
    out += "      one of:";
    for (const std::string& word : token.words) out += " " + word;
    out += "\n";
  }
  const std::string group = group_of(token);
  const std::string value = token.unit == Unit::Colour ? diag::quoted(token.standard) : token.standard;
  const std::string setting = field_of(token) + ": " + value;
  out += "      " + (group.empty() ? setting : group + ": {" + setting + "}") + "\n";
  return out;
}

std::vector<const Token*> tokens_for(std::string_view word) {
  std::vector<const Token*> found;
  for (const Token& token : tokens()) {
    if (token.name == word) return {&token};
    if (group_of(token) == word || field_of(token) == word) found.push_back(&token);
  }
  return found;
}

std::vector<const Token*> tokens_about(std::string_view word) {
  std::vector<const Token*> found;
  for (const Token& token : tokens()) {
    const bool speaks = token.meaning.find(word) != std::string::npos || token.name.find(word) != std::string::npos;
    if (speaks) found.push_back(&token);
  }
  return found;
}

std::string printed(const std::vector<const Token*>& found) {
  std::string out;
  for (const Token* token : found) out += entry(*token);
  return out;
}

}  // namespace

std::string print_reference(std::string_view word) {
  if (word.empty()) return whole_reference();
  if (const auto found = tokens_for(word); !found.empty()) return printed(found);
  const std::string quoted = diag::quoted(word);
  if (const auto about = tokens_about(word); word.size() > 2 && !about.empty()) {
    return quoted + " is no token of a style; these speak of it:\n\n" + printed(about);
  }
  std::vector<std::string> known;
  for (const Token& token : tokens()) {
    for (const std::string& name : {token.name, group_of(token), field_of(token)}) {
      if (!name.empty() && std::find(known.begin(), known.end(), name) == known.end()) known.push_back(name);
    }
  }
  const std::string out = "A style has no token " + quoted + ".";
  const auto near = base::nearest_word(std::string(word), known);
  if (!near) return out + " `tunesheaf reference style` lists every token.\n";
  return out + " The nearest is " + diag::quoted(*near) + ":\n\n" + printed(tokens_for(*near));
}

}  // namespace tunesheaf::style
