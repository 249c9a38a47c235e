// Commands that make pages: handout, phase, and the writing of files.
#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <numeric>
#include <ostream>

#include "audit_rules.h"
#include "depfile.h"
#include "press.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/export/files.h"
#include "tunesheaf/export/safe_file.h"
#include "tunesheaf/song/read.h"
#include "verbs.h"

namespace tunesheaf::app {
namespace {

const std::vector<std::string> kPhases{"nodes", "song", "checked", "timeline", "layout", "display"};

std::string beside(const std::string& song_path) {
  const std::filesystem::path path(song_path);
  return (path.parent_path() / (path.stem().string() + "-handout.pdf")).string();
}

void say_progress(const Console& console, const std::string& what) {
  if (console.progress) console.err << "\r\033[K" << what << std::flush;
}

/// The value of an early phase as text, or nothing when the work did not come so far.
std::optional<std::string> early_phase(const std::string& phase, Work& work) {
  if (phase == "nodes") {
    return to_nodes(work) ? std::optional(yaml::print(*work.nodes, work.files.file(work.file))) : std::nullopt;
  }
  if (phase == "song") return to_song(work) ? std::optional(song::print(*work.song)) : std::nullopt;
  if (phase == "checked") return to_checked(work) ? std::optional(check::print(*work.checked)) : std::nullopt;
  return to_timeline(work) ? std::optional(score::print(*work.timeline)) : std::nullopt;
}

/// What to do about a file that could not be written.
std::string cure_of(int code) {
  switch (code) {
    case ENOENT:
      return "make that folder first, or name another with -o";
    case ENOTDIR:
      return "what should be a folder there is a file; name a folder with -o";
    case EISDIR:
      return "that is a folder; name a file in it with -o";
    case ENOSPC:
    case EDQUOT:
    case EFBIG:
      return "make room, or write to another disk with -o; what stood there before is as it was";
    case EACCES:
    case EPERM:
    case EROFS:
      return "name a folder that you may write to with -o";
    default:
      return "name another folder with -o; what stood there before is as it was";
  }
}

}  // namespace

int say_unwritten(const Console& console, const exporting::WriteFault& fault) {
  return say_failure(console, fault.file ? fault.message + "; " + cure_of(fault.file->code) : fault.message);
}

int keep_file(const Console& console, const std::string& path, const std::string& text) {
  exporting::SafeFile file(path);
  file.write(text);
  if (!file.commit()) return say_unwritten(console, {file.fault(), file.fault()->message()});
  return kDone;
}

std::unique_ptr<Press> open_press(Work& work, const CommandLine& line, const Console& console, int& code) {
  auto press = Press::open(work, line);
  if (!press) {
    say_findings(work, console.err, console.colour, line);
    code = say_failure(console, press.error());
    return nullptr;
  }
  if (const std::string unknown = (*press)->unknown_name(work); !unknown.empty()) {
    code = say_usage(console, unknown);
    return nullptr;
  }
  if (const std::string fault = (*press)->read_instead(work); !fault.empty()) {
    code = say_usage(console, fault);
    return nullptr;
  }
  return std::move(press.value());
}

std::optional<exporting::Format> page_format(const std::string& target, const Console& console, int& code) {
  const auto format = exporting::format_of(target);
  if (!format) code = say_usage(console, "\"" + target + "\" should end in .pdf, .svg or .png");
  return format;
}

int write_sheet(const sheet::Sheet& sheet, Press& press, const Work& work, const Target& target,
                const Console& console) {
  if (const std::string fault = depfile_fault(target.line, target.path, files_read(work)); !fault.empty()) {
    return say_usage(console, fault);
  }
  say_progress(console, "printing " + std::to_string(sheet.pages.size()) + " pages");
  const auto written = exporting::write_files(Press::paint(sheet), press.fonts(), target.path, target.format);
  say_progress(console, "");
  const int code = say_findings(work, console.err, console.colour, target.line);
  if (!written) return say_unwritten(console, written.error());
  if (console.progress) {
    for (const std::string& name : *written) console.err << name << "\n";
  }
  if (target.written != nullptr) {
    target.written->insert(target.written->end(), written->begin(), written->end());
    return code;
  }
  return std::max(code, keep_depfile(target.line, console, *written, files_read(work)));
}

int run_handout(const CommandLine& line, const Console& console) {
  Work work;
  return print_handout(line, console, work);
}

int print_handout(const CommandLine& line, const Console& console, Work& work) {
  const std::string& path = line.operands[0];
  const std::string target = line.option("--output").value_or(beside(path));
  int code = kDone;
  const auto format = page_format(target, console, code);
  if (!format) return code;
  DiskFiles disk;
  if (!read_text(work, disk, path) || !to_timeline(work)) return say_findings(work, console.err, console.colour, line);
  const auto press = open_press(work, line, console, code);
  if (!press) return code;
  say_progress(console, "laying out");
  return write_sheet(press->handout(work), *press, work, {line, target, *format}, console);
}

int run_phase(const CommandLine& line, const Console& console) {
  const std::string& phase = line.operands[0];
  if (std::find(kPhases.begin(), kPhases.end(), phase) == kPhases.end()) {
    std::string text = "there is no phase \"" + phase + "\"; there are nodes, song, checked, timeline, layout, display";
    if (const auto near = base::nearest_word(phase, kPhases)) text += "; the nearest is " + *near;
    return say_usage(console, text);
  }
  Work work;
  DiskFiles disk;
  if (!read_text(work, disk, line.operands[1])) return say_findings(work, console.err, console.colour, line);
  if (phase != "layout" && phase != "display") {
    if (const auto text = early_phase(phase, work)) console.out << *text;
    return say_findings(work, console.err, console.colour, line);
  }
  if (!to_timeline(work)) return say_findings(work, console.err, console.colour, line);
  int code = kDone;
  const auto press = open_press(work, line, console, code);
  if (!press) return code;
  const sheet::Sheet sheet = press->handout(work);
  console.out << (phase == "layout" ? sheet::print(sheet) : paint::print(Press::paint(sheet)));
  return say_findings(work, console.err, console.colour, line);
}

int say_audit(const sheet::Sheet& sheet, const Work& work, const CommandLine& line, const Console& console) {
  const std::vector<paint::Breach> breaches = paint::audit(Press::paint(sheet), audit_rules(sheet));
  for (const paint::Breach& breach : breaches) {
    const source::File& file = work.files.file(breach.origin.file);
    console.out << file.path() << ":" << file.place(breach.origin.begin).line << ": " << paint::print({breach});
  }
  const auto notes =
      std::count_if(sheet.expected.begin(), sheet.expected.end(), [](const sheet::Expected& e) { return !e.or_sign; });
  console.out << sheet.pages.size() << " pages, " << notes << " notes, " << breaches.size()
              << (breaches.size() == 1 ? " breach\n" : " breaches\n");
  const int code = say_findings(work, console.err, console.colour, line);
  return breaches.empty() ? code : kSongHasErrors;
}

int run_audit(const CommandLine& line, const Console& console) {
  if (line.option("--sheet").value_or("handout") == "chart") return audit_chart(line, console);
  Work work;
  DiskFiles disk;
  if (!read_text(work, disk, line.operands[0]) || !to_timeline(work)) {
    return say_findings(work, console.err, console.colour, line);
  }
  int code = kDone;
  const auto press = open_press(work, line, console, code);
  if (!press) return code;
  std::vector<int> sections(work.timeline->sections.size());
  std::iota(sections.begin(), sections.end(), 0);
  const bool practice = line.option("--sheet") == "practice";
  if (practice && sections.empty()) {
    return say_usage(console, "the song has no section that is played, so there is nothing to practise");
  }
  const sheet::Sheet sheet = practice ? press->practice(work, sections) : press->handout(work);
  return say_audit(sheet, work, line, console);
}

}  // namespace tunesheaf::app
