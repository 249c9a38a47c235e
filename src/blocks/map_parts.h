// Who plays when, in rows beneath the section map. In: the steps of the form. Out: a row for each part: a bar of ink
// from where it plays to where it rests, to the scale of the map. Invariant: told by where there is ink and where there
// is none, never by a tone; a song of one part, or in which all play throughout, has no rows. Read next: blocks/map.h.
#pragma once
#include <map>
#include <string>
#include <vector>

#include "map_form.h"
#include "pen.h"

namespace tunesheaf::blocks {

class PartRows {
 public:
  PartRows(const Setting& setting, const std::vector<MapStep>& steps);

  bool empty() const { return rows_.empty(); }
  /// Of the column of names at the left, with the white behind it.
  base::Length label_width() const { return label_width_; }
  base::Length height() const { return pitch() * static_cast<double>(rows_.size()); }
  void put_names(Frame& frame, base::Length top) const;
  /// `bar`: width of one bar.
  void put_step(Frame& frame, const MapStep& step, Point at, base::Length bar) const;
  /// What must be said of the rows; empty where nothing must.
  std::string words() const;

 private:
  struct Row {
    int part = 0;
    std::string name;
    bool on_sheet = true;
  };
  void choose(const std::vector<MapStep>& steps);
  void name_rows();
  base::Length pitch() const { return setting_.style.small.size * 1.3; }
  Playing at(const MapStep& step, int part, std::size_t bar) const;
  void put_run(Frame& frame, Point from, base::Length width, Playing how, Span origin) const;

  const Setting& setting_;
  std::map<const score::Section*, std::vector<std::vector<Playing>>> playing_;
  std::vector<Row> rows_;
  base::Length label_width_;
  bool from_chords_ = false, all_throughout_ = false;
};

}  // namespace tunesheaf::blocks
