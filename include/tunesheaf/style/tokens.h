// The table of style tokens. In: nothing. Out: every token with its name, unit, meaning and default, in the order in
// which styles/house.yaml lists them. Invariant: setting every token to its default gives house_style(); a token is
// named by its path in a style file, joined with points ("title.size"). Read next: style/load.h.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/style/style.h"

namespace tunesheaf::style {

enum class Unit : std::uint8_t {
  Paper,        ///< a length on paper: mm, pt, or sp (the style's own staff space)
  PageSide,     ///< mm or pt, or the word `paper`: as wide or high as the paper that is asked for
  StaffSpaces,  ///< sp only
  Share,        ///< %
  Ratio,        ///< a plain number
  Weight,       ///< 300, 400, 500, 600, 700 or 900
  Tracking,     ///< thousandths of an em, a plain whole number
  Colour,       ///< "#rrggbb"
  Words,        ///< the name of a family, or one of a few words
  YesNo
};

struct Token {
  std::string name;
  Unit unit{};
  std::string meaning;             ///< one sentence for the person who writes a style
  std::string standard;            ///< the default as it is typed
  std::vector<std::string> words;  ///< for Words: the only ones allowed; empty: any
  std::string of = {};             ///< for the tokens of a type role: the text that is set in it
};

const std::vector<Token>& tokens();
const Token* find_token(std::string_view name);
/// "mm, pt or sp", "sp", "%", … for messages.
std::string unit_words(Unit unit);

/// Gives a token its value from text as typed. Lengths in sp need `style.staff_space`, so that is to be set first.
/// Returns what is wrong, or an empty text; nothing is changed then.
std::string set_token(Style& style, const Token& token, std::string_view text);

/// The text of styles/house.yaml: every token with its default and meaning.
std::string print_house();

/// Explains the tokens that `word` names: one ("body.size"), a group ("body"), a field of every group ("size"), or what
/// their meanings speak of; the nearest when there is none. All of them, a line each, when the word is empty.
std::string print_reference(std::string_view word);

/// Each word after a blank: " both notation tab".
std::string spaced(const std::vector<std::string>& words);

}  // namespace tunesheaf::style
