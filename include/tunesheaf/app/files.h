// Reading files, behind an interface so that tests can do without a disk. In: a path. Out: the bytes, or why there are
// none. Invariant: never more than `most` bytes are held, whatever the file's size. Read next: app/pipeline.h; files
// are written by export/safe_file.h.
#pragma once
#include <cstddef>
#include <cstdint>
#include <string>

#include "tunesheaf/base/result.h"

namespace tunesheaf::app {

enum class ReadFault : std::uint8_t { Missing, Folder, Forbidden, Unreadable };

struct ReadError {
  ReadFault fault = ReadFault::Unreadable;
  std::string reason;  ///< the system's own words
};

class FileAccess {
 public:
  virtual ~FileAccess() = default;
  /// At most `most` bytes; a longer file gives its first `most` bytes.
  virtual base::Result<std::string, ReadError> read(const std::string& path, std::size_t most) = 0;
};

/// The disk. "-" is the standard input.
class DiskFiles : public FileAccess {
 public:
  base::Result<std::string, ReadError> read(const std::string& path, std::size_t most) override;
};

}  // namespace tunesheaf::app
