#include <gtest/gtest.h>
#include <png.h>

#include <cstring>

#include "export/sheets.h"
#include "export/shell.h"
#include "tunesheaf/export/player.h"

namespace tunesheaf::exporting {
namespace {

using namespace testing;  // NOLINT: the helpers of these tests

struct Image {
  unsigned width = 0, height = 0;
  bool grey = false;
  std::vector<png_byte> pixels;  // one byte each: the grey of the pixel
};

Image decoded(const std::string& bytes) {
  png_image image;
  std::memset(&image, 0, sizeof image);
  image.version = PNG_IMAGE_VERSION;
  if (png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()) == 0)
    throw std::runtime_error(image.message);
  Image out{image.width, image.height, (image.format & PNG_FORMAT_FLAG_COLOR) == 0, {}};
  image.format = PNG_FORMAT_GRAY;
  out.pixels.resize(PNG_IMAGE_SIZE(image));
  png_image_finish_read(&image, nullptr, out.pixels.data(), 0, nullptr);
  return out;
}

class Picture : public ::testing::Test {
 protected:
  std::string png(std::size_t page, double dpi) {
    std::string bytes;
    const auto fault = write_png(document_, page, *press_.fonts, dpi, keep(bytes));
    if (fault) throw std::runtime_error(fault->message);
    return bytes;
  }
  std::string svg(std::size_t page) {
    std::string bytes;
    const auto fault = write_svg(document_, page, keep(bytes));
    if (fault) throw std::runtime_error(fault->message);
    return bytes;
  }
  static Bytes keep(std::string& bytes) {
    return [&bytes](std::string_view more) {
      bytes += more;
      return true;
    };
  }
  Press press_;
  paint::Document document_ = press_.document();
};

TEST_F(Picture, IsGreyWithoutColourAndAsLargeAsAsked) {
  const Image image = decoded(png(0, 72));
  EXPECT_TRUE(image.grey);
  EXPECT_EQ(image.width, 595U);
  EXPECT_EQ(image.height, 842U);
  const Image fine = decoded(png(0, 200));
  EXPECT_EQ(fine.width, 1654U);
}

TEST_F(Picture, HasInkWhereThePageHas) {
  const Image image = decoded(png(0, 144));
  const auto grey = [&image](double x, double y) {
    return image.pixels[static_cast<std::size_t>(y * 2) * image.width + static_cast<std::size_t>(x * 2)];
  };
  EXPECT_EQ(grey(20, 20), 255);
  // The third line of the staff: 130 + 40 + 12 points down, 60 to 360 across.
  EXPECT_LT(std::min({grey(300, 181.5), grey(300, 182), grey(300, 182.5)}), 160);
}

/// A square of 20 points, traced one way round or the other.
paint::DisplayItem square(base::Point corner, bool clockwise, base::Colour colour) {
  using enum layout::PathVerb;
  const base::Point along = clockwise ? at(20, 0) : at(0, 20), up = clockwise ? at(0, 20) : at(20, 0);
  paint::DisplayItem item;
  item.at = corner;
  item.box = {corner.x, corner.y, Length::pt(20), Length::pt(20)};
  item.shape = paint::PathShape{
      {{Move, {}, {}, {}}, {Line, along, {}, {}}, {Line, at(20, 20), {}, {}}, {Line, up, {}, {}}, {Close, {}, {}, {}}},
      colour,
      std::nullopt};
  return item;
}

TEST_F(Picture, FillsThatWindAgainstEachOtherLeaveNoHole) {
  document_.pages[0].items = {square(at(100, 100), true, base::kBlack), square(at(110, 110), false, base::kBlack)};
  const Image image = decoded(png(0, 72));
  EXPECT_LT(image.pixels[115 * image.width + 115], 10);
}

TEST_F(Picture, AMarkOfAnotherColourCoversWhatIsUnderIt) {
  document_.pages[0].items = {square(at(100, 100), true, base::kBlack), square(at(110, 110), true, base::kWhite),
                              square(at(120, 120), true, base::kBlack)};
  const Image image = decoded(png(0, 72));
  const auto grey = [&image](unsigned x, unsigned y) { return image.pixels[y * image.width + x]; };
  EXPECT_LT(grey(105, 105), 10);
  EXPECT_GT(grey(115, 115), 245);
  EXPECT_LT(grey(125, 125), 10);
}

TEST_F(Picture, IsColouredWhenAMarkIs) {
  std::get<paint::GlyphsShape>(document_.pages[1].items.at(1).shape).colour = {160, 20, 20, 255};
  EXPECT_FALSE(decoded(png(1, 72)).grey);
  EXPECT_TRUE(decoded(png(0, 72)).grey);
}

TEST_F(Picture, SameBytesAgain) {
  EXPECT_EQ(png(0, 100), png(0, 100));
}

TEST_F(Picture, RefusesWhatCannotBe) {
  std::string bytes;
  EXPECT_TRUE(write_png(document_, 9, *press_.fonts, 200, keep(bytes)));
  EXPECT_TRUE(write_png(document_, 0, *press_.fonts, 5, keep(bytes)));
  EXPECT_TRUE(write_svg(document_, 9, keep(bytes)));
  EXPECT_TRUE(write_png(document_, 0, *press_.fonts, 72, [](std::string_view) { return false; }));
  EXPECT_TRUE(write_svg(document_, 0, [](std::string_view) { return false; }));
}

TEST_F(Picture, SvgIsWellFormedAndItsTextIsText) {
  const std::string path = std::string(TUNESHEAF_BINARY_DIR) + "/picture_test.svg";
  document_.title = "<&> \"quoted\" \x01";
  const std::string drawn = svg(0);
  write_file(path, drawn);
  const Ran checked = run("xmllint --noout --nonet '" + path + "'");
  EXPECT_EQ(checked.code, 0) << checked.output;
  EXPECT_NE(drawn.find(">Käte’s waltz in B♭</text>"), std::string::npos);
  EXPECT_NE(drawn.find("font-family=\"Lato\""), std::string::npos);
  EXPECT_NE(drawn.find(">12</text>"), std::string::npos);
  EXPECT_NE(drawn.find("href=\"https://example.org/watch?v=a'b&amp;t=75\""), std::string::npos);
}

TEST_F(Picture, SvgPlacesEachCharacter) {
  const std::string drawn = svg(0);
  const std::size_t end = drawn.find(">Verse</text>");
  ASSERT_NE(end, std::string::npos);
  const std::size_t begin = drawn.rfind("x=\"", end);
  const std::string places = drawn.substr(begin + 3, drawn.find('"', begin + 3) - begin - 3);
  EXPECT_EQ(std::count(places.begin(), places.end(), ' '), 4) << places;
  EXPECT_EQ(places.substr(0, 3), "60 ");
}

}  // namespace
}  // namespace tunesheaf::exporting
