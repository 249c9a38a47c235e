// One who only hears the reading. In: its text, the meters of the bars, the names of drums. Out: every onset with its
// string, fret and finger, pitch or drum. Invariant: nothing of the Timeline's music is looked at but bar numbers and
// meters; the words are understood by this file's own rules, not by the functions that made them.
#pragma once
#include <map>
#include <optional>
#include <regex>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>
#include <tuple>
#include <vector>

#include "tunesheaf/score/timeline.h"

namespace tunesheaf::test {

using base::Fraction;

/// One note as heard. Strings are 0 and pitches empty where they do not apply.
struct Heard {
  Fraction onset;
  int string = 0, fret = 0, finger = 0;
  std::string what;  ///< pitch ("F#5"), drum ("snare"), "dead", or "stroke"
  friend auto operator<=>(const Heard&, const Heard&) = default;
  std::string text() const {
    return onset.text() + " string " + std::to_string(string) + " fret " + std::to_string(fret) + " finger " +
           std::to_string(finger) + " " + what;
  }
};

using HeardBars = std::map<std::tuple<std::string, std::string, int>, std::multiset<Heard>>;  // section, part, number

/// What the reading calls a section: a stroke behind its letter means that it is varied.
inline std::string heading(const score::Section& section) {
  const std::string stroke = "\u2032";
  std::string letter = section.letter;
  if (const auto at = letter.find(stroke); at != std::string::npos) letter.replace(at, stroke.size(), " varied");
  return letter + ", " + section.name.value;
}

class Listener {
 public:
  explicit Listener(const score::Timeline& song) {
    for (const score::Section& section : song.sections) {
      for (const score::Bar& bar : section.bars) bars_[{heading(section), bar.number}] = bar;
    }
  }

  HeardBars listen(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const bool apart = (i == 0 || lines[i - 1].empty()) && (i + 1 == lines.size() || lines[i + 1].empty());
      const bool is_heading = apart && !lines[i].empty() && lines[i].back() != '.' && lines[i].back() != ':';
      if (is_heading) {
        take_heading(lines[i]);
      } else if (!lines[i].empty()) {
        take_line(lines[i]);
      }
    }
    HeardBars out;
    for (const auto& [key, said] : said_) out[key] = expanded(said);
    return out;
  }

 private:
  struct StringAt {
    int fret = 0, finger = 0;
  };
  using Shape = std::map<int, StringAt>;
  struct Item {
    Heard note;
    bool strum = false, by_shape = false, muted = false;
    std::vector<int> only;  ///< strings of a stroke; empty: all of the shape
  };
  struct Said {
    std::map<Fraction, std::string> held;  ///< shapes from these places on
    std::vector<Item> items;
  };
  using Key = std::tuple<std::string, std::string, int>;

  void take_heading(const std::string& line) {
    bar_ = nullptr;
    if (line.rfind("Section ", 0) == 0) {
      section_ = line.substr(8);
      part_.clear();
    } else {
      part_ = line;
    }
  }

  void take_line(const std::string& line) {
    std::smatch m;
    static const std::regex kShape("Shape (.*?)(, the teacher's own)?(, instead of .*)?: sounds .*\\.");
    static const std::regex kString("String (\\d+): (not played|open|fret (\\d+))(, (\\w+) finger)?.*\\.");
    if (section_.empty()) {
      if (std::regex_match(line, m, kShape)) shape_ = m[1];
      if (std::regex_match(line, m, kString) && !shape_.empty() && m[2] != "not played") {
        shapes_[shape_][std::stoi(m[1])] = {m[3].matched ? std::stoi(m[3]) : 0, m[5].matched ? finger(m[5]) : 0};
      }
      return;
    }
    if (part_.empty() || part_ == "For everyone") return;
    if (take_bar(line) || bar_ == nullptr) return;
    const std::size_t colon = line.find(": ");
    if (colon == std::string::npos || line.back() != '.') return;
    const std::string label = line.substr(0, colon), rest = line.substr(colon + 2, line.size() - colon - 3);
    if (label == "Strum") {
      take_stream(rest, "");
    } else if (const auto onset = place(label)) {
      for (const std::string& item : split(rest, "; ")) take_item(*onset, item);
    } else if (label != "Said" && label != "Cue" && label.rfind("Remark ", 0) != 0 && is_stream(rest)) {
      take_stream(rest, label);
    }
  }

  /// "Bar 5, shape home." and its like; true when the line was one.
  bool take_bar(const std::string& line) {
    std::smatch m;
    static const std::regex kHead("(?:Bar (\\d+)|Bars (\\d+) (?:to|and) (\\d+)|(Pick-up bar))([,:.])(.*)");
    if (!std::regex_match(line, m, kHead)) return false;
    const int first = m[4].matched ? 0 : std::stoi(m[1].matched ? m[1] : m[2]);
    const int last = m[3].matched ? std::stoi(m[3]) : first;
    std::string rest = m[6];
    if (!rest.empty() && rest.back() == '.') rest.pop_back();
    static const std::regex kAs(
        "(?: (.*): | )(as|picking as|strumming as) (?:bar (\\d+)|bars (\\d+) (?:to|and) (\\d+))( of the .*)?");
    std::smatch as;
    if (std::regex_match(rest, as, kAs)) {
      take_repeat(as, first, last);
      return true;
    }
    for (int n = first; n <= last; ++n) begin_bar(n);
    if (m[5] == ",") take_held(rest.substr(1));
    return true;
  }

  void begin_bar(int number) {
    number_ = number;
    bar_ = &said_[{section_, part_, number}];
    const auto found = bars_.find({section_, number});
    if (found == bars_.end()) throw std::runtime_error("no bar " + std::to_string(number) + " in " + section_);
    written_ = &found->second;
    by_number_[{part_, number}] = {section_, part_, number};
  }

  void take_held(const std::string& text) {
    for (const std::string& one : split(text, "; ")) {
      std::smatch m;
      static const std::regex kNone("(.*beat \\d+.*?), no shape");
      static const std::regex kLater("(.*beat \\d+.*?), shape (.*)");
      if (one.rfind("shape ", 0) == 0) {
        bar_->held[Fraction(0)] = one.substr(6);
      } else if (std::regex_match(one, m, kNone)) {
        if (const auto onset = place(m[1])) bar_->held[*onset] = "";
      } else if (std::regex_match(one, m, kLater)) {
        if (const auto onset = place(m[1])) bar_->held[*onset] = m[2];
      }
    }
  }

  void take_repeat(const std::smatch& as, int first, int last) {
    const int source = std::stoi(as[3].matched ? as[3] : as[4]);
    const int source_last = as[5].matched ? std::stoi(as[5]) : source;
    for (int n = first; n <= last; ++n) {
      const int from = source == source_last ? source : source + (n - first);
      const auto known = by_number_.find({part_, from});
      if (known == by_number_.end())
        throw std::runtime_error("a repeat of bar " + std::to_string(from) + ", not heard yet");
      const Said copy = said_[known->second];
      begin_bar(n);
      bar_->items = copy.items;
      if (as[2] == "as") {
        bar_->held = copy.held;
      } else {
        for (Item& item : bar_->items) item.by_shape = true;
        take_held(as[1]);
      }
    }
  }

  static std::vector<std::string> split(const std::string& text, const std::string& at) {
    std::vector<std::string> out;
    std::size_t begin = 0, end = 0;
    while ((end = text.find(at, begin)) != std::string::npos) {
      out.push_back(text.substr(begin, end - begin));
      begin = end + at.size();
    }
    out.push_back(text.substr(begin));
    return out;
  }

  static int finger(const std::string& word) {
    static const std::map<std::string, int> kFingers{
        {"index", 1}, {"middle", 2}, {"ring", 3}, {"little", 4}, {"thumb", 5}};
    return kFingers.at(word);
  }

  static std::optional<std::int64_t> cardinal(const std::string& word) {
    static const std::vector<std::string> kWords{"no",    "one",   "two",  "three", "four",   "five",  "six",
                                                 "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    for (std::size_t i = 0; i < kWords.size(); ++i) {
      if (kWords[i] == word) return static_cast<std::int64_t>(i);
    }
    if (word.empty() || word.find_first_not_of("0123456789") != std::string::npos) return std::nullopt;
    return std::stoll(word);
  }

  static std::optional<std::int64_t> denominator(std::string word) {
    static const std::vector<std::string> kBelow20{"",          "",          "hal",         "third",      "quarter",
                                                   "fifth",     "sixth",     "seventh",     "eighth",     "ninth",
                                                   "tenth",     "eleventh",  "twelfth",     "thirteenth", "fourteenth",
                                                   "fifteenth", "sixteenth", "seventeenth", "eighteenth", "nineteenth"};
    static const std::vector<std::string> kTens{"",     "",     "twent",  "thirt", "fort",
                                                "fift", "sixt", "sevent", "eight", "ninet"};
    static const std::vector<std::string> kOnes{"",      "first", "second",  "third",  "fourth",
                                                "fifth", "sixth", "seventh", "eighth", "ninth"};
    if (word == "half" || word == "halves") return 2;
    if (!word.empty() && word.back() == 's') word.pop_back();
    for (std::size_t i = 3; i < kBelow20.size(); ++i) {
      if (kBelow20[i] == word) return static_cast<std::int64_t>(i);
    }
    for (std::size_t tens = 2; tens < kTens.size(); ++tens) {
      if (word == kTens[tens] + "ieth") return static_cast<std::int64_t>(tens * 10);
      for (std::size_t one = 1; one < 10; ++one) {
        if (word == kTens[tens] + "y-" + kOnes[one]) return static_cast<std::int64_t>(tens * 10 + one);
      }
    }
    return std::nullopt;
  }

  /// A place in the bar that is being heard.
  std::optional<Fraction> place(const std::string& text) const {
    std::smatch m;
    static const std::regex kCounted("[Bb]eat (\\d+)( and| e| a)?");
    static const std::regex kThird("([Ss]econd|[Ll]ast) third of beat (\\d+)");
    static const std::regex kInto("(\\w+) ([\\w-]+) into beat (\\d+)");
    static const std::regex kParts("(\\d+) parts of (\\d+) into beat (\\d+)");
    Fraction share(0);
    int beat = 0;
    if (std::regex_match(text, m, kCounted)) {
      beat = std::stoi(m[1]);
      share = m[2] == " and" ? Fraction(1, 2)
              : m[2] == " e" ? Fraction(1, 4)
              : m[2] == " a" ? Fraction(3, 4)
                             : Fraction(0);
    } else if (std::regex_match(text, m, kThird)) {
      beat = std::stoi(m[2]);
      share = m[1] == "second" || m[1] == "Second" ? Fraction(1, 3) : Fraction(2, 3);
    } else if (std::regex_match(text, m, kParts)) {
      beat = std::stoi(m[3]);
      share = Fraction(std::stoll(m[1]), std::stoll(m[2]));
    } else if (std::regex_match(text, m, kInto)) {
      std::string count = m[1];
      count[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(count[0])));
      const auto num = cardinal(count);
      const auto den = denominator(m[2]);
      if (!num || !den) return std::nullopt;
      beat = std::stoi(m[3]);
      share = Fraction(*num, *den);
    } else {
      return std::nullopt;
    }
    const auto beats = written_->meter.beats();
    if (beat < 1 || beat > static_cast<int>(beats.size())) throw std::runtime_error("no such beat: " + text);
    const auto& span = beats[static_cast<std::size_t>(beat - 1)];
    const Fraction full = written_->meter.bar_length();
    const Fraction missing = written_->pick_up ? full - written_->length : Fraction(0);
    return span.onset + span.length * share - missing;
  }

  static const std::map<std::string, int>& even() {
    static const std::map<std::string, int> kEven{
        {"every beat", 1}, {"every half beat", 2}, {"every third of a beat", 3}, {"every quarter of a beat", 4}};
    return kEven;
  }

  bool is_stream(const std::string& rest) const {
    const std::string first = split(split(rest, "; ")[0], ", ")[0];
    return even().count(first) > 0 || (first.find("beat ") != std::string::npos && place(first).has_value());
  }

  void take_stream(const std::string& rest, const std::string& label) {
    for (std::string one : split(rest, "; ")) {
      const bool other = one.rfind("but ", 0) == 0;
      if (other) one.erase(0, 4);
      const std::vector<std::string> words = split(one, ", ");
      for (const Fraction& onset : places(words[0])) {
        Item item;
        item.note.onset = onset;
        item.note.what = label.empty() ? "stroke" : label;
        item.strum = label.empty();
        for (std::size_t i = 1; i < words.size(); ++i) {
          if (words[i].rfind("muted", 0) == 0) item.muted = true;
        }
        const std::size_t over = one.find(", over ");
        if (over != std::string::npos) item.only = strings(one.substr(over + 7));
        if (other) {  // in place of what the rule before said of this onset
          auto& items = bar_->items;
          for (std::size_t i = items.size(); i-- > 0;) {
            if (items[i].note.onset == onset && items[i].note.what == item.note.what) {
              items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
              break;
            }
          }
        }
        if (one.find("that do not sound") != std::string::npos) item.only = {0};
        bar_->items.push_back(item);
      }
    }
  }

  std::vector<Fraction> places(const std::string& text) const {
    const auto found = even().find(text);
    if (found == even().end()) {
      const auto at = place(text);
      if (!at) throw std::runtime_error("no place: " + text);
      return {*at};
    }
    std::vector<Fraction> out;
    for (const auto& beat : written_->meter.beats()) {
      for (int i = 0; i < found->second; ++i) out.push_back(beat.onset + beat.length * Fraction(i, found->second));
    }
    return out;
  }

  /// "string 4", "strings 6 to 4", "strings 4, 3 and 1".
  static std::vector<int> strings(const std::string& text) {
    std::vector<int> out;
    std::smatch m;
    static const std::regex kRun("strings (\\d+) to (\\d+)");
    if (std::regex_match(text, m, kRun)) {
      for (int n = std::stoi(m[1]); n >= std::stoi(m[2]); --n) out.push_back(n);
      return out;
    }
    static const std::regex kNumber("\\d+");
    for (std::sregex_iterator i(text.begin(), text.end(), kNumber), end; i != end; ++i)
      out.push_back(std::stoi(i->str()));
    return out;
  }

  void take_item(Fraction onset, std::string text) {
    static const std::regex kHands(
        "^(left hand |right hand )?(still )?((thumb|index|middle|ring|little) plucks |thumb slaps |pop )?");
    text = std::regex_replace(text, kHands, "");
    std::smatch m;
    static const std::regex kStrings("(strings? \\d+(?:(?:, \\d+)* and \\d+| to \\d+)?), (dead|open|fret (\\d+))(.*)");
    static const std::regex kFinger(".*, (\\w+) finger.*");
    if (std::regex_match(text, m, kStrings)) {
      Item item;
      item.note.onset = onset;
      item.note.fret = m[3].matched ? std::stoi(m[3]) : 0;
      if (m[2] == "dead") item.note.what = "dead";
      std::smatch f;
      const std::string tail = "," + m[4].str();
      if (std::regex_match(tail, f, kFinger)) item.note.finger = finger(f[1]);
      for (const int string : strings(m[1])) {
        item.note.string = string;
        bar_->items.push_back(item);
      }
      return;
    }
    take_pitches(onset, text);
  }

  void take_pitches(Fraction onset, const std::string& text) {
    static const std::regex kNone("(without pitch)( and without pitch)*(,.*)?");
    if (std::regex_match(text, kNone)) {
      for (std::size_t at = text.find("without pitch"); at != std::string::npos;
           at = text.find("without pitch", at + 1)) {
        Item item;
        item.note.onset = onset;
        item.note.what = "dead";
        bar_->items.push_back(item);
      }
      return;
    }
    static const std::regex kPitches(
        "([A-G](?: (?:double |triple )?(?:sharp|flat))? (?:minus )?\\d(?: and (?=[A-G]))?)+(,.*)?");
    if (!std::regex_match(text, kPitches)) return;
    static const std::regex kPitch("([A-G])(?: (double |triple )?(sharp|flat))? (minus )?(\\d)");
    const std::string head = text.substr(0, text.find(','));
    for (std::sregex_iterator i(head.begin(), head.end(), kPitch), end; i != end; ++i) {
      Item item;
      item.note.onset = onset;
      const std::string sign = (*i)[3] == "sharp" ? "#" : (*i)[3] == "flat" ? "b" : "";
      const int count = (*i)[2] == "double " ? 2 : (*i)[2] == "triple " ? 3 : 1;
      item.note.what = (*i)[1];
      for (int n = 0; n < count; ++n) item.note.what += sign;
      item.note.what += ((*i)[4].matched ? "-" : "") + (*i)[5].str();
      bar_->items.push_back(item);
    }
  }

  const Shape* shape_at(const Said& said, Fraction onset) const {
    auto after = said.held.upper_bound(onset);
    if (after == said.held.begin()) return nullptr;
    if (std::prev(after)->second.empty()) return nullptr;
    const auto found = shapes_.find(std::prev(after)->second);
    if (found == shapes_.end()) throw std::runtime_error("a shape nobody described: " + std::prev(after)->second);
    return &found->second;
  }

  std::multiset<Heard> expanded(const Said& said) const {
    std::multiset<Heard> out;
    for (const Item& item : said.items) {
      const Shape* shape = item.strum || item.by_shape ? shape_at(said, item.note.onset) : nullptr;
      if (item.strum && (shape == nullptr || item.muted)) {
        out.insert(item.note);
      } else if (item.strum) {
        for (const auto& [string, at] : *shape) {
          const bool struck =
              item.only.empty() || std::find(item.only.begin(), item.only.end(), string) != item.only.end();
          if (struck) out.insert({item.note.onset, string, at.fret, 0, ""});
        }
      } else {
        Heard note = item.note;
        if (shape != nullptr && note.string > 0) note.fret = shape->at(note.string).fret;
        out.insert(note);
      }
    }
    return out;
  }

  std::map<std::pair<std::string, int>, score::Bar> bars_;
  std::map<std::string, Shape> shapes_;
  std::map<Key, Said> said_;
  std::map<std::pair<std::string, int>, Key> by_number_;
  std::string section_, part_, shape_;
  int number_ = 0;
  Said* bar_ = nullptr;
  const score::Bar* written_ = nullptr;
};

}  // namespace tunesheaf::test
