// A section of the song on the page. In: a Setting, the section's index. Out: its heading (letter, name, bars, times,
// what is said about it, its place in the video as a link in the margin) and its systems, each with the remarks that
// speak of its bars as notes in the margin column. Invariant: a heading never stands alone; a remark stands beside the
// system of its bar, or under it where a page cannot hold them all beside it. Read next: engrave/system.h.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/blocks/setting.h"
#include "tunesheaf/engrave/system.h"

namespace tunesheaf::blocks {

struct SectionBlock {
  Flow flow;
  std::vector<source::Span> overfull;     ///< bars too full for the width
  std::vector<source::Span> set_smaller;  ///< bars for whose sake the section is set smaller
  std::vector<source::Span> broken;       ///< bars that go on on the next system
  /// Of each system whose remarks are longer than the page the first that stands under it, not beside it.
  std::vector<source::Span> remarks_below{};
  /// The section, where its parts stand in several systems, for one would be higher than a page.
  std::optional<source::Span> shared_out{};
};

/// The count as it is spoken, under the staff: 1 & 2 & 3 e & a.
enum class Counting : std::uint8_t { None, UnderTheStaff };

/// "C  refrain, continued", small, for the head of a page.
std::shared_ptr<const layout::Frame> continuation_line(const Setting& setting, int section);
/// Its heading alone; `music`: whether systems follow, which it then keeps company.
layout::FlowItem section_heading(const Setting& setting, int section, bool music);
SectionBlock section_block(const Setting& setting, int section, Counting counting = Counting::None);

/// Name of the section's bookmark within the document.
std::string section_anchor(int section);
/// The video at a time, as a W3C media fragment: "https://…#t=116".
std::string video_link(const std::string& video, const base::Fraction& seconds);

}  // namespace tunesheaf::blocks
