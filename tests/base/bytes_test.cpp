// Bytes and back, damaged ones too; and the fingerprint.
#include "tunesheaf/base/bytes.h"

#include <gtest/gtest.h>

#include <limits>
#include <vector>

namespace tunesheaf::base {
namespace {

TEST(Bytes, WhatIsWrittenIsRead) {
  const std::vector<std::uint64_t> numbers{0, 1, 127, 128, 300, 1ULL << 40U, std::numeric_limits<std::uint64_t>::max()};
  const std::vector<std::int64_t> wholes{
      0, -1, 1, -64, 64, std::numeric_limits<std::int64_t>::min(), std::numeric_limits<std::int64_t>::max()};
  ByteWriter writer;
  for (const auto n : numbers) writer.number(n);
  for (const auto n : wholes) writer.whole(n);
  writer.text("Quarry\0Lane");
  ByteReader reader(writer.bytes());
  for (const auto n : numbers) EXPECT_EQ(reader.number(), n);
  for (const auto n : wholes) EXPECT_EQ(reader.whole(), n);
  EXPECT_EQ(reader.text(), "Quarry\0Lane");
  EXPECT_TRUE(reader.ok() && reader.at_end());
}

TEST(Bytes, DamageIsSeenAndNothingBeyondIsRead) {
  ByteWriter writer;
  writer.text("Quarry Lane");
  for (std::size_t kept = 0; kept < writer.bytes().size(); ++kept) {
    ByteReader reader(std::string_view(writer.bytes()).substr(0, kept));
    EXPECT_TRUE(reader.text().empty());
    EXPECT_FALSE(reader.ok());
    EXPECT_EQ(reader.number(), 0U);
  }
  ByteReader endless("\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF");
  endless.number();
  EXPECT_FALSE(endless.ok());
  ByteReader many("\x7F");
  EXPECT_EQ(many.count(), 0U);
  EXPECT_FALSE(many.ok());
}

/// The published values of FNV-1a, 128 bits.
TEST(Fingerprint, IsTheOneThatIsPublished) {
  EXPECT_EQ(Fingerprint().hex(), "6c62272e07bb014262b821756295c58d");
  Fingerprint a, foobar;
  a.add("a");
  EXPECT_EQ(a.hex(), "d228cb696f1a8caf78912b704e4a8964");
  foobar.add("foobar");
  EXPECT_EQ(foobar.hex(), "343e1662793c64bf6f0d3597ba446f18");
}

TEST(Fingerprint, PiecesDoNotRunTogether) {
  Fingerprint one, other;
  one.add_piece("ab");
  one.add_piece("c");
  other.add_piece("a");
  other.add_piece("bc");
  EXPECT_NE(one.hex(), other.hex());
}

}  // namespace
}  // namespace tunesheaf::base
