#include "tunesheaf/text/families.h"

namespace tunesheaf::text {
namespace {

constexpr Weight kLight = Weight::Light, kRegular = Weight::Regular, kMedium = Weight::Medium,
                 kSemibold = Weight::Semibold, kBold = Weight::Bold, kBlack = Weight::Black;
constexpr Slant kUpright = Slant::Upright, kItalic = Slant::Italic;

std::vector<FontFile> two_weights(const std::string& stem) {
  return {{stem + "-Regular.ttf", kRegular, kUpright}, {stem + "-Bold.ttf", kBold, kUpright}};
}

std::vector<FontFile> four_styles(const std::string& stem) {
  return {{stem + "-Regular.ttf", kRegular, kUpright},
          {stem + "-Italic.ttf", kRegular, kItalic},
          {stem + "-Bold.ttf", kBold, kUpright},
          {stem + "-BoldItalic.ttf", kBold, kItalic}};
}

std::string style_word(const FontFile& file) {
  return std::to_string(static_cast<int>(file.weight)) + (file.slant == kItalic ? "-italic" : "");
}

}  // namespace

const std::vector<Family>& families() {
  static const std::vector<Family> table = {
      {"Gentium Plus", "fonts-sil-gentiumplus", "OFL-1.1", "truetype/gentiumplus", Need::Required,
       four_styles("GentiumPlus")},
      {"Lato",
       "fonts-lato",
       "OFL-1.1",
       "truetype/lato",
       Need::Required,
       {{"Lato-Light.ttf", kLight, kUpright},
        {"Lato-Regular.ttf", kRegular, kUpright},
        {"Lato-Italic.ttf", kRegular, kItalic},
        {"Lato-Medium.ttf", kMedium, kUpright},
        {"Lato-Semibold.ttf", kSemibold, kUpright},
        {"Lato-Bold.ttf", kBold, kUpright},
        {"Lato-BoldItalic.ttf", kBold, kItalic},
        {"Lato-Black.ttf", kBlack, kUpright}}},
      {"Noto Music",
       "fonts-noto-core",
       "OFL-1.1",
       "truetype/noto",
       Need::Required,
       {{"NotoMusic-Regular.ttf", kRegular, kUpright}}},
      {"Noto Serif", "fonts-noto-core", "OFL-1.1", "truetype/noto", Need::Fallback, four_styles("NotoSerif")},
      {"Noto Sans", "fonts-noto-core", "OFL-1.1", "truetype/noto", Need::Fallback, four_styles("NotoSans")},
      {"Noto Sans Hebrew", "fonts-noto-core", "OFL-1.1", "truetype/noto", Need::Fallback,
       two_weights("NotoSansHebrew")},
      {"Noto Sans Arabic", "fonts-noto-core", "OFL-1.1", "truetype/noto", Need::Fallback,
       two_weights("NotoSansArabic")},
      {"Noto Sans Devanagari", "fonts-noto-core", "OFL-1.1", "truetype/noto", Need::Fallback,
       two_weights("NotoSansDevanagari")},
      {"Noto Sans Thai", "fonts-noto-core", "OFL-1.1", "truetype/noto", Need::Fallback, two_weights("NotoSansThai")},
      {"Noto Sans Symbols", "fonts-noto-core", "OFL-1.1", "truetype/noto", Need::Fallback,
       two_weights("NotoSansSymbols")},
      {"Noto Sans Symbols2",
       "fonts-noto-core",
       "OFL-1.1",
       "truetype/noto",
       Need::Fallback,
       {{"NotoSansSymbols2-Regular.ttf", kRegular, kUpright}}},
      {"Noto Sans Math",
       "fonts-noto-core",
       "OFL-1.1",
       "truetype/noto",
       Need::Fallback,
       {{"NotoSansMath-Regular.ttf", kRegular, kUpright}}},
      {"Noto Sans CJK JP",
       "fonts-noto-cjk",
       "OFL-1.1",
       "opentype/noto",
       Need::Fallback,
       {{"NotoSansCJK-Regular.ttc", kRegular, kUpright}, {"NotoSansCJK-Bold.ttc", kBold, kUpright}}},
  };
  return table;
}

std::string print_families() {
  std::string out;
  for (const Family& family : families()) {
    out += family.name + " | " + family.package + " | " + family.licence + " | " +
           (family.need == Need::Required ? "required" : "fallback") + " | " + family.folder + " |";
    for (const FontFile& file : family.files) out += " " + file.file + " " + style_word(file) + ",";
    out.back() = '\n';
  }
  return out;
}

}  // namespace tunesheaf::text
