// Songs of the tests, read, checked and built.
#pragma once
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/check/checked.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/score/build.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::score {

struct Built {
  source::Files files;
  diag::Sink sink;
  std::optional<check::CheckedSong> checked;
  std::optional<Timeline> timeline;
  std::string findings() const { return diag::print(sink.sorted(), files, diag::Format::People, false); }
};

inline Built build_text(const std::string& name, const std::string& text) {
  Built built;
  const source::FileId id = built.files.add(name, text);
  const source::File& file = built.files.file(id);
  if (const auto root = yaml::read(file, built.sink)) {
    if (auto song = song::read(*root, file, built.sink)) {
      built.checked = check::check(std::move(*song), file, built.sink);
    }
  }
  if (built.checked) built.timeline = build(*built.checked);
  return built;
}

inline Built build_file(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  return build_text(path.filename().string(), text);
}

inline std::vector<std::filesystem::path> songs_in(const std::string& folder) {
  std::vector<std::filesystem::path> songs;
  for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(TUNESHEAF_SOURCE_DIR) / folder)) {
    if (entry.path().extension() == ".yaml") songs.push_back(entry.path());
  }
  std::sort(songs.begin(), songs.end());
  return songs;
}

inline std::string test_name(const testing::TestParamInfo<std::filesystem::path>& info) {
  std::string name = info.param.stem().string();
  for (char& c : name) {
    if (std::isalnum(static_cast<unsigned char>(c)) == 0) c = '_';
  }
  return name;
}

}  // namespace tunesheaf::score
