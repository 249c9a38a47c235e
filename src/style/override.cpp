#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/style/load.h"
#include "tunesheaf/style/tokens.h"

namespace tunesheaf::style {
namespace {

using diag::quoted;

std::vector<std::string> token_names() {
  std::vector<std::string> names;
  for (const Token& token : tokens()) names.push_back(token.name);
  return names;
}

std::vector<std::string> inner_tokens(const std::string& group) {
  std::vector<std::string> inner;
  for (const std::string& name : token_names()) {
    if (name.rfind(group + ".", 0) == 0) inner.push_back(name);
  }
  return inner;
}

}  // namespace

base::Result<Override, std::string> read_override(std::string_view text) {
  const auto trimmed = [](std::string_view part) {
    while (!part.empty() && part.front() == ' ') part.remove_prefix(1);
    while (!part.empty() && part.back() == ' ') part.remove_suffix(1);
    return std::string(part);
  };
  const std::size_t equals = text.find('=');
  const Override wish{trimmed(text.substr(0, equals)),
                      equals == std::string_view::npos ? "" : trimmed(text.substr(equals + 1))};
  const Token* token = find_token(wish.token);
  if (token == nullptr && !inner_tokens(wish.token).empty()) {
    return diag::quoted(wish.token) + " is a group; its tokens are" + spaced(inner_tokens(wish.token));
  }
  if (token == nullptr) {
    const auto near = base::nearest_word(wish.token, token_names());
    return diag::quoted(wish.token) + " is no token of a style; " +
           (near ? "the nearest is " + *near : "`tunesheaf reference style` lists them");
  }
  if (equals == std::string_view::npos)
    return diag::quoted(wish.token) + " has no value; write " + token->name + "=" + token->standard;
  Style trial = house_style();
  const std::string wrong = set_token(trial, *token, wish.value);
  if (wrong.empty()) return wish;
  std::string sentence = diag::quoted(wish.value) + " " + wrong + "; " + token->name + " is ";
  sentence += token->words.empty() ? unit_words(token->unit) : "one of" + spaced(token->words);
  if (const auto near = base::nearest_word(wish.value, token->words)) sentence += "; the nearest is " + *near;
  return sentence;
}

}  // namespace tunesheaf::style
