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

namespace tunesheaf::generated {

struct Wish {
  std::string style = "house";
  std::string paper = "a4";
};

struct Failure {
  std::string key;   ///< "audit overlap note-head/stem", "timeline bar not filled"
  std::string what;  ///< for people
};

/// Styles of the house that a song is printed in, sorted by name.
std::vector<std::string> style_names();
/// The style and paper of the song with that number: they are spread over the songs evenly.
Wish wish_for(std::uint64_t number);

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
