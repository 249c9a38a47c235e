#include "tunesheaf/blocks/qr.h"

#include <qrencode.h>

#include <algorithm>
#include <vector>

#include "tunesheaf/style/load.h"

namespace tunesheaf::blocks {
namespace {

using base::Length;

constexpr int kQuiet = 4;                             // modules of white on each side, by the standard
const double kLeastModule = 0.4, kBestModule = 0.62;  // mm: read by a telephone held over a music stand

struct Cells {
  int side = 0;
  std::vector<bool> dark;
  bool at(int x, int y) const { return dark[static_cast<std::size_t>(y * side + x)]; }
};

Cells encode(const std::string& text) {
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeString(text.c_str(), 0, QR_ECLEVEL_M, QR_MODE_8, 1), &QRcode_free);
  Cells cells;
  if (!code) return cells;
  cells.side = code->width;
  const auto count = static_cast<std::size_t>(code->width * code->width);
  cells.dark.resize(count);
  for (std::size_t i = 0; i < count; ++i) cells.dark[i] = (code->data[i] & 1U) != 0;
  return cells;
}

struct Block {
  int x, y, width, height;
};

/// Runs of dark modules, joined with an equal run in the row above: fewer seams for a printer to show.
std::vector<Block> merged(const Cells& cells) {
  std::vector<Block> blocks;
  std::vector<std::size_t> above;  // blocks that end in the row before
  for (int y = 0; y < cells.side; ++y) {
    std::vector<std::size_t> here;
    for (int x = 0; x < cells.side; ++x) {
      if (!cells.at(x, y)) continue;
      const int start = x;
      while (x < cells.side && cells.at(x, y)) ++x;
      const int width = x - start;
      const auto same = std::find_if(above.begin(), above.end(),
                                     [&](std::size_t b) { return blocks[b].x == start && blocks[b].width == width; });
      if (same != above.end()) {
        ++blocks[*same].height;
        here.push_back(*same);
      } else {
        here.push_back(blocks.size());
        blocks.push_back({start, y, width, 1});
      }
    }
    above = std::move(here);
  }
  return blocks;
}

}  // namespace

QrColours qr_colours(base::Colour ink, base::Colour ground) {
  const bool dark_paper = style::contrast(ground, base::kWhite) > style::contrast(ink, base::kWhite);
  return dark_paper ? QrColours{ground, ink} : QrColours{ink, std::nullopt};
}

std::shared_ptr<const layout::Frame> qr_square(const std::string& text, Length width, const QrColours& colours) {
  const Cells cells = encode(text);
  if (cells.side == 0) return nullptr;
  const int modules = cells.side + 2 * kQuiet;
  const Length module = std::min(width / modules, Length::mm(kBestModule));
  if (module < Length::mm(kLeastModule)) return nullptr;
  auto frame = std::make_shared<layout::Frame>();
  frame->name = "qr";
  frame->role = layout::Role::Figure;
  frame->size = {module * modules, module * modules};
  if (colours.patch) {
    layout::RectShape patch;
    patch.size = frame->size;
    patch.fill = colours.patch;
    frame->items.push_back({{}, "qr-patch", layout::Layer::Tint, {}, {}, patch});
  }
  for (const Block& b : merged(cells)) {
    layout::RectShape rect;
    rect.size = {module * b.width, module * b.height};
    rect.fill = colours.dark;
    frame->items.push_back(
        {{module * (b.x + kQuiet), module * (b.y + kQuiet)}, "qr-module", layout::Layer::Ink, {}, {}, rect});
  }
  return frame;
}

}  // namespace tunesheaf::blocks
