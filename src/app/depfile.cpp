#include "depfile.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "verbs.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;

std::string escaped(const std::string& name) {
  std::string out;
  std::size_t backslashes = 0;  // that end `out`
  for (const char c : name) {
    if (c == ' ' || c == '\t' || c == '#') {
      // Backslashes before an escaped sign are themselves escaped.
      out.append(backslashes + 1, '\\');
    } else if (c == ':') {
      out += '\\';
    } else if (c == '$') {
      out += '$';
    }
    out += c;
    backslashes = c == '\\' ? backslashes + 1 : 0;
  }
  return out;
}

bool same_file(const std::string& a, const std::string& b) {
  std::error_code ignored;
  return fs::path(a).lexically_normal() == fs::path(b).lexically_normal() || fs::equivalent(a, b, ignored);
}

}  // namespace

base::Result<std::string, std::string> depfile_text(const std::vector<std::string>& outputs,
                                                    const std::vector<std::string>& inputs) {
  std::string text, empty_rules;
  for (const auto* names : {&outputs, &inputs}) {
    for (const std::string& name : *names) {
      if (name.find_first_of("\n\r") == std::string::npos) continue;
      return base::Result<std::string, std::string>::failure("--depfile: a file name with a line break in it (\"" +
                                                             name + "\") cannot be written for make or ninja");
    }
  }
  for (const std::string& name : outputs) text += (text.empty() ? "" : " ") + escaped(name);
  text += ":";
  for (const std::string& name : inputs) {
    text += " \\\n  " + escaped(name);
    empty_rules += "\n" + escaped(name) + ":\n";
  }
  return text + "\n" + empty_rules;
}

std::vector<std::string> files_read(const Work& work) {
  std::vector<std::string> names;
  for (source::FileId id = 0; id < work.files.size(); ++id) {
    if (id == work.file && !work.from_disk) continue;
    const std::string& name = work.files.file(id).path();
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

std::string depfile_fault(const CommandLine& line, const std::string& target, const std::vector<std::string>& inputs) {
  const auto path = line.option("--depfile");
  if (!path) return {};
  if (same_file(*path, target)) return "--depfile: \"" + *path + "\" is the sheet itself; name another file";
  for (const std::string& input : inputs) {
    if (same_file(*path, input)) return "--depfile: \"" + *path + "\" is read for the sheet; name another file";
  }
  return {};
}

int keep_depfile(const CommandLine& line, const Console& console, const std::vector<std::string>& outputs,
                 const std::vector<std::string>& inputs) {
  const auto path = line.option("--depfile");
  if (!path) return kDone;
  const auto text = depfile_text(outputs, inputs);
  if (!text) return say_failure(console, text.error());
  return keep_file(console, *path, *text);
}

}  // namespace tunesheaf::app
