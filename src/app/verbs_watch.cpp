// `watch`: prints a sheet again whenever one of its files is saved.
#include <algorithm>
#include <ostream>
#include <sstream>

#include "depfile.h"
#include "verbs.h"
#include "watch.h"

namespace tunesheaf::app {
namespace {

/// The command line of the sheet itself: the same words without --sheet. The error is a sentence.
base::Result<CommandLine, std::string> line_of_sheet(const CommandLine& line, const std::string& sheet) {
  std::vector<std::string> words{sheet};
  for (const OptionSpec& option : line.command->options) {
    const std::string name(option.name);
    if (name == "--sheet" || !line.has(name)) continue;
    const std::vector<std::string> values = option.repeats ? line.all(name) : std::vector{line.options.at(name)};
    for (const std::string& value : values) words.push_back(name + "=" + value);
  }
  words.emplace_back("--");
  words.push_back(line.operands[0]);
  return parse_command_line(words);
}

constexpr int kMostInARow = 3;

class Watcher {
 public:
  Watcher(const CommandLine& sheet, const Console& console, FileWatch& watch)
      : sheet_(sheet), console_(console), watch_(watch), song_(sheet.operands[0]) {}

  /// The first printing decides whether there is anything to watch.
  int run() {
    watch_.follow({song_}, false);
    if (!watch_.fault().empty()) return say_failure(console_, watch_.fault());
    print();
    if (code_ == kUsage || !read_once_) {
      console_.err << said_;
      return code_;
    }
    for (int stale = 0;;) {
      say();
      follow();
      if (!watch_.fault().empty()) return say_failure(console_, watch_.fault());
      // What was saved before its folder was followed made no event; a file that is never twice the same is let be.
      stale = is_stale() ? stale + 1 : 0;
      if ((stale == 0 || stale > kMostInARow) && watch_.wait() == Woken::Stop) break;
      print();
    }
    if (console_.progress) console_.err << "\n";
    return code_ == kDone ? kDone : kSongHasErrors;
  }

 private:
  void print() {
    std::ostringstream said;
    // No progress: what is said is shown in one piece, below a cleared screen.
    const Console quiet{said, said, console_.colour, false};
    work_ = std::make_unique<Work>();
    const std::string_view sheet = sheet_.command->name;
    code_ = sheet == "chart"      ? print_chart(sheet_, quiet, *work_)
            : sheet == "practice" ? print_practice(sheet_, quiet, *work_)
                                  : print_handout(sheet_, quiet, *work_);
    said_ = said.str();
    read_once_ = read_once_ || work_->from_disk;
  }

  /// True when a file is not as it was when it was read for what is printed.
  bool is_stale() const {
    DiskFiles disk;
    if (!work_->from_disk) return disk.read(song_, 1).ok();
    for (source::FileId id = 0; id < work_->files.size(); ++id) {
      const source::File& file = work_->files.file(id);
      const auto now = disk.read(file.path(), kMostSongBytes);
      if (!now || *now != file.text()) return true;
    }
    return false;
  }

  void say() {
    if (console_.progress) console_.err << "\033[H\033[2J\033[3J";
    console_.err << said_;
    if (code_ == kDone) {
      console_.err << song_ << ": " << (broken_ ? "mended; " : "") << what() << " printed\n";
      printed_ = true;
    } else if (printed_) {
      console_.err << song_ << ": the page printed before stays until this is mended\n";
    } else {
      console_.err << song_ << ": will be printed when this is mended\n";
    }
    broken_ = code_ != kDone;
    if (console_.progress) console_.err << "watching; Ctrl-C ends this";
    console_.err << std::flush;
  }

  std::string what() const {
    const std::string_view name = sheet_.command->name;
    return name == "practice" ? "the practice sheets are" : "the " + std::string(name) + " is";
  }

  /// What is wrong may be that a file is not there, so any file that comes may mend it; what was read when all was well
  /// is still of interest.
  void follow() {
    if (code_ == kDone) followed_.clear();
    for (const std::string& name : files_read(*work_)) followed_.push_back(name);
    followed_.push_back(song_);
    std::sort(followed_.begin(), followed_.end());
    followed_.erase(std::unique(followed_.begin(), followed_.end()), followed_.end());
    watch_.follow(followed_, code_ != kDone);
  }

  const CommandLine& sheet_;
  const Console& console_;
  FileWatch& watch_;
  std::unique_ptr<Work> work_;  // of the last printing
  std::string song_, said_;
  std::vector<std::string> followed_;
  int code_ = kDone;
  bool read_once_ = false, printed_ = false, broken_ = false;
};

}  // namespace

int run_watch(const CommandLine& line, const Console& console) {
  if (line.operands[0] == "-") return say_usage(console, "what comes through a pipe cannot be watched; name a file");
  const auto sheet = line_of_sheet(line, line.option("--sheet").value_or("handout"));
  if (!sheet) return say_usage(console, sheet.error());
  auto watch = FileWatch::open();
  if (!watch) return say_failure(console, watch.error());
  return Watcher(*sheet, console, **watch).run();
}

}  // namespace tunesheaf::app
