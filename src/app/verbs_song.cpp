// Commands that speak of the song: check, phase, tidy, new, reference, schema.
#include <sys/stat.h>

#include <cmath>
#include <ostream>

#include "new_song.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/book/book.h"
#include "tunesheaf/song/language.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/style/tokens.h"
#include "verbs.h"
#include "words_ear.h"

namespace tunesheaf::app {
namespace {

diag::Format format_of(const CommandLine& line) {
  const std::string way = line.option("--format").value_or("people");
  return way == "json" ? diag::Format::Json : way == "lines" ? diag::Format::Lines : diag::Format::People;
}

std::string counted(std::size_t count, const std::string& what) {
  return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
}

/// What the stated places of each recording imply, and how far every section lies off it. Two places lie on any tempo.
std::string section_times(const check::CheckedData& song) {
  std::string out;
  for (const auto& [recording, tempo] : song.implied_tempos) {
    std::string line;
    std::size_t places = 0;
    for (const check::SectionTime& time : song.section_times) {
      if (time.recording != recording) continue;
      const std::string off = base::print_fixed(std::abs(time.residual), 1);
      line += (++places == 1 ? "" : ", ") + song.sections[static_cast<std::size_t>(time.section)].def->name.value +
              " " + (off == "0.0" ? "0" : (time.residual > 0 ? "+" : "−") + off);
    }
    if (places < 3) continue;
    out += folded("the places in \"" + song.recordings[static_cast<std::size_t>(recording)].def->name.value +
                      "\" imply " + base::print_decimal(tempo, 1) + " beats a minute; off that, in seconds: " + line,
                  2) +
           "\n";
  }
  return out;
}

bool exists(const std::string& path) {
  struct stat status {};
  return ::lstat(path.c_str(), &status) == 0;
}

}  // namespace

int say_findings(const Work& work, std::ostream& to, bool colour, const CommandLine& line) {
  const diag::Format format = format_of(line);
  to << diag::print(work.sink.sorted(), work.files, format, colour);
  const bool strict = line.has("--strict") && work.sink.warnings() > 0;
  return work.sink.has_errors() || strict ? kSongHasErrors : kDone;
}

int run_check(const CommandLine& line, const Console& console) {
  Work work;
  DiskFiles disk;
  if (read_text(work, disk, line.operands[0])) to_checked(work);
  const int code = say_findings(work, console.out, console.colour, line);
  if (format_of(line) == diag::Format::People) {
    if (work.sink.errors() + work.sink.warnings() == 0) {
      console.out << line.operands[0] << ": nothing wrong, nothing doubtful\n";
    } else {
      console.out << counted(work.sink.errors(), "error") << ", " << counted(work.sink.warnings(), "warning") << "\n";
    }
    if (work.checked) console.out << section_times(**work.checked);
  }
  return code;
}

int run_tidy(const CommandLine& line, const Console& console) {
  Work work;
  DiskFiles disk;
  const std::string& path = line.operands[0];
  if (!read_text(work, disk, path) || !to_nodes(work)) {
    say_findings(work, console.err, console.colour, line);
    return kSongHasErrors;
  }
  const source::File& file = work.files.file(work.file);
  const std::string text = song::tidy(*work.nodes, file);
  const std::string target = line.option("--output").value_or(path);
  if (target == "-") {
    console.out << text;
    return kDone;
  }
  if (target == path && text == file.text()) return kDone;
  return keep_file(console, target, text);
}

int run_new(const CommandLine& line, const Console& console) {
  const std::string& path = line.operands[0];
  if (exists(path)) return say_failure(console, "\"" + path + "\" is there already; choose another name");
  NewSong wanted;
  wanted.instrument = line.option("--instrument").value_or(wanted.instrument);
  wanted.tuning = line.option("--tuning").value_or("");
  wanted.meter = line.option("--meter").value_or(wanted.meter);
  const auto text = write_new_song(wanted);
  if (!text) return say_usage(console, text.error());
  const int code = keep_file(console, path, *text);
  if (code == kDone) console.err << path << " is written; print it with: tunesheaf handout " << path << "\n";
  return code;
}

int run_reference(const CommandLine& line, const Console& console) {
  std::string words;
  for (const std::string& word : line.operands) words += (words.empty() ? "" : " ") + word;
  if (words == "book" || words.rfind("book ", 0) == 0) {
    console.out << book::print_reference(words.size() > 5 ? words.substr(5) : "");
    return kDone;
  }
  if (words.rfind("style ", 0) == 0) {
    console.out << style::print_reference(words.substr(6));
    return kDone;
  }
  console.out << song::print_reference(words);
  if (words == "style") console.out << "\n" << style::print_reference("");
  return kDone;
}

int run_schema(const CommandLine& line, const Console& console) {
  const std::string what = line.operands.empty() ? "song" : line.operands[0];
  if (what != "song" && what != "book") {
    return say_usage(console, "there is no schema of \"" + what + "\"; there is one of a song and one of a book");
  }
  const std::string schema = what == "book" ? book::json_schema() : song::json_schema();
  const auto target = line.option("--output");
  if (!target || *target == "-") {
    console.out << schema;
    return kDone;
  }
  return keep_file(console, *target, schema);
}

}  // namespace tunesheaf::app
