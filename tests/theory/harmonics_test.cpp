#include "tunesheaf/theory/harmonics.h"

#include <gtest/gtest.h>

#include <cmath>

#include "theory/facts.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::theory {
namespace {

TEST(Harmonics, NodesAreWherePhysicsPutsThem) {
  const auto rows = testing::facts("harmonics.tsv");
  const auto nodes = harmonic_nodes(8);
  ASSERT_EQ(rows.size(), nodes.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    EXPECT_EQ(nodes[i].n, *base::parse_integer(rows[i].at(0)));
    EXPECT_EQ(nodes[i].k, *base::parse_integer(rows[i].at(1)));
    EXPECT_NEAR(nodes[i].fret, *base::parse_decimal(rows[i].at(2)), 0.0006);
    EXPECT_EQ(nodes[i].semitones, *base::parse_integer(rows[i].at(3)));
    EXPECT_NEAR(nodes[i].cents, *base::parse_decimal(rows[i].at(4)), 0.0006);
  }
}

TEST(Harmonics, AFretMeansItsNearestLowNode) {
  const auto partial = [](double fret) { return node_at(fret).value().n; };
  EXPECT_EQ(partial(12), 2);
  EXPECT_EQ(partial(7), 3);
  EXPECT_EQ(partial(19), 3);
  EXPECT_EQ(partial(5), 4);
  EXPECT_EQ(partial(24), 4);
  EXPECT_EQ(partial(4), 5);
  EXPECT_EQ(partial(9), 5);
  EXPECT_EQ(partial(16), 5);
  EXPECT_EQ(partial(3.2), 6);
  EXPECT_EQ(node_at(4)->semitones, 28);
  EXPECT_NEAR(node_at(4)->cents, -13.69, 0.01);
  EXPECT_FALSE(node_at(1));
  EXPECT_FALSE(node_at(0));
}

TEST(Harmonics, CheckOneStringAgainstAnother) {
  // The old way: the fourth partial of the lower string against the third of the next, two cents wide of it.
  const auto checks = harmonic_checks(find_tuning("guitar", "usual").value());
  ASSERT_FALSE(checks.empty());
  bool low = false;
  for (const HarmonicCheck& c : checks) {
    low = low || (c.string_a == 6 && c.string_b == 5 && c.node_a.n == 4 && c.node_b.n == 3);
    EXPECT_LE(std::abs(c.cents), 3.0);
  }
  EXPECT_TRUE(low);
}

}  // namespace
}  // namespace tunesheaf::theory
