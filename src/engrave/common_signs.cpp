#include "tunesheaf/engrave/common_signs.h"

#include <algorithm>

namespace tunesheaf::engrave {

score::BarLine bar_line_at(const std::vector<FormSign>& signs, const score::Section& section, int bar) {
  score::BarLine line = section.bars[static_cast<std::size_t>(bar)].end;
  if (line == score::BarLine::RepeatEnd) return line;
  const auto next = static_cast<std::size_t>(bar) + 1;
  const bool new_key = next < section.bars.size() && section.bars[next].show_key && !section.bars[next].repeat_begin;
  if (line == score::BarLine::Single && new_key) line = score::BarLine::Double;
  bool ends = false, leaps = false;
  for (const FormSign& sign : signs) {
    if (sign.bar != bar || sign.edge != BarEdge::End) continue;
    ends = ends || sign.word == song::FormWord::Fine;
    leaps = leaps || sign.word == song::FormWord::DaCapo || sign.word == song::FormWord::DalSegno;
  }
  if (ends) return score::BarLine::Final;
  return leaps ? score::BarLine::Double : line;
}

std::vector<std::string> form_lines(const std::string& words, base::Length room,
                                    const std::function<base::Length(const std::string&)>& width_of) {
  std::vector<std::string> lines{{}};
  for (std::size_t from = 0; from < words.size();) {
    const std::size_t stop = std::min(words.find(": ", from), words.find(", ", from));
    const std::size_t to = stop == std::string::npos ? words.size() : stop + 1;
    const std::string piece = words.substr(from, to - from);
    const std::string longer = lines.back().empty() ? piece : lines.back() + " " + piece;
    if (lines.back().empty() || width_of(longer) <= room) {
      lines.back() = longer;
    } else {
      lines.push_back(piece);
    }
    from = to + 1;
  }
  return lines;
}

bool needs_notation(const score::Timeline& song, const score::PartMusic& music) {
  const auto has_no_string = [](const score::Note& note) { return note.string < 1; };
  const auto lost = [&](const score::Segment& segment) {
    if (segment.event < 0 || segment.rest) return false;
    const score::Event& event = song.events[static_cast<std::size_t>(segment.event)];
    return event.kind == score::EventKind::Notes &&
           (std::any_of(event.notes.begin(), event.notes.end(), has_no_string) ||
            std::any_of(event.grace->notes.begin(), event.grace->notes.end(), has_no_string));
  };
  return std::any_of(music.voices.begin(), music.voices.end(), [&](const score::Voice& voice) {
    return std::any_of(voice.bars.begin(), voice.bars.end(),
                       [&](const auto& bar) { return std::any_of(bar.begin(), bar.end(), lost); });
  });
}

HoldShape hold_shape(const std::string& word) {
  return word == "short" ? HoldShape::Angle : word == "long" ? HoldShape::Square : HoldShape::Arc;
}

double hold_half_width(HoldShape shape) {
  return shape == HoldShape::Angle ? 1.0 : 1.15;
}

std::vector<text::PathStep> hold_outline(HoldShape shape, base::Point foot, base::Length staff_space) {
  using text::PathVerb;
  const base::Length half = staff_space * hold_half_width(shape), top = foot.y - staff_space * kHoldRise;
  std::vector<text::PathStep> steps{{PathVerb::Move, {foot.x - half, foot.y}, {}, {}}};
  if (shape == HoldShape::Angle) {
    steps.push_back({PathVerb::Line, {foot.x, top}, {}, {}});
  } else {
    steps.push_back({PathVerb::Line, {foot.x - half, top}, {}, {}});
    steps.push_back({PathVerb::Line, {foot.x + half, top}, {}, {}});
  }
  steps.push_back({PathVerb::Line, {foot.x + half, foot.y}, {}, {}});
  return steps;
}

}  // namespace tunesheaf::engrave
