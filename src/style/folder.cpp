#include <algorithm>
#include <filesystem>

#include "tunesheaf/style/load.h"

namespace tunesheaf::style {

std::vector<std::string> style_names(const std::string& style_folder) {
  std::vector<std::string> names{"house"};
  std::error_code ignored;
  for (std::filesystem::directory_iterator at(style_folder, ignored), end; !ignored && at != end;
       at.increment(ignored)) {
    const std::filesystem::path& path = at->path();
    if (path.extension() == ".yaml" && path.stem() != "house") names.push_back(path.stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace tunesheaf::style
