#include "patterns.h"

#include <algorithm>
#include <fstream>
#include <iterator>

#include "tunesheaf/base/number.h"

namespace tunesheaf::text {
namespace {

constexpr std::uint32_t kHashBegin = 2166136261U, kHashStep = 16777619U;  // FNV-1a

constexpr std::uint32_t hashed(std::uint32_t hash, char letter) {
  return (hash ^ static_cast<unsigned char>(letter)) * kHashStep;
}

constexpr bool is_figure(char c) {
  return c >= '0' && c <= '9';
}

/// A pattern ends with its line, or with the first blank.
constexpr bool ends(char c) {
  return static_cast<unsigned char>(c) <= ' ';
}

constexpr bool starts_character(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
}

}  // namespace

std::optional<Patterns> Patterns::read(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  Patterns out;
  out.text_.assign(std::istreambuf_iterator<char>(in), {});
  out.text_ += '\n';
  const std::string_view letters = std::string_view(out.text_).substr(0, out.text_.find_first_of("\r\n"));
  out.utf8_ = letters == "UTF-8";
  if (!out.utf8_ && letters != "ISO8859-1" && letters != "ISO-8859-1") return std::nullopt;
  if (!out.read_lines()) return std::nullopt;
  return out;
}

bool Patterns::read_lines() {
  const auto lines = static_cast<std::size_t>(std::count(text_.begin(), text_.end(), '\n'));
  std::size_t room = 16;
  while (room < 2 * lines) room *= 2;
  slots_.resize(room);
  for (std::size_t at = text_.find('\n') + 1; at < text_.size();) {
    const std::size_t begin = at;
    if (text_[at] >= 'A' && text_[at] <= 'Z') {
      at = text_.find('\n', at);
      if (!read_keyword(std::string_view(text_).substr(begin, at - begin))) return false;
    } else if (text_[at] != '%' && text_[at] != '#') {
      std::uint32_t hash = kHashBegin;
      std::size_t letters = 0;
      for (; !ends(text_[at]); ++at) {
        if (is_figure(text_[at])) continue;
        if (text_[at] == '/' || text_[at] == '=') return false;  // respelt
        hash = hashed(hash, text_[at]);
        ++letters;
      }
      if (letters > 0) keep(hash, static_cast<std::uint32_t>(begin), letters);
    }
    at = text_.find('\n', at) + 1;
  }
  return true;
}

/// False for what is not understood here.
bool Patterns::read_keyword(std::string_view line) {
  while (!line.empty() && ends(line.back())) line.remove_suffix(1);
  for (const auto& [key, least] : {std::pair("LEFTHYPHENMIN ", &before_), std::pair("RIGHTHYPHENMIN ", &after_)}) {
    if (!line.starts_with(key)) continue;
    const auto number = base::parse_integer(line.substr(std::string_view(key).size()));
    if (!number || *number < 0 || *number > 100) return false;
    *least = static_cast<std::size_t>(*number);
    return true;
  }
  return false;
}

/// Of two patterns with the same letters the later one holds.
void Patterns::keep(std::uint32_t hash, std::uint32_t at, std::size_t letters) {
  longest_ = std::max(longest_, letters);
  const std::size_t mask = slots_.size() - 1;
  std::size_t i = hash & mask;
  while (slots_[i].at != 0 && !(slots_[i].hash == hash && same_letters(slots_[i].at, at))) i = (i + 1) & mask;
  slots_[i] = {hash, at};
}

bool Patterns::same_letters(std::uint32_t at, std::uint32_t other) const {
  std::string letters;
  for (std::size_t i = other; !ends(text_[i]); ++i)
    if (!is_figure(text_[i])) letters += text_[i];
  return same_letters(at, letters);
}

bool Patterns::same_letters(std::uint32_t at, std::string_view letters) const {
  std::size_t next = 0;
  for (std::size_t i = at; !ends(text_[i]); ++i) {
    if (is_figure(text_[i])) continue;
    if (next == letters.size() || letters[next] != text_[i]) return false;
    ++next;
  }
  return next == letters.size();
}

const Patterns::Slot* Patterns::find(std::uint32_t hash, std::string_view letters) const {
  const std::size_t mask = slots_.size() - 1;
  for (std::size_t i = hash & mask; slots_[i].at != 0; i = (i + 1) & mask)
    if (slots_[i].hash == hash && same_letters(slots_[i].at, letters)) return &slots_[i];
  return nullptr;
}

std::vector<bool> Patterns::places(std::string_view word) const {
  const std::string framed = "." + std::string(word) + ".";
  std::vector<char> highest(framed.size() + 1, '0');  // before each byte
  for (std::size_t from = 0; from < framed.size(); ++from) {
    std::uint32_t hash = kHashBegin;
    for (std::size_t length = 1; length <= longest_ && from + length <= framed.size(); ++length) {
      hash = hashed(hash, framed[from + length - 1]);
      const Slot* found = find(hash, std::string_view(framed).substr(from, length));
      if (found == nullptr) continue;
      std::size_t place = from;
      for (std::size_t i = found->at; !ends(text_[i]); ++i) {
        if (is_figure(text_[i]))
          highest[place] = std::max(highest[place], text_[i]);
        else
          ++place;
      }
    }
  }
  const auto all = static_cast<std::size_t>(
      std::count_if(word.begin(), word.end(), [&](char c) { return !utf8_ || starts_character(c); }));
  std::vector<bool> out(word.size());
  std::size_t letters = 0;
  for (std::size_t i = 0; i + 1 < word.size(); ++i) {
    if (!utf8_ || starts_character(word[i])) ++letters;
    const bool odd = ((highest[i + 2] - '0') & 1) != 0;
    out[i] = odd && letters >= before_ && all - letters >= after_;
  }
  return out;
}

}  // namespace tunesheaf::text
