// The sections of the song, part by part and bar by bar.
#include <algorithm>

#include "bars.h"
#include "repeats.h"
#include "teller.h"

namespace tunesheaf::aloud {
namespace {

using score::Section;

constexpr int kChart = -1;  ///< the part that is everybody's, for the memory

std::string section_name(const Section& section) {
  return plain(section.name.value);
}

/// A letter with strokes behind it is that section, varied.
std::string letter_words(const std::string& letter) {
  const std::string_view kStroke = "\u2032";
  std::string out = letter;
  int times = 0;
  for (std::size_t at = out.find(kStroke); at != std::string::npos; at = out.find(kStroke)) {
    out.erase(at, kStroke.size());
    ++times;
  }
  if (times == 0) return out;
  return out + (times == 1 ? " varied" : " varied " + counted(times, "time", "times"));
}

std::string bar_name(int number) {
  return number == 0 ? "pick-up bar" : "bar " + std::to_string(number);
}

std::string bars_name(int first, int last) {
  if (first == last) return bar_name(first);
  return "bars " + std::to_string(first) + (last == first + 1 ? " and " : " to ") + std::to_string(last);
}

class SectionTeller {
 public:
  SectionTeller(Teller& teller, Memory& memory, int index)
      : teller_(teller),
        memory_(memory),
        index_(index),
        section_(teller.song.sections[static_cast<std::size_t>(index)]) {
    for (std::size_t b = 0; b < section_.bars.size(); ++b) {
      if (teller.wants_bar(section_.bars[b])) bars_.push_back(static_cast<int>(b));
    }
  }

  void tell() {
    if (bars_.empty()) return;
    teller_.heading("Section " + letter_words(section_.letter) + ", " + section_name(section_), true);
    teller_.block(BlockKind::Text, intro());
    tell_chart();
    for (std::size_t p = 0; p < section_.parts.size(); ++p) {
      if (teller_.wants_part(static_cast<int>(p)) && plays(section_.parts[p])) tell_part(static_cast<int>(p));
    }
  }

 private:
  static bool plays(const score::PartMusic& music) {
    return !music.voices.empty() || !music.words.empty() || !music.cues.empty();
  }
  const score::Bar& bar(std::size_t i) const { return section_.bars[static_cast<std::size_t>(bars_[i])]; }

  std::vector<int> numbers() const {
    std::vector<int> out;
    for (std::size_t i = 0; i < bars_.size(); ++i) out.push_back(bar(i).number);
    return out;
  }

  std::string times() const {
    std::string count = section_.times == 1   ? "once"
                        : section_.times == 2 ? "twice"
                                              : number_word(section_.times) + " times";
    if (section_.about) count = "about " + count;
    if (section_.until.empty()) return count;
    return "until " + plain(section_.until) + ", " + count;
  }

  std::vector<Sentence> intro() const {
    std::vector<Sentence> out;
    const auto say = [&](std::string text) { out.push_back({capital(sentence(std::move(text))), "", ""}); };
    const bool upbeat = bar(0).number == 0 && bars_.size() > 1;
    say((upbeat ? "a pick-up and " : "") + bars_name(bar(upbeat ? 1 : 0).number, bar(bars_.size() - 1).number) +
        ", played " + times());
    endings(say);
    if (!section_.like.empty()) say("This section is like the " + plain(section_.like) + ", with changes");
    if (section_.from == song::Authority::Lesson || !section_.instead_of.empty()) {
      say("This section is" + authority_words(section_.from, section_.instead_of).substr(1));
    }
    if (section_.tempo) say("Tempo: " + tempo_words(*section_.tempo, bar(0).meter));
    if (section_.feel) say("Feel: " + feel_words(*section_.feel));
    if (section_.video) say("In the video at " + time_words(section_.video->to_double()));
    changes(say);
    if (section_.says) out.push_back({"", sentence(plain(section_.says->value)), ""});
    resting(say);
    return out;
  }

  template <class Say>
  void endings(const Say& say) const {
    for (std::size_t b = 0; b < bars_.size(); ++b) {
      if (!bar(b).ending_begin || bar(b).ending.empty()) continue;
      std::size_t last = b;
      while (last + 1 < bars_.size() && !bar(last).ending_end) ++last;
      std::vector<std::string> passes;
      for (const int pass : bar(b).ending) passes.push_back(pass < 20 ? ordinal_word(pass) : std::to_string(pass));
      say("The " + list_words(passes) + " time ends with " + bars_name(bar(b).number, bar(last).number));
    }
  }

  template <class Say>
  void changes(const Say& say) const {
    for (std::size_t b = 0; b < bars_.size(); ++b) {
      const bool begins = index_ == 0 && b == 0;
      if (bar(b).show_meter && !begins) say("From " + bar_name(bar(b).number) + " on: " + meter_words(bar(b).meter));
      if (bar(b).show_key && !begins && teller_.song.key) {
        say("From " + bar_name(bar(b).number) + " on: the key of " + key_words(bar(b).key));
      }
    }
    for (std::size_t b = 0; b < bars_.size(); ++b) {
      const auto own = [&](std::size_t i) { return i < bars_.size() && bar(i).from == song::Authority::Lesson; };
      if (section_.from == song::Authority::Lesson || !own(b) || (b > 0 && own(b - 1))) continue;
      std::size_t last = b;
      while (own(last + 1)) ++last;
      say(bars_name(bar(b).number, bar(last).number) + (last == b ? " is" : " are") +
          " the teacher's own, not on the recording");
    }
  }

  template <class Say>
  void resting(const Say& say) const {
    std::vector<std::string> names;
    for (std::size_t p = 0; p < section_.parts.size(); ++p) {
      if (teller_.wants_part(static_cast<int>(p)) && !plays(section_.parts[p])) {
        names.push_back("the " + plain(teller_.part(static_cast<int>(p)).name.value));
      }
    }
    if (!names.empty()) say("Silent here: " + list_words(names));
  }

  void tell_chart() {
    std::vector<BarSaid> said;
    bool any = false;
    for (const int b : bars_) {
      said.push_back(say_chart_bar(teller_, section_, b));
      any = any || !said.back().silent || !said.back().asides.empty();
    }
    if (!any) return;
    teller_.subheading("For everyone");
    tell_bars(kChart, said);
  }

  void tell_part(int part) {
    teller_.subheading(capital(plain(teller_.part(part).name.value)));
    if (section_.parts[static_cast<std::size_t>(part)].from == song::Authority::Lesson)
      teller_.block(BlockKind::Text, {{"What it plays here is the teacher's own.", "", ""}});
    patterns(part);
    std::vector<BarSaid> said;
    for (const int b : bars_) said.push_back(say_bar(teller_, section_, part, b));
    tell_bars(part, said);
  }

  /// What is said of patterns, in the first section that has them.
  void patterns(int part) {
    const auto of = [&](const Section& section) -> const std::vector<score::PatternWords>& {
      return section.parts[static_cast<std::size_t>(part)].patterns;
    };
    std::vector<Sentence> out;
    for (const score::PatternWords& pattern : of(section_)) {
      const auto earlier = [&](const Section& section) {
        return std::any_of(of(section).begin(), of(section).end(),
                           [&](const score::PatternWords& p) { return p.name.span == pattern.name.span; });
      };
      const auto begin = teller_.song.sections.begin();
      if (std::any_of(begin, begin + index_, earlier)) continue;
      const std::string named =
          "The pattern " + plain(pattern.name.value) + authority_words(pattern.from, pattern.instead_of);
      if (pattern.says) {
        out.push_back({named + ": ", sentence(plain(pattern.says->value)), ""});
      } else {
        out.push_back({sentence(named), "", ""});
      }
    }
    if (!out.empty()) teller_.block(BlockKind::Text, out);
  }

  void tell_bars(int part, const std::vector<BarSaid>& said) {
    for (const Step& step : memory_.steps(part, index_, numbers(), said)) {
      const BarSaid& first = said[step.from];
      const bool nothing = first.silent && first.played.empty();  // the chart has no word for this bar
      const std::string name = capital(bars_name(bar(step.from).number, bar(step.from + step.count - 1).number));
      std::vector<Sentence> out;
      if (step.as) {
        out.push_back({name + ": as " + earlier(*step.as) + ".", "", ""});
      } else if (step.figure_as) {
        out.push_back({name + ", " + first.held + ": " + (first.strummed ? "strumming" : "picking") + " as " +
                           earlier({*step.figure_section, *step.figure_as, 1}) + ".",
                       "", ""});
      } else if (!nothing) {
        out.push_back({name +
                           (first.held.empty() ? ""
                            : part == kChart   ? ": " + first.held
                                               : ", " + first.held) +
                           ".",
                       "", ""});
        for (const std::string& sentence : first.played) out.push_back({sentence + ".", "", ""});
        if (first.silent && first.held.empty()) out = {{name + ": " + lowered(first.played.front()) + ".", "", ""}};
      }
      asides(said, step, nothing, out);
      teller_.block(BlockKind::Bar, std::move(out));
    }
  }

  /// Behind a bar that was said alone they are about that bar; else each names its bar.
  void asides(const std::vector<BarSaid>& said, const Step& step, bool nothing, std::vector<Sentence>& out) const {
    const bool alone = step.count == 1 && !nothing;
    for (std::size_t i = step.from; i < step.from + step.count; ++i) {
      for (Sentence aside : said[i].asides) {
        if (!alone) aside.lead = capital(bar_name(bar(i).number)) + ": " + lowered(aside.lead);
        out.push_back(std::move(aside));
      }
    }
  }

  static std::string lowered(std::string text) {
    if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z') text[0] = static_cast<char>(text[0] - 'A' + 'a');
    return text;
  }

  std::string earlier(const Earlier& as) const {
    std::string out = bars_name(as.first, as.first + as.count - 1);
    if (as.section != index_)
      out += " of the " + section_name(teller_.song.sections[static_cast<std::size_t>(as.section)]);
    return out;
  }

  Teller& teller_;
  Memory& memory_;
  int index_;
  const Section& section_;
  std::vector<int> bars_;
};

}  // namespace

void tell_sections(Teller& teller) {
  Memory memory;
  for (std::size_t s = 0; s < teller.song.sections.size(); ++s) {
    if (teller.wants_section(static_cast<int>(s))) SectionTeller(teller, memory, static_cast<int>(s)).tell();
  }
}

}  // namespace tunesheaf::aloud
