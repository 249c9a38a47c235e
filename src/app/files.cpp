#include "tunesheaf/app/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>

namespace tunesheaf::app {
namespace {

ReadError error_of(int number) {
  const ReadFault fault = number == ENOENT || number == ENOTDIR ? ReadFault::Missing
                          : number == EISDIR                    ? ReadFault::Folder
                          : number == EACCES || number == EPERM ? ReadFault::Forbidden
                                                                : ReadFault::Unreadable;
  return {fault, std::strerror(number)};
}

/// Closes on every way out.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() {
    if (number_ > STDERR_FILENO) ::close(number_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int number() const { return number_; }

 private:
  int number_;
};

}  // namespace

base::Result<std::string, ReadError> DiskFiles::read(const std::string& path, std::size_t most) {
  const Descriptor file(path == "-" ? STDIN_FILENO : ::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (file.number() < 0) return error_of(errno);
  struct stat status {};
  if (::fstat(file.number(), &status) != 0) return error_of(errno);
  if (S_ISDIR(status.st_mode)) return error_of(EISDIR);
  std::string text;
  std::string piece(65536, '\0');
  while (text.size() < most) {
    const ssize_t got = ::read(file.number(), piece.data(), std::min(piece.size(), most - text.size()));
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return error_of(errno);
    if (got == 0) break;
    text.append(piece, 0, static_cast<std::size_t>(got));
  }
  return text;
}

}  // namespace tunesheaf::app
