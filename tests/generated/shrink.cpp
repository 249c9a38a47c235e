#include "generated/shrink.h"

#include <algorithm>

namespace tunesheaf::generated {
namespace {

class Shrinker {
 public:
  Shrinker(Node song, const StillFails& fails, int tries) : song_(std::move(song)), fails_(fails), tries_(tries) {}

  Node run() {
    bool smaller = true;
    while (smaller && tries_ > 0) {
      smaller = sections();
      smaller = form() || smaller;
      smaller = keys_at({}) || smaller;
      smaller = bars() || smaller;
      smaller = cells() || smaller;
    }
    return std::move(song_);
  }

 private:
  /// Keeps `change` when the song still fails with it.
  template <class Change>
  bool attempt(const Change& change) {
    if (tries_ <= 0) return false;
    --tries_;
    const Node before = song_;
    change();
    if (fails_(song_)) return true;
    song_ = before;
    return false;
  }

  static void drop_from_form(Node& song, const std::string& name) {
    if (Node* form = song.find("form")) {
      auto& items = form->items;
      items.erase(std::remove(items.begin(), items.end(), name), items.end());
    }
  }

  bool sections() {
    bool any = false;
    for (std::size_t i = 0; sections_node() != nullptr && i < sections_node()->keys.size();) {
      const std::string name = sections_node()->keys[i].first;
      const bool gone = attempt([&] {
        auto& all = sections_node()->keys;
        all.erase(all.begin() + static_cast<std::ptrdiff_t>(i));
        drop_from_form(song_, name);
      });
      any = any || gone;
      if (!gone) ++i;
    }
    return any;
  }

  bool form() {
    bool any = attempt([&] { erase_key(song_, "form"); });
    for (std::size_t i = 0; song_.find("form") != nullptr && i < song_.find("form")->items.size();) {
      const bool gone = attempt([&] {
        auto& items = song_.find("form")->items;
        items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
      });
      any = any || gone;
      if (!gone) ++i;
    }
    return any;
  }

  static void erase_key(Node& node, const std::string& key) {
    node.keys.erase(std::remove_if(node.keys.begin(), node.keys.end(), [&](const auto& k) { return k.first == key; }),
                    node.keys.end());
  }

  Node& at(const std::vector<std::size_t>& way) {
    Node* node = &song_;
    for (const std::size_t step : way) node = &node->keys[step].second;
    return *node;
  }

  /// Each key of each mapping, the outer ones first; long texts are cut by halves.
  bool keys_at(const std::vector<std::size_t>& way) {
    bool any = false;
    for (std::size_t i = 0; i < at(way).keys.size();) {
      const bool gone = attempt([&] {
        Node& here = at(way);
        const std::string name = here.keys[i].first;
        here.keys.erase(here.keys.begin() + static_cast<std::ptrdiff_t>(i));
        if (way.size() == 1 && song_.keys[way[0]].first == "parts") drop_part(name);
      });
      any = any || gone;
      if (!gone) ++i;
    }
    for (std::size_t i = 0; i < at(way).keys.size(); ++i) {
      std::vector<std::size_t> deeper = way;
      deeper.push_back(i);
      const Node::Kind kind = at(deeper).kind;
      if (kind == Node::Kind::Map) any = keys_at(deeper) || any;
      if (kind == Node::Kind::Text) any = shorter(deeper) || any;
    }
    return any;
  }

  bool shorter(const std::vector<std::size_t>& way) {
    bool any = false;
    for (;;) {
      const std::string text = at(way).text;
      if (text.size() < 24 || at(way).raw) return any;
      const std::size_t cut = text.find(' ', text.size() / 2 - 4);
      if (cut == std::string::npos || !attempt([&] { at(way).text = text.substr(0, cut); })) return any;
      any = true;
    }
  }

  /// A part's lanes and shapes go with it.
  void drop_part(const std::string& name) {
    if (Node* sections = song_.find("sections")) {
      for (auto& [key, section] : sections->keys) {
        erase_key(section, name);
        if (Node* endings = section.find("endings"))
          for (auto& [pass, ending] : endings->keys) erase_key(ending, name);
      }
    }
    if (Node* shapes = song_.find("shapes")) {
      auto& all = shapes->keys;
      all.erase(std::remove_if(all.begin(), all.end(),
                               [&](const auto& shape) {
                                 const Node* part = shape.second.find("part");
                                 return part != nullptr && part->text == name;
                               }),
                all.end());
    }
  }

  Node* sections_node() { return song_.find("sections"); }

  /// Every block of lanes in a mapping.
  static void blocks_in(Node& node, std::vector<LaneBlock*>& out) {
    if (node.kind == Node::Kind::Lanes) out.push_back(&node.lanes);
    for (auto& [key, value] : node.keys) blocks_in(value, out);
  }

  /// A bar out of all lanes of a section (or of one of its endings, or of a pattern) at once.
  bool bars() {
    bool any = false;
    for (std::size_t g = 0; g < groups().size(); ++g) {
      for (int b = bars_of(groups()[g]) - 1; b >= 0; --b) {
        const bool gone = attempt([&] {
          const auto all = groups();
          for (LaneBlock* block : all[g]) drop_bar(*block, b);
        });
        any = any || gone;
      }
    }
    return any;
  }

  static int bars_of(const std::vector<LaneBlock*>& group) {
    int bars = 0;
    for (const LaneBlock* block : group) bars = std::max(bars, block->bars());
    return bars > 1 ? bars : 0;
  }

  static void drop_bar(LaneBlock& block, int bar) {
    for (LaneRow& lane : block.lanes)
      if (bar < static_cast<int>(lane.bars.size())) lane.bars.erase(lane.bars.begin() + bar);
    for (int& cut : block.breaks)
      if (cut > bar) --cut;
  }

  std::vector<std::vector<LaneBlock*>> groups() {
    std::vector<std::vector<LaneBlock*>> out;
    if (sections_node() == nullptr) return out;
    for (auto& [name, section] : sections_node()->keys) {
      std::vector<LaneBlock*> body;
      for (auto& [key, value] : section.keys) {
        if (key == "endings") {
          for (auto& [pass, ending] : value.keys) {
            std::vector<LaneBlock*> blocks;
            blocks_in(ending, blocks);
            out.push_back(blocks);
          }
        } else {
          blocks_in(value, body);
        }
      }
      out.push_back(body);
    }
    return out;
  }

  /// Whole lanes, whole bars of a lane, and single cells become "nothing new".
  bool cells() {
    bool any = false;
    for (std::size_t k = 0; k < all_blocks().size(); ++k) {
      for (std::size_t l = 0; l < all_blocks()[k]->lanes.size();) {
        const bool gone = all_blocks()[k]->lanes.size() > 1 && attempt([&] {
                            auto& lanes = all_blocks()[k]->lanes;
                            lanes.erase(lanes.begin() + static_cast<std::ptrdiff_t>(l));
                          });
        any = any || gone;
        if (gone) continue;
        any = lane(k, l) || any;
        ++l;
      }
    }
    return any;
  }

  std::vector<LaneBlock*> all_blocks() {
    std::vector<LaneBlock*> out;
    blocks_in(song_, out);
    return out;
  }

  bool lane(std::size_t k, std::size_t l) {
    bool any = false;
    const auto row = [&]() -> LaneRow& { return all_blocks()[k]->lanes[l]; };
    for (std::size_t b = 0; b < row().bars.size(); ++b) {
      if (!row().bars[b].silent() && attempt([&] { row().bars[b] = BarCells{}; })) {
        any = true;
        continue;
      }
      for (std::size_t i = 0; i < row().bars[b].beats.size(); ++i) {
        for (std::size_t c = 0; c < row().bars[b].beats[i].size(); ++c)
          if (row().bars[b].beats[i][c] != "-") any = attempt([&] { row().bars[b].beats[i][c] = "-"; }) || any;
        if (row().bars[b].beats[i].size() > 1 && row().bars[b].colons)
          any = attempt([&] { row().bars[b].beats[i].resize(1); }) || any;
      }
    }
    return any;
  }

  Node song_;
  const StillFails& fails_;
  int tries_;
};

}  // namespace

Node shrink(Node song, const StillFails& fails, int most_tries) {
  return Shrinker(std::move(song), fails, most_tries).run();
}

}  // namespace tunesheaf::generated
