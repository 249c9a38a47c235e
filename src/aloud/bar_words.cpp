#include "bar_words.h"

#include <algorithm>
#include <map>
#include <string_view>

namespace tunesheaf::aloud {

std::string syllable(const std::string& typed) {
  std::string out = plain(typed);
  while (!out.empty() && std::string_view("-,;:.!?").find(out.back()) != std::string_view::npos) out.pop_back();
  return out;
}

std::string joined_words(const std::vector<std::string>& typed) {
  std::string out;
  bool open = true;
  for (const std::string& word : typed) {
    const std::string text = plain(word);
    if (text.empty()) continue;
    out += (open ? "" : " ") + text;
    open = text.back() == '-' && text.size() > 1;
    if (open) out.pop_back();
  }
  std::string whole;
  for (std::size_t i = 0; i < out.size(); ++i) {
    const bool inner = i + 1 < out.size() && out[i] == '-' && out[i + 1] == ' ' && i > 0 && out[i - 1] != ' ';
    if (inner) {
      ++i;
    } else {
      whole += out[i];
    }
  }
  return whole;
}

namespace {

constexpr std::size_t kMostOthers = 4;  // one stroke in so many may differ from the rest and be named apart
constexpr std::size_t kFewestEven = 4;  // three strokes are as quickly named as counted

/// "every beat", "every half beat" … when the strokes fill the bar so; else empty.
std::string even_words(const score::Bar& bar, const std::vector<Stroke>& strokes) {
  if (strokes.size() < kFewestEven || bar.pick_up || !(bar.length == bar.meter.bar_length())) return {};
  const auto beats = bar.meter.beats();
  for (const auto& beat : beats) {
    if (!(beat.length == beats.front().length)) return {};
  }
  if (strokes.size() % beats.size() != 0) return {};
  const auto share = static_cast<std::int64_t>(strokes.size() / beats.size());
  const Fraction step = beats.front().length / Fraction(share);
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    if (!(strokes[i].onset == step * Fraction(static_cast<std::int64_t>(i)))) return {};
  }
  if (share > 4) return {};
  constexpr std::string_view kShares[] = {"", "every beat", "every half beat", "every third of a beat",
                                          "every quarter of a beat"};
  return std::string(kShares[share]);
}

/// The way most strokes are made.
std::string commonest(const std::vector<Stroke>& strokes) {
  std::map<std::string, int> count;
  for (const Stroke& stroke : strokes) ++count[stroke.how];
  return std::max_element(count.begin(), count.end(), [](const auto& a, const auto& b) { return a.second < b.second; })
      ->first;
}

}  // namespace

std::string stream_words(const score::Bar& bar, const std::string& label, const std::vector<Stroke>& strokes) {
  std::string out = capital(label) + ": ";
  const auto one = [](const std::string& where, const std::string& how) {
    return where + (how.empty() ? "" : ", " + how);
  };
  const std::string even = even_words(bar, strokes);
  const std::string usual = even.empty() ? "" : commonest(strokes);
  const auto others = static_cast<std::size_t>(
      std::count_if(strokes.begin(), strokes.end(), [&](const Stroke& stroke) { return stroke.how != usual; }));
  const bool by_rule = !even.empty() && others * kMostOthers <= strokes.size();
  if (by_rule) out += one(even, usual);
  bool first = !by_rule;
  for (const Stroke& stroke : strokes) {
    if (by_rule && stroke.how == usual) continue;
    const std::string how = by_rule && stroke.how.empty() ? "plain" : stroke.how;
    out += (first ? "" : by_rule ? "; but " : "; ") + one(beat_words(bar, stroke.onset), how);
    first = false;
  }
  return out;
}

std::string pedal_words(const std::string& text) {
  if (text == "on") return "pedal down";
  if (text == "change") return "pedal up and down again";
  if (text == "half") return "pedal half down";
  return "pedal up";
}

std::string arm_words(const song::ArmSign& arm) {
  using Action = song::ArmSign::Action;
  const std::string by = arm.semitones == Fraction(0) ? "" : " by " + amount_words(arm.semitones);
  switch (arm.action) {
    case Action::Dip:
      return "vibrato bar " + sign_words("arm", "dip2") + by;
    case Action::Dive:
      return "vibrato bar " + sign_words("arm", "dive5") + by;
    case Action::Up:
      return "vibrato bar " + sign_words("arm", "up2") + by;
    case Action::Scoop:
      return "vibrato bar " + sign_words("arm", "scoop");
    case Action::Back:
      return "vibrato bar " + sign_words("arm", "back");
    case Action::Vibrato:
      break;
  }
  return "vibrato bar " + sign_words("arm", "~");
}

std::string hold_words(const std::string& text) {
  if (text == "breath") return "a breath for everyone";
  if (text == "caesura") return "a break for everyone";
  if (text == "breath") return "breath for everyone";
  if (text == "caesura") return "break for everyone";
  return text == "short" || text == "long" ? text + " hold for everyone" : "hold for everyone";
}

}  // namespace tunesheaf::aloud
