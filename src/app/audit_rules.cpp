#include "audit_rules.h"

#include <string>

#include "tunesheaf/engrave/system.h"

namespace tunesheaf::app {
namespace {

using paint::Kind;
using paint::MayTouch;

/// Unicode, Musical Symbols.
constexpr const char* kHalfHead = "\xF0\x9D\x85\x97";
constexpr const char* kBlackHead = "\xF0\x9D\x85\x98";

/// A stem meets its head, beam and flag; heads of one chord meet; a tuplet's number sits in the gap of its bracket.
std::vector<MayTouch> joined_marks() {
  return {
      {"chart-hit", "chart-stem"},
      {"chart-stem", "chart-flag"},
      {"chart-stem", "chart-beam"},
      {"chart-beam", "chart-beam"},
      {"chart-ending", "chart-ending"},
      {"chart-bar-line", "chart-ending"},
      {"note-head", "stem"},
      {"note-head", "note-head"},
      {"note-head", "ledger"},
      {"note-head-tied", "stem"},
      {"note-head-tied", "note-head"},
      {"note-head-tied", "ledger"},
      {"stem", "beam"},
      {"stem", "flag"},
      {"beam", "beam"},
      {"stem", "stem"},
      {"slash", "stem"},
      {"beam", "tremolo"},
      {"stem", "tremolo"},
      {"stem", "buzz"},
      {"grace-stem", "grace-head"},
      {"grace-stem", "grace-flag"},
      {"grace-stem", "grace-slash"},
      {"grace-flag", "grace-slash"},
      {"grace-stem", "grace-beam"},
      {"rest-bars", "rest-bars"},
      {"fermata-short", "fermata-short"},
      {"fermata-long", "fermata-long"},
      {"body-tap", "body-tap"},
      {"bend-arrow", "bend-arrow"},
      {"roll", "roll-arrow"},
      {"roll", "roll"},
      {"brush", "brush"},
      {"stroke", "stroke"},
      {"hairpin", "hairpin"},
      {"ending", "ending"},
      {"arm", "arm"},
      {"technique-span", "technique-span"},
      {"box-dot", "box-string"},
      {"box-barre", "box-dot"},
      {"box-barre", "box-string"},
      {"tie", "stem"},
      {"slur", "stem"},
      {"key-signature", "key-signature"},
      {"slur", "beam"},
      {"tuplet-bracket", "tuplet-bracket"},
      {"bar-line", "bar-line"},
      {"tab-line", "tab-figure"},
      {"tab-line", "tab-figure-held"},
      {"tab-line", "string-letter"},
      {"tab-line", "grace-figure"},
      {"tab-line", "strum-figure"},
      {"tab-line", "touch-figure"},
      {"tab-line", "released-figure"},
      {"tab-line", "trill-figure"},
      {"staff-line", "fretting-finger"},
      {"technique-line", "technique-line"},
      {"tempo-line", "tempo-line"},
      {"palm-mute-line", "palm-mute-line"},
      {"let-ring-line", "let-ring-line"},
      {"octave-line", "octave-line"},
      {"bend", "bend"},
      {"bend", "bend-arrow"},
      {"bend-angle", "bend-angle"},
      {"bend-angle", "tie"},
      {"legato-arc", "bend"},
      {"legato-arc", "bend-arrow"},
      {"legato-arc", "legato-arc"},
      {"arm", "arm-wave"},
      {"brush", "roll-arrow"},
      {"slide", "slur"},
      {"drum-ring", "drum-half"},
      {"drum-key-ring", "drum-key-half"},
      {"legend-sign-path", "legend-sign-path"},
      {"legend-sign-line", "legend-sign-path"},
      {"legend-sign-line", "legend-sign-line"},
      {"legend-sign-line", "legend-sign-music"},
      {"box-string", "box-finger"},
      {"box-dot", "box-finger"},
      {"box-barre", "box-finger"},
      {"box-muted", "box-muted"},
      // In the picture of a move the ways of the fingers cross one another and the places they come from.
      {"move-from", "box-string"},
      {"move-from", "move-from"},
      {"move-from", "move-to"},
      {"move-from", "move-way"},
      {"move-way", "move-way"},
      {"move-way", "move-to"},
      {"move-way", "box-string"},
      {"move-to", "box-string"},
      {"move-to", "box-finger"},
      {"move-from", "box-finger"},
      {"move-way", "box-finger"},
      {"remark-ring", "remark-number"},
      {"string-ring", "string-number"},
      {"caution-sign", "caution-sign-stroke"},
      {"note-head-tied", "note-head-tied"},
      {"slash", "flag"},
      {"bracket", "bracket"},
      {"lesson-bracket", "lesson-bracket"},
  };
}

/// Every mark of a frame and of those within it, at its place on the page: the way to the display list gone a second
/// time on purpose.
void lay(const layout::Frame& frame, base::Point at, std::vector<paint::Laid>& out) {
  for (const layout::Item& item : frame.items) {
    const bool ink = !std::holds_alternative<layout::LinkShape>(item.shape) &&
                     !std::holds_alternative<layout::BookmarkShape>(item.shape);
    if (ink) out.push_back({item.kind, layout::box_of(item).moved(at), item.origin});
  }
  for (const layout::PlacedFrame& child : frame.children) {
    if (child.frame) lay(*child.frame, at + child.at, out);
  }
}

/// A cue is small music: its marks meet as those of the music do.
void add_cue_marks(std::vector<MayTouch>& marks) {
  const auto small = [](Kind kind) { return Kind::interned("cue-" + std::string(kind.name())); };
  const std::size_t count = marks.size();
  for (std::size_t i = 0; i < count; ++i) marks.push_back({small(marks[i].a), small(marks[i].b)});
}

}  // namespace

paint::AuditRules audit_rules(const sheet::Sheet& sheet) {
  paint::AuditRules rules;
  rules.printable = sheet.printable;
  rules.said = sheet.said;
  for (const auto& page : sheet.pages) lay(*page, {}, rules.laid.emplace_back());
  for (const sheet::Expected& expected : sheet.expected) {
    (expected.or_sign ? rules.may_stand : rules.expected).push_back(expected.subject);
    if (expected.or_sign) continue;
    for (const std::vector<paint::Kind>& kinds : expected.with) {
      const int part = engrave::part_of_staff(expected.subject.staff);
      rules.wanted.push_back({engrave::staff_number(part, engrave::StaffKind::Notation),
                              engrave::staff_number(part, engrave::StaffKind::Tab), expected.subject.event, kinds,
                              expected.origin});
    }
    if (!expected.halves) continue;
    rules.places.push_back({expected.subject, expected.tab ? paint::Kind("tab-figure") : paint::Kind("note-head"),
                            expected.tab ? paint::Kind("tab-line") : paint::Kind("staff-line"), *expected.halves,
                            expected.text});
  }
  rules.joined = {{"stem", "note-head", "note-head-tied", {kHalfHead, kBlackHead}}};
  rules.counted = {"note-head", "tab-figure"};
  rules.may_touch = joined_marks();
  add_cue_marks(rules.may_touch);
  rules.on_line = {{"tab-figure", "tab-line"}};
  rules.least_text = base::Length::pt(6.95);
  return rules;
}

}  // namespace tunesheaf::app
