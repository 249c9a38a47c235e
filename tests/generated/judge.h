// What must hold for every song. In: a song's text, a style, a paper. Out: each property that does not hold, with a key
// that is the same for faults of one cause (so that a song can be shrunk while its fault stays) and words for people.
// Invariant: uses the fixed-width shaper and nothing of the machine. Read next: generated/shrink.h.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/app/pipeline.h"
#include "tunesheaf/paint/audit.h"
#include "tunesheaf/style/style.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::generated {

enum class SheetKind : std::uint8_t { Handout, Chart, Practice };

struct Wish {
  std::string style = "house";
  std::string paper = "a4";
  SheetKind sheet = SheetKind::Handout;
  std::uint64_t number = 0;  ///< of the song: names and players are spread over the charts by it
};

struct Failure {
  std::string key;   ///< "audit overlap note-head/stem", "timeline bar not filled"
  std::string what;  ///< for people
};

/// Styles of the house that a song is printed in, sorted by name.
std::vector<std::string> style_names();
/// The style and paper of the song with that number: they are spread over the songs evenly.
Wish wish_for(std::uint64_t number, SheetKind sheet = SheetKind::Handout);

/// What a breach is of, the same for all of one cause: the rule and the kinds of the two marks, without their texts.
std::string cause_of(const paint::Breach& breach);

/// A song's charts and practice sheets, as judge() does with the sheet of its wish. `style` and `shaper` are those of
/// the wish. A chart is one page, or refused with a reason and a remedy; its names are as large as promised. A practice
/// sheet of a section holds the section's bars in order and no note of another section or part.
void judge_chart(const score::Timeline& song, const style::Style& style, text::Shaper& shaper, std::uint64_t number,
                 std::vector<Failure>& out);
void judge_practice(const score::Timeline& song, const style::Style& style, text::Shaper& shaper,
                    std::vector<Failure>& out);

/// Everything; empty when all holds. A song that is refused has the one failure "check KIND".
std::vector<Failure> judge(const std::string& text, const Wish& wish);
/// The Timeline alone.
std::vector<Failure> judge_timeline(const score::Timeline& song);
/// A song's pages and the rules they must keep.
struct Pages {
  paint::Document document;
  paint::AuditRules rules;
};
/// Nothing when the song is refused.
std::optional<Pages> pages_of(const std::string& text, const Wish& wish);
/// The printed list of the song's handout, or nothing when the song is refused.
std::string display_list(const std::string& text, const Wish& wish);

}  // namespace tunesheaf::generated
