#include "print_cells.h"

#include <array>
#include <string_view>

namespace tunesheaf::song {
namespace {

/// "name=value" words in a row.
class Words {
 public:
  Words& add(std::string_view word) {
    text_ += ' ';
    text_ += word;
    return *this;
  }
  Words& add(std::string_view name, const std::string& value) { return add(std::string(name) + "=" + value); }
  Words& flag(std::string_view word, bool set) { return set ? add(word) : *this; }
  Words& accents(const Accents& accents) { return accents.any() ? add(print(accents)) : *this; }
  std::string behind(std::string_view head) const { return std::string(head) + text_; }

 private:
  std::string text_;
};

std::string_view word_of(Arrival arrival) {
  constexpr std::array<std::string_view, 9> kWords{
      "struck", "hammered", "pulled", "slid", "shifted", "slid-in-up", "slid-in-down", "tapped", "hammered-on-nothing"};
  return kWords[static_cast<std::size_t>(arrival)];
}
std::string_view word_of(HarmonicKind kind) {
  constexpr std::array<std::string_view, 6> kWords{"none", "natural", "artificial", "pinched", "tapped", "touched"};
  return kWords[static_cast<std::size_t>(kind)];
}
std::string_view word_of(BendStage::Action action) {
  constexpr std::array<std::string_view, 4> kWords{"bend", "prebend", "release", "held"};
  return kWords[static_cast<std::size_t>(action)];
}
std::string_view word_of(StrokeDirection direction) {
  constexpr std::array<std::string_view, 3> kWords{"none", "down", "up"};
  return kWords[static_cast<std::size_t>(direction)];
}
std::string_view word_of(ArmSign::Action action) {
  constexpr std::array<std::string_view, 6> kWords{"dip", "dive", "up", "scoop", "back", "shake"};
  return kWords[static_cast<std::size_t>(action)];
}

std::string pitches(const std::vector<theory::Pitch>& all) {
  std::string text;
  for (const theory::Pitch& pitch : all) text += (text.empty() ? "" : "+") + theory::print(pitch);
  return text;
}

std::string in_quotes(const std::string& text) {
  std::string made = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') made += '\\';
    if (c == '\n') {
      made += "\\n";
    } else {
      made += c;
    }
  }
  return made + "\"";
}

struct Printer {
  std::string operator()(const HoldCell&) const { return "-"; }
  std::string operator()(const SilenceCell&) const { return "."; }
  std::string operator()(const StringSign& s) const {
    Words words;
    if (s.fret) words.add(std::to_string(*s.fret));
    words.flag("dead", s.dead).flag("ghost", s.ghost).flag("goes-on", s.continues).flag("tied", s.tied);
    if (s.arrival != Arrival::Struck) words.add(word_of(s.arrival));
    words.flag("from-above", s.slides_down).flag("slides-on", s.slides_to_next);
    if (s.slide_off != SlideOff::None) words.add(s.slide_off == SlideOff::Up ? "slides-off-up" : "slides-off-down");
    for (const BendStage& bend : s.bends) words.add(word_of(bend.action), bend.fret.text());
    if (s.vibrato != Vibrato::None) words.add(s.vibrato == Vibrato::Wide ? "wide-vibrato" : "vibrato");
    if (s.trill) words.add("trill", std::to_string(*s.trill));
    words.flag("tremolo", s.tremolo);
    for (const GraceNote& grace : s.grace)
      words.add("grace", std::to_string(grace.fret) + "/" + std::string(word_of(grace.to_main)));
    if (s.harmonic != HarmonicKind::None) words.add("harmonic", std::string(word_of(s.harmonic)));
    if (s.touch) words.add("touch", std::to_string(*s.touch));
    return words.accents(s.accents).behind("fret");
  }
  std::string operator()(const NameCell& s) const { return in_quotes(s.name); }
  std::string operator()(const StrumSign& s) const {
    Words words;
    words.add(word_of(s.direction)).flag("muted", s.muted).flag("rolled", s.rolled).flag("brushed", s.brushed);
    words.flag("ghost", s.ghost);
    if (s.from_string) words.add("strings", std::to_string(*s.from_string) + "-" + std::to_string(*s.to_string));
    return words.accents(s.accents).behind("strum");
  }
  std::string operator()(const PluckSign& s) const {
    return Words().accents(s.accents).behind("pluck " + (s.fingers.empty() ? "any" : s.fingers));
  }
  std::string operator()(const PickSign& s) const { return "pick " + std::string(word_of(s.direction)); }
  std::string operator()(const FingerSign& s) const {
    std::string text = "finger ";
    for (const int finger : s.fingers) text += (text.back() == ' ' ? "" : "+") + std::to_string(finger);
    return text;
  }
  std::string operator()(const ArmSign& s) const {
    Words words;
    if (s.semitones != base::Fraction(0)) words.add(s.semitones.text());
    return words.behind("arm " + std::string(word_of(s.action)));
  }
  std::string operator()(const SpanSign& s) const {
    return std::string(s.on ? "on" : "off") + (s.word.empty() ? "" : " " + in_quotes(s.word));
  }
  std::string operator()(const PitchSign& s) const {
    Words words;
    if (!s.pitches.empty()) words.add(pitches(s.pitches));
    words.flag("dead", s.dead).flag("tied", s.tied).flag("ghost", s.ghost).flag("tremolo", s.tremolo);
    words.flag("harmonic", s.harmonic);
    if (!s.grace.empty()) words.add("grace", pitches(s.grace));
    if (s.trill) words.add("trill", theory::print(*s.trill));
    return words.accents(s.accents).behind("note");
  }
  std::string operator()(const DrumSign& s) const {
    Words words;
    words.flag("open", s.open).flag("half-open", s.half_open).flag("ghost", s.ghost).flag("choked", s.choke);
    if (s.grace > 0) words.add("grace", std::to_string(s.grace));
    if (s.roll > 0) words.add("roll", std::to_string(s.roll));
    words.flag("buzz", s.buzz);
    if (s.hand != 0) words.add("hand", std::string(1, s.hand));
    return words.accents(s.accents).behind("stroke");
  }
  std::string operator()(const ChordCell& s) const { return s.none ? "no chord" : "chord " + in_quotes(s.text); }
  std::string operator()(const WordCell& s) const { return in_quotes(s.text); }
  std::string operator()(const StringNumberCell& s) const { return "string " + std::to_string(s.string); }
};

}  // namespace

std::string print(const CellContent& content) {
  return std::visit(Printer{}, content);
}

std::string print(const Accents& accents) {
  std::string text;
  if (accents.accent) text += '>';
  if (accents.marcato) text += '^';
  if (accents.staccato) text += '\'';
  if (accents.tenuto) text += '_';
  if (accents.fermata) text += '@';
  return text;
}

std::string print(LaneKind kind) {
  constexpr std::array<std::string_view, 33> kWords{
      "string", "thumb", "string-of", "fret-of", "shape", "pattern", "strum", "pluck", "pick",   "finger", "arm",
      "mark",   "notes", "right",     "left",    "kit",   "chords",  "hits",  "lyric", "say",    "count",  "dynamics",
      "tempo",  "meter", "key",       "hold",    "see",   "from",    "bow",   "pedal", "retune", "clef",   "cue"};
  return std::string(kWords[static_cast<std::size_t>(kind)]);
}

}  // namespace tunesheaf::song
