// Waiting for files to be saved. In: names of files. Out: that at least one of them has changed and all is quiet again,
// or that the user wants to stop. Invariant: folders are watched, not files, so that a file which is replaced, deleted
// or made anew is still followed; a folder that goes away is taken up again when it is back. Read next:
// verbs_watch.cpp.
#pragma once
#include <chrono>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "tunesheaf/base/result.h"

namespace tunesheaf::app {

enum class Woken : unsigned char {
  Changed,  ///< a followed file was written, replaced, deleted or made
  Stop      ///< SIGINT or SIGTERM came
};

class FileWatch {
 public:
  /// SIGINT and SIGTERM of this thread come to wait() from here on, until the watch is gone. The error is a sentence.
  static base::Result<std::unique_ptr<FileWatch>, std::string> open();
  ~FileWatch();
  FileWatch(const FileWatch&) = delete;
  FileWatch& operator=(const FileWatch&) = delete;

  /// From now on these files, and where they are symbolic links what they lead to. `any_yaml`: any file ending in
  /// .yaml in their folders counts too, for what is wrong may be that one is not there.
  void follow(const std::vector<std::string>& files, bool any_yaml);
  /// Sleeps until a change is followed by 40 ms of quiet (at most a second, if there is none), or until a signal comes.
  Woken wait();
  /// A folder that cannot be watched, as a sentence; empty when all is well.
  const std::string& fault() const { return fault_; }

 private:
  FileWatch() = default;
  void watch_folder(const std::string& folder);
  /// Reads what has happened; true when it concerns a followed file.
  bool read_events();
  bool take_up_lost_folders();

  int events_ = -1, signals_ = -1;
  std::map<std::string, std::set<std::string>> wanted_;  // names of files by folder
  std::map<int, std::string> folders_;                   // by watch descriptor
  std::set<std::string> lost_;                           // folders that went away
  bool any_yaml_ = false;
  std::string fault_;
};

}  // namespace tunesheaf::app
