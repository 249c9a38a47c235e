// The document's language, which Cairo 1.16 cannot write. In: the bytes of a finished PDF as they pass. Out: an
// incremental update (ISO 32000-1, 7.5.6) to be appended: the same catalogue with /Lang and a cross-reference section
// for it alone. Invariant: a file that does not look as expected is left as it is.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>

namespace tunesheaf::exporting {

/// Tags of languages are letters, digits and hyphens (BCP 47); anything else would need escapes.
bool is_language_tag(const std::string& language);

class PdfLanguage {
 public:
  /// To be called with every piece of the file, in order.
  void watch(std::string_view bytes);
  /// What to append; empty when the catalogue was not found or already has a language.
  std::string update(const std::string& language) const;

 private:
  void take_object(std::string_view object);
  std::string recent_;     // since the last end of an object: the trailer, once the file has ended
  std::string catalogue_;  // "12 0 obj << … >>"
  std::uint64_t length_ = 0;
};

}  // namespace tunesheaf::exporting
