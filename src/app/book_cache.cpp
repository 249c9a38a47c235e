#include "book_cache.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "tunesheaf/app/files.h"
#include "tunesheaf/base/bytes.h"

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kHead = "tunesheaf song pages 1\n";
constexpr std::size_t kMostBytes = 64U << 20U;
constexpr auto kUnused = std::chrono::hours(24 * 60);

std::string fingerprint(std::string_view bytes) {
  base::Fingerprint print;
  print.add(bytes);
  return print.hex();
}

bool write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(file, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

}  // namespace

std::string BookCache::usual_folder() {
  if (const char* cache = std::getenv("XDG_CACHE_HOME"); cache != nullptr && *cache == '/') {
    return std::string(cache) + "/tunesheaf/songs";
  }
  const char* home = std::getenv("HOME");
  if (home == nullptr || *home != '/') return {};
  return std::string(home) + "/.cache/tunesheaf/songs";
}

std::optional<book::SongPages> BookCache::find(const std::string& key) const {
  if (folder_.empty()) return std::nullopt;
  DiskFiles disk;
  const auto bytes = disk.read(path_of(key), kMostBytes);
  if (!bytes) return std::nullopt;
  std::string_view rest = *bytes;
  if (!rest.starts_with(kHead)) return std::nullopt;
  rest.remove_prefix(kHead.size());
  if (!rest.starts_with(key)) return std::nullopt;
  rest.remove_prefix(key.size());
  constexpr std::size_t kDigits = 32;
  if (rest.size() < kDigits || fingerprint(rest.substr(kDigits)) != rest.substr(0, kDigits)) return std::nullopt;
  auto song = book::unpack(rest.substr(kDigits));
  if (song) ::utimensat(AT_FDCWD, path_of(key).c_str(), nullptr, 0);  // it is used
  return song;
}

/// Renamed into place, but not synced: after a loss of power the fingerprint tells what is damaged.
void BookCache::keep(const std::string& key, const book::SongPages& song) const {
  if (folder_.empty()) return;
  std::error_code ignored;
  fs::create_directories(folder_, ignored);
  static std::atomic<unsigned> count{0};
  const std::string temporary = folder_ + "/." + key + "." + std::to_string(::getpid()) + "-" + std::to_string(count++);
  const int file = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (file < 0) return;
  const std::string payload = book::pack(song);
  const bool written = write_all(file, kHead) && write_all(file, key) && write_all(file, fingerprint(payload)) &&
                       write_all(file, payload);
  const bool closed = ::close(file) == 0;
  if (!written || !closed || ::rename(temporary.c_str(), path_of(key).c_str()) != 0) ::unlink(temporary.c_str());
}

void BookCache::tidy() const {
  if (folder_.empty()) return;
  std::error_code error;
  const auto now = fs::file_time_type::clock::now();
  for (fs::directory_iterator it(folder_, error), end; !error && it != end; it.increment(error)) {
    std::error_code ignored;
    const auto used = fs::last_write_time(it->path(), ignored);
    if (!ignored && now - used > kUnused) fs::remove(it->path(), ignored);
  }
}

std::string program_identity() {
  std::ifstream file("/proc/self/exe", std::ios::binary);
  base::Fingerprint print;
  std::string piece(1U << 16U, '\0');
  while (file.read(piece.data(), static_cast<std::streamsize>(piece.size())) || file.gcount() > 0) {
    print.add(std::string_view(piece.data(), static_cast<std::size_t>(file.gcount())));
  }
  return print.hex();
}

}  // namespace tunesheaf::app
