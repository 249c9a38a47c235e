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
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/layout/frame.h"
#include "tunesheaf/score/timeline.h"
#include "tunesheaf/style/style.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::sheet {

struct HandoutRequest {
  const score::Timeline& song;
  const style::Style& style;
  text::Shaper& shaper;
  text::MusicFont& music;
  std::vector<std::string> parts;               ///< by name, in the order of printing; empty: all
  std::string recording;                        ///< by name; empty: the one the lesson follows
  std::optional<blocks::Instead> instead = {};  ///< what another player plays; a block behind the shapes
};

/// A note that a sheet must show exactly once on that staff, at a height: so many halves of a line distance below the
/// staff's top line, reckoned from the pitch (or the string) and the clef a second time on purpose. Drums have none.
struct Expected {
  layout::Subject subject;
  source::Span origin;
  bool tab = false;
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
  base::Rect printable;            ///< every mark lies inside
};

/// Names of parts and the recording must be the song's own (see unknown_choices); others are passed over. Warnings are
/// added to `sink`.
Sheet make_handout(const HandoutRequest& request, diag::Sink& sink);

/// Words among the chosen parts or the recording that the song does not know, each with the nearest name.
struct UnknownChoice {
  std::string word, nearest;
};
std::vector<UnknownChoice> unknown_choices(const HandoutRequest& request);

/// The `layout` phase: every page's frames.
std::string print(const Sheet& sheet);

}  // namespace tunesheaf::sheet
