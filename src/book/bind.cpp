#include "tunesheaf/book/bind.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "tunesheaf/blocks/book_pages.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/book/order.h"
#include "tunesheaf/layout/flow.h"

namespace tunesheaf::book {
namespace {

using base::Length;
using blocks::Flow;
using blocks::Setting;
using layout::Frame;

/// Pages of the book's own, as frames without running lines.
using Leaves = std::vector<std::shared_ptr<Frame>>;

struct Placed {
  std::size_t song = 0;
  int page = 0;  ///< its first
};

std::string anchor_of(std::size_t song) {
  return "song" + std::to_string(song + 1);
}

class Binder {
 public:
  explicit Binder(const BindRequest& request)
      : request_(request),
        style_(request.style),
        setting_{named_song_, request.style, request.shaper, request.music, {}, -1},
        groups_(in_order({request.songs.begin(), request.songs.end()}, request.book.order)) {
    named_song_.title = request.book.title;
    named_song_.language = request.book.language;
  }

  paint::Document run() {
    document_.title = request_.book.title.value;
    document_.author = request_.book.by;
    document_.subject = "Songbook";
    document_.language = request_.book.language;
    const Leaves signs = signs_leaves();
    // The page numbers of the songs need the number of pages of the contents, which does not depend on them.
    const std::size_t contents = contents_leaves().size();
    place_songs(2 + static_cast<int>(contents + signs.size()));
    add_leaves({title_leaf()}, Running::None);
    add_leaves(contents_leaves(), Running::Title);
    add_leaves(signs, Running::Title);
    for (const Placed& placed : placed_) add_song(placed);
    add_leaves(index_leaves(), Running::Title);
    return std::move(document_);
  }

 private:
  enum class Running { None, Title };

  bool two_sided() const { return request_.book.sides == Sides::Double; }
  bool is_left(int page) const { return two_sided() && page % 2 == 0; }
  int next_page() const { return static_cast<int>(document_.pages.size()) + 1; }

  base::Rect area() const {
    const style::PageStyle& page = style_.page;
    return {page.inner, page.top, blocks::book_width(style_), page.paper.height - page.top - page.bottom};
  }

  /// Rows onto pages, `columns` of them side by side.
  Leaves leaves_of(const Flow& flow, int columns, Length gap) const {
    Leaves leaves;
    if (flow.empty()) return leaves;
    layout::PageShape shape;
    shape.page = style_.page.paper;
    shape.body = shape.first_body = area();
    const Length step = (shape.body.width + gap) / columns;
    shape.body.width = shape.first_body.width = step - gap;
    const auto plans = layout::break_pages(flow, shape);
    for (std::size_t p = 0; p < plans.size(); ++p) {
      const auto column = static_cast<std::size_t>(columns);
      if (p % column == 0) {
        leaves.push_back(std::make_shared<Frame>());
        leaves.back()->name = "page";
        leaves.back()->size = shape.page;
      }
      const Length x = step * static_cast<double>(p % column);
      for (const layout::PlacedItem& item : plans[p].items) {
        leaves.back()->children.push_back({{item.at.x + x, item.at.y}, item.frame});
      }
    }
    return leaves;
  }

  std::shared_ptr<Frame> title_leaf() const {
    const int count = static_cast<int>(request_.songs.size());
    const auto words = blocks::book_title(
        setting_,
        {request_.book.title.value, request_.book.by, request_.book.says, blocks::counted(count, "song", "songs")},
        {area().width, area().height});
    auto leaf = std::make_shared<Frame>();
    leaf->name = "page";
    leaf->size = style_.page.paper;
    leaf->children.push_back({{area().x, area().y}, words});
    return leaf;
  }

  int page_of(std::size_t song) const {
    const auto found = pages_.find(song);
    return found == pages_.end() ? 0 : found->second;
  }

  blocks::ContentsRow row_of(std::size_t i) const {
    const SongPages& song = *request_.songs[i];
    blocks::ContentsRow row{song.title, song.by, song.key, song.tuning.words, "–", page_of(i), anchor_of(i)};
    // In tenths, at least 1: what a reader can tell apart.
    if (song.difficulty)
      row.difficulty = std::to_string(std::max(1, static_cast<int>(std::lround(*song.difficulty * 10))));
    const SheetKind sheet = request_.book.songs[i].sheet;
    const bool mixed = std::any_of(request_.book.songs.begin(), request_.book.songs.end(),
                                   [&](const Entry& entry) { return entry.sheet != sheet; });
    if (mixed) row.title += " (" + std::string(word_of(sheet)) + ")";
    return row;
  }

  Leaves contents_leaves() const {
    std::vector<blocks::ContentsGroup> groups;
    for (const SongGroup& group : groups_) {
      groups.push_back({group.heading, {}});
      for (const std::size_t i : group.songs) groups.back().rows.push_back(row_of(i));
    }
    return leaves_of(blocks::book_contents(setting_, groups), 1, {});
  }

  Leaves signs_leaves() const {
    std::vector<blocks::LegendSign> signs;
    for (const SongPages* song : request_.songs) signs.insert(signs.end(), song->signs.begin(), song->signs.end());
    std::sort(signs.begin(), signs.end());
    signs.erase(std::unique(signs.begin(), signs.end()), signs.end());
    Flow flow;
    if (signs.empty()) return {};
    flow.push_back(blocks::book_heading(setting_, "Signs in this book", "signs", blocks::book_width(style_)));
    constexpr std::size_t kRows = 2;  // two signs beside each other: a piece that may be parted from the next
    for (std::size_t i = 0; i < signs.size(); i += kRows) {
      const auto begin = signs.begin() + static_cast<std::ptrdiff_t>(i);
      const auto end = signs.begin() + static_cast<std::ptrdiff_t>(std::min(signs.size(), i + kRows));
      Flow piece = blocks::sign_legend(setting_, {{begin, end}});
      for (std::size_t k = 1; k < piece.size(); ++k) flow.push_back(std::move(piece[k]));  // without its own heading
    }
    return leaves_of(flow, 1, {});
  }

  void place_songs(int first) {
    int page = first;
    for (const SongGroup& group : groups_) {
      for (const std::size_t i : group.songs) {
        const auto count = static_cast<int>(request_.songs[i]->pages.pages.size());
        if (count > 1 && two_sided() && !is_left(page)) ++page;
        placed_.push_back({i, page});
        pages_[i] = page;
        page += count;
      }
    }
  }

  Leaves index_leaves() const {
    const Length gap = style_.body.size * 2;
    const bool narrow = area().width < style_.note.size * 44;
    const int columns = narrow ? 1 : 2;
    const Length width = (area().width + gap) / columns - gap;
    Flow flow;
    for (const blocks::IndexPart& part : {titles(), shapes(), techniques()}) {
      for (auto& item : blocks::book_index(setting_, part, width)) flow.push_back(std::move(item));
    }
    return leaves_of(flow, columns, gap);
  }

  blocks::IndexPart titles() const {
    std::map<std::pair<std::string, std::string>, std::vector<std::size_t>> found;
    for (std::size_t i = 0; i < request_.songs.size(); ++i) {
      found[{request_.songs[i]->title, request_.songs[i]->by}].push_back(i);
    }
    blocks::IndexPart part{"Titles", "titles", {}};
    for (const auto& [song, places_of] : found) part.entries.push_back({song.first, song.second, places(places_of)});
    sort_entries(part);
    return part;
  }

  blocks::IndexPart shapes() const {
    std::map<std::pair<std::string, std::string>, std::vector<std::size_t>> found;
    for (std::size_t i = 0; i < request_.songs.size(); ++i) {
      for (const NamedShape& shape : request_.songs[i]->shapes) found[{shape.name, shape.frets}].push_back(i);
    }
    blocks::IndexPart part{"Shapes", "shapes", {}};
    for (const auto& [shape, songs] : found) part.entries.push_back({shape.first, shape.second, places(songs)});
    sort_entries(part);
    return part;
  }

  blocks::IndexPart techniques() const {
    std::map<std::string, std::vector<std::size_t>> found;
    for (std::size_t i = 0; i < request_.songs.size(); ++i) {
      for (const blocks::LegendSign sign : request_.songs[i]->signs) {
        if (const auto name = technique_of(sign); !name.empty()) found[std::string(name)].push_back(i);
      }
    }
    blocks::IndexPart part{"Techniques", "techniques", {}};
    for (const auto& [name, songs] : found) part.entries.push_back({name, "", places(songs)});
    sort_entries(part);
    return part;
  }

  /// By page, each once.
  std::vector<blocks::IndexPlace> places(const std::vector<std::size_t>& songs) const {
    std::map<int, std::string> sorted;
    for (const std::size_t i : songs) sorted[page_of(i)] = anchor_of(i);
    std::vector<blocks::IndexPlace> out;
    for (const auto& [page, target] : sorted) out.push_back({page, target});
    return out;
  }

  static void sort_entries(blocks::IndexPart& part) {
    std::stable_sort(part.entries.begin(), part.entries.end(), [](const auto& a, const auto& b) {
      const int way = compare_titles(a.name, b.name);
      return way != 0 ? way < 0 : std::tie(a.name, a.aside) < std::tie(b.name, b.aside);
    });
  }

  paint::Page page_from(const Frame& leaf, int number, bool numbered, const std::string& words) const {
    Frame whole = leaf;
    const Length foot = std::max(style_.page.bottom * 0.55, Length::mm(6.5)) + style_.running.size;
    if (numbered) {
      whole.children.push_back({{style_.page.inner, style_.page.paper.height - foot},
                                blocks::book_running_line(setting_, words, number, is_left(number))});
    }
    paint::Page page = paint::flatten(whole, style_.page.paper);
    page.ground = style_.ground;
    if (is_left(number)) move(page, style_.page.outer - style_.page.inner);
    return page;
  }

  void add_leaves(const Leaves& leaves, Running running) {
    for (const auto& leaf : leaves) {
      document_.pages.push_back(page_from(*leaf, next_page(), running == Running::Title, request_.book.title.value));
    }
  }

  static void move(paint::Page& page, Length right) {
    for (paint::DisplayItem& item : page.items) {
      item.at.x += right;
      item.box.x += right;
    }
  }

  void add_song(const Placed& placed) {
    SongPages& song = *request_.songs[placed.song];
    while (next_page() < placed.page) document_.pages.push_back({style_.page.paper, style_.ground, {}});
    const std::string anchor = anchor_of(placed.song);
    bool first = true;
    for (paint::Page& own : song.pages.pages) {
      const int number = next_page();
      paint::Page page = std::move(own);
      for (paint::DisplayItem& item : page.items) bind_in(item, anchor);
      if (is_left(number)) move(page, song.mirror);
      if (first) page.items.insert(page.items.begin(), bookmark(song.title, anchor));
      first = false;
      // On a left-hand page the book is named, on a right-hand one the song.
      const std::string& words = is_left(number) ? request_.book.title.value : song.title;
      paint::Page running = page_from(Frame{}, number, true, words);
      std::move(running.items.begin(), running.items.end(), std::back_inserter(page.items));
      document_.pages.push_back(std::move(page));
    }
  }

  /// Bookmarks stand below the song's own, and no two songs share a name.
  static void bind_in(paint::DisplayItem& item, const std::string& anchor) {
    if (auto* mark = std::get_if<paint::BookmarkShape>(&item.shape)) {
      mark->name = anchor + "." + mark->name;
      ++mark->level;
    }
    if (auto* link = std::get_if<paint::LinkShape>(&item.shape); link != nullptr && link->target.starts_with('#')) {
      link->target = "#" + anchor + "." + link->target.substr(1);
    }
  }

  static paint::DisplayItem bookmark(const std::string& title, const std::string& anchor) {
    paint::DisplayItem item;
    item.kind = "bookmark";
    item.layer = paint::Layer::Overlay;
    item.shape = paint::BookmarkShape{title, anchor, 1};
    return item;
  }

  const BindRequest& request_;
  const style::Style& style_;
  score::Timeline named_song_;
  Setting setting_;
  std::vector<SongGroup> groups_;
  std::vector<Placed> placed_;
  std::map<std::size_t, int> pages_;
  paint::Document document_;
};

}  // namespace

paint::Document bind(const BindRequest& request) {
  return Binder(request).run();
}

}  // namespace tunesheaf::book
