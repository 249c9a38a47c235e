#include <gtest/gtest.h>

#include <filesystem>

#include "rules.h"
#include "support/temp_dir.h"

namespace tunesheaf::structure {
namespace {

namespace fs = std::filesystem;

const fs::path& root() {
  static const fs::path path = TUNESHEAF_SOURCE_DIR;
  return path;
}

bool is_source(const fs::path& path) {
  const std::string extension = path.extension().string();
  return extension == ".cpp" || extension == ".h" || extension == ".def";
}

/// Every source file below some folders of the root.
std::vector<SourceFile> sources(const std::vector<std::string>& folders) {
  std::vector<SourceFile> files;
  for (const std::string& folder : folders) {
    for (const auto& entry : fs::recursive_directory_iterator(root() / folder)) {
      const std::string path = fs::relative(entry.path(), root()).generic_string();
      if (path.find("node_modules") != std::string::npos) continue;
      if (entry.is_regular_file() && is_source(entry.path())) files.push_back({path, support::read_file(entry.path())});
    }
  }
  return files;
}

Table real_table() {
  return module_table(support::read_file(root() / "CMakeLists.txt"));
}

TEST(Structure, TheTableIsRead) {
  const Table table = real_table();
  ASSERT_GE(table.size(), 17U);
  EXPECT_TRUE(table.at("base").empty());
  EXPECT_EQ(table.at("diag"), (std::set<std::string>{"base", "source"}));
  EXPECT_EQ(table.at("app").count("export"), 1U);
  EXPECT_EQ(table.at("app").count("Threads::Threads"), 0U);
}

TEST(Structure, TheTableHasNoCircle) {
  // The order of the calls is the order of the house: a module uses only what stands above it.
  const std::string cmake = support::read_file(root() / "CMakeLists.txt");
  for (const auto& [module, uses] : module_table(cmake)) {
    const std::regex own("\ntunesheaf_module\\(" + module + "[ )]");
    for (const std::string& used : uses) {
      const std::regex other("\ntunesheaf_module\\(" + used + "[ )]");
      std::smatch a, b;
      ASSERT_TRUE(std::regex_search(cmake, a, own)) << module;
      ASSERT_TRUE(std::regex_search(cmake, b, other)) << module << " uses " << used;
      EXPECT_LT(b.position(), a.position()) << module << " uses " << used;
    }
  }
}

TEST(Structure, EveryIncludeIsInTheTable) {
  const Table table = real_table();
  const std::vector<SourceFile> files = sources({"src", "include"});
  ASSERT_GT(files.size(), 20U);
  for (const SourceFile& file : files) {
    for (const std::string& fault : broken_includes(file, table)) ADD_FAILURE() << fault;
  }
}

TEST(Structure, NumbersFollowNoLocale) {
  for (const SourceFile& file : sources({"src", "include"})) {
    for (const std::string& fault : broken_numbers(file)) ADD_FAILURE() << fault;
  }
}

TEST(Structure, FilesAreShortAndPublicHeadersSpeak) {
  for (const SourceFile& file : sources({"src", "include", "tests"})) {
    for (const std::string& fault : broken_shape(file)) ADD_FAILURE() << fault;
  }
}

TEST(Structure, EveryKindOfDiagnosticStandsInAGolden) {
  const std::string kinds = support::read_file(root() / "include/tunesheaf/diag/kinds.def");
  std::string goldens;
  for (const auto& entry : fs::recursive_directory_iterator(root() / "tests/golden")) {
    if (entry.is_regular_file()) goldens += support::read_file(entry.path());
  }
  static const std::regex kKind(R"re(^KIND\(\w+, "([^"]+)")re", std::regex::multiline);
  std::string missing;
  for (std::sregex_iterator it(kinds.begin(), kinds.end(), kKind), end; it != end; ++it) {
    if (goldens.find((*it)[1].str()) == std::string::npos) missing += " " + (*it)[1].str();
  }
  EXPECT_EQ(missing, "") << "no golden shows these kinds";
}

// --- the rules themselves

const Table kSmall = {{"base", {}}, {"song", {"base", "yaml"}}, {"yaml", {"base"}}, {"text", {"base"}}};

std::size_t includes_broken(const std::string& path, const std::string& text) {
  return broken_includes({path, text}, kSmall).size();
}

TEST(Rules, ABadIncludeIsCaught) {
  EXPECT_EQ(includes_broken("src/song/a.cpp", "#include \"tunesheaf/base/utf8.h\"\n#include <vector>\n"), 0U);
  EXPECT_EQ(includes_broken("src/song/a.cpp", "#include \"tunesheaf/song/song.h\"\n"), 0U);
  EXPECT_EQ(includes_broken("src/song/a.cpp", "#include \"tunesheaf/text/shaper.h\"\n"), 1U);
  EXPECT_EQ(includes_broken("include/tunesheaf/base/a.h", "// x\n  #  include \"tunesheaf/song/song.h\"\n"), 1U);
  EXPECT_EQ(includes_broken("src/song/a.cpp", "#include <tunesheaf/text/shaper.h>\n"), 1U);
  EXPECT_EQ(includes_broken("src/unlisted/a.cpp", "#include \"tunesheaf/base/utf8.h\"\n"), 1U);
  EXPECT_EQ(includes_broken("src/main.cpp", "#include \"tunesheaf/app/run.h\"\n"), 0U);
  EXPECT_EQ(includes_broken("src/main.cpp", "#include \"tunesheaf/song/song.h\"\n"), 1U);
  EXPECT_EQ(includes_broken("src/song/a.cpp", "#include \"../yaml/scan.h\"\n"), 1U);
}

TEST(Rules, LibrariesStayInTheirRooms) {
  EXPECT_EQ(includes_broken("src/yaml/a.cpp", "#include <yaml-cpp/parser.h>\n"), 0U);
  EXPECT_EQ(includes_broken("src/song/a.cpp", "#include <yaml-cpp/yaml.h>\n"), 1U);
  EXPECT_EQ(includes_broken("src/text/a.cpp", "#include <pango/pangocairo.h>\n#include <cairo.h>\n"), 0U);
  EXPECT_EQ(includes_broken("src/song/a.cpp", "#include <pango/pango.h>\n#include <cairo/cairo.h>\n"), 2U);
}

TEST(Rules, NumbersOfTheLocaleAreCaught) {
  const auto broken = [](const std::string& text) { return broken_numbers({"src/song/a.cpp", text}).size(); };
  EXPECT_EQ(broken("auto x = std::stod(text);\n"), 1U);
  EXPECT_EQ(broken("x = strtod (p, &e);\n"), 1U);
  EXPECT_EQ(broken("x = atof(p);\n"), 1U);
  EXPECT_EQ(broken("std::snprintf(b, 9, \"%d %.2f\", 1, x);\n"), 1U);
  EXPECT_EQ(broken("std::snprintf(b, 9, \"%d%%\", 1);\n"), 0U);
  EXPECT_EQ(broken("std::locale l;\n"), 1U);
  EXPECT_EQ(broken("// std::stod( is not used\nint restod(int); /* atof(x) */ auto s = \"stod(\";\n"), 0U);
  EXPECT_EQ(broken_numbers({"src/base/number.cpp", "strtod(p, &e);\n"}).size(), 0U);
}

TEST(Rules, LongFilesAndSilentHeadersAreCaught) {
  EXPECT_EQ(broken_shape({"src/song/a.cpp", std::string(600, '\n')}).size(), 0U);
  EXPECT_EQ(broken_shape({"src/song/a.cpp", std::string(601, '\n')}).size(), 1U);
  EXPECT_EQ(broken_shape({"include/tunesheaf/song/a.h", "#pragma once\n"}).size(), 1U);
  EXPECT_EQ(broken_shape({"include/tunesheaf/song/a.h", "// What it is.\n#pragma once\n"}).size(), 0U);
  EXPECT_EQ(broken_shape({"src/song/a.h", "#pragma once\n"}).size(), 0U);
}

TEST(Rules, CodeIsToldFromCommentsAndTexts) {
  EXPECT_EQ(code_of("a; // b\nc /* d\ne */ f \"g\\\"h\" 'i' 1'000;"), "a; \nc \n f   1'000;");
}

}  // namespace
}  // namespace tunesheaf::structure
