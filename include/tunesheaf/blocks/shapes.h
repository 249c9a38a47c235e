// Chord boxes and the moves between them. In: a Setting; for one box, a shape in use and a size. Out: the block of
// shapes (boxes in the order of the song, the move to the next between them), or one box as a frame. A box shows the
// hand's name above and the ear's name below, the sounding note under every string, fingers in the dots, barres,
// strings not played (x) and open (o), the first fret; 3 to 12 strings, mirrored for left-handed players. Invariant:
// all three sizes are drawn by the same code, and no figure in them is smaller than 7 pt.
//
//      x o     o         strings left to right as tuned
//      =========   nut (or "5" beside the first fret drawn)
//      | | | 1 |
//      | 2 | | |
//      G D G B D         sounding notes
#pragma once
#include <memory>
#include <string>

#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

enum class BoxSize : std::uint8_t { Small, Medium, Large };
/// How much stands around the box: the names and sounding notes, or the box and its name above alone.
/// Least distance of two strings at which the fingers stand in the dots of a box.
base::Length least_gap_with_fingers();
enum class BoxText : std::uint8_t { Full, NameOnly };

/// As wide as its widest line, at most `width` (names break there); the box stands in the middle of it.
std::shared_ptr<const layout::Frame> chord_box(const Setting& setting, const score::ShapeUse& shape, BoxSize size,
                                               BoxText text, base::Length width);

/// What a shape of the song is called above the bars, where that is one name throughout: the chord as stated there.
/// Else, and for shapes that are not the song's own, what the ear hears.
std::string name_on_score(const Setting& setting, const score::ShapeUse& shape);
/// Whether the name that the hand knows it by stands above its box: it is said once where it is the name on the score.
bool named_above(const Setting& setting, const score::ShapeUse& shape);

/// "home (G)": the hand's name, and what the box is called below.
std::string shape_words(const Setting& setting, const score::ShapeUse& shape);

/// The song's move between two shapes, by their indices; nothing when they are never neighbours.
const score::MoveUse* find_move(const score::Timeline& song, int from, int to);

struct ShapesWish {
  int section = -1;  ///< only what this section needs; -1: the whole song, with its other moves
  BoxSize size = BoxSize::Medium;
};
Flow shapes_block(const Setting& setting, const ShapesWish& wish = {});

}  // namespace tunesheaf::blocks
