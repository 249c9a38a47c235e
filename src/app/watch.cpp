#include "watch.h"

#include <poll.h>
#include <sys/inotify.h>
#include <sys/signalfd.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstring>
#include <filesystem>

namespace tunesheaf::app {
namespace {

namespace fs = std::filesystem;

constexpr std::uint32_t kChanges =
    IN_CLOSE_WRITE | IN_MOVED_TO | IN_MOVED_FROM | IN_CREATE | IN_DELETE | IN_DELETE_SELF | IN_MOVE_SELF | IN_ONLYDIR;
/// Editors write, sync and rename within a few milliseconds; programs that write many files at once take longer.
constexpr int kQuietMs = 40;
constexpr int kLongestMs = 1000;
/// How often a folder that went away is looked for.
constexpr int kLostMs = 300;

sigset_t stop_signals() {
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  sigaddset(&set, SIGTERM);
  return set;
}

std::string folder_of(const fs::path& file) {
  const fs::path folder = file.parent_path();
  return folder.empty() ? "." : folder.string();
}

bool is_yaml(const std::string& name) {
  return name.size() > 5 && name.compare(name.size() - 5, 5, ".yaml") == 0;
}

bool ready(int descriptor, int milliseconds) {
  pollfd one{descriptor, POLLIN, 0};
  return ::poll(&one, 1, milliseconds) > 0;
}

}  // namespace

base::Result<std::unique_ptr<FileWatch>, std::string> FileWatch::open() {
  std::unique_ptr<FileWatch> watch(new FileWatch());
  watch->events_ = ::inotify_init1(IN_CLOEXEC | IN_NONBLOCK);
  if (watch->events_ < 0) return std::string("files cannot be watched here (") + std::strerror(errno) + ")";
  const sigset_t stop = stop_signals();
  ::pthread_sigmask(SIG_BLOCK, &stop, nullptr);
  watch->signals_ = ::signalfd(-1, &stop, SFD_CLOEXEC | SFD_NONBLOCK);
  if (watch->signals_ < 0) return std::string("signals cannot be waited for (") + std::strerror(errno) + ")";
  return watch;
}

FileWatch::~FileWatch() {
  if (events_ >= 0) ::close(events_);
  if (signals_ < 0) return;
  // An impatient second Ctrl-C is taken too, lest it end the program on its way out.
  signalfd_siginfo taken{};
  while (::read(signals_, &taken, sizeof taken) > 0) {
  }
  ::close(signals_);
  const sigset_t stop = stop_signals();
  ::pthread_sigmask(SIG_UNBLOCK, &stop, nullptr);
}

void FileWatch::follow(const std::vector<std::string>& files, bool any_yaml) {
  any_yaml_ = any_yaml;
  wanted_.clear();
  fault_.clear();
  for (const std::string& file : files) {
    wanted_[folder_of(file)].insert(fs::path(file).filename().string());
    std::error_code ignored;
    const fs::path real = fs::canonical(file, ignored);
    if (!ignored) wanted_[folder_of(real)].insert(real.filename().string());
  }
  for (auto watched = folders_.begin(); watched != folders_.end();) {
    if (wanted_.count(watched->second) > 0) {
      ++watched;
      continue;
    }
    ::inotify_rm_watch(events_, watched->first);
    watched = folders_.erase(watched);
  }
  lost_.clear();
  for (const auto& [folder, names] : wanted_) watch_folder(folder);
}

void FileWatch::watch_folder(const std::string& folder) {
  for (const auto& [descriptor, known] : folders_) {
    if (known == folder) return;
  }
  const int descriptor = ::inotify_add_watch(events_, folder.c_str(), kChanges);
  if (descriptor >= 0) {
    // Two names of one folder share a descriptor; the files of both then count under either.
    const auto [place, fresh] = folders_.emplace(descriptor, folder);
    if (!fresh) wanted_[place->second].insert(wanted_[folder].begin(), wanted_[folder].end());
  } else if (errno == ENOENT || errno == ENOTDIR) {
    lost_.insert(folder);
  } else {
    fault_ = "the folder \"" + folder + "\" cannot be watched (" + std::strerror(errno) + ")";
  }
}

bool FileWatch::read_events() {
  bool ours = false;
  alignas(inotify_event) std::array<char, 64 * (sizeof(inotify_event) + NAME_MAX + 1)> buffer{};
  for (;;) {
    const ssize_t got = ::read(events_, buffer.data(), buffer.size());
    if (got <= 0) return ours;
    for (ssize_t at = 0; at < got;) {
      inotify_event event{};
      std::memcpy(&event, buffer.data() + at, sizeof event);
      const char* name = buffer.data() + at + sizeof event;
      at += static_cast<ssize_t>(sizeof event + event.len);
      if ((event.mask & IN_Q_OVERFLOW) != 0) ours = true;
      const auto folder = folders_.find(event.wd);
      if (folder == folders_.end()) continue;
      if (event.len > 0 && (wanted_[folder->second].count(name) > 0 || (any_yaml_ && is_yaml(name)))) ours = true;
      if ((event.mask & (IN_DELETE_SELF | IN_MOVE_SELF | IN_IGNORED)) == 0) continue;
      lost_.insert(folder->second);
      if ((event.mask & IN_MOVE_SELF) != 0) ::inotify_rm_watch(events_, event.wd);
      folders_.erase(folder);
      ours = true;
    }
  }
}

bool FileWatch::take_up_lost_folders() {
  const std::set<std::string> lost = std::move(lost_);
  lost_.clear();
  for (const std::string& folder : lost) watch_folder(folder);
  return lost_.size() < lost.size();
}

Woken FileWatch::wait() {
  for (;;) {
    std::array<pollfd, 2> both{{{events_, POLLIN, 0}, {signals_, POLLIN, 0}}};
    const int found = ::poll(both.data(), both.size(), lost_.empty() ? -1 : kLostMs);
    if (found < 0 && errno != EINTR) return Woken::Stop;
    if ((both[1].revents & POLLIN) != 0) return Woken::Stop;
    bool ours = (both[0].revents & POLLIN) != 0 && read_events();
    if (!lost_.empty() && take_up_lost_folders()) ours = true;
    if (!ours) continue;
    const auto end = std::chrono::steady_clock::now() + std::chrono::milliseconds(kLongestMs);
    while (std::chrono::steady_clock::now() < end && ready(events_, kQuietMs)) read_events();
    return Woken::Changed;
  }
}

}  // namespace tunesheaf::app
