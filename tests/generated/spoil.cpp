#include "generated/spoil.h"

#include <exception>
#include <vector>

#include "generated/judge.h"

namespace tunesheaf::generated {
namespace {

const std::vector<std::string> kPieces{"|",        ":",
                                       " : ",      "-",
                                       "\"",       "#",
                                       "\n",       "  ",
                                       "\t",       "%",
                                       "(",        "<",
                                       ">",        "–",
                                       "“",        "x",
                                       "7b9",      "|:",
                                       "{",        "]",
                                       ",",        "&",
                                       "\\",       "@",
                                       "'",        "0",
                                       "999999",   "h5",
                                       "p0",       "g1",
                                       "t24",      "~~",
                                       "1/0",      "-1",
                                       "7/8",      "1000",
                                       "16",       "times:",
                                       "like: ",   "endings",
                                       "♯",        "\xF0\x9D\x84\x9E",
                                       "\xFF",     "א",
                                       "%\n",      "12<24>",
                                       "b36",      "tr36",
                                       "=",        "- - - - - - - -",
                                       "until: x", "64/64",
                                       "1/64",     "key | C |\n"};

std::size_t line_begin(const std::string& text, std::size_t at) {
  const std::size_t end = text.rfind('\n', at == 0 ? 0 : at - 1);
  return end == std::string::npos || at == 0 ? 0 : end + 1;
}

std::string line_at(const std::string& text, std::size_t at) {
  const std::size_t begin = line_begin(text, at), end = text.find('\n', at);
  return text.substr(begin, (end == std::string::npos ? text.size() : end + 1) - begin);
}

void spoil_once(std::string& text, Random& random) {
  const auto place = [&] { return static_cast<std::size_t>(random.below(static_cast<int>(text.size()))); };
  const std::size_t at = place();
  switch (random.below(8)) {
    case 0:
      text.erase(at, 1 + static_cast<std::size_t>(random.below(4)));
      break;
    case 1:
    case 2:
      text.insert(at, random.pick(kPieces));
      break;
    case 3:
      text[at] = static_cast<char>(32 + random.below(95));
      break;
    case 4:
      text.insert(at, text.substr(place(), static_cast<std::size_t>(random.below(40))));
      break;
    case 5:
      text.erase(line_begin(text, at), line_at(text, at).size());
      break;
    case 6:
      text.insert(line_begin(text, at), line_at(text, place()));
      break;
    default: {
      // One word in the place of another: most often still a song.
      const std::size_t from = text.find_first_of(" |:", at), to = text.find_first_of(" |:\n", from + 1);
      const std::size_t other = text.find_first_of(" |:", place()), end = text.find_first_of(" |:\n", other + 1);
      if (from == std::string::npos || to == std::string::npos || other == std::string::npos ||
          end == std::string::npos)
        break;
      const std::string word = text.substr(other + 1, end - other - 1);
      text.replace(from + 1, to - from - 1, word);
    }
  }
  if (text.empty()) text = "song: A\n";
}

}  // namespace

std::string spoilt(std::string text, Random& random) {
  const int changes = random.weighed<int>({{50, 1}, {30, 2}, {15, 4}, {5, 20}});
  for (int i = 0; i < changes; ++i) spoil_once(text, random);
  return text;
}

Outcome run_spoilt(const std::string& text) {
  Outcome out;
  try {
    app::Work work;
    work.file = work.files.add("song.yaml", text);
    app::to_timeline(work);
    for (const diag::Diagnostic& item : work.sink.sorted()) {
      if (item.situation.empty()) out.fault = "a finding without words";
      for (const diag::Label& label : item.labels)
        if (label.span.begin > label.span.end || label.span.end > text.size()) out.fault = "a finding outside the file";
    }
    out.refused = work.sink.has_errors();
    if (work.timeline) {
      out.printed = !display_list(text, {}).empty();
      if (!out.printed) out.fault = "no pages, and no finding";
    } else if (!out.refused) {
      out.fault = "no Timeline, and no finding";
    }
  } catch (const std::exception& fault) {
    out.fault = std::string("exception: ") + fault.what();
  }
  return out;
}

}  // namespace tunesheaf::generated
