#include <set>

#include "lane_cells.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/base/utf8.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::song {
namespace {

using diag::Kind;

const char* const kLanesNeedBar = "lanes stand under a key that ends with |, each line on its own";

std::vector<LineText> lines_of(const yaml::Node& node, const Context& context) {
  std::vector<LineText> lines;
  if (node.style == yaml::ScalarStyle::Literal) {
    for (const yaml::TextLine& line : node.lines) {
      lines.push_back({line.text, line.span, line.span.length() == line.text.size()});
    }
    return lines;
  }
  const Span whole = inner_span(context, node, 0, node.text.size());
  const bool exact = whole.length() == node.text.size() && context.file.slice(whole) == node.text;
  const std::string_view text = node.text;
  std::size_t begin = 0;
  while (begin <= text.size()) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const auto offset = static_cast<std::uint32_t>(begin);
    const Span base =
        exact ? Span{whole.file, whole.begin + offset, whole.begin + static_cast<std::uint32_t>(end)} : whole;
    lines.push_back({text.substr(begin, end - begin), base, exact});
    begin = end + 1;
  }
  return lines;
}

/// The lines as they stand in the file, where the scalar's own text has lost them; what the > line holds is left out.
std::vector<LineText> lines_in_file(const yaml::Node& node, const Context& context) {
  std::vector<LineText> lines;
  const std::string_view slice = context.file.slice(node.span);
  std::size_t begin = 0;
  while (begin < slice.size()) {
    const std::size_t end = std::min(slice.find('\n', begin), slice.size());
    const Span span{node.span.file, node.span.begin + static_cast<std::uint32_t>(begin),
                    node.span.begin + static_cast<std::uint32_t>(end)};
    if (begin > 0 || node.style != yaml::ScalarStyle::Folded) {
      lines.push_back({slice.substr(begin, end - begin), span, true});
    }
    begin = end + 1;
  }
  return lines;
}

/// Stands where lanes were reported as missing, so that no later phase reports the same again.
std::vector<Stanza> silent_stanza(Span span) {
  Lane lane;
  lane.kind = LaneKind::Say;
  lane.name.span = lane.span = span;
  lane.bars.push_back({span, false, false, {{span, {{span, HoldCell{}}}}}});
  Stanza stanza;
  stanza.span = span;
  stanza.lanes.push_back(std::move(lane));
  return {std::move(stanza)};
}

class BlockReader {
 public:
  explicit BlockReader(Context& context) : context_(context) {}

  std::vector<Stanza> read(const std::vector<LineText>& lines) {
    for (const LineText& line : lines) read_line(line);
    end_stanza();
    join_slides(stanzas_);
    return std::move(stanzas_);
  }
  bool saw_lane() const { return saw_lane_; }

 private:
  void read_line(const LineText& line) {
    const RawLine raw = scan_line(line.text);
    for (const LineFault& fault : raw.faults) {
      context_.fault(fault.kind, line.span(fault.begin, fault.end), fault.situation, fault.rule, fault.remedy);
    }
    switch (raw.kind) {
      case RawLine::Kind::Blank:
        end_stanza();
        break;
      case RawLine::Kind::Comment:
        break;
      case RawLine::Kind::Other:
        not_a_lane(line, raw);
        break;
      case RawLine::Kind::Lane:
        add_lane(line, raw);
        break;
    }
  }

  void not_a_lane(const LineText& line, const RawLine& raw) {
    saw_lane_ = true;
    const std::string text(line.text.substr(raw.name_begin, raw.name_end - raw.name_begin));
    context_.fault(Kind::NotALane, line.span(raw.name_begin, raw.name_end),
                   diag::quoted(text) + " is no lane: it has no bar line",
                   "a lane is its name and then its bars between |", "write it like `1 | 0 : 2 : 3 |`");
  }

  void add_lane(const LineText& line, const RawLine& raw) {
    saw_lane_ = true;
    const std::string name = single_blanks(line.text.substr(raw.name_begin, raw.name_end - raw.name_begin));
    const Span place = line.span(raw.name_begin, raw.name_end);
    const auto match = find_lane(name);
    if (!match) {
      unknown_lane(name, place);
      keep_unknown(name, line, raw);
      return;
    }
    if (!names_.insert(name).second) {
      context_.fault(Kind::LaneTwice, place, "the lane `" + name + "` stands twice in this stanza",
                     "each lane stands once in a stanza; a blank line begins the next bars",
                     "put a blank line between the stanzas, or join the two lines");
      return;
    }
    stanza_.lanes.push_back(read_lane(context_, line, raw, *match));
  }

  /// Its bars are kept without what is in them: they still count.
  void keep_unknown(const std::string& name, const LineText& line, const RawLine& raw) {
    if (raw.bars.empty()) return;
    Lane lane;
    lane.kind = LaneKind::Say;
    lane.name = {name, line.span(raw.name_begin, raw.name_end)};
    lane.span = line.span(raw.name_begin, raw.body_end);
    for (const RawBar& bar : raw.bars) {
      const Span span = line.span(bar.begin, bar.end);
      lane.bars.push_back({span, false, false, {{span, {{span, HoldCell{}}}}}});
    }
    stanza_.lanes.push_back(std::move(lane));
  }

  void unknown_lane(const std::string& name, Span place) {
    std::string situation = name.empty() ? "a lane has no name" : "there is no lane called " + diag::quoted(name);
    std::string remedy;
    const bool string_letter =
        name.size() == 1 && std::string_view("EADGBCFeadgbcf").find(name[0]) != std::string_view::npos;
    const bool number = !name.empty() && name.find_first_not_of("0123456789") == std::string::npos;
    if (string_letter) {
      remedy = "write the number of the string: 1 is the last of the tuning list";
    } else if (number) {
      remedy = "strings are numbered 1 to 12; 1 is the last of the tuning list";
    } else if (name.empty()) {
      remedy = "write the lane's name before its first |";
    } else if (const auto meant = word_meant_by(EntryKind::Lane, name)) {
      remedy = "the lane is called \"" + *meant + "\" here";
    } else {
      remedy = nearest_remedy(name, lane_names(), "`reference` lists all lanes; strings are lanes by their number");
    }
    context_.fault(Kind::UnknownLane, place, std::move(situation),
                   "a lane is named by a string's number or a word of the trade", std::move(remedy));
  }

  void end_stanza() {
    names_.clear();
    if (stanza_.lanes.empty()) return;
    stanza_.span = source::cover(stanza_.lanes.front().span, stanza_.lanes.back().span);
    stanzas_.push_back(std::move(stanza_));
    stanza_ = {};
  }

  Context& context_;
  std::vector<Stanza> stanzas_;
  Stanza stanza_;
  std::set<std::string> names_;
  bool saw_lane_ = false;
};

/// Reports what cannot hold lanes at all.
bool can_hold_lanes(Context& context, const yaml::Node& key, const yaml::Node& value) {
  const std::string name = "`" + diag::shown(key.text) + "`";
  const std::string remedy = "write " + diag::shown(key.text) + ": | and the lanes below it, indented";
  if (value.kind == yaml::NodeKind::Null) {
    context.fault(Kind::LanesEmpty, key.span, "nothing stands behind " + name, kLanesNeedBar, remedy);
    return false;
  }
  if (value.kind != yaml::NodeKind::Scalar) {
    context.fault(Kind::WrongValue, value.span, name + " holds a list or keys where lanes are expected", kLanesNeedBar,
                  remedy);
    return false;
  }
  return true;
}

/// Reports lanes whose ends of line are lost; they are read from the file all the same.
bool lost_its_lines(Context& context, const yaml::Node& key, const yaml::Node& value) {
  const std::string name = "`" + diag::shown(key.text) + "`";
  if (value.style == yaml::ScalarStyle::Literal) return false;
  if (value.style == yaml::ScalarStyle::Folded) {
    context.fault(Kind::LanesFolded, value.span, "the lanes of " + name + " stand behind a >",
                  "> joins lines into a paragraph; lanes need each line on its own", "write | in place of >");
    return true;
  }
  if (context.file.slice(value.span).find('\n') == std::string_view::npos) return false;
  context.fault(Kind::LanesWithoutBar, value.span, "the lanes of " + name + " run on without a | behind the key",
                kLanesNeedBar, "write " + diag::shown(key.text) + ": | and leave the lanes as they are");
  return true;
}

}  // namespace

std::vector<Stanza> read_lanes(Context& context, const yaml::Node& key, const yaml::Node& value) {
  if (!can_hold_lanes(context, key, value)) return silent_stanza(key.span);
  context.lane_blocks.push_back(&value);
  const bool lost = lost_its_lines(context, key, value);
  BlockReader reader(context);
  std::vector<Stanza> stanzas = reader.read(lost ? lines_in_file(value, context) : lines_of(value, context));
  if (!stanzas.empty()) return stanzas;
  if (!reader.saw_lane()) {
    context.fault(Kind::LanesEmpty, value.span, "there is no lane under `" + diag::shown(key.text) + "`",
                  "a lane is its name and then its bars between |", "write at least one, or leave the key out");
  }
  return silent_stanza(value.span);
}

}  // namespace tunesheaf::song
