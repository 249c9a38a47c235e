#include "audit_places.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <tuple>

#include "tunesheaf/base/number.h"

namespace tunesheaf::paint {
namespace {

using base::Length;
using base::Rect;

/// Shares of a line distance: how far a mark's middle may be from its height, and a stem from the edge of its head.
constexpr double kHeightSlack = 0.2, kJoinSlack = 0.15;
/// Sizes of one kind of mark differ by less than this share (glyphs are measured in whole units).
constexpr double kSizeSlack = 0.04;

std::string words_of(const DisplayItem& item) {
  const auto* glyphs = std::get_if<GlyphsShape>(&item.shape);
  return glyphs == nullptr ? std::string() : glyphs->run.text;
}

std::string kind_and_words(const DisplayItem& item) {
  const std::string words = words_of(item);
  return std::string(item.kind.name()) + (words.empty() ? "" : " '" + words + "'");
}

Length middle(const Rect& box) {
  return box.y + box.height / 2;
}

/// The lines of one staff on one system.
struct Staff {
  Length left, right, top, gap;
};

using StaffKey = std::tuple<std::string_view, std::int32_t>;  // kind of line, staff

std::map<StaffKey, std::vector<Staff>> staves_of(const Page& page, const std::set<Kind>& kinds) {
  std::map<StaffKey, std::vector<Staff>> out;
  std::map<StaffKey, std::vector<const DisplayItem*>> seconds;
  for (const DisplayItem& item : page.items) {
    if (kinds.count(item.kind) == 0 || item.subject.staff < 0) continue;
    const StaffKey key{item.kind.name(), item.subject.staff};
    if (item.subject.note == 1) out[key].push_back({item.box.left(), item.box.right(), middle(item.box), Length{}});
    if (item.subject.note == 2) seconds[key].push_back(&item);
  }
  for (auto& [key, staves] : out) {
    for (Staff& staff : staves) {
      for (const DisplayItem* second : seconds[key]) {
        const Length below = middle(second->box) - staff.top;
        const bool beside = second->box.right() > staff.left && second->box.left() < staff.right;
        if (beside && below > Length{} && (staff.gap == Length{} || below < staff.gap)) staff.gap = below;
      }
    }
  }
  return out;
}

class PlaceAudit {
 public:
  PlaceAudit(const Document& document, const AuditRules& rules, std::vector<Breach>& out)
      : document_(document), rules_(rules), out_(out) {
    for (const Place& place : rules.places) {
      places_[{std::string(place.mark.name()), place.subject}] = &place;
      lines_.insert(place.line);
    }
  }

  void run() {
    for (const Page& page : document_.pages) {
      for (const DisplayItem& item : page.items) {
        if (lines_.count(item.kind) == 0 || item.subject.staff < 0) continue;
        int& most = most_lines_[{item.kind.name(), item.subject.staff}];
        most = std::max(most, static_cast<int>(item.subject.note));
      }
    }
    for (std::size_t p = 0; p < document_.pages.size(); ++p) {
      page_ = static_cast<int>(p);
      const Page& page = document_.pages[p];
      doubled(page);
      if (!places_.empty()) {
        whole_staves(page);
        placed(page);
      }
      for (const Joined& joined : rules_.joined) this->joined(page, joined);
    }
    sizes();
    wanted();
  }

 private:
  void report(const DisplayItem& item, int page, std::string rule, std::string text) {
    out_.push_back({page, item.box, item.origin, std::move(rule), std::move(text)});
  }

  /// Ink that lies twice at one place.
  void doubled(const Page& page) {
    std::map<std::tuple<std::string_view, std::int64_t, std::int64_t, std::int64_t, std::int64_t>,
             std::vector<const DisplayItem*>>
        seen;
    for (const DisplayItem& item : page.items) {
      if (item.layer != Layer::Line && item.layer != Layer::Ink && item.layer != Layer::Text) continue;
      if (std::holds_alternative<GroupShape>(item.shape) || std::holds_alternative<GroupEndShape>(item.shape)) continue;
      auto& same = seen[{item.kind.name(), item.box.x.units(), item.box.y.units(), item.box.width.units(),
                         item.box.height.units()}];
      const bool again = std::any_of(same.begin(), same.end(), [&](const DisplayItem* other) {
        return other->subject == item.subject && words_of(*other) == words_of(item) && other->at == item.at;
      });
      if (again) report(item, page_, "doubled", kind_and_words(item) + " is drawn twice at one place");
      same.push_back(&item);
    }
  }

  /// The lines of each staff on each system: all there, equally far apart, equally long.
  void whole_staves(const Page& page) {
    std::map<StaffKey, std::vector<const DisplayItem*>> lines;
    for (const DisplayItem& item : page.items)
      if (lines_.count(item.kind) > 0 && item.subject.staff >= 0)
        lines[{item.kind.name(), item.subject.staff}].push_back(&item);
    for (auto& [key, all] : lines) {
      std::stable_sort(all.begin(), all.end(), [](const auto* a, const auto* b) { return a->box.y < b->box.y; });
      for (std::size_t from = 0; from < all.size();) {
        std::size_t to = from + 1;
        while (to < all.size() && all[to]->subject.note > all[to - 1]->subject.note) ++to;
        whole_staff({all.begin() + static_cast<std::ptrdiff_t>(from), all.begin() + static_cast<std::ptrdiff_t>(to)},
                    most_lines_[key]);
        from = to;
      }
    }
  }

  void whole_staff(const std::vector<const DisplayItem*>& lines, int wanted) {
    const DisplayItem& first = *lines.front();
    if (static_cast<int>(lines.size()) != wanted)
      return report(
          first, page_, "broken-staff",
          kind_and_words(first) + ": " + std::to_string(lines.size()) + " of " + std::to_string(wanted) + " lines");
    if (wanted < 2) return;
    const double gap = (middle(lines.back()->box) - middle(first.box)).points() / (wanted - 1);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const double at = (middle(lines[i]->box) - middle(first.box)).points();
      const bool level = std::abs(at - gap * static_cast<double>(i)) <= rules_.slack.points();
      const bool long_enough = base::abs(lines[i]->box.left() - first.box.left()) <= rules_.slack &&
                               base::abs(lines[i]->box.right() - first.box.right()) <= rules_.slack;
      if (!level || !long_enough)
        report(*lines[i], page_, "broken-staff",
               kind_and_words(*lines[i]) + " is not even with the others of its staff");
    }
  }

  void placed(const Page& page) {
    const auto staves = staves_of(page, lines_);
    for (const DisplayItem& item : page.items) {
      const auto found = places_.find({std::string(item.kind.name()), item.subject});
      if (found == places_.end()) continue;
      const Place& place = *found->second;
      if (!place.text.empty() && words_of(item) != place.text)
        report(item, page_, "wrong-text", kind_and_words(item) + " stands where '" + place.text + "' is written");
      const auto of_staff = staves.find({place.line.name(), item.subject.staff});
      const Staff* nearest = nullptr;
      Length least;
      if (of_staff != staves.end()) {
        for (const Staff& staff : of_staff->second) {
          const Length x = item.box.x + item.box.width / 2;
          if (staff.gap == Length{} || x < staff.left || x > staff.right) continue;
          const Length away = base::abs(staff.top + staff.gap * (place.halves / 2.0) - middle(item.box));
          if (nearest == nullptr || away < least) {
            nearest = &staff;
            least = away;
          }
        }
      }
      if (nearest == nullptr) {
        report(item, page_, "wrong-height",
               kind_and_words(item) + " has no " + std::string(place.line.name()) + " about it");
        continue;
      }
      if (least > nearest->gap * kHeightSlack) {
        report(item, page_, "wrong-height",
               kind_and_words(item) + " stands " + base::print_decimal(least / nearest->gap, 2) +
                   " line distances off its place");
      }
      if (!words_of(item).empty())
        sized_[{std::string(item.kind.name()), words_of(item), nearest->gap.units()}].push_back({&item, page_});
    }
  }

  /// Marks of one kind and text, on staves of one size, are as large as most of their like.
  void sizes() {
    for (auto& [key, marks] : sized_) {
      if (marks.size() < 3) continue;
      std::vector<Length> heights;
      for (const Sized& mark : marks) heights.push_back(mark.item->box.height);
      const auto half = heights.begin() + static_cast<std::ptrdiff_t>(heights.size() / 2);
      std::nth_element(heights.begin(), half, heights.end());
      for (const Sized& mark : marks) {
        if (base::abs(mark.item->box.height - *half) <= *half * kSizeSlack) continue;
        report(*mark.item, mark.page, "odd-size", kind_and_words(*mark.item) + " is not as large as its like");
      }
    }
  }

  /// Stems at the sides of their heads, and heads with their stems.
  void joined(const Page& page, const Joined& rule) {
    std::map<std::pair<std::int32_t, std::int32_t>, std::vector<const DisplayItem*>> marks, partners;
    for (const DisplayItem& item : page.items) {
      if (item.subject.event < 0) continue;
      const std::pair key{item.subject.staff, item.subject.event};
      if (item.kind == rule.mark) marks[key].push_back(&item);
      if (item.kind == rule.partner || item.kind == rule.also) partners[key].push_back(&item);
    }
    const auto at_side = [](const DisplayItem& mark, const DisplayItem& partner) {
      const Length slack = partner.box.height * kJoinSlack;
      const Length x = mark.box.x + mark.box.width / 2;
      const bool beside = std::min(base::abs(x - partner.box.left()), base::abs(x - partner.box.right())) <= slack;
      const bool reaches =
          mark.box.top() <= partner.box.bottom() + slack && mark.box.bottom() >= partner.box.top() - slack;
      return beside && reaches;
    };
    for (const auto& [key, heads] : partners) {
      for (const DisplayItem* head : heads) {
        const bool wants = std::find(rule.texts.begin(), rule.texts.end(), words_of(*head)) != rule.texts.end();
        if (!wants || head->kind != rule.partner) continue;
        const auto& own = marks[key];
        if (std::any_of(own.begin(), own.end(), [&](const DisplayItem* mark) { return at_side(*mark, *head); }))
          continue;
        report(*head, page_, "loose",
               kind_and_words(*head) + " has no " + std::string(rule.mark.name()) + " at its side");
      }
    }
    for (const auto& [key, own] : marks) {
      const auto heads = partners.find(key);
      if (heads == partners.end()) continue;
      for (const DisplayItem* mark : own) {
        const bool held = std::any_of(heads->second.begin(), heads->second.end(),
                                      [&](const DisplayItem* head) { return at_side(*mark, *head); });
        if (!held)
          report(*mark, page_, "loose", kind_and_words(*mark) + " stands at no " + std::string(rule.partner.name()));
      }
    }
  }

  void wanted() {
    if (rules_.wanted.empty()) return;
    std::set<std::tuple<std::int32_t, std::int32_t, std::string_view>> drawn;  // event, staff, kind
    for (const Page& page : document_.pages)
      for (const DisplayItem& item : page.items)
        if (item.subject.event >= 0) drawn.insert({item.subject.event, item.subject.staff, item.kind.name()});
    for (const Wanted& wish : rules_.wanted) {
      const bool there = std::any_of(wish.kinds.begin(), wish.kinds.end(), [&](Kind kind) {
        for (std::int32_t staff = wish.first_staff; staff <= wish.last_staff; ++staff)
          if (drawn.count({wish.event, staff, kind.name()}) > 0) return true;
        return false;
      });
      if (!there)
        out_.push_back({-1,
                        {},
                        wish.origin,
                        "missing-mark",
                        "event " + std::to_string(wish.event) + " has no " + std::string(wish.kinds.front().name())});
    }
  }

  struct Sized {
    const DisplayItem* item;
    int page;
  };

  const Document& document_;
  const AuditRules& rules_;
  std::vector<Breach>& out_;
  int page_ = 0;
  std::map<std::pair<std::string, Subject>, const Place*> places_;
  std::set<Kind> lines_;
  std::map<StaffKey, int> most_lines_;
  std::map<std::tuple<std::string, std::string, std::int64_t>, std::vector<Sized>> sized_;  // kind, text, line distance
};

}  // namespace

void check_places(const Document& document, const AuditRules& rules, std::vector<Breach>& out) {
  PlaceAudit(document, rules, out).run();
}

}  // namespace tunesheaf::paint
