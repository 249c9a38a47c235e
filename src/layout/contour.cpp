#include "tunesheaf/layout/contour.h"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <utility>

namespace tunesheaf::layout {

using base::Length;

namespace {
const Length kFarLeft = Length::raw(INT64_MIN / 4);
}

Contour::Contour(Length base) {
  steps_.emplace(kFarLeft, base);
}

void Contour::cut(Length x) {
  auto after = steps_.upper_bound(x);
  const auto before = std::prev(after);
  if (before->first != x) steps_.emplace_hint(after, x, before->second);
}

void Contour::add(Length x0, Length x1, Length reach) {
  if (x1 < x0) std::swap(x0, x1);
  if (x0 == x1) return;
  cut(x0);
  cut(x1);
  for (auto it = steps_.find(x0); it->first != x1; ++it) it->second = std::max(it->second, reach);
}

Length Contour::reach(Length x0, Length x1) const {
  if (x1 < x0) std::swap(x0, x1);
  auto it = std::prev(steps_.upper_bound(x0));
  Length most = it->second;
  for (++it; it != steps_.end() && it->first < x1; ++it) most = std::max(most, it->second);
  return most;
}

Length Contour::reserve(Length x0, Length x1, Length height, Length gap, Length at_least) {
  const Length near = std::max(reach(x0, x1) + gap, at_least);
  add(x0, x1, near + height);
  return near;
}

Length Contour::farthest() const {
  Length most = steps_.begin()->second;
  for (const auto& [x, reach] : steps_) most = std::max(most, reach);
  return most;
}

Length Contour::distance_to(const Contour& ceiling, Length gap) const {
  auto a = steps_.begin();
  auto b = ceiling.steps_.begin();
  Length most = a->second + b->second;
  while (true) {
    const auto next_a = std::next(a), next_b = std::next(b);
    if (next_a == steps_.end() && next_b == ceiling.steps_.end()) break;
    const bool step_a = next_b == ceiling.steps_.end() || (next_a != steps_.end() && next_a->first <= next_b->first);
    const bool step_b = next_a == steps_.end() || (next_b != ceiling.steps_.end() && next_b->first <= next_a->first);
    if (step_a) a = next_a;
    if (step_b) b = next_b;
    most = std::max(most, a->second + b->second);
  }
  return most + gap;
}

}  // namespace tunesheaf::layout
