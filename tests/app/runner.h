// Runs a command in the test's own process. In: the words of a command line. Out: the exit code and both streams.
#pragma once
#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "tunesheaf/app/commands.h"

namespace tunesheaf::support {

struct Outcome {
  int code = -1;
  std::string out, err;
};

inline Outcome run_words(const std::vector<std::string>& words) {
  std::ostringstream out, err;
  Outcome outcome;
  outcome.code = app::run(words, {out, err, false, false});
  outcome.out = out.str();
  outcome.err = err.str();
  return outcome;
}

/// Styles are looked for beside the program; the tests' program stands elsewhere.
inline void use_house_styles() {
  setenv("TUNESHEAF_STYLES", (std::filesystem::path(TUNESHEAF_SOURCE_DIR) / "styles").c_str(), 1);
}

inline bool holds(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// The words of a command line up to a comment or a bracketed remark; quotes hold words together.
inline std::vector<std::string> words_of(const std::string& line) {
  std::vector<std::string> words;
  std::string word;
  bool quoted = false, begun = false;
  for (const char c : line + " ") {
    if (c == '"') {
      quoted = !quoted;
      begun = true;
    } else if (c == ' ' && !quoted) {
      if (begun) words.push_back(word);
      word.clear();
      begun = false;
    } else if ((c == '#' || c == '(') && !begun) {
      break;
    } else {
      word += c;
      begun = true;
    }
  }
  return words;
}

/// Two bars that print in a moment.
inline const char* small_song() {
  return "song: Quarry Lane\n"
         "by: The Gravel Choir\n"
         "tempo: 90\n"
         "recordings:\n"
         "  studio: {sounds: +10 cents}\n"
         "parts:\n"
         "  guitar: {instrument: guitar}\n"
         "  drums: {instrument: drum kit}\n"
         "sections:\n"
         "  verse:\n"
         "    guitar: |\n"
         "      1 | 0 : 2 : 3 : 2 | 0 : 2 : 3 : 2 |\n"
         "    drums: |\n"
         "      kick | x : - : x : - | x : - : x : - |\n";
}

}  // namespace tunesheaf::support
