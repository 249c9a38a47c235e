#include "lane_cells.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "signs.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/diag/words.h"
#include "tunesheaf/song/values.h"

namespace tunesheaf::song {
namespace {

using diag::Kind;
using Tokens = std::vector<Token>;

/// Lanes whose cells are texts of several words.
bool holds_text(LaneKind kind) {
  return kind == LaneKind::Say || kind == LaneKind::Tempo || kind == LaneKind::Meter || kind == LaneKind::Key ||
         kind == LaneKind::Retune || kind == LaneKind::Cue;
}
bool holds_names(LaneKind kind) {
  return kind == LaneKind::Shape || kind == LaneKind::Pattern;
}
/// Lanes whose words may hold colons, apostrophes and dashes of print.
bool holds_prose(LaneKind kind) {
  return kind == LaneKind::Say || kind == LaneKind::Lyric;
}

bool plain(const Token& token, std::string_view text) {
  return !token.quoted && token.text == text;
}

bool repeats(const Token& token) {
  return plain(token, "%") || plain(token, "%%");
}

std::size_t find_any(std::string_view text, std::initializer_list<std::string_view> signs) {
  std::size_t first = std::string_view::npos;
  for (const std::string_view sign : signs) first = std::min(first, text.find(sign));
  return first;
}

constexpr std::string_view kEnDash = "\xE2\x80\x93", kEmDash = "\xE2\x80\x94", kMinus = "\xE2\x88\x92";
constexpr std::string_view kLeftDouble = "\xE2\x80\x9C", kRightDouble = "\xE2\x80\x9D", kLowDouble = "\xE2\x80\x9E";
constexpr std::string_view kLeftSingle = "\xE2\x80\x98", kRightSingle = "\xE2\x80\x99";

class LaneReader {
 public:
  LaneReader(Context& context, const LineText& line, const LaneMatch& match)
      : context_(context), line_(line), entry_(*match.entry) {
    lane_.kind = entry_.lane;
    lane_.string = match.string;
    lane_.subject = std::string(entry_.subject);
  }

  Lane read(const RawLine& raw) {
    lane_.name = {single_blanks(line_.text.substr(raw.name_begin, raw.name_end - raw.name_begin)),
                  line_.span(raw.name_begin, raw.name_end)};
    lane_.span = line_.span(raw.name_begin, raw.body_end);
    lane_.bars.reserve(raw.bars.size());
    for (const RawBar& bar : raw.bars) lane_.bars.push_back(read_bar(bar));
    if (lane_.bars.empty()) lane_.bars.push_back(read_bar({raw.body_end, raw.body_end, {}}));
    return std::move(lane_);
  }

 private:
  LaneBar read_bar(const RawBar& raw) {
    Tokens tokens = raw.tokens;
    name_print_signs(tokens);
    if (!holds_prose(lane_.kind)) part_tight_colons(tokens);
    LaneBar bar;
    const std::size_t empty_at = std::min(raw.begin + 1, raw.end);
    bar.span = tokens.empty() ? line_.span(empty_at, empty_at) : line_.span(tokens.front().begin, tokens.back().end);
    bar.colons = std::any_of(tokens.begin(), tokens.end(), [](const Token& token) { return token.colon(); });
    if (tokens.size() == 1 && plain(tokens.front(), "%")) {
      bar.repeat_before = true;
      tokens.front().text = "-";
    } else if (tokens.size() == 1 && plain(tokens.front(), "%%")) {
      bar.repeat_two = true;
      tokens.front().text = "-";
    }
    std::size_t from = raw.begin;
    auto begin = tokens.begin();
    for (;;) {
      const auto colon = std::find_if(begin, tokens.end(), [](const Token& token) { return token.colon(); });
      const std::size_t to = colon == tokens.end() ? raw.end : colon->begin;
      bar.beats.push_back(read_beat(Tokens(begin, colon), bar.colons, from, to));
      if (colon == tokens.end()) break;
      from = colon->end;
      begin = std::next(colon);
    }
    return bar;
  }

  LaneBeat read_beat(const Tokens& tokens, bool colons, std::size_t from, std::size_t to) {
    LaneBeat beat;
    if (tokens.empty()) {
      const std::size_t at = std::min(from + 1, to);
      beat.span = line_.span(at, at);
      beat.cells.push_back({beat.span, HoldCell{}});
      return beat;
    }
    beat.span = line_.span(tokens.front().begin, tokens.back().end);
    if (holds_names(lane_.kind)) {
      read_names(tokens, beat.cells);
    } else if (tokens.size() == 1 && (plain(tokens[0], "-") || plain(tokens[0], "."))) {
      beat.cells.push_back(read_cell(tokens[0]));
    } else if (holds_text(lane_.kind) || (lane_.kind == LaneKind::Lyric && !colons)) {
      beat.cells.push_back(read_text_cell(tokens));
    } else {
      for (const Token& token : tokens) beat.cells.push_back(read_cell(token));
    }
    return beat;
  }

  Cell read_cell(const Token& token) {
    const Span span = line_.span(token.begin, token.end);
    if (plain(token, "-")) return {span, HoldCell{}};
    if (plain(token, ".")) return {span, SilenceCell{}};
    if (repeats(token)) return percent_not_alone(token, span);
    if (lane_.kind == LaneKind::Lyric || (token.quoted && lane_.kind == LaneKind::Count)) {
      return {span, WordCell{token.text}};
    }
    if (token.text.empty()) {
      context_.fault(Kind::WrongSign, span, "quotes with nothing in them", "a cell holds a sign, - or .",
                     "write - for nothing new");
      return {span, HoldCell{}};
    }
    SignResult sign = parse_sign(entry_, token.text);
    if (sign.ok()) return {span, std::move(sign.value())};
    wrong_sign(token, sign.error());
    return {span, HoldCell{}};
  }

  Cell percent_not_alone(const Token& token, Span span) {
    context_.fault(
        Kind::PercentNotAlone, span, "\"" + token.text + "\" stands beside other cells",
        token.text == "%" ? "% alone in a bar repeats the bar before" : "%% alone in a bar repeats the bar two before",
        "leave " + token.text + " alone between its bar lines, or write - here");
    return {span, HoldCell{}};
  }

  void wrong_sign(const Token& token, const SignFault& fault) {
    const std::size_t inset = token.quoted ? 1 : 0;
    const std::size_t stop = std::min(token.begin + inset + fault.at, token.end);
    const bool at_end = fault.at >= token.text.size();
    const Span place = at_end ? line_.span(token.begin, token.end) : line_.span(stop, token.end - inset);
    const bool dashes = token.text.find_first_not_of('-') == std::string::npos;
    const std::string near = fault.suggestion.empty() ? nearest_sign(entry_, token.text) : fault.suggestion;
    std::string situation = diag::quoted(token.text) + " on the lane `" + lane_.name.value + "` is not understood";
    if (!at_end && fault.at > 0) situation += " from " + diag::quoted(token.text.substr(fault.at)) + " on";
    if (at_end) situation += ": it ends too early";
    std::string remedy;
    if (dashes) {
      remedy = "write one - for each cell, with blanks between them";
    } else if (!near.empty()) {
      const bool apart = near.find(' ') != std::string::npos;
      remedy = (apart ? "write them apart, with blanks between them: `" : "write `") + near + "`";
    } else {
      const std::string known = signs_listed(entry_);
      remedy = "see `reference " + lane_.name.value + "`" + (known.empty() ? "" : "; signs here: " + known);
    }
    context_.fault(Kind::WrongSign, place, std::move(situation), "expected " + fault.expected, std::move(remedy));
  }

  Cell read_text_cell(const Tokens& tokens) {
    const Span span = line_.span(tokens.front().begin, tokens.back().end);
    std::string text;
    for (const Token& token : tokens) {
      if (!text.empty()) text += ' ';
      text += token.text;
      if (lane_.kind == LaneKind::Lyric && plain(token, "-")) {
        context_.fault(Kind::WrongSign, line_.span(token.begin, token.end), "a - stands among the words of a bar",
                       "without colons a bar's words are one cue; with colons each word has its place",
                       "write a colon between the beats, or leave the - out");
      }
    }
    check_text(text, span);
    return {span, WordCell{std::move(text)}};
  }

  void check_text(const std::string& text, Span span) {
    if (lane_.kind == LaneKind::Tempo && !parse_tempo(text)) {
      context_.fault(Kind::WrongSign, span, diag::quoted(text) + " is no tempo",
                     "a tempo is a number from 10 to 600, with a note value if need be, or words",
                     "write it like 96, dotted quarter = 60, or rit.");
    }
  }

  void read_names(const Tokens& tokens, std::vector<Cell>& cells) {
    for (std::size_t i = 0; i < tokens.size();) {
      const Token& token = tokens[i];
      if (token.quoted) {
        cells.push_back({line_.span(token.begin, token.end), NameCell{single_blanks(token.text)}});
        ++i;
      } else if (token.text == "-" || token.text == "." || repeats(token)) {
        cells.push_back(read_cell(token));
        ++i;
      } else {
        std::size_t end = i;
        while (end < tokens.size() && !tokens[end].quoted && tokens[end].text != "-" && tokens[end].text != "." &&
               !repeats(tokens[end])) {
          ++end;
        }
        read_name_row(
            Tokens(tokens.begin() + static_cast<std::ptrdiff_t>(i), tokens.begin() + static_cast<std::ptrdiff_t>(end)),
            cells);
        i = end;
      }
    }
  }

  void read_name_row(const Tokens& tokens, std::vector<Cell>& cells) {
    const NameBook& book = lane_.kind == LaneKind::Shape ? context_.shapes : context_.patterns;
    std::vector<std::string> words;
    for (const Token& token : tokens) words.push_back(token.text);
    const auto name = [&](const NameRun& run) {
      std::string text;
      for (std::size_t i = run.first; i < run.first + run.count; ++i) text += (text.empty() ? "" : " ") + words[i];
      return text;
    };
    const NameReading reading = book.read(words);
    for (const NameRun& run : reading.runs) {
      cells.push_back(
          {line_.span(tokens[run.first].begin, tokens[run.first + run.count - 1].end), NameCell{name(run)}});
    }
    if (reading.crossing.empty()) return;
    const auto spelled = [&](const std::vector<NameRun>& runs) {
      std::vector<std::string> names;
      for (const NameRun& run : runs) names.push_back("\"" + name(run) + "\"");
      return list_words(names);
    };
    context_.fault(Kind::TwoReadings, line_.span(tokens.front().begin, tokens.back().end),
                   "these words can be read as " + spelled(reading.runs) + ", or as " + spelled(reading.crossing),
                   "names with blanks must be clear where they stand side by side",
                   "put the names that are meant in quotes: " + quoted_names(reading.runs, name));
  }

  template <class Name>
  static std::string quoted_names(const std::vector<NameRun>& runs, const Name& name) {
    std::string text;
    for (const NameRun& run : runs) text += (text.empty() ? "\"" : " \"") + name(run) + "\"";
    return text;
  }

  /// Dashes and quotes as word processors make them.
  void name_print_signs(Tokens& tokens) {
    for (Token& token : tokens) {
      if (token.quoted) continue;
      const bool prose = holds_prose(lane_.kind);
      const std::size_t dash = find_any(token.text, {kEnDash, kEmDash, kMinus});
      if (dash != std::string::npos && (!prose || token.text.size() == kEnDash.size())) {
        long_dash(token, dash);
      }
      const std::size_t quote =
          prose ? find_any(token.text, {kLeftDouble, kRightDouble, kLowDouble})
                : find_any(token.text, {kLeftDouble, kRightDouble, kLowDouble, kLeftSingle, kRightSingle});
      if (quote != std::string::npos) curly_quote(token, quote);
    }
  }

  void long_dash(Token& token, std::size_t at) {
    const std::string_view sign = std::string_view(token.text).substr(at, 3);
    const std::string name = sign == kEnDash   ? "an en dash (\xE2\x80\x93)"
                             : sign == kEmDash ? "an em dash (\xE2\x80\x94)"
                                               : "a minus sign (\xE2\x88\x92)";
    context_.fault(Kind::LongDash, line_.span(token.begin + at, token.begin + at + 3), name + " stands in a lane",
                   "\"nothing new\" is a plain hyphen", "write - in its place");
    token.text = "-";
  }

  void curly_quote(Token& token, std::size_t at) {
    const std::string_view sign = std::string_view(token.text).substr(at, 3);
    const bool single = sign == kLeftSingle || sign == kRightSingle;
    context_.fault(Kind::CurlyQuote, line_.span(token.begin + at, token.begin + at + 3),
                   "a curly quote (" + std::string(sign) + ") stands in a lane", "quotes are typed straight",
                   single ? "write ' in its place" : "write \" in its place, before and behind the text");
    for (const std::string_view curly : {kLeftDouble, kRightDouble, kLowDouble}) remove_all(token.text, curly, "");
    for (const std::string_view curly : {kLeftSingle, kRightSingle}) remove_all(token.text, curly, "'");
    if (token.text.empty()) token.text = "-";
  }

  static void remove_all(std::string& text, std::string_view what, std::string_view with) {
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size())) {
      text.replace(at, what.size(), with);
    }
  }

  /// "0:h2" is reported once and read as "0 : h2".
  void part_tight_colons(Tokens& tokens) {
    Tokens parted;
    for (Token& token : tokens) {
      const std::size_t colon = token.text.find(':');
      if (token.quoted || token.colon() || colon == std::string::npos) {
        parted.push_back(std::move(token));
        continue;
      }
      const std::size_t at = token.begin + colon;
      const bool others = std::any_of(tokens.begin(), tokens.end(), [](const Token& other) { return other.colon(); });
      context_.fault(Kind::TightColon, line_.span(at, at + 1), "a colon stands without a blank on both sides",
                     others ? "a bar parts its beats by free-standing colons throughout, or not at all"
                            : "beats are parted by a colon that stands free",
                     "write \" : \"");
      std::size_t begin = 0;
      for (std::size_t i = 0; i <= token.text.size(); ++i) {
        if (i < token.text.size() && token.text[i] != ':') continue;
        if (i > begin)
          parted.push_back({token.begin + begin, token.begin + i, token.text.substr(begin, i - begin), false});
        if (i < token.text.size()) parted.push_back({token.begin + i, token.begin + i + 1, ":", false});
        begin = i + 1;
      }
    }
    tokens = std::move(parted);
  }

  Context& context_;
  const LineText& line_;
  const LanguageEntry& entry_;
  Lane lane_;
};

}  // namespace

Lane read_lane(Context& context, const LineText& line, const RawLine& raw, const LaneMatch& match) {
  return LaneReader(context, line, match).read(raw);
}

void join_slides(std::vector<Stanza>& stanzas) {
  std::map<std::string, StringSign*> sliding;
  for (Stanza& stanza : stanzas) {
    for (Lane& lane : stanza.lanes) {
      if (lane.kind != LaneKind::String && lane.kind != LaneKind::Thumb && lane.kind != LaneKind::FretOf) continue;
      StringSign*& before = sliding[lane.name.value];
      for (LaneBar& bar : lane.bars) {
        if (bar.repeat_before) before = nullptr;
        for (LaneBeat& beat : bar.beats) {
          for (Cell& cell : beat.cells) {
            if (std::holds_alternative<HoldCell>(cell.content)) continue;
            auto* sign = std::get_if<StringSign>(&cell.content);
            if (before != nullptr && std::holds_alternative<SilenceCell>(cell.content)) {
              before->slides_to_next = false;
              before->slide_off = SlideOff::Up;
            } else if (before != nullptr && sign != nullptr && sign->fret && sign->arrival == Arrival::Struck) {
              sign->arrival = Arrival::ShiftSlide;
            }
            before = sign != nullptr && sign->slides_to_next ? sign : nullptr;
          }
        }
      }
    }
  }
}

}  // namespace tunesheaf::song
