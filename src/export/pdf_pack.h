// A PDF made smaller, with its language, while it is written: Cairo 1.16 leaves dictionaries as plain text and writes
// no language. In: the bytes of a PDF as they come. Out: the same document with its dictionaries in compressed object
// streams and a cross-reference stream (ISO 32000-1, 7.5.7 and 7.5.8), /Lang and the title in the window's bar in its
// catalogue. Invariant: streams pass unchanged, and as soon as they are whole; what is kept grows with the number of
// objects only. Read next: export/pdf.h.
#pragma once
#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace tunesheaf::exporting {

class PdfPack {
 public:
  /// False from `out` is remembered and given back at the end.
  using Out = std::function<bool(std::string_view)>;
  explicit PdfPack(Out out) : out_(std::move(out)) {}

  /// To be called with every piece of the file, in order.
  void take(std::string_view bytes);
  enum class End : std::uint8_t { Done, NotKept, NotUnderstood };
  End finish(const std::string& language);

 private:
  struct Place {
    std::uint64_t at = 0;     ///< offset, or the number of the object stream
    std::uint64_t index = 0;  ///< in that stream
    bool packed = false;
  };

  bool take_object();
  void stream_object(std::uint64_t number, std::string_view head, std::string_view rest);
  void put(std::string_view bytes);
  void pack(std::uint64_t& next);
  void write_table(std::uint64_t number, const std::string& trailer);

  Out out_;
  std::string kept_;        ///< bytes not yet dealt with
  std::size_t looked_ = 0;  ///< so far of them no stream ends
  bool begun_ = false, failed_ = false;
  std::uint64_t length_ = 0;
  std::map<std::uint64_t, std::string> objects_;  ///< without streams
  std::map<std::uint64_t, Place> places_;
};

}  // namespace tunesheaf::exporting
