// Rows of a table in tests/facts: comment lines and the heading left out, cells parted by tabs.
#pragma once
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace tunesheaf::theory::testing {

inline std::vector<std::string> split(const std::string& text, char by) {
  std::vector<std::string> out;
  std::istringstream in(text);
  std::string cell;
  while (std::getline(in, cell, by)) out.push_back(cell);
  return out;
}

inline std::vector<std::vector<std::string>> facts(const std::string& name) {
  std::ifstream file(std::string(TUNESHEAF_SOURCE_DIR) + "/tests/facts/" + name);
  EXPECT_TRUE(file.is_open()) << name;
  std::vector<std::vector<std::string>> out;
  std::string line;
  bool heading = true;
  while (std::getline(file, line)) {
    if (line.empty() || line[0] == '#') continue;
    if (!heading) out.push_back(split(line, '\t'));
    heading = false;
  }
  return out;
}

}  // namespace tunesheaf::theory::testing
