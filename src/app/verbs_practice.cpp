// Practice sheets: one file with bookmarks, or one for each section.
#include <algorithm>
#include <filesystem>

#include "depfile.h"
#include "press.h"
#include "tunesheaf/base/edit_distance.h"
#include "verbs.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> section_names(const score::Timeline& song) {
  std::vector<std::string> names;
  for (const score::Section& section : song.sections) names.push_back(section.name.value);
  return names;
}

/// Indices of the wanted sections in the order of the song, all when none is named; the fault as a sentence.
base::Result<std::vector<int>, std::string> wanted_sections(const score::Timeline& song, const std::string& wish) {
  const std::vector<std::string> names = section_names(song);
  std::vector<int> out;
  for (const std::string& name : split_names(wish)) {
    const auto found = std::find(names.begin(), names.end(), name);
    if (found == names.end()) {
      std::string text = "the song has no section \"" + name + "\"";
      if (const auto near = base::nearest_word(name, names)) text += "; the nearest is \"" + *near + "\"";
      text += "; its sections are ";
      for (const std::string& known : names) text += (&known == &names.front() ? "\"" : ", \"") + known + "\"";
      return text;
    }
    out.push_back(static_cast<int>(found - names.begin()));
  }
  if (out.empty()) {
    for (std::size_t i = 0; i < names.size(); ++i) out.push_back(static_cast<int>(i));
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

/// A name of a file: letters, digits and hyphens.
std::string file_word(const std::string& name) {
  std::string out;
  for (const char c : name) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       static_cast<unsigned char>(c) >= 0x80;
    if (plain) {
      out += c;
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
  }
  return out;
}

int one_file_each(const CommandLine& line, const Console& console, Work& work, Press& press,
                  const std::vector<int>& sections, const fs::path& folder) {
  int code = kDone;
  std::vector<std::string> written;
  const std::string stem = fs::path(line.operands[0]).stem().string();
  for (const int section : sections) {
    const std::string name = work.timeline->sections[static_cast<std::size_t>(section)].name.value;
    // The number keeps the files in the order of the song, and names that fall together apart.
    const std::string number = (section < 9 ? "0" : "") + std::to_string(section + 1);
    const std::string path = (folder / (stem + "-practice-" + number + "-" + file_word(name) + ".pdf")).string();
    const sheet::Sheet sheet = press.practice(work, {section});
    code = std::max(code, write_sheet(sheet, press, work, {line, path, exporting::Format::Pdf, &written}, console));
    work.sink = {};  // said with this file
    if (code != kDone) return code;
  }
  return keep_depfile(line, console, written, files_read(work));
}

}  // namespace

int run_practice(const CommandLine& line, const Console& console) {
  Work work;
  return print_practice(line, console, work);
}

int print_practice(const CommandLine& line, const Console& console, Work& work) {
  const fs::path song(line.operands[0]);
  const std::string target =
      line.option("--output").value_or((song.parent_path() / (song.stem().string() + "-practice.pdf")).string());
  std::error_code ignored;
  const bool folder = fs::is_directory(target, ignored);
  const auto format = exporting::format_of(target);
  if (!folder && !format) {
    std::string named = target;
    while (named.size() > 1 && named.back() == '/') named.pop_back();
    if (fs::is_regular_file(named, ignored)) {
      return say_usage(console,
                       "\"" + named +
                           "\" is a file, so no sheets can be put into it; name a folder with -o, or a file that "
                           "ends in .pdf, .svg or .png");
    }
    return say_usage(console, "\"" + target + "\" should end in .pdf, .svg or .png, or be a folder that is there");
  }
  DiskFiles disk;
  if (!read_text(work, disk, line.operands[0]) || !to_timeline(work)) {
    return say_findings(work, console.err, console.colour, line);
  }
  int code = kDone;
  const auto press = open_press(work, line, console, code);
  if (!press) return code;
  const auto sections = wanted_sections(*work.timeline, line.option("--section").value_or(""));
  if (!sections) return say_usage(console, sections.error());
  if (sections->empty())
    return say_usage(console, "the song has no section that is played, so there is nothing to practise");
  if (folder) return one_file_each(line, console, work, *press, *sections, target);
  return write_sheet(press->practice(work, *sections), *press, work, {line, target, *format}, console);
}

}  // namespace tunesheaf::app
