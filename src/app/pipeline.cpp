#include "tunesheaf/app/pipeline.h"

#include "tunesheaf/score/build.h"
#include "tunesheaf/song/read.h"

namespace tunesheaf::app {
namespace {

void say_unread(Work& work, const std::string& path, const ReadError& error) {
  const bool missing = error.fault == ReadFault::Missing;
  diag::Diagnostic finding;
  finding.kind = missing ? diag::Kind::FileMissing : diag::Kind::FileUnreadable;
  finding.rule = "a song is one text file";
  switch (error.fault) {
    case ReadFault::Missing:
      finding.situation = "there is no file \"" + path + "\"";
      finding.remedy = "look at the name and the folder; `tunesheaf new " + path + "` writes a song to start from";
      break;
    case ReadFault::Folder:
      finding.situation = "\"" + path + "\" is a folder";
      finding.remedy = "name the song file in it";
      break;
    case ReadFault::Forbidden:
      finding.situation = "\"" + path + "\" may not be read (" + error.reason + ")";
      finding.remedy = "change the file's permissions, or copy it where you may read it";
      break;
    case ReadFault::Unreadable:
      finding.situation = "\"" + path + "\" cannot be read (" + error.reason + ")";
      finding.remedy = "copy it to another disk and try again";
      break;
  }
  work.file = work.files.add(path, "");
  work.sink.add(finding);
}

}  // namespace

bool read_text(Work& work, FileAccess& files, const std::string& path) {
  auto text = files.read(path, kMostSongBytes);
  if (!text) {
    say_unread(work, path, text.error());
    return false;
  }
  work.file = work.files.add(path, std::move(text.value()));
  work.from_disk = path != "-";
  return true;
}

bool to_nodes(Work& work) {
  if (!work.nodes && !work.sink.has_errors()) work.nodes = yaml::read(work.files.file(work.file), work.sink);
  return work.nodes.has_value();
}

bool to_song(Work& work) {
  if (!work.song && to_nodes(work)) work.song = song::read(*work.nodes, work.files.file(work.file), work.sink);
  return work.song.has_value();
}

bool to_checked(Work& work) {
  if (!work.checked && to_song(work)) {
    work.checked = check::check(*work.song, work.files.file(work.file), work.sink);
    if (work.sink.has_errors()) work.checked.reset();
  }
  return work.checked.has_value();
}

bool to_timeline(Work& work) {
  if (!work.timeline && to_checked(work)) work.timeline = score::build(*work.checked);
  return work.timeline.has_value();
}

}  // namespace tunesheaf::app
