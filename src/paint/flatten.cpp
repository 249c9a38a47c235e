#include <algorithm>
#include <iterator>

#include "tunesheaf/paint/display_list.h"

namespace tunesheaf::paint {
namespace {

/// What stands in one group: marks, and groups within it, which paint as if they were ink.
struct Part {
  Layer layer = Layer::Ink;
  std::vector<DisplayItem> items;  // one mark, or a whole group
};

void collect(std::vector<Part>& parts, const layout::Frame& frame, base::Point origin);

std::vector<DisplayItem> sorted_items(std::vector<Part> parts) {
  std::stable_sort(parts.begin(), parts.end(), [](const Part& a, const Part& b) { return a.layer < b.layer; });
  std::size_t count = 0;
  for (const Part& part : parts) count += part.items.size();
  std::vector<DisplayItem> items;
  items.reserve(count);
  for (Part& part : parts) std::move(part.items.begin(), part.items.end(), std::back_inserter(items));
  return items;
}

DisplayItem mark_of(const layout::Item& item, base::Point origin) {
  DisplayItem out;
  out.kind = item.kind;
  out.layer = item.layer;
  out.at = item.at + origin;
  out.box = layout::box_of(item).moved(origin);
  out.origin = item.origin;
  out.subject = item.subject;
  std::visit([&out](const auto& shape) { out.shape = shape; }, item.shape);
  return out;
}

void collect_group(std::vector<Part>& parts, const layout::Frame& frame, base::Point origin) {
  std::vector<Part> own;
  collect(own, frame, origin);
  Part group;
  DisplayItem open;
  open.kind = "group";
  open.at = origin;
  open.box = {origin.x, origin.y, frame.size.width, frame.size.height};
  open.origin = frame.origin;
  open.shape = GroupShape{frame.role, frame.name};
  std::vector<DisplayItem> within = sorted_items(std::move(own));
  group.items.reserve(within.size() + 2);
  group.items.push_back(open);
  std::move(within.begin(), within.end(), std::back_inserter(group.items));
  DisplayItem close;
  close.kind = "group-end";
  close.shape = GroupEndShape{};
  group.items.push_back(std::move(close));
  parts.push_back(std::move(group));
}

void collect(std::vector<Part>& parts, const layout::Frame& frame, base::Point origin) {
  for (const layout::Item& item : frame.items) {
    Part part{item.layer, {}};
    part.items.push_back(mark_of(item, origin));
    parts.push_back(std::move(part));
  }
  for (const layout::PlacedFrame& child : frame.children) {
    if (!child.frame) continue;
    if (child.frame->role == Role::None) {
      collect(parts, *child.frame, origin + child.at);
    } else {
      collect_group(parts, *child.frame, origin + child.at);
    }
  }
}

}  // namespace

Page flatten(const layout::Frame& page_frame, base::Size paper) {
  Page page;
  page.size = paper;
  std::vector<Part> parts;
  if (page_frame.role == Role::None) {
    collect(parts, page_frame, {});
  } else {
    collect_group(parts, page_frame, {});
  }
  page.items = sorted_items(std::move(parts));
  return page;
}

}  // namespace tunesheaf::paint
