#include "tunesheaf/paint/audit.h"

#include <algorithm>
#include <map>
#include <set>

#include "audit_places.h"
#include "slices.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::paint {
namespace {

using base::Length;
using base::Rect;

std::string measure(Length length) {
  return base::print_decimal(length.points(), 2) + " pt";
}

std::string named(const DisplayItem& item) {
  std::string out = item.kind.name().empty() ? "a mark" : std::string(item.kind.name());
  if (const auto* glyphs = std::get_if<GlyphsShape>(&item.shape)) out += " '" + glyphs->run.text + "'";
  return out;
}

std::string named(Subject s) {
  return "note " + std::to_string(s.note) + " of event " + std::to_string(s.event) + " on staff " +
         std::to_string(s.staff);
}

bool is_ink(const DisplayItem& item) {
  return std::holds_alternative<PathShape>(item.shape) || std::holds_alternative<LineShape>(item.shape) ||
         std::holds_alternative<RectShape>(item.shape) || std::holds_alternative<GlyphsShape>(item.shape);
}

/// Tint lies under all, a knockout is there to be drawn over, an overlay (a link) has no ink.
bool takes_part(const DisplayItem& item) {
  const bool blank = item.box.width <= Length{} && item.box.height <= Length{};
  return is_ink(item) && !blank && (item.layer == Layer::Line || item.layer == Layer::Ink || item.layer == Layer::Text);
}

std::optional<Rect> common(const Rect& a, const Rect& b, Length slack) {
  const Length left = std::max(a.left(), b.left()), right = std::min(a.right(), b.right());
  const Length top = std::max(a.top(), b.top()), bottom = std::min(a.bottom(), b.bottom());
  if (right - left <= slack || bottom - top <= slack) return std::nullopt;
  return Rect{left, top, right - left, bottom - top};
}

struct Piece {
  Rect box;
  std::size_t item;
};

class PageAudit {
 public:
  PageAudit(const Page& page, int number, const AuditRules& rules, std::vector<Breach>& out)
      : page_(page), number_(number), rules_(rules), out_(out) {
    for (const auto [a, b] : rules.may_touch) {
      allowed_.emplace(a, b);
      allowed_.emplace(b, a);
    }
    free_.insert(rules.touches_all.begin(), rules.touches_all.end());
  }

  void run() {
    for (const DisplayItem& item : page_.items) {
      if (!is_ink(item)) continue;
      check_place(item);
      check_size(item);
    }
    check_lines();
    check_overlaps();
  }

 private:
  void report(const DisplayItem& item, const Rect& box, std::string rule, std::string text) {
    out_.push_back({number_, box, item.origin, std::move(rule), std::move(text)});
  }

  void check_place(const DisplayItem& item) {
    if (item.layer == Layer::Tint) return;
    const bool whole_page = rules_.printable.width == Length{} || rules_.printable.height == Length{};
    const Rect room = whole_page ? Rect{{}, {}, page_.size.width, page_.size.height} : rules_.printable;
    if (room.grown(rules_.slack).contains(item.box)) return;
    const Length beyond = std::max({room.left() - item.box.left(), item.box.right() - room.right(),
                                    room.top() - item.box.top(), item.box.bottom() - room.bottom()});
    report(item, item.box, "off-page", named(item) + " reaches " + measure(beyond) + " out of the printable area");
  }

  void check_size(const DisplayItem& item) {
    if (const auto* glyphs = std::get_if<GlyphsShape>(&item.shape); glyphs != nullptr && item.layer == Layer::Text) {
      if (glyphs->run.size < rules_.least_text) {
        report(item, item.box, "small-text", named(item) + " is set in " + measure(glyphs->run.size));
      }
    }
    const layout::Stroke* stroke = nullptr;
    if (const auto* line = std::get_if<LineShape>(&item.shape)) stroke = &line->stroke;
    if (const auto* path = std::get_if<PathShape>(&item.shape); path != nullptr && path->stroke) {
      stroke = &*path->stroke;
    }
    if (const auto* rect = std::get_if<RectShape>(&item.shape); rect != nullptr && rect->stroke) {
      stroke = &*rect->stroke;
    }
    if (stroke != nullptr && stroke->width < rules_.least_stroke) {
      report(item, item.box, "thin-stroke", named(item) + " is " + measure(stroke->width) + " thick");
    }
  }

  /// The centre of each mark against the nearest level line of its kind that runs under it.
  void check_lines() {
    for (const OnLine& rule : rules_.on_line) {
      for (const DisplayItem& item : page_.items) {
        if (item.kind != rule.mark || !is_ink(item)) continue;
        const Length centre = item.box.y + item.box.height / 2;
        std::optional<Length> nearest;
        for (const DisplayItem& line : page_.items) {
          if (line.kind != rule.line || line.box.left() > item.box.left() || line.box.right() < item.box.right()) {
            continue;
          }
          const Length away = base::abs(line.box.y + line.box.height / 2 - centre);
          if (!nearest || away < *nearest) nearest = away;
        }
        if (nearest && *nearest <= rules_.slack) continue;
        report(item, item.box, "off-line",
               named(item) + (nearest ? " stands " + measure(*nearest) + " off its " : " has no ") +
                   std::string(rule.line.name()));
      }
    }
  }

  static bool is_text(const DisplayItem& item) {
    return item.layer == Layer::Text && std::holds_alternative<GlyphsShape>(item.shape);
  }

  bool may_touch(const DisplayItem& a, const DisplayItem& b) const {
    if (is_text(a) && is_text(b)) return a.kind == b.kind && a.origin == b.origin && a.at.y == b.at.y;
    if (a.layer != Layer::Text && b.layer != Layer::Text && (a.layer == Layer::Line || b.layer == Layer::Line)) {
      return true;
    }
    return free_.count(a.kind) != 0 || free_.count(b.kind) != 0 || allowed_.count({a.kind, b.kind}) != 0;
  }

  /// Sweep from the top: each piece meets only those that have not ended above it.
  void check_overlaps() {
    std::vector<Piece> pieces;
    for (std::size_t i = 0; i < page_.items.size(); ++i) {
      if (!takes_part(page_.items[i])) continue;
      for (const Rect& box : slices_of(page_.items[i])) pieces.push_back({box, i});
    }
    std::sort(pieces.begin(), pieces.end(),
              [](const Piece& a, const Piece& b) { return std::pair(a.box.y, a.item) < std::pair(b.box.y, b.item); });
    std::vector<const Piece*> open;
    std::map<std::pair<std::size_t, std::size_t>, Rect> found;
    for (const Piece& piece : pieces) {
      std::size_t kept = 0;
      for (const Piece* other : open) {
        if (other->box.bottom() <= piece.box.top()) continue;
        open[kept++] = other;
        if (other->item == piece.item) continue;
        const auto shared = common(other->box, piece.box, rules_.slack);
        if (!shared || may_touch(page_.items[other->item], page_.items[piece.item])) continue;
        const auto [place, fresh] = found.emplace(std::minmax(other->item, piece.item), *shared);
        if (!fresh) place->second = place->second.united(*shared);
      }
      open.resize(kept);
      open.push_back(&piece);
    }
    for (const auto& [pair, box] : found) {
      const DisplayItem &a = page_.items[pair.first], &b = page_.items[pair.second];
      report(a, box, "overlap",
             named(a) + " and " + named(b) + " overlap by " + measure(box.width) + " by " + measure(box.height));
    }
  }

  const Page& page_;
  int number_;
  const AuditRules& rules_;
  std::vector<Breach>& out_;
  std::set<std::pair<Kind, Kind>> allowed_;
  std::set<Kind> free_;
};

struct Drawn {
  int count = 0;
  int page = -1;
  const DisplayItem* item = nullptr;
};

/// Each expected subject exactly once, whatever page it is on.
void check_subjects(const Document& document, const AuditRules& rules, std::vector<Breach>& out) {
  if (rules.counted.empty()) return;
  const std::set<Kind> counted(rules.counted.begin(), rules.counted.end());
  std::map<Subject, Drawn> drawn;
  for (std::size_t p = 0; p < document.pages.size(); ++p) {
    for (const DisplayItem& item : document.pages[p].items) {
      if (item.subject == Subject{} || counted.count(item.kind) == 0) continue;
      Drawn& d = drawn[item.subject];
      ++d.count;
      d.page = static_cast<int>(p);
      d.item = &item;
    }
  }
  std::set<Subject> expected(rules.expected.begin(), rules.expected.end());
  for (const Subject& subject : expected) {
    if (drawn.count(subject) == 0) out.push_back({-1, {}, {}, "missing", named(subject) + " is not drawn"});
  }
  expected.insert(rules.may_stand.begin(), rules.may_stand.end());
  for (const auto& [subject, d] : drawn) {
    if (expected.count(subject) == 0) {
      out.push_back({d.page, d.item->box, d.item->origin, "unexpected", named(subject) + " is drawn but not written"});
    } else if (d.count > 1) {
      out.push_back({d.page, d.item->box, d.item->origin, "repeated",
                     named(subject) + " is drawn " + std::to_string(d.count) + " times"});
    }
  }
}

bool same_place(const Laid& a, const Laid& b) {
  return (a <=> b) == 0;
}

/// The marks of a page against those that were laid out for it: both sorted, the differences told.
void check_laid(const Page& page, int number, std::vector<Laid> laid, std::vector<Breach>& out) {
  std::vector<Laid> drawn;
  for (const DisplayItem& item : page.items) {
    if (is_ink(item)) drawn.push_back({item.kind, item.box, item.origin});
  }
  std::sort(drawn.begin(), drawn.end());
  std::sort(laid.begin(), laid.end());
  const auto tell = [&](const Laid& mark, const char* rule, const char* words) {
    out.push_back({number, mark.box, mark.origin, rule, std::string(mark.kind.name()) + words});
  };
  std::size_t d = 0, l = 0;
  while (d < drawn.size() || l < laid.size()) {
    if (d < drawn.size() && l < laid.size() && same_place(drawn[d], laid[l])) {
      ++d, ++l;
    } else if (d == drawn.size() || (l < laid.size() && laid[l] < drawn[d])) {
      tell(laid[l++], "lost", " is laid out here and not on the page");
    } else {
      tell(drawn[d++], "stray", " is on the page and was not laid out so");
    }
  }
}

void check_said(const Document& document, const AuditRules& rules, std::vector<Breach>& out) {
  if (rules.said.empty()) return;
  std::set<source::Span> printed;
  for (const Page& page : document.pages) {
    for (const DisplayItem& item : page.items) {
      if (is_ink(item)) printed.insert(item.origin);
    }
  }
  for (const source::Span& span : rules.said) {
    if (printed.count(span) == 0) out.push_back({-1, {}, span, "unsaid", "words of the song are nowhere printed"});
  }
}

}  // namespace

std::vector<Breach> audit(const Document& document, const AuditRules& rules) {
  std::vector<Breach> out;
  for (std::size_t i = 0; i < document.pages.size(); ++i) {
    PageAudit(document.pages[i], static_cast<int>(i), rules, out).run();
    if (i < rules.laid.size()) check_laid(document.pages[i], static_cast<int>(i), rules.laid[i], out);
  }
  check_subjects(document, rules, out);
  check_places(document, rules, out);
  check_said(document, rules, out);
  return out;
}

std::string print(const std::vector<Breach>& breaches) {
  std::string out;
  for (const Breach& b : breaches) {
    out += b.page < 0 ? std::string("nowhere: ") : "page " + std::to_string(b.page + 1) + ": ";
    out += b.rule;
    if (b.page >= 0) {
      out += " at " + base::print_decimal(b.box.x.points(), 1) + "," + base::print_decimal(b.box.y.points(), 1);
    }
    out += ": " + b.text + "\n";
  }
  return out;
}

}  // namespace tunesheaf::paint
