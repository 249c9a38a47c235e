// Songs spoilt at random. Usage: spoil_songs FIRST COUNT FOLDER
// Takes the songs of the folder in turn, spoils bytes and lines, and goes as far through the program as the text
// allows: every song ends with findings that have their place in the file, or with pages. What crashes or hangs names
// its number.
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>
#include <vector>

#include "generated/judge.h"
#include "generated/random.h"
#include "generated/spoil.h"

namespace {

using namespace tunesheaf;  // NOLINT: a program of one file

constexpr unsigned kMostSeconds = 20;
char in_hand[64];  // NOLINT: read by the signal's handler

extern "C" void last_words(int) {
  const ssize_t written = write(STDERR_FILENO, in_hand, std::strlen(in_hand));
  _exit(written > 0 ? 3 : 4);
}

std::vector<std::string> texts_of(const std::string& folder) {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().extension() == ".yaml") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> texts;
  for (const auto& path : paths) {
    std::ifstream file(path, std::ios::binary);
    texts.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  return texts;
}

}  // namespace

int main(int count, char** words) {
  if (count != 4) {
    std::cerr << "usage: spoil_songs FIRST COUNT FOLDER\n";
    return 2;
  }
  const std::uint64_t first = std::strtoull(words[1], nullptr, 10), songs = std::strtoull(words[2], nullptr, 10);
  const std::vector<std::string> texts = texts_of(words[3]);
  for (const int signal : {SIGSEGV, SIGABRT, SIGFPE, SIGALRM, SIGBUS}) std::signal(signal, last_words);
  std::uint64_t refused = 0, printed = 0, faults = 0;
  for (std::uint64_t number = first; number < first + songs && !texts.empty(); ++number) {
    const std::string line = "spoilt song " + std::to_string(number) + " crashed or hung\n";
    std::strncpy(in_hand, line.c_str(), sizeof in_hand - 1);
    alarm(kMostSeconds);
    generated::Random random(number);
    const std::string text = generated::spoilt(texts[number % texts.size()], random);
    const generated::Outcome outcome = generated::run_spoilt(text);
    refused += outcome.refused ? 1 : 0;
    printed += outcome.printed ? 1 : 0;
    if (outcome.fault.empty()) continue;
    ++faults;
    std::cout << "spoilt song " << number << ": " << outcome.fault << "\n";
  }
  std::cout << songs << " spoilt songs: " << refused << " refused, " << printed << " printed, " << faults
            << " faults\n";
  return faults == 0 ? 0 : 1;
}
