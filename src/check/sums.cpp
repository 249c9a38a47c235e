// Bars that do not add up: each on its own, or, where many differ from the meter in the same way, the meter.
#include <algorithm>

#include "context.h"

namespace tunesheaf::check {
namespace {

using WrongSum = Context::WrongSum;

/// So many bars with the same count are no slips of the pen: the meter is.
constexpr std::size_t kMany = 5;

std::string counted(int count, bool colons) {
  return std::to_string(count) + (colons ? (count == 1 ? " beat" : " beats") : (count == 1 ? " cell" : " cells"));
}

std::string beats(int count) {
  return std::to_string(count) + (count == 1 ? " beat" : " beats");
}

void say_of_pattern(Context& context, const WrongSum& sum) {
  std::vector<diag::Label> labels = {{sum.bar, counted(sum.got, sum.colons)}};
  if (sum.meter_span.length() > 0) labels.push_back({sum.meter_span, "the meter"});
  context.sink.add({Kind::BarDoesNotAddUp, std::move(labels),
                    "this bar of the lane " + diag::quoted(sum.lane) + " in the pattern " + diag::quoted(sum.pattern) +
                        " has " + counted(sum.got, sum.colons) + ", and it is played over a bar of " + sum.meter,
                    "a pattern has the beats of the bars it is played over, or states a `meter` of its own",
                    "write one stretch for each beat, or give the pattern its `meter`"});
}

void say_one(Context& context, const WrongSum& sum) {
  if (!sum.pattern.empty()) return say_of_pattern(context, sum);
  const std::string situation = "this bar of the lane " + diag::quoted(sum.lane) + " has " +
                                counted(sum.got, sum.colons) + ", and " + (sum.pick_up ? "the pick-up" : sum.meter) +
                                " has " + beats(sum.want);
  const std::string rule = sum.colons
                               ? "with colons a bar has one stretch for each beat"
                               : "without colons the number of cells divides the beats, or is a multiple of them";
  const std::string remedy = "write the beats apart with colons, and - where nothing new happens";
  if (sum.meter_span.length() > 0 && !sum.pick_up) {
    context.say_both(Kind::BarDoesNotAddUp, sum.bar, counted(sum.got, sum.colons), sum.meter_span, "the meter",
                     situation, rule, remedy);
  } else {
    context.say(Kind::BarDoesNotAddUp, sum.bar, situation, rule, remedy + "; or state the `meter`");
  }
}

void say_many(Context& context, const WrongSum& first, std::size_t count) {
  std::vector<diag::Label> labels = {{first.bar, "the first of them"}};
  if (first.meter_span.length() > 0) labels.push_back({first.meter_span, "the meter"});
  const std::string unit = first.meter.substr(std::min(first.meter.find('/'), first.meter.size()));
  std::string remedy = "mend the meter, or write each bar with its beats";
  if (first.colons && unit.find(' ') == std::string::npos && unit.size() > 1)
    remedy = "is the meter " + std::to_string(first.got) + unit + "? Or write each bar with its beats";
  if (first.meter_span.length() == 0) remedy += "; without `meter` a song is in 4/4";
  context.sink.add({Kind::BarDoesNotAddUp, std::move(labels),
                    std::to_string(count) + " bars have " + counted(first.got, first.colons) + ", and " + first.meter +
                        " has " + beats(first.want),
                    "all bars of a stretch have the beats of its meter", remedy});
}

bool alike(const WrongSum& a, const WrongSum& b) {
  return a.meter_span == b.meter_span && a.got == b.got && a.want == b.want && a.colons == b.colons &&
         a.pick_up == b.pick_up;
}

}  // namespace

void say_wrong_sums(Context& context) {
  auto& sums = context.wrong_sums;
  const auto place = [](const WrongSum& sum) { return std::pair(sum.bar.begin, sum.bar.end); };
  std::stable_sort(sums.begin(), sums.end(), [&](const auto& a, const auto& b) { return place(a) < place(b); });
  // A bar that is played again is still one bar of the file.
  sums.erase(std::unique(sums.begin(), sums.end(), [](const auto& a, const auto& b) { return a.bar == b.bar; }),
             sums.end());
  std::vector<char> said(sums.size(), 0);
  for (std::size_t i = 0; i < sums.size(); ++i) {
    if (said[i]) continue;
    std::size_t count = 0;
    for (std::size_t j = i; j < sums.size(); ++j) count += alike(sums[i], sums[j]) ? 1 : 0;
    if (count < kMany) {
      say_one(context, sums[i]);
      continue;
    }
    say_many(context, sums[i], count);
    for (std::size_t j = i; j < sums.size(); ++j) said[j] = said[j] || alike(sums[i], sums[j]);
  }
}

}  // namespace tunesheaf::check
