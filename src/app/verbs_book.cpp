// `book`: many songs as one document.
#include <filesystem>
#include <map>
#include <ostream>
#include <thread>

#include "book_build.h"
#include "depfile.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/book/bind.h"
#include "tunesheaf/book/order.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/export/safe_file.h"
#include "verbs.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;
using diag::Kind;

constexpr unsigned kMostThreads = 256;

/// What the whole run of `book` knows.
class BookRun {
 public:
  BookRun(const CommandLine& line, const Console& console)
      : line_(line), console_(console), path_(line.operands[0]), target_(target_of(line)) {}

  int run() {
    int code = kDone;
    if (path_ == "-" && !line_.has("--output")) {
      return say_usage(console_, "a book that comes through a pipe has no name; say with -o where it goes");
    }
    const auto format = page_format(target_, console_, code);
    if (!format) return code;
    if (const std::string fault = threads_fault(); !fault.empty()) return say_usage(console_, fault);
    if (!read_book()) return findings();
    if (const std::string fault = depfile_fault(line_, target_, inputs()); !fault.empty()) {
      return say_usage(console_, fault);
    }
    // Before a long work: can the book be written at all?
    if (const exporting::SafeFile probe(target_); probe.fault()) {
      return say_unwritten(console_, {probe.fault(), probe.fault()->message()});
    }
    if (const std::string fault = open_press(); !fault.empty()) {
      findings();
      return say_failure(console_, fault);
    }
    build();
    same_titles();
    code = findings();
    if (code == kSongHasErrors) return say_failure(console_, broken_words());
    return write(*format, code);
  }

 private:
  static std::string target_of(const CommandLine& line) {
    const fs::path book(line.operands[0]);
    return line.option("--output").value_or((book.parent_path() / (book.stem().string() + ".pdf")).string());
  }

  std::string threads_fault() {
    threads_ = std::max(1U, std::thread::hardware_concurrency());
    const auto wish = line_.option("--threads");
    if (!wish) return {};
    const auto number = base::parse_integer(*wish);
    if (!number || *number < 1 || *number > kMostThreads) {
      return "--threads takes a number from 1 to " + std::to_string(kMostThreads) + ", not \"" + *wish + "\"";
    }
    threads_ = static_cast<unsigned>(*number);
    return {};
  }

  int findings() { return say_findings(work_, console_.err, console_.colour, line_); }

  bool read_book() {
    DiskFiles disk;
    if (!read_text(work_, disk, path_) || !to_nodes(work_)) return false;
    book_ = book::read(*work_.nodes, work_.files.file(work_.file), work_.sink);
    folder_ = fs::path(path_).parent_path().string();
    return book_.has_value();
  }

  std::vector<std::string> inputs() const {
    std::vector<std::string> names = files_read(work_);
    for (const book::Entry& entry : book_->songs) {
      const std::string name = path_in_book(folder_, entry.path.value);
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    return names;
  }

  /// The fault as a sentence, or empty.
  std::string open_press() {
    wishes_.paper = line_.option("--paper").value_or(book_->paper);
    if (book_->style) {
      wishes_.style = book_->style->value;
      wishes_.asked = book_->style->span;
      std::error_code ignored;
      const std::string near = path_in_book(folder_, wishes_.style);
      if (fs::path(near).extension() == ".yaml" && fs::exists(near, ignored)) wishes_.style = near;
    }
    if (const auto style = line_.option("--style")) {
      wishes_.style = *style;
      wishes_.asked.reset();
    }
    for (const std::string& setting : line_.all("--set")) {
      if (auto wish = style::read_override(setting)) wishes_.overrides.push_back(std::move(wish.value()));
    }
    auto press = Press::open(work_, wishes_);
    if (!press) return press.error();
    press_ = std::move(press.value());
    return {};
  }

  void build() {
    const BookCache cache(line_.has("--fresh") ? std::string() : BookCache::usual_folder());
    const std::string total = std::to_string(book_->songs.size());
    BookBuild build{*book_, folder_, wishes_, program_identity() + press_->fonts().identity() + press_->style_text(),
                    cache,  threads_};
    if (console_.progress) {
      build.done = [&](std::size_t done) {
        console_.err << "\r\033[K" << done << " of " << total << " songs" << std::flush;
      };
    }
    songs_ = build_songs(build);
    if (console_.progress) console_.err << "\r\033[K" << std::flush;
    cache.tidy();
    collect();
  }

  /// All findings into one list, in the order of the book; a song that is there twice is one file.
  void collect() {
    std::map<std::string, source::FileId> ids;
    for (std::size_t i = 0; i < songs_.size(); ++i) {
      const book::Entry& entry = book_->songs[i];
      const BookSong& song = songs_[i];
      if (!song.pages) broken_.push_back(entry.path.value);
      if (!song.refused.empty()) {
        const bool missing = !song.text;
        work_.sink.add(missing ? Kind::BookSongMissing : Kind::BookSongRefused, entry.path.span,
                       diag::quoted(entry.path.value) + " cannot stand in the book: " + song.refused,
                       "every song of a book is a file from the book's folder that prints by itself",
                       missing ? "look at the name and the folder" : "mend that, or take the song out");
      }
      if (song.findings.empty()) continue;
      const auto known = ids.find(song.path);
      const source::FileId id = known != ids.end() ? known->second : work_.files.add(song.path, *song.text);
      ids[song.path] = id;
      for (diag::Diagnostic finding : song.findings) {
        for (diag::Label& label : finding.labels) label.span.file = id;
        work_.sink.add(std::move(finding));
      }
    }
  }

  void same_titles() {
    std::map<std::string, std::size_t> first;
    for (std::size_t i = 0; i < songs_.size(); ++i) {
      if (!songs_[i].pages) continue;
      const auto [known, fresh] = first.emplace(songs_[i].pages->title, i);
      if (fresh || songs_[known->second].path == songs_[i].path) continue;
      diag::Diagnostic same;
      same.kind = Kind::BookSameTitle;
      same.labels = {{book_->songs[i].path.span, ""}, {book_->songs[known->second].path.span, "the other"}};
      same.situation = "two songs of the book are called " + diag::quoted(songs_[i].pages->title);
      same.rule = "a reader finds a song in the contents by its title";
      same.remedy = "give one of them another title";
      work_.sink.add(std::move(same));
    }
  }

  std::string broken_words() const {
    std::string out = std::to_string(broken_.size()) + " of " + std::to_string(songs_.size()) +
                      (broken_.size() == 1 ? " songs is" : " songs are") + " missing or broken (";
    constexpr std::size_t kNamed = 8;
    for (std::size_t i = 0; i < std::min(broken_.size(), kNamed); ++i) out += (i == 0 ? "" : ", ") + broken_[i];
    if (broken_.size() > kNamed) out += " …";
    return out + "); the book is not printed, and one printed before stays as it was";
  }

  int write(exporting::Format format, int code) {
    book::BindRequest request{*book_, {}, press_->style(), press_->shaper(), press_->music()};
    for (BookSong& song : songs_) request.songs.push_back(&*song.pages);
    const paint::Document document = book::bind(request);
    if (console_.progress) {
      console_.err << "\r\033[Kprinting " << document.pages.size() << " pages" << std::flush;
    }
    const auto written = exporting::write_files(document, press_->fonts(), target_, format);
    if (console_.progress) console_.err << "\r\033[K" << std::flush;
    if (!written) return say_unwritten(console_, written.error());
    if (console_.progress) console_.err << target_ << ": " << document.pages.size() << " pages\n";
    return std::max(code, keep_depfile(line_, console_, *written, inputs()));
  }

  const CommandLine& line_;
  const Console& console_;
  std::string path_, target_, folder_;
  Work work_;  // the book's own file, its style, and at last the songs that have findings
  std::optional<book::Book> book_;
  PressWishes wishes_;
  std::unique_ptr<Press> press_;
  std::vector<BookSong> songs_;
  std::vector<std::string> broken_;
  unsigned threads_ = 1;
};

}  // namespace

int run_book(const CommandLine& line, const Console& console) {
  return BookRun(line, console).run();
}

}  // namespace tunesheaf::app
