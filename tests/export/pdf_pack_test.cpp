// The packing of a PDF, on a file made by hand.
#include "pdf_pack.h"

#include <gtest/gtest.h>

#include "shell.h"
#include "support/temp_dir.h"

namespace tunesheaf::exporting {
namespace {

const std::string kFile =
    "%PDF-1.5\n%\xB5\xB6\n"
    "4 0 obj\n<< /Length 5 0 R\n>>\nstream\n0 0 10 10 re f\n%\nendobj\nis no end\n\nendstream\nendobj\n"
    "5 0 obj\n   44\nendobj\n"
    "1 0 obj\n<< /Type /Pages\n   /Kids [ 3 0 R ]\n   /Count 1\n>>\nendobj\n"
    "3 0 obj\n<< /Type /Page\n   /Parent 1 0 R\n   /MediaBox [ 0 0 20 20 ]\n   /Contents 4 0 R\n>>\nendobj\n"
    "2 0 obj\n<< /Type /Catalog\n   /Pages 1 0 R\n>>\nendobj\n"
    "xref\n0 6\ntrailer\n<< /Size 6\n   /Root 2 0 R\n>>\nstartxref\n99\n%%EOF\n";

std::string packed(const std::string& file, std::size_t step, PdfPack::End expected = PdfPack::End::Done) {
  std::string out;
  PdfPack pack([&](std::string_view bytes) {
    out += bytes;
    return true;
  });
  for (std::size_t at = 0; at < file.size(); at += step) pack.take(std::string_view(file).substr(at, step));
  EXPECT_EQ(pack.finish("de"), expected);
  return out;
}

TEST(PdfPack, IsTheSameHoweverTheBytesCome) {
  const std::string whole = packed(kFile, kFile.size());
  for (const std::size_t step : {1U, 2U, 7U, 64U}) EXPECT_EQ(packed(kFile, step), whole);
}

TEST(PdfPack, KeepsEveryObjectAndAddsTheLanguage) {
  const support::TempDir folder;
  const std::string path = (folder.path() / "packed.pdf").string();
  const std::string bytes = packed(kFile, 16);
  testing::write_file(path, bytes);
  EXPECT_EQ(bytes.find("/Type /Page\n"), std::string::npos) << "dictionaries are compressed";
  const auto checked = testing::run("qpdf --check '" + path + "'");
  EXPECT_EQ(checked.code, 0) << checked.output;
  const std::string catalogue = testing::run("qpdf --show-object=trailer/Root '" + path + "'").output +
                                testing::run("qpdf --show-object=2 '" + path + "'").output;
  EXPECT_NE(catalogue.find("/Lang (de)"), std::string::npos) << catalogue;
  EXPECT_NE(catalogue.find("/DisplayDocTitle true"), std::string::npos) << catalogue;
  const std::string stream = testing::run("qpdf --show-object=4 --raw-stream-data '" + path + "'").output;
  EXPECT_EQ(stream, "0 0 10 10 re f\n%\nendobj\nis no end\n");
}

TEST(PdfPack, SaysWhenTheFileIsOfAnotherForm) {
  packed("%PDF-1.5\n%\xB5\n1 0 obj\n<< >>\nendobj\n", 8, PdfPack::End::NotUnderstood);
  packed("%PDF-1.5\n%\xB5\nxref\ntrailer\n<< /Size 3 /Root 2 0 R >>\n", 8, PdfPack::End::NotUnderstood);
}

}  // namespace
}  // namespace tunesheaf::exporting
