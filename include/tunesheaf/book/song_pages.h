// What one song gives to a book: its pages without running lines, and what the contents, the index and the order need
// to know of it. In: a Timeline laid out with Binding::Book. Out: a plain value that can be kept as bytes. Invariant:
// nothing in it depends on where the song stands in the book. Read next: book/bind.h.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/paint/display_list.h"

namespace tunesheaf::book {

struct NamedShape {
  std::string name, frets;  ///< "C", "x32010"
};

/// The first fretted part's instrument; empty where there is none.
struct SongTuning {
  std::string instrument;
  std::vector<int> strings, usual;  ///< MIDI keys, low string first
  std::string words;                ///< "usual tuning", "open G · D G D G B D", "…, capo 3"
  int capo = 0;
};

struct SongPages {
  std::string title, by;
  std::string key;            ///< as printed; empty: none stated
  std::optional<int> fifths;  ///< of the key's signature
  bool minor = false;         ///< its third is a minor one
  SongTuning tuning;
  std::optional<double> difficulty;  ///< 0 to 1; nothing without parts
  std::vector<NamedShape> shapes;
  std::vector<blocks::LegendSign> signs;  ///< on its pages
  base::Length mirror;                    ///< on a left-hand page everything stands so much further to the right
  paint::Document pages;
  std::vector<diag::Diagnostic> findings;  ///< errors and warnings; all places are in the song's own file, number 0
};

/// All but pages, mirror and findings. Difficulty is that of the hardest section, as blocks::practice_plan reckons it
/// for the first fretted part (else the first part). `signs` of a chart are none: it explains its own.
SongPages facts_of(const blocks::Setting& setting, bool chart);

std::string pack(const SongPages& song);
std::optional<SongPages> unpack(std::string_view bytes);

/// "hammer-ons", "palm mute": what a player does by that sign, for an index; empty for signs that are no technique.
std::string_view technique_of(blocks::LegendSign sign);

}  // namespace tunesheaf::book
