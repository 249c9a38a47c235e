#include "pdf_pack.h"

#include <zlib.h>

#include <algorithm>
#include <optional>

#include "pdf_language.h"
#include "tunesheaf/base/number.h"

namespace tunesheaf::exporting {
namespace {

constexpr std::string_view kObjectEnd = "\nendobj\n", kStream = "\nstream\n", kStreamEnd = "\nendstream\nendobj\n";
constexpr std::size_t kObjectsAStream = 200;

std::optional<std::uint64_t> leading_number(std::string_view text) {
  const std::size_t end = std::min(text.find_first_not_of("0123456789"), text.size());
  const auto number = base::parse_integer(text.substr(0, end));
  if (!number || *number < 0) return std::nullopt;
  return static_cast<std::uint64_t>(*number);
}

/// The number behind the last `key`.
std::optional<std::uint64_t> number_next_to(std::string_view text, std::string_view key) {
  const std::size_t at = text.rfind(key);
  if (at == std::string_view::npos) return std::nullopt;
  return leading_number(text.substr(std::min(text.find_first_not_of(' ', at + key.size()), text.size())));
}

std::string compressed(const std::string& bytes) {
  uLongf size = compressBound(static_cast<uLong>(bytes.size()));
  std::string out(size, '\0');
  compress2(reinterpret_cast<Bytef*>(out.data()), &size, reinterpret_cast<const Bytef*>(bytes.data()),
            static_cast<uLong>(bytes.size()), Z_BEST_COMPRESSION);
  out.resize(size);
  return out;
}

void add_bytes(std::string& out, std::uint64_t value, int count) {
  for (int i = count - 1; i >= 0; --i) out += static_cast<char>((value >> (8 * i)) & 0xFFU);
}

std::string stream_text(std::uint64_t number, const std::string& keys, const std::string& data) {
  return std::to_string(number) + " 0 obj\n<< " + keys + "\n   /Filter /FlateDecode\n   /Length " +
         std::to_string(data.size()) + "\n>>\nstream\n" + data + "\nendstream\nendobj\n";
}

void add_language(std::string& catalogue, const std::string& language) {
  const std::size_t close = catalogue.rfind(">>");
  if (close == std::string::npos) return;
  std::string more;
  if (is_language_tag(language) && catalogue.find("/Lang") == std::string::npos)
    more += "   /Lang (" + language + ")\n";
  if (catalogue.find("/ViewerPreferences") == std::string::npos)
    more += "   /ViewerPreferences << /DisplayDocTitle true >>\n";
  catalogue.insert(close, more);
}

}  // namespace

void PdfPack::put(std::string_view bytes) {
  if (!failed_ && !out_(bytes)) failed_ = true;
  length_ += bytes.size();
}

void PdfPack::take(std::string_view bytes) {
  kept_ += bytes;
  if (!begun_) {
    // Two lines of comments: the version, and bytes that show that this is no text.
    const std::size_t first = kept_.find('\n');
    const std::size_t second = first == std::string::npos ? first : kept_.find('\n', first + 1);
    if (second == std::string::npos) return;
    put(std::string_view(kept_).substr(0, second + 1));
    kept_.erase(0, second + 1);
    begun_ = true;
  }
  while (take_object()) {
  }
}

/// True when an object was whole and is dealt with.
bool PdfPack::take_object() {
  const std::string_view kept = kept_;
  const auto number = leading_number(kept);
  constexpr std::string_view kHead = " 0 obj\n";
  const std::size_t digits = std::min(kept.find_first_not_of("0123456789"), kept.size());
  if (!number || digits == 0 || !kept.substr(digits).starts_with(kHead)) return false;
  const std::size_t begin = digits + kHead.size();
  const std::size_t stream = kept.find(kStream, begin - 1), plain = kept.find(kObjectEnd, begin - 1);
  if (stream < plain) {
    const std::size_t end = kept.find(kStreamEnd, std::max(stream + kStream.size() - 1, looked_));
    if (end == std::string_view::npos) {
      looked_ = kept.size() - std::min(kept.size(), kStreamEnd.size());
      return false;
    }
    looked_ = 0;
    stream_object(*number, kept.substr(begin, stream - begin),
                  kept.substr(stream + kStream.size(), end - stream - kStream.size()));
    kept_.erase(0, end + kStreamEnd.size());
    return true;
  }
  if (plain == std::string_view::npos) return false;
  objects_[*number] = kept.substr(begin, plain - begin);
  kept_.erase(0, plain + kObjectEnd.size());
  return true;
}

/// Its length is said in itself: the object that said it stays behind.
void PdfPack::stream_object(std::uint64_t number, std::string_view head, std::string_view data) {
  std::string keys(head);
  constexpr std::string_view kLength = "/Length ";
  if (const std::size_t at = keys.find(kLength); at != std::string::npos) {
    const std::size_t from = at + kLength.size(), to = std::min(keys.find('\n', from), keys.size());
    if (std::string_view(keys).substr(from, to - from).ends_with(" 0 R")) {
      if (const auto said = leading_number(std::string_view(keys).substr(from))) {
        places_[*said] = {};
        keys.replace(from, to - from, std::to_string(data.size()));
      }
    }
  }
  places_[number] = {length_, 0, false};
  put(std::to_string(number) + " 0 obj\n" + keys);
  put(kStream);
  put(data);
  put(kStreamEnd);
}

/// Writes the objects without streams into object streams, whose numbers begin at `next`.
void PdfPack::pack(std::uint64_t& next) {
  auto object = objects_.begin();
  while (object != objects_.end()) {
    std::string numbers, bodies;
    std::uint64_t count = 0;
    for (; object != objects_.end() && count < kObjectsAStream; ++object) {
      const auto& [number, body] = *object;
      if (const auto known = places_.find(number); known != places_.end()) continue;  // a length that is said elsewhere
      numbers += std::to_string(number) + " " + std::to_string(bodies.size()) + " ";
      bodies += body + "\n";
      places_[number] = {next, count++, true};
    }
    if (count == 0) return;
    const std::string data = compressed(numbers + bodies);
    places_[next] = {length_, 0, false};
    put(stream_text(
        next, "/Type /ObjStm\n   /N " + std::to_string(count) + "\n   /First " + std::to_string(numbers.size()), data));
    ++next;
  }
}

void PdfPack::write_table(std::uint64_t number, const std::string& trailer) {
  const std::uint64_t at = length_;
  places_[number] = {at, 0, false};
  std::string rows;
  for (std::uint64_t n = 0; n <= number; ++n) {
    const auto found = places_.find(n);
    const bool there = found != places_.end() && found->second.at > 0;
    add_bytes(rows, !there ? 0 : found->second.packed ? 2 : 1, 1);
    add_bytes(rows, there ? found->second.at : 0, 4);
    add_bytes(rows, there ? found->second.index : n == 0 ? 0xFFFF : 0, 2);
  }
  put(stream_text(number, "/Type /XRef\n   /Size " + std::to_string(number + 1) + "\n   /W [ 1 4 2 ]\n   " + trailer,
                  compressed(rows)));
  put("startxref\n" + std::to_string(at) + "\n%%EOF\n");
}

PdfPack::End PdfPack::finish(const std::string& language) {
  const auto size = number_next_to(kept_, "/Size"), root = number_next_to(kept_, "/Root"),
             info = number_next_to(kept_, "/Info");
  if (!kept_.starts_with("xref") || !size || !root) return End::NotUnderstood;
  const auto catalogue = objects_.find(*root);
  if (catalogue == objects_.end()) return End::NotUnderstood;
  add_language(catalogue->second, language);
  std::uint64_t next = *size;
  pack(next);
  std::string trailer = "/Root " + std::to_string(*root) + " 0 R";
  if (info) trailer += "\n   /Info " + std::to_string(*info) + " 0 R";
  write_table(next, trailer);
  return failed_ ? End::NotKept : End::Done;
}

}  // namespace tunesheaf::exporting
