// A file that is either wholly written or not touched. In: bytes. Out: the file under its name, or a fault that says
// what failed. Invariant: until commit() succeeds, whatever stood under the name stays as it was, through any failure,
// a full disk or a kill; the bytes go to a temporary file in the same folder, are synced, then renamed over the name.
// Read next: export/files.h.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tunesheaf::exporting {

enum class FileStep : std::uint8_t { Create, Write, Sync, Close, Rename, SyncFolder };

/// What went wrong with a file, for a musician's message.
struct FileFault {
  FileStep step = FileStep::Create;
  std::string path;    ///< the name asked for
  int code = 0;        ///< errno
  std::string reason;  ///< the system's words for it: "No space left on device"
  /// "cannot write 'songs/waltz.pdf': No space left on device"
  std::string message() const;
};

/// Files that are no plain files (devices, pipes) are written straight, since they cannot be replaced.
class SafeFile {
 public:
  explicit SafeFile(std::string path);
  /// Removes the temporary file unless it was committed.
  ~SafeFile();
  SafeFile(const SafeFile&) = delete;
  SafeFile& operator=(const SafeFile&) = delete;

  /// False once anything has failed; the first fault is kept.
  bool write(std::string_view bytes);
  /// Syncs and closes the temporary file; after it write() is a fault.
  bool seal();
  /// seal(), then puts the file under its name. False on the first fault, this one or an earlier one.
  bool commit();
  const std::optional<FileFault>& fault() const { return fault_; }
  /// Where the bytes stand until commit(); for tests.
  const std::string& temporary() const { return temporary_; }

 private:
  bool fail(FileStep step, int code);
  void drain(std::string_view bytes);
  bool sync_folder();
  std::string path_, target_, temporary_;
  std::string buffer_;
  int descriptor_ = -1;
  bool direct_ = false;
  bool committed_ = false;
  std::optional<FileFault> fault_;
};

}  // namespace tunesheaf::exporting
