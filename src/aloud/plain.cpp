// Words for the signs in what the writer typed.
#include <map>

#include "tunesheaf/aloud/words.h"
#include "tunesheaf/base/utf8.h"

namespace tunesheaf::aloud {
namespace {

const std::map<char32_t, std::string_view>& sign_table() {
  static const std::map<char32_t, std::string_view> kSigns{{U'♭', " flat "},
                                                           {U'♯', " sharp "},
                                                           {U'♮', " natural "},
                                                           {U'𝄪', " double sharp "},
                                                           {U'𝄫', " double flat "},
                                                           {U'&', " and "},
                                                           {U'+', " plus "},
                                                           {U'=', " equals "},
                                                           {U'%', " percent "},
                                                           {U'@', " at "},
                                                           {U'#', " number "},
                                                           {U'*', " "},
                                                           {U'_', " "},
                                                           {U'/', " "},
                                                           {U'\\', " "},
                                                           {U'|', " "},
                                                           {U'<', " less than "},
                                                           {U'>', " more than "},
                                                           {U'~', " about "},
                                                           {U'^', " "},
                                                           {U'`', " "},
                                                           {U'[', "("},
                                                           {U']', ")"},
                                                           {U'{', "("},
                                                           {U'}', ")"},
                                                           {U'$', " dollars "},
                                                           {U'€', " euros "},
                                                           {U'£', " pounds "},
                                                           {U'°', " degrees "},
                                                           {U'×', " times "},
                                                           {U'±', " plus or minus "},
                                                           {U'½', " one half "},
                                                           {U'¼', " one quarter "},
                                                           {U'¾', " three quarters "},
                                                           {U'→', " to "},
                                                           {U'←', " from "},
                                                           {U'≈', " about "},
                                                           {U'−', " minus "},
                                                           {U'△', " major seventh "},
                                                           {U'ø', " half diminished "},
                                                           {U'…', "..."},
                                                           {U'–', ", "},
                                                           {U'—', ", "},
                                                           {U'·', ", "},
                                                           {U'•', ", "},
                                                           {U'‘', "'"},
                                                           {U'’', "'"},
                                                           {U'“', "\""},
                                                           {U'”', "\""},
                                                           {U'„', "\""},
                                                           {U'«', "\""},
                                                           {U'»', "\""},
                                                           {U'\u00a0', " "},
                                                           {U'\n', " "},
                                                           {U'\t', " "},
                                                           {U'©', " copyright "},
                                                           {U'§', " section "},
                                                           {U'♩', " quarter note "},
                                                           {U'♪', " eighth note "}};
  return kSigns;
}

bool is_letter(char32_t c) {
  return (c >= U'a' && c <= U'z') || (c >= U'A' && c <= U'Z');
}
bool is_digit(char32_t c) {
  return c >= U'0' && c <= U'9';
}

/// Signs and pictures of Unicode that no voice has a word for.
bool unspeakable(char32_t c) {
  return c < 0x20 || c == 0x7f || (c >= 0x80 && c < 0xc0) || c == 0xd7 || c == 0xf7 || (c >= 0x2000 && c < 0x2c00) ||
         (c >= 0x2e00 && c < 0x3000) || (c >= 0xe000 && c < 0xf900) || (c >= 0xfe00 && c < 0xfe10) || c == 0xfffd ||
         (c >= 0x1d000 && c < 0x1d800) || (c >= 0x1f000 && c < 0x20000) || c >= 0xe0000;
}

/// "F#", "Bb7": an accidental behind the letter of a note that begins a word.
bool names_note(const std::vector<char32_t>& text, std::size_t at) {
  if (at == 0 || text[at - 1] < U'A' || text[at - 1] > U'G') return false;
  const bool begins = at == 1 || !(is_letter(text[at - 2]) || is_digit(text[at - 2]));
  if (!begins) return false;
  if (text[at] == U'#') return true;
  return text[at] == U'b' && (at + 1 == text.size() || !is_letter(text[at + 1]) || text[at + 1] == U'm');
}

/// "F/A" is a chord over its bass, "and/or" needs no second "or".
std::string_view slash_words(const std::vector<char32_t>& text, std::size_t at) {
  const bool bass = at + 1 < text.size() && text[at + 1] >= U'A' && text[at + 1] <= U'G' &&
                    (at + 2 == text.size() || !is_letter(text[at + 2]) || text[at + 2] == U'b');
  if (bass) return " over ";
  const bool or_follows = at + 2 < text.size() && text[at + 1] == U'o' && text[at + 2] == U'r';
  return or_follows ? " " : " or ";
}

std::string without_double_blanks(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool closes = c == ',' || c == '.' || c == ';' || c == ':' || c == '!' || c == '?' || c == ')';
    if (closes && !out.empty() && out.back() == ' ') out.pop_back();
    if (c == ' ' && (out.empty() || out.back() == ' ')) continue;
    out += c;
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

}  // namespace

std::string plain(std::string_view text) {
  const std::vector<char32_t> points = base::code_points(text);
  std::string out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const char32_t c = points[i];
    const auto found = sign_table().find(c);
    const bool between_digits = i > 0 && i + 1 < points.size() && is_digit(points[i - 1]) && is_digit(points[i + 1]);
    if ((c == U'#' || c == U'b') && names_note(points, i)) {
      out += c == U'#' ? " sharp " : " flat ";
    } else if (c == U'/' && i > 0 && is_letter(points[i - 1])) {
      out += slash_words(points, i);
    } else if (c == U'/' && between_digits) {
      out += " over ";
    } else if (c == U'–' && between_digits) {
      out += " to ";
    } else if (found != sign_table().end()) {
      out += found->second;
    } else if (!unspeakable(c)) {
      out += base::to_utf8(c);
    }
  }
  return without_double_blanks(out);
}

}  // namespace tunesheaf::aloud
