#include "tunesheaf/style/tokens.h"

#include <algorithm>
#include <array>
#include <optional>
#include <variant>

#include "tunesheaf/base/number.h"

namespace tunesheaf::style {
namespace {

using base::Length;

using Target = std::variant<base::Length Style::*, base::Length PageStyle::*, base::Length RhythmStyle::*,
                            base::Length BoxStyle::*, double EngravingStyle::*, base::Colour Style::*,
                            std::string Style::*, bool Style::*, base::Length base::Size::*>;

struct Row {
  Token token;
  Target target;
};

struct RoleRow {
  const char* name;
  TypeRole Style::*role;
  const char* meaning;
  const char *family, *size;
  const char* weight;
  bool italic;
  const char* tracking;
};

constexpr const char* kReading = "Gentium Plus";
constexpr const char* kLabels = "Lato";

// One scale for all text: 7.5, 9, 10.5, 13, 17, 30 pt. Each new size of a face costs time once, and the eye too.
const std::vector<RoleRow>& role_rows() {
  static const std::vector<RoleRow> rows{
      {"title", &Style::title, "the song's title", kReading, "30 pt", "400", false, "0"},
      {"subtitle", &Style::subtitle, "the writer, under the title", kReading, "13 pt", "400", true, "0"},
      {"heading", &Style::heading, "headings of blocks: tuning, map, shapes", kReading, "13 pt", "400", true, "0"},
      {"body", &Style::body, "text to be read", kReading, "10.5 pt", "400", false, "0"},
      {"note", &Style::note, "remarks in the margin column", kReading, "9 pt", "400", false, "0"},
      {"label", &Style::label, "labels and heads of tables", kLabels, "7.5 pt", "600", false, "30"},
      {"section letter", &Style::section_letter, "the letter of a section", kReading, "30 pt", "400", false, "0"},
      {"section name", &Style::section_name, "the name of a section", kReading, "17 pt", "400", false, "0"},
      {"chord", &Style::chord, "chord names", kLabels, "10.5 pt", "700", false, "0"},
      {"lyric", &Style::lyric, "words that are sung", kReading, "10.5 pt", "400", false, "0"},
      {"figure", &Style::figure, "figures on the tab and fingers in boxes", kLabels, "9 pt", "600", false, "0"},
      {"bar number", &Style::bar_number, "bar numbers", kReading, "9 pt", "400", true, "0"},
      {"direction", &Style::direction, "words over and under the music", kReading, "10.5 pt", "400", true, "0"},
      {"tempo", &Style::tempo, "tempo, feel and jumps over the music", kReading, "11 pt", "700", false, "0"},
      {"small", &Style::small, "small figures and captions", kLabels, "7.5 pt", "400", false, "0"},
      {"running", &Style::running, "the lines at the head and foot of every page", kReading, "9 pt", "400", true, "0"},
  };
  return rows;
}

void add_page(std::vector<Row>& r) {
  r.push_back({{"page.width", Unit::PageSide, "width of the page; `paper` is that of --paper", "paper", {}},
               &base::Size::width});
  r.push_back({{"page.height", Unit::PageSide, "height of the page; `paper` is that of --paper", "paper", {}},
               &base::Size::height});
  const auto row = [&r](const char* name, const char* standard, const char* meaning, Length PageStyle::*at) {
    r.push_back({{name, Unit::Paper, meaning, standard, {}}, at});
  };
  row("page.top", "17 mm", "white above the body, with the running line in it", &PageStyle::top);
  row("page.bottom", "17 mm", "white below the body, with the page number in it", &PageStyle::bottom);
  row("page.inner", "20 mm", "white on the left, with room for punched holes", &PageStyle::inner);
  row("page.outer", "10 mm", "white on the right of the margin column", &PageStyle::outer);
  row("page.margin column", "38 mm", "width of the column for remarks and video times", &PageStyle::margin_column);
  row("page.column gap", "6 mm", "white between the body and the margin column", &PageStyle::column_gap);
}

void add_rhythm(std::vector<Row>& r) {
  const auto row = [&r](const char* name, const char* standard, const char* meaning, Length RhythmStyle::*at) {
    r.push_back({{name, Unit::Paper, meaning, standard, {}}, at});
  };
  row("rhythm.block gap", "20 pt", "white above a block such as the tuning", &RhythmStyle::block_gap);
  row("rhythm.section gap", "26 pt", "white above the heading of a section", &RhythmStyle::section_gap);
  row("rhythm.system gap", "15 pt", "white above a system", &RhythmStyle::system_gap);
  row("rhythm.system stretch", "22 pt", "how far the white above a system may grow to fill a page",
      &RhythmStyle::system_stretch);
  row("rhythm.note gap", "7 pt", "least white between two notes in the margin column", &RhythmStyle::note_gap);
  const auto box = [&r](const char* name, const char* standard, const char* meaning, Length BoxStyle::*at) {
    r.push_back({{name, Unit::Paper, meaning, standard, {}}, at});
  };
  box("box.small", "5.2 pt", "distance of two strings in a small chord box", &BoxStyle::small);
  box("box.medium", "8.4 pt", "distance of two strings in a chord box among the shapes", &BoxStyle::medium);
  box("box.large", "13 pt", "distance of two strings in a large chord box", &BoxStyle::large);
}

void add_engraving(std::vector<Row>& r) {
  const auto row = [&r](const char* name, const char* standard, const char* meaning, double EngravingStyle::*at,
                        Unit unit = Unit::StaffSpaces) {
    r.push_back({{name, unit, meaning, standard, {}}, at});
  };
  using S = EngravingStyle;
  row("engraving.staff line", "0.13 sp", "thickness of a staff line", &S::staff_line);
  row("engraving.ledger line", "0.16 sp", "thickness of a ledger line", &S::ledger_line);
  row("engraving.ledger reach", "0.35 sp", "how far a ledger line reaches beyond the head", &S::ledger_reach);
  row("engraving.stem", "0.12 sp", "thickness of a stem", &S::stem);
  row("engraving.stem length", "3.5 sp", "length of a stem", &S::stem_length);
  row("engraving.beam", "0.5 sp", "thickness of a beam", &S::beam);
  row("engraving.beam gap", "0.25 sp", "white between two beams", &S::beam_gap);
  row("engraving.thin bar", "0.16 sp", "thickness of a thin bar line", &S::thin_bar);
  row("engraving.thick bar", "0.5 sp", "thickness of a thick bar line", &S::thick_bar);
  row("engraving.bar gap", "0.4 sp", "white between the two lines of a double bar", &S::bar_gap);
  row("engraving.repeat dot gap", "0.3 sp", "white between a repeat's dots and its line", &S::repeat_dot_gap);
  row("engraving.tuplet bracket", "0.16 sp", "thickness of a tuplet's bracket", &S::tuplet_bracket);
  row("engraving.slur ends", "0.1 sp", "thickness of a slur at its ends", &S::slur_ends);
  row("engraving.slur middle", "0.22 sp", "thickness of a slur in its middle", &S::slur_middle);
  row("engraving.hairpin", "0.16 sp", "thickness of a hairpin", &S::hairpin);
  row("engraving.tab line distance", "1.5 sp", "distance of two lines of the tab", &S::tab_line_distance);
  row("engraving.staff gap", "4.5 sp", "least white between the staves of one part", &S::staff_gap);
  row("engraving.part gap", "6 sp", "least white between two parts", &S::part_gap);
  row("engraving.spacing base", "2.6 sp", "width of the shortest common note", &S::spacing_base);
  row("engraving.spacing ratio", "1.5", "growth of a note's width when its length doubles", &S::spacing_ratio,
      Unit::Ratio);
  row("engraving.last system", "125 %", "how far a short last system of a section may be stretched",
      &S::max_stretch_last, Unit::Share);
}

void add_general(std::vector<Row>& r) {
  r.push_back(
      {{"staff space", Unit::Paper, "distance of two staff lines (mm or pt)", "1.7 mm", {}}, &Style::staff_space});
  r.push_back(
      {{"least staff space", Unit::Paper, "how small it may become where many staves share a system", "1.4 mm", {}},
       &Style::least_staff_space});
  r.push_back(
      {{"rule", Unit::Paper, "thickness of rules and of the lines of tables and boxes", "0.6 pt", {}}, &Style::rule});
  const auto colour = [&r](const char* name, const char* standard, const char* meaning, base::Colour Style::*at) {
    r.push_back({{name, Unit::Colour, meaning, standard, {}}, at});
  };
  colour("colour.ink", "#161412", "text and music", &Style::ink);
  colour("colour.accent", "#7c1f23", "section letters and the figures of remarks, and little else", &Style::accent);
  colour("colour.faint", "#5b5650", "labels, captions, running lines", &Style::faint);
  colour("colour.tint", "#e6e1d8", "areas behind ink in the section map", &Style::tint);
  colour("colour.ground", "#ffffff", "the paper", &Style::ground);
  r.push_back({{"music family", Unit::Words, "the family that holds the signs of music", "Noto Music", {}},
               &Style::music_family});
  r.push_back(
      {{"show staves", Unit::Words, "which staves of a fretted part are printed", "both", {"both", "notation", "tab"}},
       &Style::show_staves});
  r.push_back({{"sides",
                Unit::Words,
                "both sides are printed: practice sheets begin on a front",
                "double",
                {"double", "single"}},
               &Style::sides});
  r.push_back(
      {{"mirrored boxes", Unit::YesNo, "chord boxes for left-handed players", "no", {}}, &Style::boxes_mirrored});
  r.push_back(
      {{"mirrored tab", Unit::YesNo, "tab upside down: string 1 is the lowest line", "no", {}}, &Style::tab_mirrored});
}

const std::vector<Row>& rows() {
  static const std::vector<Row> all = [] {
    std::vector<Row> r;
    add_general(r);
    add_page(r);
    add_rhythm(r);
    add_engraving(r);
    return r;
  }();
  return all;
}

enum class RoleField : std::uint8_t { Family, Size, Weight, Italic, Tracking };
constexpr std::array<const char*, 5> kRoleFields{"family", "size", "weight", "italic", "tracking"};

Token role_token(const RoleRow& row, RoleField field) {
  const std::string name = std::string(row.name) + "." + kRoleFields[static_cast<std::size_t>(field)];
  switch (field) {
    case RoleField::Family:
      return {name, Unit::Words, std::string("family of ") + row.meaning, row.family, {}, row.meaning};
    case RoleField::Size:
      return {name, Unit::Paper, "size (the em)", row.size, {}, row.meaning};
    case RoleField::Weight:
      return {name, Unit::Weight, "weight", row.weight, {}, row.meaning};
    case RoleField::Italic:
      return {name, Unit::YesNo, "slanted", row.italic ? "yes" : "no", {}, row.meaning};
    case RoleField::Tracking:
      break;
  }
  return {name, Unit::Tracking, "space between letters, in thousandths of an em", row.tracking, {}, row.meaning};
}

struct Number {
  double value = 0;
  std::string unit;
};

std::optional<Number> read_number(std::string_view text) {
  std::size_t end = 0;
  while (end < text.size() && (std::string_view("0123456789.+-").find(text[end]) != std::string_view::npos)) ++end;
  const auto value = base::parse_decimal(text.substr(0, end));
  if (!value) return std::nullopt;
  while (end < text.size() && text[end] == ' ') ++end;
  return Number{*value, std::string(text.substr(end))};
}

std::string read_length(const Style& style, std::string_view text, Length& out) {
  const auto number = read_number(text);
  if (!number) return "is not a length";
  if (number->value < 0 || number->value > 2000) return "is out of range";
  if (number->unit == "mm") {
    out = Length::mm(number->value);
  } else if (number->unit == "pt") {
    out = Length::pt(number->value);
  } else if (number->unit == "sp") {
    out = style.staff_space * number->value;
  } else {
    return number->unit.empty() ? "has no unit" : "has a unit that is not known here";
  }
  return {};
}

std::string read_page_side(const Style& style, std::string_view text, Length& out) {
  if (text == "paper") return {};
  const auto number = read_number(text);
  if (number && number->unit == "sp") return "has a unit that is not known here";
  Length side;
  if (auto wrong = read_length(style, text, side); !wrong.empty()) return wrong;
  if (side > Length::mm(2000)) return "is out of range (up to 2000 mm)";
  out = side;
  return {};
}

std::string read_factor(Unit unit, std::string_view text, double& out) {
  const auto number = read_number(text);
  if (!number) return "is not a number";
  const std::string wanted = unit == Unit::StaffSpaces ? "sp" : unit == Unit::Share ? "%" : "";
  if (number->unit != wanted) return number->unit.empty() ? "has no unit" : "has a unit that is not known here";
  if (number->value < 0 || number->value > 1000) return "is out of range";
  out = unit == Unit::Share ? number->value / 100 : number->value;
  return {};
}

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

std::string read_colour(std::string_view text, base::Colour& out) {
  if (text.size() != 7 || text[0] != '#') return "is not a colour";
  std::array<std::uint8_t, 3> bytes{};
  for (std::size_t i = 0; i < 3; ++i) {
    const int high = hex_digit(text[1 + 2 * i]), low = hex_digit(text[2 + 2 * i]);
    if (high < 0 || low < 0) return "is not a colour";
    bytes[i] = static_cast<std::uint8_t>(high * 16 + low);
  }
  out = {bytes[0], bytes[1], bytes[2], 255};
  return {};
}

std::string read_yes_no(std::string_view text, bool& out) {
  if (text != "yes" && text != "no") return "is neither yes nor no";
  out = text == "yes";
  return {};
}

std::string read_words(const Token& token, std::string_view text, std::string& out) {
  if (text.empty()) return "is empty";
  if (!token.words.empty() && std::find(token.words.begin(), token.words.end(), text) == token.words.end()) {
    return "is not one of its words";
  }
  out = text;
  return {};
}

std::string set_role(Style& style, TypeRole& role, RoleField field, const Token& token, std::string_view text) {
  if (field == RoleField::Family) return read_words(token, text, role.family);
  if (field == RoleField::Italic) return read_yes_no(text, role.italic);
  if (field == RoleField::Size) {
    Length size;
    if (auto wrong = read_length(style, text, size); !wrong.empty()) return wrong;
    if (size < Length::pt(7)) return "is smaller than 7 pt, the smallest text on a sheet";
    role.size = size;
    return {};
  }
  const auto value = base::parse_integer(text);
  if (!value) return "is not a whole number";
  if (field == RoleField::Tracking) {
    if (*value < -50 || *value > 50) return "is out of range (-50 to 50)";
    role.tracking = static_cast<int>(*value);
    return {};
  }
  constexpr std::array<std::int64_t, 6> kWeights{300, 400, 500, 600, 700, 900};
  if (std::find(kWeights.begin(), kWeights.end(), *value) == kWeights.end()) return "is no weight of a face";
  role.weight = static_cast<int>(*value);
  return {};
}

std::string set_row(Style& style, const Row& row, std::string_view text) {
  const Token& token = row.token;
  return std::visit(
      [&](auto at) -> std::string {
        using T = decltype(at);
        if constexpr (std::is_same_v<T, Length Style::*>) {
          return read_length(style, text, style.*at);
        } else if constexpr (std::is_same_v<T, Length PageStyle::*>) {
          return read_length(style, text, style.page.*at);
        } else if constexpr (std::is_same_v<T, Length base::Size::*>) {
          return read_page_side(style, text, style.page.paper.*at);
        } else if constexpr (std::is_same_v<T, Length RhythmStyle::*>) {
          return read_length(style, text, style.rhythm.*at);
        } else if constexpr (std::is_same_v<T, Length BoxStyle::*>) {
          return read_length(style, text, style.box.*at);
        } else if constexpr (std::is_same_v<T, double EngravingStyle::*>) {
          return read_factor(token.unit, text, style.engraving.*at);
        } else if constexpr (std::is_same_v<T, base::Colour Style::*>) {
          return read_colour(text, style.*at);
        } else if constexpr (std::is_same_v<T, std::string Style::*>) {
          return read_words(token, text, style.*at);
        } else {
          return read_yes_no(text, style.*at);
        }
      },
      row.target);
}

base::Size paper_size(const std::string& paper) {
  if (paper == "letter") return {Length::pt(612), Length::pt(792)};
  return {Length::mm(210), Length::mm(297)};  // ISO 216
}

}  // namespace

const std::vector<Token>& tokens() {
  static const std::vector<Token> all = [] {
    std::vector<Token> list;
    for (const Row& row : rows()) list.push_back(row.token);
    for (const RoleRow& row : role_rows()) {
      for (std::size_t f = 0; f < kRoleFields.size(); ++f) list.push_back(role_token(row, static_cast<RoleField>(f)));
    }
    return list;
  }();
  return all;
}

const Token* find_token(std::string_view name) {
  const auto& all = tokens();
  const auto it = std::find_if(all.begin(), all.end(), [&](const Token& t) { return t.name == name; });
  return it == all.end() ? nullptr : &*it;
}

std::string unit_words(Unit unit) {
  switch (unit) {
    case Unit::Paper:
      return "a length in mm, pt or sp, such as 12 pt";
    case Unit::PageSide:
      return "a length in mm or pt, such as 120 mm, or the word paper";
    case Unit::StaffSpaces:
      return "a number of staff spaces, such as 0.13 sp";
    case Unit::Share:
      return "a share, such as 125 %";
    case Unit::Ratio:
      return "a plain number, such as 1.5";
    case Unit::Weight:
      return "300, 400, 500, 600, 700 or 900";
    case Unit::Tracking:
      return "a whole number of thousandths of an em, from -50 to 50";
    case Unit::Colour:
      return "a colour in quotes, such as \"#7c1f23\"";
    case Unit::Words:
      return "a name";
    case Unit::YesNo:
      return "yes or no";
  }
  return {};
}

std::string set_token(Style& style, const Token& token, std::string_view text) {
  for (const Row& row : rows()) {
    if (row.token.name == token.name) return set_row(style, row, text);
  }
  for (const RoleRow& row : role_rows()) {
    for (std::size_t f = 0; f < kRoleFields.size(); ++f) {
      if (token.name == std::string(row.name) + "." + kRoleFields[f]) {
        return set_role(style, style.*row.role, static_cast<RoleField>(f), token, text);
      }
    }
  }
  return "is not known";
}

Style house_style(const std::string& paper) {
  Style style;
  style.name = "house";
  style.page.paper = paper_size(paper);
  for (const Token& token : tokens()) set_token(style, token, token.standard);
  return style;
}

Style with_staff_space(const Style& style, base::Length staff_space) {
  Style out = style;
  out.staff_space = staff_space;
  out.figure.size =
      std::max(Length::pt(7), std::min(style.figure.size, style.figure.size * (staff_space / style.staff_space)));
  const double least = Length::mm(0.2) / staff_space;
  EngravingStyle& e = out.engraving;
  // Figures above one another may not touch: they are 0.73 of their em high, in brackets (which stay 7 pt) 0.88.
  // A little more for larger ones, so that staves with one distance of lines have figures of one size.
  const Length highest =
      std::max(out.figure.size * 0.75, Length::pt(7) * 0.9 + (out.figure.size - Length::pt(7)) * 0.1);
  e.tab_line_distance = std::max(e.tab_line_distance, highest / staff_space);
  for (double* line : {&e.staff_line, &e.ledger_line, &e.stem, &e.thin_bar, &e.tuplet_bracket, &e.hairpin}) {
    *line = std::max(*line, least);
  }
  return out;
}

base::Length body_width(const Style& style) {
  const PageStyle& p = style.page;
  return p.paper.width - p.inner - p.outer - p.margin_column - p.column_gap;
}

std::string print_house() {
  std::string out =
      "# The house style: every token with its value and meaning. A style of your own names only what it changes and\n"
      "# says `extends: house`. Lengths have units: mm, pt, or sp (one staff space); shares have %.\n"
      "style: house\n";
  std::string group;
  for (const Token& token : tokens()) {
    const std::size_t point = token.name.find('.');
    const std::string head = point == std::string::npos ? "" : token.name.substr(0, point);
    if (head != group && !head.empty()) out += head + ":\n";
    group = head;
    const std::string key = point == std::string::npos ? token.name : "  " + token.name.substr(point + 1);
    const std::string value = token.unit == Unit::Colour ? "\"" + token.standard + "\"" : token.standard;
    std::string line = key + ": " + value;
    if (line.size() < 32) line.append(32 - line.size(), ' ');
    out += line + "  # " + token.meaning + "\n";
  }
  return out;
}

std::string spaced(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += " " + word;
  return out;
}

}  // namespace tunesheaf::style
