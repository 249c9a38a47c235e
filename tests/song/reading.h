// Songs read from a text, for tests. In: the text of a song file. Out: the Song and everything that was said about it.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/song/read.h"

namespace tunesheaf::song {

struct Reading {
  std::shared_ptr<source::Files> files = std::make_shared<source::Files>();
  std::optional<yaml::Node> nodes;
  std::optional<Song> song;
  diag::Sink sink;

  const source::File& file() const { return files->file(0); }
  std::string said() const { return diag::print(sink.sorted(), *files, diag::Format::Lines, false); }
  /// "8:13 tight-colon" for each finding, in order of place.
  std::vector<std::string> marks() const {
    std::vector<std::string> lines;
    for (const diag::Diagnostic& item : sink.sorted()) {
      const source::Place at = file().place(item.labels.at(0).span.begin);
      lines.push_back(std::to_string(at.line) + ":" + std::to_string(at.column) + " " +
                      std::string(diag::name(item.kind)));
    }
    return lines;
  }
};

inline Reading read_text_of_song(const std::string& text) {
  Reading reading;
  const source::FileId id = reading.files->add("song.yaml", text);
  reading.nodes = yaml::read(reading.files->file(id), reading.sink);
  if (reading.nodes) reading.song = read(*reading.nodes, reading.files->file(id), reading.sink);
  return reading;
}

/// A song in which the part `player` plays these lanes in the section `tune`.
inline std::string song_with_lanes(const std::string& lanes) {
  std::string text =
      "song: Quarry Lane\nparts:\n  player: {instrument: guitar}\nshapes:\n  home: {frets: x 0 2 2 1 0}\n"
      "  two finger: {frets: 3 2 0 0 0 3}\npatterns:\n  lilt: \"strum | D : U |\"\nsections:\n  tune:\n"
      "    player: |\n";
  std::string line;
  for (const char c : lanes + "\n") {
    if (c != '\n') {
      line += c;
      continue;
    }
    text += line.empty() ? "\n" : "      " + line + "\n";
    line.clear();
  }
  return text;
}

inline const std::vector<Stanza>& stanzas_of(const Reading& reading) {
  return reading.song->sections.at(0).parts.at(0).stanzas;
}

}  // namespace tunesheaf::song
