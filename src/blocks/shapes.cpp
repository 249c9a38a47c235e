#include "tunesheaf/blocks/shapes.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <set>
#include <tuple>

#include "neck.h"
#include "pen.h"
#include "tunesheaf/blocks/move_words.h"
#include "tunesheaf/blocks/words.h"

namespace tunesheaf::blocks {
namespace {

using score::MoveUse;
using score::ShapeUse;

/// A shape and the move that leads from it to the next one shown.
struct Entry {
  int shape = -1;
  const MoveUse* move = nullptr;
};

class Shapes {
 public:
  Shapes(const Setting& setting, const ShapesWish& wish)
      : setting_(setting), style_(setting.style), wish_(wish), gap_(string_gap(setting.style, wish.size)) {}

  Flow draw() {
    Flow flow;
    for (const int part : parts()) add_part(flow, part);
    return flow;
  }

 private:
  /// Parts that have shapes; in the order of the sheet.
  std::vector<int> parts() const {
    std::vector<int> out;
    for (const int p : setting_.parts) {
      if (!shapes_of(p).empty()) out.push_back(p);
    }
    return out;
  }

  /// A shape that names no part is played by the first fretted part with as many strings.
  int owner_of(const ShapeUse& shape) const {
    if (shape.part >= 0) return shape.part;
    for (std::size_t p = 0; p < setting_.song.parts.size(); ++p) {
      const auto& part = setting_.song.parts[p];
      const bool fretted = part.instrument.family == theory::Family::Fretted;
      if (fretted && part.tuning.count() == shape.shape.count()) return static_cast<int>(p);
    }
    return -1;
  }

  std::vector<int> shapes_of(int part) const {
    std::vector<int> out;
    const std::vector<int> first = wish_.section < 0 ? std::vector<int>() : first_uses();
    for (std::size_t i = 0; i < setting_.song.shapes.size(); ++i) {
      const ShapeUse& shape = setting_.song.shapes[i];
      if (!first.empty() && first[i] == std::numeric_limits<int>::max()) continue;
      if (shape.used && owner_of(shape) == part) out.push_back(static_cast<int>(i));
    }
    return out;
  }

  /// Where the song first needs each shape, by its index: the place in a count over events and names of the sections.
  std::vector<int> first_uses() const {
    std::vector<int> out(setting_.song.shapes.size(), std::numeric_limits<int>::max());
    std::vector<std::tuple<int, score::Place, int>> uses;  // section, place, shape
    for (std::size_t s = 0; s < setting_.song.sections.size(); ++s) {
      if (wish_.section >= 0 && static_cast<int>(s) != wish_.section) continue;
      const score::Section& section = setting_.song.sections[s];
      const int number = static_cast<int>(s);
      for (const score::Harmony& harmony : section.harmony) uses.emplace_back(number, harmony.at, harmony.shape);
      for (const score::PartMusic& music : section.parts) events_of(music, number, uses);
    }
    std::sort(uses.begin(), uses.end());
    for (std::size_t i = 0; i < uses.size(); ++i) {
      const int shape = std::get<2>(uses[i]);
      if (shape < 0) continue;
      int& first = out[static_cast<std::size_t>(shape)];
      first = std::min(first, static_cast<int>(i));
    }
    return out;
  }

  void events_of(const score::PartMusic& music, int section,
                 std::vector<std::tuple<int, score::Place, int>>& uses) const {
    for (const score::Voice& voice : music.voices) {
      for (const auto& bar : voice.bars) {
        for (const score::Segment& segment : bar) {
          if (segment.event < 0 || segment.tied_from) continue;
          const score::Event& event = setting_.song.events[static_cast<std::size_t>(segment.event)];
          uses.emplace_back(section, event.at, event.shape);
        }
      }
    }
  }

  /// In the order of the song; shapes no section names come last, as the file has them.
  std::vector<Entry> chain(const std::vector<int>& shapes) {
    std::vector<int> order = shapes;
    const std::vector<int> first = first_uses();
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
      return first[static_cast<std::size_t>(a)] < first[static_cast<std::size_t>(b)];
    });
    std::vector<Entry> entries;
    for (std::size_t i = 0; i < order.size(); ++i) {
      Entry entry{order[i], nullptr};
      if (i + 1 < order.size()) entry.move = find_move(setting_.song, order[i], order[i + 1]);
      if (entry.move != nullptr) told_.insert(entry.move);
      entries.push_back(entry);
    }
    return entries;
  }

  std::string full_name(int index) const { return shape_words(setting_, shape(index)); }

  const ShapeUse& shape(int index) const { return setting_.song.shapes[static_cast<std::size_t>(index)]; }

  void add_part(Flow& flow, int part) {
    const std::vector<int> shapes = shapes_of(part);
    const auto& owner = setting_.song.parts[static_cast<std::size_t>(part)];
    std::string aside = setting_.parts.size() > 1 ? owner.name.value : "";
    if (owner.capo > 0) aside += std::string(aside.empty() ? "" : ", ") + "capo " + std::to_string(owner.capo);
    flow.push_back(block_heading(setting_, wish_.section < 0 ? "Shapes" : "Shapes of this section",
                                 aside));  // it stays with the first row
    const std::vector<Entry> entries = chain(shapes);
    int strings = 3;
    for (const int s : shapes) strings = std::max(strings, shape(s).shape.count());
    Length box = std::max(gap_ * (strings + 1.6), style_.body.size * 5.8);
    // Room for the words of a move between two boxes; where no move is told the boxes stand close.
    const bool moves = std::any_of(entries.begin(), entries.end(), [](const Entry& e) { return e.move != nullptr; });
    Length least_move = style_.body.size * (moves ? 5 : 0.9);
    if (words_below() && moves) {  // room for an arrow
      box = gap_ * (strings + 1.6);
      least_move = style_.body.size * 3;
    }
    const int columns = std::max(1, static_cast<int>((setting_.body() + least_move) / (box + least_move)));
    // Full rows; where one box would stand alone in the last, rows of nearly one length: four in threes are 2, 2.
    const auto most = static_cast<std::size_t>(columns);
    const std::size_t rows = (entries.size() + most - 1) / most;
    const bool lone = rows > 1 && entries.size() % most == 1;
    const std::size_t wide = lone ? (entries.size() + rows - 1) / rows : most;
    const Length pitch = (setting_.body() + least_move) / static_cast<int>(wide);
    std::size_t last = 0;
    for (std::size_t done = 0; done < rows; ++done) {
      const std::size_t first = last, left = entries.size() - first;
      last = first + (lone ? (left + rows - done - 1) / (rows - done) : std::min(most, left));
      const std::vector<Entry> row(entries.begin() + static_cast<std::ptrdiff_t>(first),
                                   entries.begin() + static_cast<std::ptrdiff_t>(last));
      flow.push_back(
          flow_item(draw_row(row, box, pitch), style_.body.size * (first == 0 ? 0.4 : 1.2), style_.body.size));
      if (first > 0) flow.back().continuation = continued_line(setting_, {}, "Shapes", {});
      // The rows would rather stay together, most of all the last with the one before it.
      if (done + 1 < rows) flow.back().break_cost = done + 2 == rows ? 16 : 8;
      const Length anchor = style_.body.size;
      if (first == 0) flow.back().notes.push_back({anchor, gloss(owner, shapes)});
      for (const Entry& entry : row) {
        if (!shape(entry.shape).says.empty()) flow.back().notes.push_back({anchor, says(shape(entry.shape))});
      }
    }
    if (wish_.section < 0) other_moves(flow, shapes);
  }

  /// On a practice sheet the words of the moves stand under a row, as wide as it is; on a handout between the boxes.
  bool words_below() const { return wish_.section >= 0; }

  FramePtr draw_row(const std::vector<Entry>& row, Length box, Length pitch) {
    auto frame = std::make_shared<Frame>();
    frame->name = "shapes";
    std::vector<FramePtr> boxes;
    Length deepest;  // the nuts stand on one line
    for (const Entry& entry : row) {
      boxes.push_back(chord_box(setting_, shape(entry.shape), wish_.size, BoxText::Full, box));
      deepest = std::max(deepest, boxes.back()->baseline);
    }
    Length height;
    for (std::size_t i = 0; i < row.size(); ++i) {
      const Point at{pitch * static_cast<double>(i), deepest - boxes[i]->baseline};
      frame->children.push_back({at, boxes[i]});
      height = std::max(height, at.y + boxes[i]->size.height);
      const Length room = pitch - box;
      if (row[i].move == nullptr) continue;
      if (i + 1 == row.size()) {  // an arrow needs its goal beside it
        told_.erase(row[i].move);
        continue;
      }
      // Clear of the figure of the first fret, which stands to the right of a box high on the neck.
      const auto ink = layout::ink_of(*boxes[i]);
      const Length pad =
          std::max(style_.body.size * 0.15, ink ? ink->right() - box + style_.body.size * 0.7 : Length{});
      const FramePtr words = move_frame(*row[i].move, room - pad - style_.body.size * 0.15);
      const Point place{at.x + box + pad, deepest + gap_ * 0.6};
      frame->children.push_back({place, words});
      height = std::max(height, place.y + words->size.height);
    }
    if (words_below()) height = told_below(*frame, row, height);
    frame->baseline = deepest;
    frame->size = {setting_.body(), height};
    return frame;
  }

  /// The words of the moves of a row under it, each with the names of its shapes; returns where they end.
  Length told_below(Frame& frame, const std::vector<Entry>& row, Length y) {
    y += style_.body.size * 0.5;
    for (std::size_t i = 0; i + 1 < row.size(); ++i) {
      if (row[i].move == nullptr) continue;
      std::vector<text::StyledText> pieces{
          {full_name(row[i].shape) + " to " + full_name(row[i + 1].shape) + ":  ", text_style(italic(style_.body))}};
      for (text::StyledText& piece : finger_pieces(style_.body, move_words(row[i].move->move), "; "))
        pieces.push_back(std::move(piece));
      const auto words = prose(
          setting_,
          {pieces, setting_.body(), style_.body.size, style_.ink, "move-words", {}, Role::Paragraph, "move-line"});
      frame.children.push_back({{{}, y}, words});
      y += words->size.height + style_.body.size * 0.2;
    }
    return y;
  }

  /// An arrow with the words of the move under it, where they stand there.
  FramePtr move_frame(const MoveUse& use, Length width) {
    Stack stack("move", width, Role::Paragraph);
    const Length y = style_.body.size * 0.5, tip = style_.body.size * 0.5;
    rule(stack.frame(), {{}, y}, width - tip * 0.8, style_.rule, style_.ink, "move-arrow");
    layout::PathShape head{text::moved(text::arrow_head({tip, {}}, tip, tip * 0.8), {width, y}), style_.ink,
                           std::nullopt};
    stack.frame().items.push_back({{}, "move-arrow", layout::Layer::Ink, {}, {}, head});
    if (words_below()) return stack.done();
    stack.space(style_.body.size * 0.9);
    for (const std::string& line : move_words(use.move)) {
      stack.add(prose(setting_, {finger_pieces(style_.small, {line}, ""),
                                 width,
                                 style_.small.size,
                                 style_.ink,
                                 "move-words",
                                 {},
                                 Role::None,
                                 "move-line"}));
      stack.space(style_.small.size * 0.24);  // lines of prose stand as far apart
    }
    return stack.done();
  }

  /// In the margin beside the first row: how to read a box.
  FramePtr gloss(const score::Part& part, const std::vector<int>& shapes) {
    const bool named =
        std::any_of(shapes.begin(), shapes.end(), [&](int s) { return named_above(setting_, shape(s)); });
    std::string text = named ? "Above a box: the hand’s name for the shape. Below it" : "Below a box";
    if (part.capo > 0) {
      text += ": the note of every string, and the chord. All is as fingered; the capo makes it sound " +
              counted(part.capo, "semitone", "semitones") + " higher, and frets are counted from it.";
    } else {
      text += ": the note of every string, and what the ear hears.";
    }
    if (style_.boxes_mirrored) text += " Boxes are drawn for left-handed players.";
    return prose(setting_, text, {italic(style_.note), style_.faint, "shapes-gloss"}, setting_.margin(),
                 Parting::English);
  }

  FramePtr says(const ShapeUse& shape) {
    return prose(setting_,
                 {{{shape.name.value + ": ", text_style(italic(style_.note))}, {shape.says, text_style(style_.note)}},
                  setting_.margin(),
                  style_.note.size,
                  style_.ink,
                  "shape-says",
                  shape.origin,
                  Role::Paragraph,
                  "shape-says",
                  text::Alignment::Left,
                  Parting::OfSong});
  }

  std::string move_names(const MoveUse& move) const { return full_name(move.from) + " \u2192 " + full_name(move.to); }

  /// Blanks at which a line does not break.
  static void unbroken(std::string& line) {
    for (std::size_t at = line.find(' '); at != std::string::npos; at = line.find(' ', at + 2)) {
      line.replace(at, 1, "\u00a0");
    }
  }

  /// Two columns: which shapes, and what the fingers do; the lines of each keep their left edge.
  FramePtr move_line(const MoveUse& move, Length left) const {
    auto frame = std::make_shared<Frame>();
    frame->name = "move-line";
    frame->role = Role::Paragraph;
    const auto strong = text_style(italic(style_.note));
    const auto names = prose(setting_, {{{move_names(move), strong}},
                                        left - style_.body.size,
                                        style_.note.size,
                                        style_.ink,
                                        "move-words",
                                        {},
                                        Role::None,
                                        "move-names"});
    // What one finger does stands on one line where the column is wide enough for it.
    std::vector<std::string> fingers = move_words(move.move);
    for (std::string& line : fingers) {
      if (width_of(setting_, line, bold(style_.small)) < setting_.body() - left - style_.small.size) unbroken(line);
    }
    const auto words = prose(setting_, {finger_pieces(style_.small, fingers, " \u00b7 "),
                                        setting_.body() - left,
                                        style_.note.size,
                                        style_.ink,
                                        "move-words",
                                        {},
                                        Role::None,
                                        "move-fingers"});
    frame->children = {{{}, names}, {{left, {}}, words}};
    frame->baseline = names->baseline;
    frame->size = {setting_.body(), std::max(names->size.height, words->size.height)};
    return frame;
  }

  /// Moves between shapes that do not stand side by side, one row each.
  void other_moves(Flow& flow, const std::vector<int>& shapes) {
    const std::set<int> wanted(shapes.begin(), shapes.end());
    std::vector<const MoveUse*> others;
    for (const MoveUse& move : setting_.song.moves) {
      if (told_.count(&move) > 0 || wanted.count(move.from) == 0 || wanted.count(move.to) == 0) continue;
      others.push_back(&move);
    }
    constexpr std::size_t kMostMoves = 8;  // those that come most often; the rest would fill a page
    std::stable_sort(others.begin(), others.end(), [](const auto* a, const auto* b) { return a->count > b->count; });
    const std::size_t left_out = others.size() > kMostMoves ? others.size() - kMostMoves : 0;
    others.resize(others.size() - left_out);
    bool first = true;
    Length names;
    for (const MoveUse* move : others) {
      names = std::max(names, width_of(setting_, move_names(*move), italic(style_.note)));
    }
    const Length left = std::min(setting_.body() * 0.4, names + style_.body.size * 2);
    for (const MoveUse* other : others) {
      const MoveUse& move = *other;
      const FramePtr line = move_line(move, left);
      if (first) {
        std::string heading = "Other moves in this song";
        if (left_out > 0) heading += ": the most frequent (" + std::to_string(left_out) + " more are not listed)";
        auto label = prose(setting_, heading, {style_.label, style_.faint, "moves-label"}, setting_.body());
        flow.push_back(flow_item(label, style_.body.size * 1.2));
        flow.back().break_after = layout::BreakAfter::Forbidden;
      }
      flow.push_back(flow_item(line, style_.body.size * (first ? 0.35 : 0.25)));
      if (!first) flow.back().continuation = continued_line(setting_, {}, "Shapes", {});
      first = false;
    }
  }

  const Setting& setting_;
  const style::Style& style_;
  ShapesWish wish_;
  Length gap_;
  std::set<const MoveUse*> told_;
};

}  // namespace

const MoveUse* find_move(const score::Timeline& song, int from, int to) {
  const auto found = std::find_if(song.moves.begin(), song.moves.end(),
                                  [&](const MoveUse& move) { return move.from == from && move.to == to; });
  return found == song.moves.end() ? nullptr : &*found;
}

std::string shape_words(const Setting& setting, const score::ShapeUse& shape) {
  const std::string ear = name_on_score(setting, shape);
  const std::string name = shape.name.value;
  return ear.empty() || ear == with_signs(name) ? name : name + "\u00a0(" + ear + ")";
}

Flow shapes_block(const Setting& setting, const ShapesWish& wish) {
  return Shapes(setting, wish).draw();
}

}  // namespace tunesheaf::blocks
