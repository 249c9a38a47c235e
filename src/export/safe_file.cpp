#include "tunesheaf/export/safe_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>

namespace tunesheaf::exporting {
namespace {

/// Cairo hands over many small pieces; one system call for each would cost more than the page.
constexpr std::size_t kBuffer = 1 << 16;
/// Names tried before giving up, in case of leftovers of killed runs.
constexpr int kMostNames = 100;

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

std::string name_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == std::string::npos ? path : path.substr(slash + 1);
}

/// Where a symbolic link leads, so that the file is replaced and not the link.
std::string resolved(const std::string& path) {
  char* real = ::realpath(path.c_str(), nullptr);
  if (real == nullptr) return path;
  std::string out = real;
  std::free(real);  // NOLINT: allocated by realpath
  return out;
}

}  // namespace

std::string FileFault::message() const {
  return "cannot write '" + path + "': " + reason;
}

SafeFile::SafeFile(std::string path) : path_(std::move(path)), target_(resolved(path_)) {
  struct stat old {};
  const bool exists = ::stat(target_.c_str(), &old) == 0;
  if (exists && S_ISDIR(old.st_mode)) {
    fail(FileStep::Create, EISDIR);
    return;
  }
  if (exists && !S_ISREG(old.st_mode)) {
    direct_ = true;
    descriptor_ = ::open(target_.c_str(), O_WRONLY | O_CLOEXEC);
    if (descriptor_ < 0) fail(FileStep::Create, errno);
    return;
  }
  // A file that may not be written is not replaced either, although the folder would allow it.
  if (exists && ::access(target_.c_str(), W_OK) != 0) {
    fail(FileStep::Create, errno);
    return;
  }
  const mode_t mode = exists ? (old.st_mode & 07777) : 0666;
  const std::string stem = folder_of(target_) + "/." + name_of(target_).substr(0, 200) + ".";
  for (int i = 0; i < kMostNames && descriptor_ < 0; ++i) {
    temporary_ = stem + std::to_string(::getpid()) + "-" + std::to_string(i) + ".tmp";
    descriptor_ = ::open(temporary_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (descriptor_ < 0 && errno != EEXIST) break;
  }
  if (descriptor_ < 0) {
    const int code = errno;
    temporary_.clear();
    fail(FileStep::Create, code);
  }
}

SafeFile::~SafeFile() {
  if (descriptor_ >= 0) ::close(descriptor_);
  if (!committed_ && !temporary_.empty()) ::unlink(temporary_.c_str());
}

bool SafeFile::fail(FileStep step, int code) {
  if (!fault_) fault_ = FileFault{step, path_, code, std::strerror(code)};
  return false;
}

void SafeFile::drain(std::string_view bytes) {
  while (!bytes.empty() && !fault_) {
    const ssize_t written = ::write(descriptor_, bytes.data(), bytes.size());
    if (written < 0) {
      if (errno != EINTR) fail(FileStep::Write, errno);
      continue;
    }
    if (written == 0) fail(FileStep::Write, ENOSPC);
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
}

bool SafeFile::write(std::string_view bytes) {
  if (fault_) return false;
  if (descriptor_ < 0) return fail(FileStep::Write, EBADF);
  buffer_ += bytes;
  if (buffer_.size() >= kBuffer) {
    drain(buffer_);
    buffer_.clear();
  }
  return !fault_;
}

bool SafeFile::seal() {
  if (fault_ || descriptor_ < 0) return !fault_;
  drain(buffer_);
  buffer_.clear();
  // Devices and pipes cannot be synced, which is no fault of theirs.
  if (!fault_ && ::fsync(descriptor_) != 0 && !(direct_ && (errno == EINVAL || errno == EROFS || errno == ENOTSUP))) {
    fail(FileStep::Sync, errno);
  }
  const int closed = ::close(descriptor_);
  descriptor_ = -1;
  if (closed != 0) fail(FileStep::Close, errno);
  return !fault_;
}

bool SafeFile::sync_folder() {
  const int folder = ::open(folder_of(target_).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  // A folder that may be written but not read cannot be synced; the file itself is safe.
  if (folder < 0) return errno == EACCES || fail(FileStep::SyncFolder, errno);
  const bool synced = ::fsync(folder) == 0 || errno == EINVAL;
  const int code = errno;
  ::close(folder);
  return synced || fail(FileStep::SyncFolder, code);
}

bool SafeFile::commit() {
  if (!seal()) return false;
  if (committed_ || direct_) return committed_ = true;
  if (::rename(temporary_.c_str(), target_.c_str()) != 0) return fail(FileStep::Rename, errno);
  committed_ = true;
  return sync_folder();
}

}  // namespace tunesheaf::exporting
