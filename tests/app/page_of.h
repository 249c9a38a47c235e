// What a song makes of itself, for tests that hold every word of the language to account. In: the text of a song. Out:
// its page without the places by which it refers to the file, its timeline, and what `check` says.
#pragma once
#include <gtest/gtest.h>

#include <regex>
#include <string>

#include "runner.h"
#include "support/temp_dir.h"

namespace tunesheaf::support {

inline std::string phase_of(const std::string& phase, const std::string& song) {
  const TempDir folder;
  const Outcome outcome = run_words({"phase", phase, folder.write("song.yaml", song)});
  EXPECT_EQ(outcome.code, 0) << song << outcome.err;
  static const std::regex kPlaces("(from|subject) -?[0-9]+ -?[0-9]+ -?[0-9]+");
  std::string page;
  for (const std::string& line : lines_of(outcome.out)) page += std::regex_replace(line, kPlaces, "") + "\n";
  return page;
}

/// The page without the places and numbers by which it refers to the song.
inline std::string page_of(const std::string& song) {
  return phase_of("display", song);
}

/// The kinds of all that `check` finds, in brackets.
inline std::string findings_of(const std::string& song) {
  const TempDir folder;
  const Outcome outcome = run_words({"check", folder.write("song.yaml", song), "--format", "lines"});
  std::string kinds;
  for (const std::string& line : lines_of(outcome.out + outcome.err)) {
    const std::size_t at = line.rfind('[');
    if (at != std::string::npos && line.back() == ']') kinds += line.substr(at) + "\n";
  }
  return kinds;
}

inline bool named_as_not_printed(const std::string& song) {
  const std::string found = findings_of(song);
  return holds(found, "[not-printed]") || holds(found, "[changes-nothing]");
}

}  // namespace tunesheaf::support
