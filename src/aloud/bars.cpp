#include "bars.h"

#include <algorithm>
#include <map>
#include <span>

#include "bar_words.h"

namespace tunesheaf::aloud {
namespace {

using score::Event;
using score::Harmony;
using score::Section;
using score::Segment;
using score::Word;
using score::WordKind;

constexpr std::size_t kFewestEvenPicks = 3;
const std::string kTap = "body tap";  ///< a lane of strokes, not of spans

/// Marks that say how notes are written, not how they are played: here each note is named with its own octave.
bool only_written(const std::string& mark) {
  return mark == "8va" || mark == "8vb" || mark == "15ma" || mark == "15mb";
}

/// The tempo is everyone's, whichever part its span is kept with.
bool of_everyone(const std::string& mark) {
  return mark == "ritardando" || mark == "accelerando";
}

std::string shape_name(const Teller& teller, int shape) {
  return plain(teller.song.shapes[static_cast<std::size_t>(shape)].name.value);
}

class BarTeller {
 public:
  BarTeller(const Teller& teller, const Section& section, const score::PartMusic* music, int part, int bar)
      : teller_(teller),
        section_(section),
        music_(music),
        part_(part),
        index_(bar),
        bar_(section.bars[static_cast<std::size_t>(bar)]) {
    said_.measure = theory::print_meter(bar_.meter) + " " + bar_.length.text();
  }

  BarSaid part_bar() {
    gather_events();
    say_held();
    const auto& words = music_->words;
    for (const Word& word : words) {
      if (word.at.bar == index_) add_word(word);
    }
    for (const score::Cue& cue : music_->cues) {
      if (cue.first <= index_ && index_ < cue.behind) said_.asides.push_back({cue_words(cue), "", ""});
    }
    if (teller_.part(part_).instrument.family == theory::Family::Drums) {
      drum_streams();
    } else {
      strum_stream();
      find_even_picking();
      played_events();
      rests();
    }
    for (const score::Mark& mark : music_->marks) {
      if (mark.kind == kTap && mark.from.bar == index_) add_item(mark.from.onset, kTap);
    }
    if (events_.empty() && items_.empty()) {
      said_.silent = true;
      said_.played.insert(said_.played.begin(), all_rest() ? "Rest" : "Held");
    }
    flush_items();
    for (const score::Mark& mark : music_->marks) {
      if (mark.kind != kTap && !only_written(mark.kind) && !of_everyone(mark.kind)) add_mark(mark);
    }
    figure();
    return std::move(said_);
  }

  BarSaid chart_bar() {
    chart_harmony();
    hits();
    std::vector<std::string> lyric, count;
    for (const Word& word : section_.words) {
      if (word.at.bar != index_) continue;
      if (word.kind == WordKind::Lyric) {
        lyric.push_back(word.text);
      } else if (word.kind == WordKind::Count) {
        count.push_back(plain(word.text));
      } else {
        add_word(word);
      }
    }
    flush_items();
    for (const score::PartMusic& music : section_.parts) {
      for (const score::Mark& mark : music.marks) {
        if (of_everyone(mark.kind)) add_mark(mark);
      }
    }
    if (!lyric.empty()) said_.played.push_back("Words: " + joined_words(lyric));
    if (!count.empty()) said_.played.push_back("Count: " + joined_words(count));
    said_.silent = said_.played.empty() && said_.held.empty();
    return std::move(said_);
  }

 private:
  struct Begun {
    Fraction onset;
    const Event* event = nullptr;
    const score::Voice* voice = nullptr;
  };

  void gather_events() {
    for (const score::Voice& voice : music_->voices) {
      if (static_cast<std::size_t>(index_) >= voice.bars.size()) continue;
      for (const Segment& segment : voice.bars[static_cast<std::size_t>(index_)]) {
        if (segment.rest || segment.event < 0) continue;
        const Event& event = teller_.song.events[static_cast<std::size_t>(segment.event)];
        if (event.at.bar != index_ || !(event.at.onset == segment.onset)) continue;
        if (event.kind != score::EventKind::Rest) events_.push_back({segment.onset, &event, &voice});
      }
    }
    std::stable_sort(events_.begin(), events_.end(), [](const Begun& a, const Begun& b) {
      if (!(a.onset == b.onset)) return a.onset < b.onset;
      return a.voice->number > b.voice->number;  // the lower voice first, as low strings come first
    });
  }

  /// The shape in force from each place of the bar on, the harmony's word for it backed by the events'.
  void say_held() {
    std::map<Fraction, std::string> held;
    std::map<Fraction, int> shapes;
    for (const Harmony& h : section_.harmony) {
      if (h.at.bar != index_) continue;
      const bool played = std::any_of(events_.begin(), events_.end(), [&](const Begun& begun) {
        return begun.event->shape == h.shape && !(begun.onset < h.at.onset);
      });
      if (h.part != part_ && (h.part >= 0 || h.shape < 0 || !played)) continue;
      if (h.shape >= 0) {
        shapes[h.at.onset] = h.shape;
      } else if (h.none) {
        held[h.at.onset] = "no chord";
      } else if (h.name || !h.stated.empty()) {
        held[h.at.onset] = "chord " + (h.name ? chord_words(*h.name) : chord_words(h.stated));
      }
    }
    for (const Begun& begun : events_) {
      const bool open_stroke = begun.event->kind == score::EventKind::Slash && !begun.event->muted && !shapes.empty();
      if (begun.event->shape < 0 && !open_stroke) continue;
      auto before = shapes.upper_bound(begun.onset);
      const bool known = before != shapes.begin() && std::prev(before)->second == begun.event->shape;
      if (!known) shapes[shapes.empty() ? Fraction(0) : begun.onset] = begun.event->shape;
    }
    for (const auto& [onset, shape] : shapes) {
      held[onset] = shape < 0 ? "no shape" : "shape " + shape_name(teller_, shape);
    }
    for (const auto& [onset, words] : held) {
      if (!said_.held.empty()) said_.held += "; ";
      said_.held += onset == Fraction(0) ? words : beat_words(bar_, onset) + ", " + words;
    }
    shapes_held_ = !shapes.empty();
  }

  /// Words at a place become an item of their beat, or an aside.
  void add_word(const Word& word) {
    const std::string at = word.at.onset == Fraction(0) ? "" : " at " + beat_words(bar_, word.at.onset);
    switch (word.kind) {
      case WordKind::Lyric:
        sung_[word.at.onset] = "sung " + syllable(word.text);
        return;
      case WordKind::Arm:
        if (word.arm) add_item(word.at.onset, arm_words(*word.arm));
        return;
      case WordKind::Pedal:
        add_item(word.at.onset, pedal_words(word.text));
        return;
      case WordKind::Hold:
        add_item(word.at.onset, hold_words(word.text));
        return;
      case WordKind::Bow:
        bows_[word.at.onset] = sign_words("bow", word.text);
        return;
      case WordKind::Dynamics:
        said_.asides.push_back({"Loudness" + at + ": " + dynamics_words(word.text) + ".", "", ""});
        return;
      case WordKind::Tempo:
        said_.asides.push_back(
            {"Tempo" + at + ": " +
                 sentence(word.tempo && Fraction(0) < word.tempo->per_minute ? tempo_words(*word.tempo, bar_.meter)
                                                                             : plain(word.text)),
             "", ""});
        return;
      case WordKind::Count:
        add_item(word.at.onset, "count " + plain(word.text));
        return;
      case WordKind::Say:
      case WordKind::Cue:
        said_.asides.push_back({"Said" + at + ": ", sentence(plain(word.text)), ""});
        return;
      case WordKind::Retune:
        said_.asides.push_back({capital(plain(word.text)) + at + ".", "", ""});
        return;
      case WordKind::RemarkRef:
        for (const int remark : word.remarks) add_remark(section_.remarks[static_cast<std::size_t>(remark)], at);
        return;
      case WordKind::FromLesson:
        return;  // said of the bar
    }
  }

  void add_remark(const score::Remark& remark, const std::string& at) {
    said_.asides.push_back(
        {"Remark " + std::to_string(remark.number) + at + authority_words(remark.from, remark.instead_of) + ": ",
         sentence(plain(remark.text.value)), ""});
  }

  void drum_streams() {
    std::map<int, std::vector<Stroke>> strokes;
    for (const Begun& begun : events_) {
      for (const score::Note& note : begun.event->notes) {
        if (note.drum >= 0) strokes[note.drum].push_back({begun.onset, drum_stroke_words(*begun.event, note)});
      }
    }
    for (const auto& [drum, list] : strokes) {
      const std::string name = drum_words(teller_.part(part_).kit[static_cast<std::size_t>(drum)].name);
      said_.played.push_back(stream_words(bar_, name, list));
    }
  }

  /// What the player who rests hears of the other part.
  std::string cue_words(const score::Cue& cue) const {
    BarTeller other(teller_, section_, &section_.parts[static_cast<std::size_t>(cue.part)], cue.part, index_);
    other.gather_events();
    std::vector<std::string> played;
    if (teller_.part(cue.part).instrument.family == theory::Family::Drums) {
      other.drum_streams();
      played = other.said_.played;
    }
    for (const Begun& begun : other.events_) {
      if (begun.event->kind == score::EventKind::Slash) {
        played.push_back(beat_words(bar_, begun.onset) + ", strum " + stroke_words(teller_, *begun.event));
      } else if (!begun.event->notes.empty() && begun.event->notes[0].drum < 0) {
        played.push_back(beat_words(bar_, begun.onset) + ", " + event_words(teller_, section_, *begun.event));
      }
    }
    std::string out = "Cue: the " + plain(teller_.part(cue.part).name.value);
    if (played.empty()) return out + (other.all_rest() ? " rests." : " holds on.");
    out += " plays ";
    for (std::size_t i = 0; i < played.size(); ++i) out += (i == 0 ? "" : "; ") + played[i];
    return out + ".";
  }

  void strum_stream() {
    std::vector<Stroke> strokes;
    for (const Begun& begun : events_) {
      if (begun.event->kind == score::EventKind::Slash) {
        strokes.push_back({begun.onset, stroke_words(teller_, *begun.event)});
      }
    }
    if (!strokes.empty()) said_.played.push_back(stream_words(bar_, "strum", strokes));
  }

  void played_events() {
    for (const Begun& begun : events_) {
      if (begun.event->kind != score::EventKind::Notes) continue;
      items_[begun.onset].push_back(hand_of(*begun.voice) + said_event(*begun.event));
      figure_items_[begun.onset].push_back(figure_words(*begun.event));
    }
    for (auto& [onset, words] : sung_) add_item(onset, words);
  }

  /// Down and up in turn, or always one way, is said once for the bar.
  void find_even_picking() {
    std::vector<song::StrokeDirection> strokes;
    for (const Begun& begun : events_) {
      const bool picked = begun.event->kind == score::EventKind::Notes && bows_.count(begun.onset) == 0;
      strokes.push_back(picked ? begun.event->stroke : song::StrokeDirection::None);
    }
    if (strokes.size() < kFewestEvenPicks) return;
    bool alike = true, in_turn = true;
    for (std::size_t i = 0; i < strokes.size(); ++i) {
      if (strokes[i] == song::StrokeDirection::None) return;
      alike = alike && strokes[i] == strokes[0];
      in_turn = in_turn && (i == 0 || strokes[i] != strokes[i - 1]);
    }
    if (!alike && !in_turn) return;
    even_picking_ = true;
    const bool down = strokes[0] == song::StrokeDirection::Down;
    said_.played.push_back(in_turn ? (down ? "Pick down and up in turn" : "Pick up and down in turn")
                                   : (down ? "Pick down on every note" : "Pick up on every note"));
  }

  std::string said_event(const Event& event) const {
    const auto bow = bows_.find(event.at.onset);
    if (bow == bows_.end() && !even_picking_) return event_words(teller_, section_, event);
    Event other = event;
    other.stroke = song::StrokeDirection::None;
    return event_words(teller_, section_, other) + (bow == bows_.end() ? "" : ", " + bow->second);
  }

  std::string hand_of(const score::Voice& voice) const {
    if (teller_.part(part_).instrument.family != theory::Family::Keyed || music_->voices.size() < 2) return {};
    return voice.number > 1 || voice.staff > 0 ? "left hand " : "right hand ";
  }

  /// Of this bar; none where the voice has no such bar.
  std::span<const Segment> segments(const score::Voice& voice) const {
    const auto i = static_cast<std::size_t>(index_);
    return i < voice.bars.size() ? voice.bars[i] : std::span<const Segment>{};
  }

  bool all_rest() const {
    return std::all_of(music_->voices.begin(), music_->voices.end(), [&](const score::Voice& voice) {
      const auto list = segments(voice);
      return std::all_of(list.begin(), list.end(), [](const Segment& s) { return s.rest; });
    });
  }

  static bool rests_at(std::span<const Segment> list, Fraction at) {
    for (const Segment& s : list) {
      if (!(at < s.onset) && at < s.onset + s.duration) return s.rest;
    }
    return true;
  }

  /// Silence of all voices, from where it begins; on keys, of each hand as well.
  void rests() {
    if (events_.empty()) return;
    std::map<Fraction, bool> boundaries;
    for (const score::Voice& voice : music_->voices)
      for (const Segment& s : segments(voice)) boundaries[s.onset] = true;
    bool silent_before = false;
    std::map<const score::Voice*, bool> hand_before;
    for (const auto& [at, unused] : boundaries) {
      bool silent = true;
      for (const score::Voice& voice : music_->voices) silent = silent && rests_at(segments(voice), at);
      if (silent && !silent_before) add_item(at, "rest");
      for (const score::Voice& voice : music_->voices) {
        const std::string hand = hand_of(voice);
        const auto list = segments(voice);
        if (hand.empty() || list.empty()) continue;
        const bool rest = rests_at(list, at);
        if (rest && !hand_before[&voice] && !silent) add_item(at, hand + "rests");
        hand_before[&voice] = rest;
      }
      silent_before = silent;
    }
  }

  /// Something that is the same whatever shape is held.
  void add_item(Fraction onset, const std::string& words) {
    items_[onset].push_back(words);
    figure_items_[onset].push_back(words);
  }

  void flush_items() {
    streams_ = said_.played.size();
    for (const auto& [onset, words] : items_) {
      std::string text = capital(beat_words(bar_, onset)) + ": ";
      for (std::size_t i = 0; i < words.size(); ++i) {
        const bool sung = words[i].rfind("sung ", 0) == 0;
        text += (i == 0 ? "" : sung ? ", " : "; ") + words[i];
      }
      said_.played.push_back(std::move(text));
    }
  }

  std::string mark_name(const score::Mark& mark) const {
    return plain(mark.kind) + (mark.word.empty() ? "" : " " + plain(mark.word));
  }

  /// Spans within the bar are part of what is played; longer ones are said where they begin and where they end.
  void add_mark(const score::Mark& mark) {
    const bool to_end = mark.to.bar == index_ + 1 && mark.to.onset == Fraction(0);
    const bool begins = mark.from.bar == index_;
    const bool ends = to_end || (mark.to.bar == index_ && Fraction(0) < mark.to.onset);
    const std::string name = capital(mark_name(mark));
    const std::string from = mark.from.onset == Fraction(0) ? "" : " from " + beat_words(bar_, mark.from.onset);
    if (begins && to_end) {
      said_.played.push_back(name + (from.empty() ? " through the bar" : from + " to the end of the bar"));
    } else if (begins && ends) {
      said_.played.push_back(name + " from " + beat_words(bar_, mark.from.onset) + " until " +
                             beat_words(bar_, mark.to.onset));
    } else if (begins) {
      said_.asides.push_back({name + (from.empty() ? " from here on." : from + " on."), "", ""});
    } else if (ends) {
      said_.asides.push_back(
          {name + " until " + (to_end ? "the end of this bar" : beat_words(bar_, mark.to.onset)) + ".", "", ""});
    }
  }

  /// What is left when the shape tells frets and fingers.
  void figure() {
    if (!shapes_held_ || events_.empty()) return;
    said_.strummed = true;
    for (const Begun& begun : events_) {
      const bool slash = begun.event->kind == score::EventKind::Slash;
      said_.strummed = said_.strummed && slash;
      if (begun.event->shape < 0 || (!slash && !told_by_shape(teller_, *begun.event))) return;
    }
    for (const auto& [onset, words] : figure_items_) {
      said_.figure += beat_words(bar_, onset);
      for (const std::string& item : words) said_.figure += "; " + item;
    }
    for (std::size_t i = 0; i < said_.played.size(); ++i) {
      const bool item = i >= streams_ && i < streams_ + items_.size();
      if (!item) said_.figure += ". " + said_.played[i];
    }
  }

  /// Chords that are stated are everyone's, whoever's shape they name.
  void chart_harmony() {
    std::string before;
    for (const Harmony& h : section_.harmony) {
      const bool shown = h.part < 0 || (!h.stated.empty() && h.stated != before);
      if (h.at.bar != index_ || !shown) continue;
      before = h.stated;
      std::string words = h.none                       ? "no chord"
                          : h.stated.empty() && h.name ? chord_words(*h.name)
                                                       : chord_words(h.stated);
      if (h.push) words += ", pushed";
      if (!said_.held.empty()) said_.held += "; ";
      said_.held += h.at.onset == Fraction(0) ? words : beat_words(bar_, h.at.onset) + ", " + words;
    }
  }

  void hits() {
    if (static_cast<std::size_t>(index_) >= section_.hits.size()) return;
    std::vector<Stroke> strokes;
    for (const score::Hit& hit : section_.hits[static_cast<std::size_t>(index_)]) {
      std::vector<std::string> words = accent_words(hit.accents);
      if (hit.ghost) words.insert(words.begin(), sign_words("hits", "(x)"));
      std::string text;
      for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
      strokes.push_back({hit.onset, text});
    }
    if (!strokes.empty()) said_.played.push_back(stream_words(bar_, "hits together", strokes));
  }

  const Teller& teller_;
  const Section& section_;
  const score::PartMusic* music_;
  int part_;
  int index_;
  const score::Bar& bar_;
  std::vector<Begun> events_;
  std::map<Fraction, std::vector<std::string>> items_, figure_items_;
  std::map<Fraction, std::string> sung_, bows_;
  std::size_t streams_ = 0;  ///< sentences before those of the items
  bool shapes_held_ = false, even_picking_ = false;
  BarSaid said_;
};

}  // namespace

BarSaid say_bar(const Teller& teller, const score::Section& section, int part, int bar) {
  return BarTeller(teller, section, &section.parts[static_cast<std::size_t>(part)], part, bar).part_bar();
}

BarSaid say_chart_bar(const Teller& teller, const score::Section& section, int bar) {
  return BarTeller(teller, section, nullptr, -1, bar).chart_bar();
}

}  // namespace tunesheaf::aloud
