#include "book_build.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <filesystem>
#include <mutex>
#include <thread>

#include "tunesheaf/base/bytes.h"
#include "tunesheaf/paint/pack.h"

namespace tunesheaf::app {
namespace {

std::string words_of(const ReadError& error) {
  switch (error.fault) {
    case ReadFault::Missing:
      return "there is no such file";
    case ReadFault::Folder:
      return "it is a folder";
    case ReadFault::Forbidden:
    case ReadFault::Unreadable:
      break;
  }
  return "it cannot be read (" + error.reason + ")";
}

/// One thread's tools; the press is opened when the first song is not in the cache.
class Worker {
 public:
  explicit Worker(const BookBuild& build) : build_(build) {}

  BookSong run(const book::Entry& entry) {
    BookSong song;
    song.path = path_in_book(build_.folder, entry.path.value);
    DiskFiles disk;
    auto text = disk.read(song.path, kMostSongBytes);
    if (!text) {
      song.refused = words_of(text.error());
      return song;
    }
    song.text = std::move(text.value());
    const std::string key = key_of(entry, *song.text);
    song.pages = build_.cache.find(key);
    if (!song.pages) {
      lay_out(entry, song);
      if (song.pages) build_.cache.keep(key, *song.pages);
    }
    if (song.pages) song.findings = song.pages->findings;
    return song;
  }

 private:
  /// All that the pages depend on.
  std::string key_of(const book::Entry& entry, const std::string& text) const {
    base::Fingerprint print;
    print.add_piece(build_.identity);
    print.add_piece(book::word_of(entry.sheet));
    for (const auto& part : entry.parts) print.add_piece(part.value);
    print.add_piece(text);
    return print.hex();
  }

  void lay_out(const book::Entry& entry, BookSong& song) {
    Work work;
    work.file = work.files.add(song.path, *song.text);
    try {
      if (to_timeline(work) && open()) {
        press_->choose(names_of(entry), sheet::Binding::Book);
        song.refused = press_->unknown_name(work);
        if (song.refused.empty()) song.pages = pages_of(entry, work, song.refused);
      }
    } catch (const std::exception& fault) {  // a font that cannot be used
      song.pages.reset();
      song.refused = fault.what();
    }
    for (diag::Diagnostic& finding : work.sink.sorted()) {
      if (diag::severity(finding.kind) != diag::Severity::Note) song.findings.push_back(std::move(finding));
    }
    if (song.refused.empty() && !fault_.empty()) song.refused = fault_;
    if (work.sink.has_errors()) song.pages.reset();
    if (song.pages) song.pages->findings = song.findings;
  }

  static std::vector<std::string> names_of(const book::Entry& entry) {
    std::vector<std::string> names;
    for (const auto& part : entry.parts) names.push_back(part.value);
    return names;
  }

  bool open() {
    if (press_) return true;
    Work own;  // the style has been read without fault already
    auto press = Press::open(own, build_.wishes);
    if (press) {
      press_ = std::move(press.value());
    } else {
      fault_ = press.error();
    }
    return press_ != nullptr;
  }

  std::optional<book::SongPages> pages_of(const book::Entry& entry, Work& work, std::string& refused) {
    const bool chart = entry.sheet == book::SheetKind::Chart;
    std::optional<sheet::Sheet> sheet;
    if (chart) {
      auto made = press_->chart(work, blocks::page_player(*work.timeline), blocks::ChartNames::Hand);
      if (!made) {
        refused = made.error().sentence;
        return std::nullopt;
      }
      sheet = std::move(made.value().sheet);
    } else {
      sheet = press_->handout(work);
    }
    book::SongPages pages = book::facts_of(press_->setting(work), chart);
    pages.mirror = sheet->mirror;
    pages.pages = Press::paint(*sheet);
    for (paint::Page& page : pages.pages.pages) page.items.reserve(page.items.size() + paint::kMarksOfABinder);
    return pages;
  }

  const BookBuild& build_;
  std::unique_ptr<Press> press_;
  std::string fault_;
};

}  // namespace

std::string path_in_book(const std::string& folder, const std::string& path) {
  return (std::filesystem::path(folder) / path).string();
}

std::vector<BookSong> build_songs(const BookBuild& build) {
  const std::size_t count = build.book.songs.size();
  std::vector<BookSong> songs(count);
  std::atomic<std::size_t> next{0};
  std::mutex telling;
  std::size_t done = 0;
  const auto work = [&] {
    Worker worker(build);
    for (std::size_t i = next++; i < count; i = next++) {
      songs[i] = worker.run(build.book.songs[i]);
      const std::scoped_lock lock(telling);
      ++done;
      if (build.done) build.done(done);
    }
  };
  const std::size_t threads = std::clamp<std::size_t>(build.threads, 1, std::max<std::size_t>(count, 1));
  std::vector<std::thread> pool;
  for (std::size_t t = 1; t < threads; ++t) pool.emplace_back(work);
  work();
  for (std::thread& thread : pool) thread.join();
  return songs;
}

}  // namespace tunesheaf::app
