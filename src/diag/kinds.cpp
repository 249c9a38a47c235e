#include <array>

#include "tunesheaf/diag/diagnostic.h"

namespace tunesheaf::diag {
namespace {

struct KindFacts {
  Kind kind;
  std::string_view name;
  Severity severity;
};

constexpr std::array kFacts = std::to_array<KindFacts>({
#define KIND(enumerator, text, level) {Kind::enumerator, text, Severity::level},
#include "tunesheaf/diag/kinds.def"
#undef KIND
});

}  // namespace

std::string_view name(Kind kind) {
  return kFacts.at(static_cast<std::size_t>(kind)).name;
}

Severity severity(Kind kind) {
  return kFacts.at(static_cast<std::size_t>(kind)).severity;
}

std::string_view name(Severity severity) {
  switch (severity) {
    case Severity::Error:
      return "error";
    case Severity::Warning:
      return "warning";
    case Severity::Note:
      break;
  }
  return "note";
}

const std::vector<Kind>& all_kinds() {
  static const std::vector<Kind> kKinds = [] {
    std::vector<Kind> all;
    all.reserve(kFacts.size());
    for (const KindFacts& facts : kFacts) all.push_back(facts.kind);
    return all;
  }();
  return kKinds;
}

}  // namespace tunesheaf::diag
