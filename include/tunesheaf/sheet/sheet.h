// A song as a finished handout. In: the Timeline, a style, fonts, which parts and which recording. Out: pages as frames
// with absolute places, what the document says of itself, and every note that must be found on the pages (for the
// audit). Invariant: blocks stand in the order title, about, tuning, form, shapes, instead, sections, drums, signs,
// credits; every page has its running line; nothing is left out in silence: what does not fit is a warning at its place
// in the song. Read next: blocks/setting.h, paint/display_list.h.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/blocks/instead.h"
#include "tunesheaf/blocks/setting.h"
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/layout/frame.h"
#include "tunesheaf/score/timeline.h"
#include "tunesheaf/style/style.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::sheet {

/// A sheet by itself, or a song's pages in a book. There the running lines and the table of signs are the book's; of
/// several pages the first is a left-hand one, and a leaf turns within a section only where the section is longer than
/// two pages.
enum class Binding : std::uint8_t { Alone, Book };

struct HandoutRequest {
  const score::Timeline& song;
  const style::Style& style;
  text::Shaper& shaper;
  text::MusicFont& music;
  std::vector<std::string> parts;               ///< by name, in the order of printing; empty: all
  std::string recording;                        ///< by name; empty: the one the lesson follows
  std::optional<blocks::Instead> instead = {};  ///< what another player plays; a block behind the shapes
  Binding binding = Binding::Alone;
};

/// A note that a sheet must show exactly once on that staff, at a height: so many halves of a line distance below the
/// staff's top line, reckoned from the pitch (or the string) and the clef a second time on purpose. Drums have none.
struct Expected {
  layout::Subject subject;
  source::Span origin;
  bool tab = false;
  bool or_sign = false;  ///< in a bar of a groove that comes again: drawn once, or a repeat sign says it
  std::optional<int> halves{};
  std::string text{};  ///< the figure of a tab
  /// Marks that must stand with it on some staff of its part; each is there in one of these kinds.
  std::vector<std::vector<layout::Kind>> with{};
};

struct Sheet {
  base::Size paper;
  base::Colour ground;
  std::vector<std::shared_ptr<const layout::Frame>> pages;  ///< each as large as the paper
  std::string title, author, subject, keywords, language;
  std::vector<Expected> expected;  ///< sorted by subject
  std::vector<source::Span> said;  ///< words of the song that must be printed somewhere on it
  base::Rect printable;            ///< every mark lies inside
  base::Length mirror;             ///< on a left-hand page of a book everything stands so much further to the right
};

/// Names of parts and the recording must be the song's own (see unknown_choices); others are passed over. Warnings are
/// added to `sink`.
Sheet make_handout(const HandoutRequest& request, diag::Sink& sink);

/// What the blocks of a handout are made from.
blocks::Setting handout_setting(const HandoutRequest& request);

/// Words among the chosen parts or the recording that the song does not know, each with the nearest name.
struct UnknownChoice {
  std::string word, nearest;
};
std::vector<UnknownChoice> unknown_choices(const HandoutRequest& request);

/// The `layout` phase: every page's frames.
std::string print(const Sheet& sheet);

}  // namespace tunesheaf::sheet
