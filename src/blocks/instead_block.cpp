// The block "Instead" of a handout: a sentence, a box for every chord, the other places for the capo.
#include <algorithm>

#include "pen.h"
#include "tunesheaf/blocks/instead.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/words.h"

namespace tunesheaf::blocks {
namespace {

/// A found shape as the box draws it: above it the chord of the page, below it what the hand plays.
score::ShapeUse use_of(const Instead& instead, const InsteadChord& chord) {
  score::ShapeUse use;
  use.name.value = "for " + chord.page_name;
  use.shape = chord.shape->shape;
  use.ear = chord.fingered;
  use.ear_text = theory::print(chord.fingered);
  use.used = true;
  use.sounding.resize(use.shape.frets.size());
  const auto tones = theory::tones(chord.fingered);
  for (const theory::SoundingString& s : theory::sounding(instead.wish.tuning, {}, use.shape)) {
    const int key = s.midi.front();
    theory::Pitch pitch = theory::plain_spelling(key);
    for (const theory::ChordTone& tone : tones) {
      if (tone.pitch.number() == pitch.name.number()) pitch = theory::with_name(key, tone.pitch);
    }
    const auto& bass = chord.fingered.bass;
    if (bass && bass->number() == pitch.name.number()) pitch = theory::with_name(key, *bass);
    use.sounding[use.shape.place_of(s.string)] = pitch;
  }
  return use;
}

std::string capo_words(int capo) {
  return capo == 0 ? "no capo" : "capo at fret " + std::to_string(capo);
}

std::string key_aside(const theory::InsteadOption& option) {
  return option.key ? ", fingered in " + theory::print(*option.key, theory::Accidentals::Signs) : "";
}

std::string lead_words(const Instead& instead) {
  const int up = instead.wish.semitones;
  std::string out = "On " + wish_words(instead.wish) + ", with " +
                    (instead.capo() == 0 ? "no capo" : "the " + capo_words(instead.capo())) +
                    key_aside(instead.options.front()) + ". ";
  if (up == 0) {
    out += "It sounds as the rest of this sheet does.";
  } else {
    out += "It sounds " + counted(std::abs(up), "semitone", "semitones") + (up > 0 ? " above" : " below") +
           " the rest of this sheet.";
  }
  return out;
}

/// What is left out, and what else would do.
std::string rest_words(const Instead& instead) {
  std::string out;
  for (const InsteadChord& chord : instead.chords) {
    if (chord.shape) continue;
    out += "No hand can play " + theory::print(chord.fingered, theory::Accidentals::Signs) + " (for " +
           chord.page_name + ") there";
    if (!chord.nearest.empty()) out += "; nearest: " + theory::print(chord.nearest.front(), theory::Accidentals::Signs);
    out += ". ";
  }
  if (!instead.unnamed.empty()) {
    out += "Without a common name, and so left out: " + list_words(instead.unnamed) + ". ";
  }
  std::vector<std::string> others;
  for (std::size_t i = 1; i < instead.options.size() && others.size() < 3; ++i) {
    const theory::InsteadOption& option = instead.options[i];
    if (option.unplayable > 0) continue;
    const std::string key = option.key ? " (in " + theory::print(*option.key, theory::Accidentals::Signs) + ")" : "";
    others.push_back(capo_words(option.capo) + key);
  }
  if (!others.empty()) out += "Next best: " + list_words(others) + ".";
  return out;
}

FramePtr row_of(const Setting& setting, const std::vector<FramePtr>& boxes, Length pitch) {
  auto frame = std::make_shared<Frame>();
  frame->name = "instead";
  Length deepest, height;
  for (const FramePtr& box : boxes) deepest = std::max(deepest, box->baseline);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    const Point at{pitch * static_cast<double>(i), deepest - boxes[i]->baseline};
    frame->children.push_back({at, boxes[i]});
    height = std::max(height, at.y + boxes[i]->size.height);
  }
  frame->baseline = deepest;
  frame->size = {setting.body(), height};
  return frame;
}

}  // namespace

Flow instead_block(const Setting& setting, const Instead& instead) {
  if (!instead.any()) return {};
  const style::Style& style = setting.style;
  const Length gap = style.body.size * 0.6;
  Flow flow{block_heading(setting, "Instead", wish_words(instead.wish))};
  const Ink ink{style.body, style.ink, "instead-words"};
  flow.push_back(flow_item(prose(setting, lead_words(instead), ink, setting.body()), gap));
  flow.back().break_after = layout::BreakAfter::Forbidden;
  const int strings = std::max(3, instead.wish.tuning.count());
  const Length box = std::max(style.box.medium * (strings + 1.6), style.body.size * 5.8);
  const int columns = std::max(1, static_cast<int>((setting.body() + gap) / (box + gap)));
  const Length pitch = (setting.body() + gap) / columns;
  std::vector<FramePtr> boxes;
  for (const InsteadChord& chord : instead.chords) {
    if (!chord.shape) continue;
    boxes.push_back(chord_box(setting, use_of(instead, chord), BoxSize::Medium, BoxText::Full, box));
  }
  for (std::size_t first = 0; first < boxes.size(); first += static_cast<std::size_t>(columns)) {
    const std::size_t last = std::min(boxes.size(), first + static_cast<std::size_t>(columns));
    const std::vector<FramePtr> row(boxes.begin() + static_cast<std::ptrdiff_t>(first),
                                    boxes.begin() + static_cast<std::ptrdiff_t>(last));
    flow.push_back(flow_item(row_of(setting, row, pitch), style.body.size * (first == 0 ? 0.4 : 1.0), style.body.size));
  }
  if (const std::string rest = rest_words(instead); !rest.empty()) {
    const Ink quiet{style.note, style.faint, "instead-words"};
    flow.push_back(flow_item(prose(setting, rest, quiet, setting.body()), gap));
  }
  return flow;
}

}  // namespace tunesheaf::blocks
