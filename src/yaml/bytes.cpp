#include "bytes.h"

#include <array>

#include "tunesheaf/base/number.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::yaml {
namespace {

using diag::Kind;

// One wrong encoding makes thousands of wrong bytes; the first few say enough.
constexpr std::size_t kMostFaults = 10;

std::string code_name(char32_t c) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string digits;
  for (int shift = c > 0xFFFF ? 20 : 12; shift >= 0; shift -= 4) digits += kDigits[(c >> shift) & 0xF];
  return "U+" + digits;
}

bool is_control(char32_t c) {
  return (c < 0x20 && c != U'\t' && c != U'\n' && c != U'\r') || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029;
}

// The signs that embed, override or isolate a direction (Unicode UAX #9): with them a line can look unlike what it is.
bool is_direction(char32_t c) {
  return (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
}

std::string control_words(char32_t c) {
  if (c == 0) return "a NUL byte stands here";
  if (c == 0x1B) return "an ESC character stands here";
  if (c == 0x2028 || c == 0x2029 || c == 0x85) return "an invisible end of line (" + code_name(c) + ") stands here";
  return "an invisible control character (" + code_name(c) + ") stands here";
}

class ByteCheck {
 public:
  ByteCheck(const source::File& file, diag::Sink& sink) : file_(file), sink_(sink), text_(file.text()) {}

  bool run() {
    if (text_.size() > kMaxBytes) {
      sink_.add(too_large(span(0, 0), text_.size()));
      return false;
    }
    if (is_utf16()) return false;
    bool content = false;
    for (std::uint32_t i = byte_order_mark(text_); i < text_.size() && faults_ < kMostFaults;) {
      const base::DecodedPoint p = base::decode_at(text_, i);
      check(p, i);
      content = content || p.code_point > U' ';
      i += static_cast<std::uint32_t>(p.length);
    }
    if (!content && faults_ == 0) {
      fault(Kind::FileEmpty, 0, 0, "the file is empty", "a song file holds at least `song:` with a title",
            "type the song, or let `tunesheaf new FILE.yaml` write one to start from");
    }
    return faults_ == 0;
  }

 private:
  source::Span span(std::size_t begin, std::size_t end) const {
    return {file_.id(), static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(end)};
  }

  void fault(Kind kind, std::size_t begin, std::size_t end, std::string what, std::string rule, std::string cure) {
    ++faults_;
    sink_.add(kind, span(begin, end), std::move(what), std::move(rule), std::move(cure));
  }

  bool is_utf16() {
    const std::string_view start = text_.substr(0, 2);
    if (start != "\xFF\xFE" && start != "\xFE\xFF") return false;
    fault(Kind::NotUtf8, 0, 0, "the file was saved as UTF-16", "a song file is text in UTF-8",
          "in the editor choose \"Save as\" with the encoding UTF-8");
    return true;
  }

  void check(const base::DecodedPoint& p, std::size_t at) {
    const std::size_t end = at + p.length;
    if (!p.well_formed) {
      // A wrong run is one fault.
      if (at == last_bad_ + 1 && faults_ > 0) {
        last_bad_ = at;
        return;
      }
      last_bad_ = at;
      fault(Kind::NotUtf8, at, end, "this byte is no character of UTF-8", "a song file is text in UTF-8",
            "in the editor choose \"Save as\" with the encoding UTF-8, then type the letters here again");
    } else if (p.code_point == U'\r' && text_.substr(end, 1) != "\n") {
      fault(Kind::OldLineEnd, at, end, "a carriage return stands here without a line feed",
            "lines end with LF (Linux, macOS) or CR LF (Windows)",
            "in the editor set the line endings to LF and save again");
    } else if (is_control(p.code_point)) {
      fault(Kind::ControlCharacter, at, end, control_words(p.code_point), "a song file holds visible text only",
            "delete it, and type the line again if it came from somewhere else");
    } else if (is_direction(p.code_point)) {
      fault(Kind::DirectionCharacter, at, end,
            "an invisible character (" + code_name(p.code_point) + ") turns the reading direction here",
            "with it the line can look unlike what it says", "delete it, and type the words around it again");
    } else if (p.code_point == 0xFEFF) {
      fault(Kind::ControlCharacter, at, end, "an invisible byte order mark (U+FEFF) stands inside the text",
            "it may only be the first thing in a file", "delete it; it often comes with text pasted from another file");
    }
  }

  const source::File& file_;
  diag::Sink& sink_;
  std::string_view text_;
  std::size_t faults_ = 0;
  std::size_t last_bad_ = 0;
};

}  // namespace

std::uint32_t byte_order_mark(std::string_view text) {
  return text.substr(0, 3) == "\xEF\xBB\xBF" ? 3 : 0;
}

bool check_bytes(const source::File& file, diag::Sink& sink) {
  return ByteCheck(file, sink).run();
}

diag::Diagnostic too_large(source::Span place, std::uint64_t bytes) {
  // A reader stops a little beyond the bound, so no exact size is known here.
  const bool read_whole = bytes > kMaxBytes + 1;
  const std::string size = read_whole ? base::print_fixed(static_cast<double>(bytes) / (1024.0 * 1024.0), 1) + " MiB"
                                      : std::string("more than 4 MiB");
  return {Kind::FileTooLarge,
          {{place, {}}},
          "the file has " + size,
          "a song file has at most 4 MiB; a long song has a few hundredths of that",
          "check that this is the song file and not a recording or a picture"};
}

}  // namespace tunesheaf::yaml
