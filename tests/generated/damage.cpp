#include "generated/damage.h"

#include <set>
#include <vector>

#include "generated/random.h"

namespace tunesheaf::generated {
namespace {

using base::Length;
using paint::DisplayItem;

constexpr double kMove = 5;      // pt: a staff space
constexpr double kLarger = 1.5;  // times

bool is_ink(const DisplayItem& item) {
  const bool shape =
      std::holds_alternative<paint::PathShape>(item.shape) || std::holds_alternative<paint::LineShape>(item.shape) ||
      std::holds_alternative<paint::RectShape>(item.shape) || std::holds_alternative<paint::GlyphsShape>(item.shape);
  const bool layer =
      item.layer == paint::Layer::Ink || item.layer == paint::Layer::Text || item.layer == paint::Layer::Line;
  return shape && layer && !item.kind.name().empty();
}

base::Point larger(base::Point p) {
  return {p.x * kLarger, p.y * kLarger};
}

void enlarge(DisplayItem& item) {
  if (auto* line = std::get_if<paint::LineShape>(&item.shape)) line->to = larger(line->to);
  if (auto* rect = std::get_if<paint::RectShape>(&item.shape))
    rect->size = {rect->size.width * kLarger, rect->size.height * kLarger};
  if (auto* path = std::get_if<paint::PathShape>(&item.shape)) {
    for (auto& step : path->steps) {
      step.a = larger(step.a);
      step.b = larger(step.b);
      step.c = larger(step.c);
    }
  }
  if (auto* glyphs = std::get_if<paint::GlyphsShape>(&item.shape)) {
    glyphs->run.size = glyphs->run.size * kLarger;
    glyphs->run.advance = glyphs->run.advance * kLarger;
  }
  const Length left = item.box.x - item.at.x, top = item.box.y - item.at.y;
  item.box = {item.at.x + left * kLarger, item.at.y + top * kLarger, item.box.width * kLarger,
              item.box.height * kLarger};
}

void hurt(std::vector<DisplayItem>& items, std::size_t at, Damage damage, Random& random) {
  switch (damage) {
    case Damage::Deleted:
      items.erase(items.begin() + static_cast<std::ptrdiff_t>(at));
      break;
    case Damage::Moved: {
      const Length by = Length::pt(random.chance(50) ? kMove : -kMove);
      const bool across = random.chance(50);
      const base::Point way{across ? by : Length{}, across ? Length{} : by};
      items[at].at = items[at].at + way;
      items[at].box = items[at].box.moved(way);
      break;
    }
    case Damage::Doubled:
      items.insert(items.begin() + static_cast<std::ptrdiff_t>(at), items[at]);
      break;
    case Damage::Resized:
      enlarge(items[at]);
      break;
  }
}

/// One page with what is expected of it alone.
struct OnePage {
  paint::Document document;
  paint::AuditRules rules;
  std::set<std::string> before;
};

std::set<std::string> breaches_of(const OnePage& page) {
  std::set<std::string> out;
  for (const paint::Breach& breach : paint::audit(page.document, page.rules)) out.insert(paint::print({breach}));
  return out;
}

OnePage one_page(const Pages& pages, std::size_t number) {
  OnePage out;
  out.document.pages.push_back(pages.document.pages[number]);
  out.rules = pages.rules;
  std::set<paint::Subject> here;
  for (const DisplayItem& item : out.document.pages.front().items)
    for (const paint::Kind kind : pages.rules.counted)
      if (item.kind == kind) here.insert(item.subject);
  out.rules.expected.assign(here.begin(), here.end());
  out.rules.laid = {pages.rules.laid[number]};
  out.before = breaches_of(out);
  return out;
}

}  // namespace

void damage(const Pages& pages, int most, Tally& tally) {
  std::map<std::string, std::vector<std::pair<std::size_t, std::size_t>>> marks;
  for (std::size_t p = 0; p < pages.document.pages.size(); ++p) {
    const auto& items = pages.document.pages[p].items;
    for (std::size_t i = 0; i < items.size(); ++i)
      if (is_ink(items[i])) marks[std::string(items[i].kind.name())].emplace_back(p, i);
  }
  std::vector<OnePage> kept;
  for (std::size_t p = 0; p < pages.document.pages.size(); ++p) kept.push_back(one_page(pages, p));
  Random random(1);
  for (auto& [kind, places] : marks) {
    random.shuffle(places);
    if (places.size() > static_cast<std::size_t>(most)) places.resize(static_cast<std::size_t>(most));
    for (const auto& [p, i] : places) {
      for (std::size_t d = 0; d < kDamages.size(); ++d) {
        OnePage page{{}, kept[p].rules, {}};
        page.document.pages = kept[p].document.pages;
        hurt(page.document.pages.front().items, i, static_cast<Damage>(d), random);
        Caught& caught = tally[kind][d];
        ++caught.done;
        for (const std::string& breach : breaches_of(page)) {
          if (kept[p].before.count(breach) > 0) continue;
          ++caught.caught;
          break;
        }
      }
    }
  }
}

}  // namespace tunesheaf::generated
