// The head and the foot of a chart.
#include <algorithm>

#include "pen.h"
#include "tunesheaf/base/number.h"
#include "tunesheaf/blocks/chart_page.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/title.h"
#include "tunesheaf/blocks/words.h"
#include "tunesheaf/score/clock.h"
#include "tunesheaf/text/cut.h"
#include "tunesheaf/theory/note_value.h"

namespace tunesheaf::blocks {
namespace {

std::string names_words(ChartNames names) {
  switch (names) {
    case ChartNames::Hand:
      return {};
    case ChartNames::Ear:
      return "names as they sound";
    case ChartNames::Degrees:
      return "numbers of the key’s scale";
    case ChartNames::Roman:
      return "roman numerals of the key";
  }
  return {};
}

class Head {
 public:
  Head(const Setting& setting, const ChartContent& chart, Length width)
      : setting_(setting), style_(setting.style), chart_(chart), width_(width), stack_("chart-head", width) {}

  FramePtr draw() {
    stack_.add(head_ornament(setting_, width_));
    title();
    player();
    readers();
    starts();
    form();
    return stack_.done();
  }

 private:
  Length text() const { return std::max(Length::pt(12), style_.body.size); }
  style::TypeRole words() const {
    style::TypeRole role = style_.body;
    role.size = text();
    return role;
  }

  struct Fact {
    std::string label, value;
    Length width;
  };

  Length put_tempo(Frame& frame, Point at, const style::TypeRole& role) {
    const song::TempoMark& mark = *setting_.song.tempo;
    Length x;
    if (!mark.words.empty()) x += put(frame, setting_, at, mark.words, {role, style_.ink, "tempo"}) + role.size * 0.4;
    if (mark.per_minute == Fraction{}) return x;
    const Fraction unit = score::counted_unit(mark, setting_.song.meter);
    x += put_note_value(frame, setting_, {at.x + x, at.y}, unit, role.size * 0.21, style_.ink) + role.size * 0.15;
    return x + put(frame, setting_, {at.x + x, at.y}, "= " + base::print_decimal(mark.per_minute.to_double(), 1),
                   {role, style_.ink, "tempo"});
  }

  style::TypeRole value_role() const {
    style::TypeRole value = style_.subtitle;
    value.italic = false;
    value.size = style_.subtitle.size * 1.15;
    return value;
  }

  std::vector<Fact> facts() {
    const score::Timeline& song = setting_.song;
    std::vector<Fact> out;
    if (song.key) out.push_back({"Key", key_words(key_for(*song.key, chart_.player, chart_.names)), {}});
    out.push_back({"Meter", theory::print_meter(song.meter), {}});
    if (song.tempo) out.push_back({"Tempo", "", {}});
    out.push_back({"Feel", score::feel_words(setting_.song.feel), {}});
    const style::TypeRole value = value_role();
    for (Fact& fact : out) {
      Frame scratch;
      const Length inside = fact.value.empty() ? put_tempo(scratch, {}, value) : width_of(setting_, fact.value, value);
      fact.width = std::max(inside, width_of(setting_, fact.label, style_.label));
    }
    return out;
  }

  /// Labels on the baseline `at`, values under them, in rows of the whole width; returns the last row's labels'
  /// baseline.
  Length put_facts(Frame& frame, const std::vector<Fact>& list, Point at, Length gap) {
    const style::TypeRole value = value_role();
    for (const Fact& fact : list) {
      if (at.x > Length{} && at.x + fact.width > width_ + Length::pt(0.1)) {
        at = {{}, at.y + value.size * 1.5 + style_.label.size * 1.3};
      }
      const Point below{at.x, at.y + value.size * 1.2};
      put(frame, setting_, at, fact.label, {style_.label, style_.faint, "fact-label"});
      if (fact.value.empty()) {
        put_tempo(frame, below, value);
      } else {
        put(frame, setting_, below, fact.value, {value, style_.ink, "fact"});
      }
      at.x += fact.width + gap;
    }
    return at.y;
  }

  /// The title, smaller or cut where it is too long for `room`.
  void put_title(Frame& frame, Point at, Length room) {
    const song::Text& title = setting_.song.title;
    style::TypeRole role = style_.title;
    const Length natural = width_of(setting_, title.value, role);
    if (natural > room) role.size = std::max(style_.title.size * 0.5, role.size * (room / natural * 0.995));
    const std::string name = text::cut_to(setting_.shaper, title.value, text_style(role), room);
    put(frame, setting_, at, name, {role, style_.ink, "title", title.span});
  }

  /// Key, meter, tempo and feel at the right; the title takes what is left of the line.
  void title() {
    const score::Timeline& song = setting_.song;
    const Length gap = value_role().size * 1.3;
    const std::vector<Fact> list = facts();
    Length all = -gap;
    for (const Fact& fact : list) all += fact.width + gap;
    const Length room = width_ - all - gap * 1.5;
    const bool beside = room > width_ * 0.3;
    Frame& frame = stack_.frame();
    const Length top = stack_.y(), base = top + style_.title.size * 1.05;
    frame.baseline = base;
    put_title(frame, {{}, base}, beside ? room : width_);
    Length y = base + style_.title.size * 0.3;
    if (song.by) {
      const auto writer = prose(setting_, song.by->value, {style_.subtitle, style_.ink, "writer", song.by->span},
                                beside ? room : width_);
      y += style_.subtitle.size * 0.95;
      frame.children.push_back({{{}, y - writer->baseline}, writer});
      y += writer->size.height - writer->baseline;
    }
    const Point facts_at{beside ? width_ - all : Length{},
                         beside ? top + style_.label.size * 2.1 : y + style_.label.size * 1.2};
    const Length last = put_facts(frame, list, facts_at, gap);
    stack_.space(std::max(y, last + value_role().size * 1.6) - top);
  }

  /// For whom, on what strings, and what the names are.
  void player() {
    std::vector<std::string> pieces;
    if (!chart_.player.words.empty()) pieces.push_back("For " + chart_.player.words);
    for (const std::string& note : chart_.player.notes) pieces.push_back(note);
    if (const std::string names = names_words(chart_.names); !names.empty()) pieces.push_back(names);
    const auto& key = setting_.song.key;
    if (chart_.names == ChartNames::Hand && key && (chart_.player.sounds + 144) % 12 != 0) {
      pieces.push_back("sounds in " + key_words(key_for(*key, chart_.player, ChartNames::Ear)));
    }
    if (pieces.empty()) return;
    std::string all;
    for (const std::string& piece : pieces) all += (all.empty() ? "" : " · ") + piece;
    stack_.space(text() * 0.35);
    stack_.add(prose(setting_, all, {words(), style_.ink, "chart-player"}, width_));
  }

  /// Who reads in another key, in bold: wrong notes from the first bar else.
  void readers() {
    if (chart_.reads.empty()) return;
    stack_.space(text() * 0.15);
    stack_.add(prose(setting_, chart_.reads, {bold(words()), style_.ink, "chart-reads"}, width_));
  }

  void starts() {
    std::vector<text::StyledText> pieces;
    const auto plain = text_style(words()), strong = text_style(bold(words()));
    const auto add = [&](const std::string& label, const std::string& value) {
      if (value.empty()) return;
      pieces.push_back({(pieces.empty() ? "" : "   ") + label + " ", text_style(italic(words()))});
      pieces.push_back({value, pieces.size() == 1 && !chart_.count_in.empty() ? strong : plain});
    };
    add(chart_.counted_bar ? "bar 1 is the count" : "count in", chart_.count_in);
    if (!pieces.empty() && !chart_.counts.empty()) pieces.push_back({" (" + chart_.counts + ")", plain});
    add("starts", chart_.starts);
    add("then", chart_.enters);
    if (!chart_.rests.empty()) pieces.push_back({(pieces.empty() ? "" : "   ") + chart_.rests, plain});
    if (pieces.empty()) return;
    stack_.space(text() * 0.25);
    stack_.add(
        prose(setting_, {pieces, width_, text(), style_.ink, "chart-starts", {}, Role::Paragraph, "chart-starts"}));
  }

  /// Letters in the order of playing, each with its number of times.
  void form() {
    if (chart_.form.empty()) return;
    style::TypeRole letter = style_.section_letter;
    letter.size = text() * 1.5;
    style::TypeRole times = style_.chord;
    times.size = text() * 0.9;
    const Length pitch = letter.size * 1.35;
    Frame& frame = stack_.frame();
    Length base = stack_.y() + letter.size * 1.1;
    const style::TypeRole label = italic(words());
    const Length indent =
        put(frame, setting_, {{}, base}, "as played", {label, style_.ink, "chart-form-label"}) + letter.size * 0.7;
    Length x = indent;
    const auto put_step = [&](const std::string& text, const std::string& count) {
      const Length width = width_of(setting_, text, letter) +
                           (count.empty() ? Length{} : letter.size * 0.08 + width_of(setting_, count, times));
      if (x + width > width_) {
        x = indent;
        base += pitch;
      }
      const Length end = x + put(frame, setting_, {x, base}, text, {letter, style_.accent, "chart-form"});
      put(frame, setting_, {end + letter.size * 0.08, base}, count, {times, style_.ink, "chart-form-times"});
      x += width + letter.size * 0.62;
    };
    for (const ChartStep& step : chart_.form) {
      put_step(step.letter, step.open ? "…" : step.times > 1 ? "×" + std::to_string(step.times) : "");
    }
    const bool breaks = chart_.fades && x > indent && x + width_of(setting_, "fade out", label) > width_;
    if (breaks) base += pitch;
    if (chart_.fades)
      put(frame, setting_, {breaks ? indent : x, base}, "fade out", {label, style_.ink, "chart-form-label"});
    stack_.space(base + letter.size * 0.4 - stack_.y());
  }

  const Setting& setting_;
  const style::Style& style_;
  const ChartContent& chart_;
  Length width_;
  Stack stack_;
};

}  // namespace

FramePtr chart_head(const Setting& setting, const ChartContent& chart, Length width) {
  return Head(setting, chart, width).draw();
}

namespace {

/// "the slashes are 2+2+3 eighths", "a slash is a dotted quarter"; nothing where it is the quarter that all expect.
std::string slash_value(const theory::Meter& meter) {
  const auto beats = meter.beats();
  const Fraction first = beats.front().length;
  const bool alike = std::all_of(beats.begin(), beats.end(), [&](const auto& beat) { return beat.length == first; });
  const auto value = theory::value_of_duration(alike ? first : Fraction(1, meter.unit));
  if (!value || (alike && first == Fraction(1, 4))) return {};
  const std::string words = theory::print_value_words(*value);
  if (alike) return "a slash is " + std::string(words.front() == 'e' ? "an " : "a ") + words + " note";
  std::string groups;
  for (const auto& beat : beats) groups += (groups.empty() ? "" : "+") + (beat.length / Fraction(1, meter.unit)).text();
  return "the slashes are " + groups + " " + words + "s";
}

/// What a slash is worth in each meter in which slashes are drawn.
std::string slash_values(const ChartContent& chart, const theory::Meter& usual) {
  std::vector<theory::Meter> told;
  std::string out;
  for (const ChartSection& section : chart.sections) {
    for (const ChartBar& bar : section.bars) {
      const bool slashes = bar.hits.empty() ? bar.shows_beats() : bar.plays_until != Fraction{} || bar.plays_from;
      if (!slashes || std::find(told.begin(), told.end(), bar.meter) != told.end()) continue;
      told.push_back(bar.meter);
      const std::string value = slash_value(bar.meter);
      if (value.empty()) continue;
      out += (out.empty() ? "" : "; ") + value;
      if (!(bar.meter == usual)) out += " in " + theory::print_meter(bar.meter);
    }
  }
  if (!out.empty()) out.front() = out.front() == 'a' ? 'A' : 'T';
  return out.empty() ? out : out + ".";
}

}  // namespace

FramePtr chart_foot(const Setting& setting, const FoldedChart& chart, Length width) {
  const style::Style& style = setting.style;
  style::TypeRole role = style.note;
  role.size = std::max(Length::pt(9), style.note.size);
  role.italic = true;
  std::string text;
  for (const std::string& told : chart.told) text += (text.empty() ? "Folded to fit one page: " : "; ") + told;
  if (!text.empty()) text += ".";
  const std::string slashes = slash_values(chart.content, setting.song.meter);
  text += (text.empty() || slashes.empty() ? "" : " ") + slashes;
  if (chart.content.player.instead) {
    for (const InsteadChord& chord : chart.content.player.instead->chords) {
      if (chord.shape) continue;
      text += (text.empty() ? "" : " ") + std::string("No hand can play ") +
              theory::print(chord.fingered, theory::Accidentals::Signs) + " there";
      if (!chord.nearest.empty()) {
        text += "; nearest: " + theory::print(chord.nearest.front(), theory::Accidentals::Signs);
      }
      text += ".";
    }
  }
  if (text.empty()) return nullptr;
  return prose(setting, text, {role, style.faint, "chart-told"}, width);
}

}  // namespace tunesheaf::blocks
