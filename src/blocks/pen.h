// Drawing aids shared by all blocks: text at a baseline, paragraphs, rules, the mark of the teacher's own choices. In:
// a Setting and a frame. Out: items added to the frame. Invariant: places are relative to that frame.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "tunesheaf/blocks/setting.h"

namespace tunesheaf::blocks {

using base::Colour;
using base::Length;
using base::Point;
using layout::Frame;
using layout::Kind;
using layout::Role;
using source::Span;
using FramePtr = std::shared_ptr<const Frame>;

enum class Align : std::uint8_t { Left, Centre, Right };

text::TextStyle text_style(const style::TypeRole& role, bool tabular = false);
/// The same in bold, or slanted.
style::TypeRole bold(style::TypeRole role);
style::TypeRole italic(style::TypeRole role);

struct Ink {
  const style::TypeRole& role;
  Colour colour;
  Kind kind;
  Span origin{};
};

/// One line with its baseline at `at`, which is its left end, middle or right end. Returns its width.
Length put(Frame& frame, const Setting& setting, Point at, const std::string& text, const Ink& ink,
           Align align = Align::Left);
Length width_of(const Setting& setting, const std::string& text, const style::TypeRole& role);

/// By whose rules running text may part words: those of the song's language, or of the program's own sentences. Titles,
/// names and labels keep theirs whole.
enum class Parting : std::uint8_t { None, OfSong, English };

struct Prose {
  std::vector<text::StyledText> pieces;
  Length width;
  Length size;  ///< of the main text: sets the pitch of the lines
  Colour colour;
  Kind kind;
  Span origin{};
  Role role = Role::Paragraph;
  std::string name = "paragraph";
  text::Alignment alignment = text::Alignment::Left;
  Parting parting = Parting::None;
  bool even = false;  ///< the lines of about one length: for captions of a few words
};
std::shared_ptr<Frame> prose(const Setting& setting, const Prose& prose);
/// A paragraph in one type role.
std::shared_ptr<Frame> prose(const Setting& setting, const std::string& text, const Ink& ink, Length width,
                             Parting parting = Parting::None);

void rule(Frame& frame, Point from, Length width, Length thickness, Colour colour, Kind kind = "rule");

/// A sign of music with its origin at `at`; returns its advance.
Length put_sign(Frame& frame, const Setting& setting, Point at, text::MusicSign sign, Length staff_space, Kind kind,
                Colour colour);

/// The mark of the teacher's own choices: an open lozenge and the word "lesson", on the baseline `at`. Its width.
Length put_lesson_mark(Frame& frame, const Setting& setting, Point at, Span origin = {});
Length lesson_mark_width(const Setting& setting);

/// The number of a remark in a ring, as it stands at its bar; the ring's left edge at `at`.
void put_remark_number(Frame& frame, const Setting& setting, Point at, int number, Span origin);

/// A triangle that points right, for places in the video; `size` is that of the text beside it. Returns its width.
Length put_play_sign(Frame& frame, const Setting& setting, Point at, Length size);

/// A note value as a picture with its dots, for "♩ = 96"; on the baseline `at`. Returns its width.
Length put_note_value(Frame& frame, const Setting& setting, Point at, base::Fraction unit, Length staff_space,
                      Colour colour);

/// "A  verse, continued", over what goes on at the top of a page.
FramePtr continued_line(const Setting& setting, const std::string& letter, const std::string& name, Span origin);

/// Frames one under the other.
class Stack {
 public:
  Stack(std::string name, Length width, Role role = Role::None);
  void space(Length height) { y_ += height; }
  void add(FramePtr frame, Length x = {});
  /// For items drawn straight into the stack.
  Frame& frame() { return *frame_; }
  Length y() const { return y_; }
  FramePtr done();

 private:
  std::shared_ptr<Frame> frame_;
  Length y_;
};

/// The heading of a block: a rule over the whole body and its name below it.
layout::FlowItem block_heading(const Setting& setting, const std::string& name, const std::string& aside = {});
/// The words of moves with the fingers in bold: "**1** slides to fret 5", and `between` between two lines.
std::vector<text::StyledText> finger_pieces(const style::TypeRole& role, const std::vector<std::string>& lines,
                                            const std::string& between);
layout::FlowItem flow_item(FramePtr frame, Length space_before, Length stretch = {});

}  // namespace tunesheaf::blocks
