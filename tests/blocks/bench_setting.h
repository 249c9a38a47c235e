// A Setting on the sample song with the fixed-width shaper, and looks into flows and frames. For tests.
#pragma once
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "blocks/sample_song.h"
#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::testing {

class Bench {
 public:
  explicit Bench(score::Timeline made = SampleSong().build(), const std::string& paper = "a4")
      : song(std::move(made)), style(style::house_style(paper)) {}

  blocks::Setting setting() {
    std::vector<int> parts;
    for (std::size_t i = 0; i < song.parts.size(); ++i) parts.push_back(static_cast<int>(i));
    return {song, style, *shaper, music, parts, song.recordings.empty() ? -1 : 0};
  }

  score::Timeline song;
  style::Style style;
  std::unique_ptr<text::Shaper> shaper = text::make_fixed_shaper();
  text::MusicFont music{*shaper};
};

using Visit = std::function<void(const layout::Item&, base::Point)>;
inline void each_item(const layout::Frame& frame, base::Point at, const Visit& visit) {
  for (const layout::Item& item : frame.items) visit(item, at + item.at);
  for (const layout::PlacedFrame& child : frame.children) each_item(*child.frame, at + child.at, visit);
}

/// All text of a frame, one space between two runs.
inline std::string text_of(const layout::Frame& frame) {
  std::string out;
  each_item(frame, {}, [&](const layout::Item& item, base::Point) {
    if (const auto* glyphs = std::get_if<layout::GlyphsShape>(&item.shape)) out += glyphs->run.text + " ";
  });
  return out;
}
inline std::string text_of(const blocks::Flow& flow) {
  std::string out;
  for (const layout::FlowItem& item : flow) {
    out += text_of(*item.frame);
    for (const layout::MarginNote& note : item.notes) out += "[" + text_of(*note.frame) + "] ";
  }
  return out;
}

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// Text broken over lines is compared without its blanks.
inline std::string packed(std::string text) {
  std::erase(text, ' ');
  for (const std::string joiner : {"\u2060", "\u00a0"}) {  // what keeps a name on one line
    for (std::size_t at = text.find(joiner); at != std::string::npos; at = text.find(joiner)) {
      text.erase(at, joiner.size());
    }
  }
  return text;
}

inline int count_kind(const layout::Frame& frame, layout::Kind kind) {
  int count = 0;
  each_item(frame, {}, [&](const layout::Item& item, base::Point) { count += item.kind == kind ? 1 : 0; });
  return count;
}
inline int count_kind(const blocks::Flow& flow, layout::Kind kind) {
  int count = 0;
  for (const layout::FlowItem& item : flow) count += count_kind(*item.frame, kind);
  return count;
}

inline std::string print(const blocks::Flow& flow) {
  std::string out;
  for (const layout::FlowItem& item : flow) {
    out += layout::print(*item.frame);
    for (const layout::MarginNote& note : item.notes) out += "note\n" + layout::print(*note.frame);
  }
  return out;
}

}  // namespace tunesheaf::testing
