#include <gtest/gtest.h>

#include <cstdlib>
#include <regex>

#include "export/sheets.h"
#include "export/shell.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/export/player.h"

namespace tunesheaf::exporting {
namespace {

using namespace testing;  // NOLINT: the helpers of these tests

std::string pdf_of(const paint::Document& document, text::FontBook& fonts) {
  std::string bytes;
  const auto fault = write_pdf(document, fonts, [&bytes](std::string_view more) {
    bytes += more;
    return true;
  });
  if (fault) throw std::runtime_error(fault->message);
  return bytes;
}

class Pdf : public ::testing::Test {
 protected:
  Pdf() : document_(press_.document()), path_(std::string(TUNESHEAF_BINARY_DIR) + "/pdf_test.pdf") {
    ::unsetenv("SOURCE_DATE_EPOCH");
    // One file for each test, since tests run side by side.
    path_ = std::string(TUNESHEAF_BINARY_DIR) + "/pdf_test_" +
            ::testing::UnitTest::GetInstance()->current_test_info()->name() + ".pdf";
    write_file(path_, pdf_of(document_, *press_.fonts));
  }
  Press press_;
  paint::Document document_;
  std::string path_;
};

TEST_F(Pdf, IsSound) {
  const Ran checked = run("qpdf --check '" + path_ + "'");
  EXPECT_EQ(checked.code, 0) << checked.output;
  EXPECT_EQ(checked.output.find("WARNING"), std::string::npos) << checked.output;
}

TEST_F(Pdf, EmbedsAndSubsetsEveryFont) {
  const Ran fonts = run("pdffonts '" + path_ + "'");
  ASSERT_EQ(fonts.code, 0) << fonts.output;
  std::istringstream lines(fonts.output);
  std::string line;
  int seen = 0;
  for (int i = 0; std::getline(lines, line); ++i) {
    if (i < 2) continue;
    ++seen;
    EXPECT_TRUE(std::regex_search(line, std::regex("yes +yes +yes"))) << line;
    EXPECT_EQ(line.find("Type 3"), std::string::npos) << line;
  }
  EXPECT_GE(seen, 3);
}

TEST_F(Pdf, TextReadsBackExactly) {
  const Ran text = run("pdftotext -raw '" + path_ + "' -");
  ASSERT_EQ(text.code, 0) << text.output;
  for (const char* words : {"Käte’s waltz in B♭", "C♯m7♭5 F♯7 Bm", "Verse", "The end, slowly", "\U0001D11E"}) {
    EXPECT_NE(text.output.find(words), std::string::npos) << words << " is not in\n" << text.output;
  }
}

TEST_F(Pdf, TabFiguresReadBackAtTheirPlaces) {
  const Ran boxes = run("pdftotext -bbox '" + path_ + "' -");
  const std::regex word(
      "<word xMin=\"([0-9.]+)\" yMin=\"([0-9.]+)\" xMax=\"[0-9.]+\" yMax=\"([0-9.]+)\">([^<]*)</word>");
  std::vector<std::pair<std::string, double>> found;
  for (std::sregex_iterator it(boxes.output.begin(), boxes.output.end(), word), end; it != end; ++it) {
    const std::string text = (*it)[4];
    const double top = *base::parse_decimal((*it)[2].str()), bottom = *base::parse_decimal((*it)[3].str());
    if (top < 222 && bottom > 222 && std::isdigit(static_cast<unsigned char>(text[0])) != 0) {
      found.emplace_back(text, *base::parse_decimal((*it)[1].str()));
    }
  }
  ASSERT_EQ(found.size(), 5U) << boxes.output;
  const char* figures[] = {"0", "12", "7", "10", "3"};
  for (std::size_t i = 0; i < found.size(); ++i) {
    EXPECT_EQ(found[i].first, figures[i]);
    EXPECT_NEAR(found[i].second, 100 + 50.0 * static_cast<double>(i), 1.0);
  }
}

TEST_F(Pdf, SaysWhatItIs) {
  const Ran info = run("pdfinfo '" + path_ + "'");
  for (const char* field : {"Käte’s waltz ♭", "A. Writer", "Lesson 3", "guitar, waltz"}) {
    EXPECT_NE(info.output.find(field), std::string::npos) << field << " is not in\n" << info.output;
  }
  EXPECT_EQ(info.output.find("CreationDate"), std::string::npos) << info.output;
  EXPECT_NE(info.output.find("Tagged:          yes"), std::string::npos);
  EXPECT_NE(run("pdfinfo -f 1 -l 2 '" + path_ + "'").output.find("612 x 792"), std::string::npos);
}

TEST_F(Pdf, HasLanguageStructureBookmarksAndLinks) {
  const Ran plain = run("qpdf --qdf --object-streams=disable '" + path_ + "' -");
  for (const char* part : {"/Lang (en-GB)", "/DisplayDocTitle true", "/S /H1", "/S /H2", "/S /Sect", "/S /Figure",
                           "/S /P", "https://example.org/watch?v=a'b&t=75", "/Outlines"}) {
    EXPECT_NE(plain.output.find(part), std::string::npos) << part;
  }
  const Ran structure = run("pdfinfo -struct '" + path_ + "'");
  EXPECT_NE(structure.output.find("H1"), std::string::npos) << structure.output;
  const Ran places = run("pdfinfo -dests '" + path_ + "'");
  EXPECT_NE(places.output.find("\"verse\""), std::string::npos) << places.output;
  EXPECT_EQ(places.output.find("nowhere"), std::string::npos);
}

TEST_F(Pdf, BookmarksNest) {
  const Ran json = run("qpdf --json --json-key=outlines '" + path_ + "'");
  ASSERT_EQ(json.code, 0) << json.output;
  const auto kids = json.output.find("\"kids\": [\n"), verse = json.output.find("A · Verse"),
             top = json.output.find("waltz\"");
  ASSERT_NE(verse, std::string::npos) << json.output;
  EXPECT_LT(kids, verse);
  EXPECT_NE(top, std::string::npos);
}

TEST_F(Pdf, AnotherReaderAgrees) {
  if (run("command -v mutool").code != 0) FAIL() << "mutool (Debian: mupdf-tools) is not installed";
  const Ran text = run("mutool draw -q -F txt '" + path_ + "'");
  EXPECT_NE(text.output.find("C♯m7♭5"), std::string::npos) << text.output;
}

TEST_F(Pdf, SameBytesFromTheSameInput) {
  Press other;
  EXPECT_EQ(pdf_of(document_, *press_.fonts), pdf_of(other.document(), *other.fonts));
}

TEST_F(Pdf, HonoursTheSourceDate) {
  ::setenv("SOURCE_DATE_EPOCH", "86400", 1);
  ::setenv("TZ", "UTC", 1);
  write_file(path_, pdf_of(document_, *press_.fonts));
  ::unsetenv("SOURCE_DATE_EPOCH");
  const Ran info = run("TZ=UTC pdfinfo -isodates '" + path_ + "'");
  EXPECT_NE(info.output.find("1970-01-02T00:00:00"), std::string::npos) << info.output;
}

TEST_F(Pdf, ABadByteDoesNotSpoilTheFile) {
  document_.title = "bad \xFF byte";
  for (paint::DisplayItem& item : document_.pages[0].items) {
    if (auto* glyphs = std::get_if<paint::GlyphsShape>(&item.shape)) glyphs->run.text[0] = '\xC3';
  }
  write_file(path_, pdf_of(document_, *press_.fonts));
  EXPECT_EQ(run("qpdf --check '" + path_ + "'").code, 0);
}

TEST_F(Pdf, AFailingWriteIsToldWheneverItComes) {
  const std::size_t whole = pdf_of(document_, *press_.fonts).size();
  for (std::size_t room = 0; room < whole; room += 997) {
    std::size_t taken = 0;
    const auto fault = write_pdf(document_, *press_.fonts, [&](std::string_view bytes) {
      taken += bytes.size();
      return taken <= room;
    });
    EXPECT_TRUE(fault.has_value()) << "after " << room << " of " << whole << " bytes";
  }
}

TEST_F(Pdf, AFaceThatIsNotThereIsAFault) {
  for (paint::DisplayItem& item : document_.pages[0].items) {
    if (auto* glyphs = std::get_if<paint::GlyphsShape>(&item.shape)) glyphs->run.face.family = "No Such Family";
  }
  const auto fault = write_pdf(document_, *press_.fonts, [](std::string_view) { return true; });
  ASSERT_TRUE(fault);
  EXPECT_NE(fault->message.find("No Such Family"), std::string::npos);
}

TEST_F(Pdf, StaysSoundWithLinksAloneEmptyPagesAndArtifacts) {
  const auto check = [this](const layout::Frame& frame, const char* what) {
    paint::Document document;
    document.language = "de";
    document.title = "a (b \\ c";
    document.author = ") ♭";
    for (int i = 0; i < 3; ++i) document.pages.push_back(paint::flatten(frame, {Length::pt(100), Length::pt(100)}));
    write_file(path_, pdf_of(document, *press_.fonts));
    const Ran checked = run("qpdf --check '" + path_ + "'");
    EXPECT_EQ(checked.code, 0) << what << "\n" << checked.output;
    EXPECT_NE(run("qpdf --qdf '" + path_ + "' -").output.find("/Lang (de)"), std::string::npos) << what;
  };
  layout::Frame frame;
  check(frame, "empty");
  frame.items.push_back({{},
                         "link",
                         layout::Layer::Overlay,
                         {},
                         {},
                         layout::LinkShape{{Length::pt(9), Length::pt(9)}, "https://example.org/(a b)<ü>\\"}});
  check(frame, "a link alone");
  frame.items.push_back(
      {{}, "bookmark", layout::Layer::Overlay, {}, {}, layout::BookmarkShape{"x ((", "same name", 3}});
  check(frame, "a bookmark of a level without parents, its name on every page");
  frame.items.push_back(
      {{}, "bookmark", layout::Layer::Overlay, {}, {}, layout::BookmarkShape{"ü (x) \\ )", "Über♭ (it's) \\", 1}});
  frame.items.push_back({{},
                         "link",
                         layout::Layer::Overlay,
                         {},
                         {},
                         layout::LinkShape{{Length::pt(9), Length::pt(9)}, "#Über♭ (it's) \\"}});
  frame.items.push_back({{}, "bookmark", layout::Layer::Overlay, {}, {}, layout::BookmarkShape{"", "", 1}});
  check(frame, "odd names and none");
  const auto running = press_.frame(layout::Role::Artifact, "page 1", "Lato", text::Weight::Regular, 8);
  frame.children.push_back({at(10, 90), running});
  check(frame, "an artifact");
  const auto table = std::make_shared<layout::Frame>();
  table->role = layout::Role::Table;
  table->children.push_back(
      {at(10, 50), press_.frame(layout::Role::Caption, "caption", "Lato", text::Weight::Regular, 8)});
  frame.children.push_back({{}, table});
  check(frame, "a table with a caption");
}

TEST_F(Pdf, NoPagesIsAFault) {
  document_.pages.clear();
  EXPECT_TRUE(write_pdf(document_, *press_.fonts, [](std::string_view) { return true; }));
}

}  // namespace
}  // namespace tunesheaf::exporting
