#include "tunesheaf/text/font_book.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "tunesheaf/text/families.h"

namespace tunesheaf::text {
namespace {

namespace fs = std::filesystem;

std::unique_ptr<FontBook> open_book() {
  auto book = FontBook::open(FontBook::usual_folders());
  if (!book) throw std::runtime_error(book.error().message);
  return std::move(book.value());
}

TEST(Families, AreTheOnesInTheList) {
  std::ifstream file(std::string(TUNESHEAF_SOURCE_DIR) + "/fonts/families.txt");
  ASSERT_TRUE(file.good());
  std::string listed, line;
  while (std::getline(file, line)) {
    if (!line.empty() && line[0] != '#') listed += line + "\n";
  }
  EXPECT_EQ(listed, print_families());
}

TEST(FontBook, FindsEveryRequiredFace) {
  const auto book = open_book();
  for (const Family& family : families()) {
    if (family.need != Need::Required) continue;
    for (const FontFile& file : family.files) {
      const auto place = book->file_of({family.name, file.weight, file.slant});
      ASSERT_TRUE(place) << family.name << " " << file.file;
      EXPECT_EQ(fs::path(place->path).filename(), file.file);
    }
  }
}

TEST(FontBook, NamesTheMissingFamilyAndItsPackage) {
  const fs::path empty = fs::path(TUNESHEAF_BINARY_DIR) / "no-fonts-here";
  fs::create_directories(empty);
  const auto book = FontBook::open({empty.string()});
  ASSERT_FALSE(book.ok());
  EXPECT_EQ(book.error().family, "Gentium Plus");
  EXPECT_EQ(book.error().package, "fonts-sil-gentiumplus");
  EXPECT_NE(book.error().message.find("fonts-sil-gentiumplus"), std::string::npos);
}

TEST(FontBook, AFileThatHoldsAnotherFamilyFails) {
  const fs::path folder = fs::path(TUNESHEAF_BINARY_DIR) / "wrong-fonts";
  fs::remove_all(folder);
  fs::create_directories(folder);
  const auto good = open_book();
  for (const Family& family : families()) {
    for (const FontFile& file : family.files) {
      const auto place = good->file_of({family.name, file.weight, file.slant});
      if (place) fs::create_symlink(place->path, folder / file.file);
    }
  }
  fs::remove(folder / "Lato-Bold.ttf");
  fs::create_symlink(good->file_of({"Gentium Plus", Weight::Bold, Slant::Upright})->path, folder / "Lato-Bold.ttf");
  const auto book = FontBook::open({folder.string()});
  ASSERT_FALSE(book.ok());
  EXPECT_EQ(book.error().family, "Lato");
}

TEST(FontBook, GivesTheNearestWeight) {
  const auto book = open_book();
  EXPECT_EQ(book->nearest({"Gentium Plus", Weight::Semibold, Slant::Italic})->weight, Weight::Bold);
  EXPECT_EQ(book->nearest({"Lato", Weight::Black, Slant::Italic})->slant, Slant::Italic);
  EXPECT_FALSE(book->nearest({"No Such Family", Weight::Regular, Slant::Upright}));
}

TEST(FontBook, PinsAccidentalsToTheTextFaceOrGentium) {
  const auto book = open_book();
  const Face gentium{"Gentium Plus", Weight::Bold, Slant::Italic}, lato{"Lato", Weight::Bold, Slant::Upright};
  for (const char32_t c : {U'♭', U'♯'}) {
    EXPECT_EQ(book->face_for(c, gentium), gentium);
    EXPECT_EQ(book->face_for(c, lato)->family, "Gentium Plus");
    EXPECT_EQ(book->face_for(c, lato)->weight, Weight::Bold);
  }
  EXPECT_TRUE(book->face_for(U'♮', lato));
  EXPECT_EQ(book->face_for(0x1D11E, lato)->family, "Noto Music");
}

TEST(FontBook, SaysWhenNoFontHasACharacter) {
  EXPECT_FALSE(open_book()->face_for(0x1F9A9, {"Lato"}));
}

TEST(FontBook, LooksWhereTheEnvironmentSays) {
  ::setenv("TUNESHEAF_FONTS", "/one:/two", 1);
  const auto folders = FontBook::usual_folders();
  ::unsetenv("TUNESHEAF_FONTS");
  ASSERT_GE(folders.size(), 4U);
  EXPECT_EQ(folders[0], "/one");
  EXPECT_EQ(folders[1], "/two");
  EXPECT_EQ(folders.back(), "/usr/share/fonts");
}

}  // namespace
}  // namespace tunesheaf::text
