// Engraving for tests: the fixed shaper, the house style, and questions to the frames that come out.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "engrave/song_maker.h"
#include "tunesheaf/engrave/system.h"

namespace tunesheaf::test {

using base::Length;
using base::Rect;

struct Engraved {
  engrave::EngravedSection section;
  style::Style style;
};

inline Engraved engraved(const score::Timeline& timeline, double width_mm = 150, const std::string& staves = "both",
                         engrave::SectionRequest request = {}, void (*set)(style::Style&) = nullptr) {
  const auto shaper = text::make_fixed_shaper();
  Engraved out;
  out.style = style::house_style();
  out.style.show_staves = staves;
  if (set != nullptr) set(out.style);
  text::MusicFont music(*shaper, out.style.music_family);
  request.timeline = &timeline;
  request.width = Length::mm(width_mm);
  out.section = engrave::engrave_section(request, out.style, *shaper, music);
  return out;
}

inline std::vector<const layout::Item*> of_kind(const layout::Frame& frame, const std::string& kind) {
  std::vector<const layout::Item*> found;
  for (const layout::Item& item : frame.items) {
    if (item.kind.name() == kind) found.push_back(&item);
  }
  return found;
}

/// The ink of one system of the section.
inline const layout::Frame& frame_of(const Engraved& e, std::size_t system = 0) {
  return *e.section.systems.at(system).frame;
}
inline std::string text_of(const layout::Item& item) {
  const auto* glyphs = std::get_if<layout::GlyphsShape>(&item.shape);
  return glyphs == nullptr ? std::string() : glyphs->run.text;
}
inline std::vector<std::string> texts(const layout::Frame& frame, const std::string& kind) {
  std::vector<std::string> out;
  for (const layout::Item* item : of_kind(frame, kind)) out.push_back(text_of(*item));
  return out;
}
/// So many quarters, or other parts of a whole note.
inline base::Fraction q(int count, int part = 4) {
  return {count, part};
}
inline score::Mark mark(SongMaker& song, const std::string& kind, base::Fraction from, base::Fraction to,
                        const std::string& word = "") {
  return {kind, word, song.place(from), song.place(to), {0, 5000, 5004}};
}

inline Length middle_x(const Rect& box) {
  return (box.left() + box.right()) / 2;
}
inline Length middle_y(const Rect& box) {
  return (box.top() + box.bottom()) / 2;
}

}  // namespace tunesheaf::test
