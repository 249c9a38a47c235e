// Pages damaged on purpose, to see whether the audit notices. In: pages that have been audited. Out: for each kind of
// mark and each damage, how many were done and how many caught. Read next: generated/damage_test.cpp.
#pragma once
#include <array>
#include <map>
#include <string>
#include <string_view>

#include "generated/judge.h"

namespace tunesheaf::generated {

enum class Damage { Deleted, Moved, Doubled, Resized };
inline constexpr std::array<std::string_view, 4> kDamages{"deleted", "moved", "doubled", "resized"};

struct Caught {
  int done = 0, caught = 0;
};
/// By kind of mark, then by damage.
using Tally = std::map<std::string, std::array<Caught, 4>>;

/// At most `most` marks of each kind, spread over the pages, each damaged in each way, one at a time: taken out; moved
/// by a staff space to the side or up; drawn a second time; half as large again.
void damage(const Pages& pages, int most, Tally& tally);

}  // namespace tunesheaf::generated
