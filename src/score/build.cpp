#include "tunesheaf/score/build.h"

#include "builder.h"

namespace tunesheaf::score {

Timeline build(const check::CheckedSong& checked) {
  Timeline out;
  const CheckedData& data = *checked;
  const song::Song& song = *data.song;
  out.title = song.title;
  out.by = song.by;
  out.lesson = song.lesson;
  out.revision = song.revision;
  out.video = song.video;
  out.credits = song.credits;
  out.about = song.about;
  if (song.language) out.language = song.language->value;
  out.key = data.key;
  out.meter = data.meter;
  if (song.tempo) out.tempo = song.tempo->value;
  if (song.feel) out.feel = song.feel->value;
  out.counts_in = song.counts_in;
  out.starts = song.starts;
  Builder builder{data, out};
  build_recordings(builder);
  build_parts(builder);
  build_shapes(builder);
  build_sections(builder);
  for (Part& part : out.parts) place_kit(part);
  build_played(builder);
  build_moves(builder);
  return out;
}

}  // namespace tunesheaf::score
