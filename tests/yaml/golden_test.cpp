// Every file in tests/golden/yaml against the text beside it: its messages for people and as lines, and its nodes.
#include "support/golden.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "build.h"
#include "tree.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::yaml {
namespace {

std::string reading(const std::string& name, const std::string& bytes) {
  source::Files files;
  const source::FileId id = files.add(name, bytes);
  diag::Sink sink;
  const std::optional<Node> node = read(files.file(id), sink);
  EXPECT_EQ(node.has_value(), !sink.has_errors()) << name;
  std::string out = print(sink.sorted(), files, diag::Format::People, false);
  if (!out.empty()) out += "\n" + print(sink.sorted(), files, diag::Format::Lines, false);
  if (!node) return out;
  EXPECT_EQ(fault_of_tree(*node, files.file(id)), "") << name;
  return out + (out.empty() ? "" : "\n") + print(*node, files.file(id));
}

class YamlGolden : public testing::TestWithParam<std::string> {};

TEST_P(YamlGolden, ReadsAsRecorded) {
  const std::string name = GetParam() + ".yaml";
  const std::string bytes = support::read_file(support::golden_folder() / "yaml" / name);
  support::expect_golden("yaml/" + GetParam() + ".txt", reading(name, bytes));
}

std::vector<std::string> cases() {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(support::golden_folder() / "yaml")) {
    if (entry.path().extension() == ".yaml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string test_name(const testing::TestParamInfo<std::string>& info) {
  std::string name = info.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}

INSTANTIATE_TEST_SUITE_P(Files, YamlGolden, testing::ValuesIn(cases()), test_name);

// Files too large to keep.
TEST(YamlLimits, AreSaidInWords) {
  std::string many;
  for (std::size_t i = 0; i < kMaxNodes; ++i) many += "- \n";
  support::expect_golden("yaml/generated/too-large.txt", reading("large.yaml", std::string(50'000'000, 'x')));
  support::expect_golden("yaml/generated/too-deep-brackets.txt", reading("deep.yaml", std::string(100'000, '[')));
  support::expect_golden("yaml/generated/too-many.txt", reading("many.yaml", many));
}

// What the two readings of a file see differently is refused, whichever of them is wrong.
TEST(YamlDifference, IsRefusedAtItsPlace) {
  source::Files files;
  const source::FileId id = files.add("song.yaml", "song: The Heron\nkey: G\n");
  diag::Sink sink;
  std::vector<Token> tokens = scan(files.file(id), sink).value();
  ASSERT_EQ(tokens.size(), 6U);
  tokens.erase(tokens.begin() + 3, tokens.begin() + 5);
  EXPECT_FALSE(build(files.file(id), tokens, sink).has_value());
  support::expect_golden("yaml/generated/not-readable.txt",
                         print(sink.sorted(), files, diag::Format::People, false) +
                             print(sink.sorted(), files, diag::Format::Lines, false));
}

}  // namespace
}  // namespace tunesheaf::yaml
