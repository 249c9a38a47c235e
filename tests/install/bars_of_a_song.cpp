// Counts the bars of a song, as printed and as played, with the installed libraries alone.
#include <iostream>

#include "tunesheaf/app/pipeline.h"

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  tunesheaf::app::Work work;
  tunesheaf::app::DiskFiles disk;
  if (!tunesheaf::app::read_text(work, disk, argv[1]) || !tunesheaf::app::to_timeline(work)) return 1;
  std::size_t printed = 0;
  for (const auto& section : work.timeline->sections) printed += section.bars.size();
  std::cout << work.timeline->title.value << ": " << printed << " bars, " << work.timeline->played.size() << " as played\n";
  return 0;
}
