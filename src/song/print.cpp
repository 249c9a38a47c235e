#include <string_view>

#include "print_cells.h"
#include "tunesheaf/song/read.h"

namespace tunesheaf::song {
namespace {

std::string word_in_quotes(const std::string& text) {
  return print(CellContent(WordCell{text}));
}

std::string seconds(base::Fraction at) {
  return at.text() + " s";
}

std::string print_tempo(const TempoMark& tempo) {
  std::string text = tempo.per_minute == base::Fraction(0) ? "" : tempo.per_minute.text() + " a minute";
  if (tempo.unit_stated) text += " of " + tempo.unit.text();
  if (!tempo.words.empty()) text += (text.empty() ? "" : " ") + word_in_quotes(tempo.words);
  return text;
}

class SongPrinter {
 public:
  std::string print_song(const Song& song) {
    line("song " + word_in_quotes(song.title.value));
    ++depth_;
    text("by", song.by);
    text("lesson", song.lesson);
    text("revision", song.revision);
    text("video", song.video);
    text("credits", song.credits);
    text("language", song.language);
    text("about", song.about);
    text("style", song.style);
    text("key", song.key);
    text("meter", song.meter);
    tempo(song.tempo);
    feel(song.feel);
    text("pick-up", song.pick_up);
    text("counts in", song.counts_in);
    for (const Text& name : song.starts) line("starts " + word_in_quotes(name.value));
    for (const RecordingDef& recording : song.recordings) print_recording(recording);
    for (const PartDef& part : song.parts) print_part(part);
    for (const ShapeDef& shape : song.shapes) print_shape(shape);
    for (const PatternDef& pattern : song.patterns) print_pattern(pattern);
    for (const SectionDef& section : song.sections) print_section(section);
    print_form(song.form);
    return std::move(out_);
  }

 private:
  void line(const std::string& words) { out_ += std::string(depth_ * 2, ' ') + words + "\n"; }
  void text(std::string_view name, const std::optional<Text>& value) {
    if (value) line(std::string(name) + " " + word_in_quotes(value->value));
  }
  void yes_no(std::string_view name, const std::optional<Spanned<bool>>& value) {
    if (value) line(std::string(name) + (value->value ? " yes" : " no"));
  }
  void tempo(const std::optional<Spanned<TempoMark>>& value) {
    if (value) line("tempo " + print_tempo(value->value));
  }
  void feel(const std::optional<Spanned<Feel>>& value) {
    if (!value) return;
    const Feel& feel = value->value;
    const bool straight = feel.unit == base::Fraction(0);
    line("feel " + (straight ? "straight" : feel.unit.text() + " " + feel.first.text() + ":" + feel.second.text()) +
         " " + word_in_quotes(feel.words));
  }
  void from(Authority authority) {
    if (authority == Authority::Lesson) line("from lesson");
  }
  void numbers(std::string_view name, const std::vector<Spanned<int>>& values) {
    if (values.empty()) return;
    std::string words(name);
    for (const Spanned<int>& value : values) words += " " + std::to_string(value.value);
    line(words);
  }

  void print_recording(const RecordingDef& recording) {
    line("recording " + word_in_quotes(recording.name.value));
    ++depth_;
    text("sounds", recording.sounds);
    tempo(recording.tempo);
    text("key", recording.key);
    text("note", recording.note);
    --depth_;
  }

  void print_part(const PartDef& part) {
    line("part " + word_in_quotes(part.name.value));
    ++depth_;
    line("instrument " + word_in_quotes(part.instrument.value));
    text("short", part.short_name);
    text("tuning", part.tuning);
    if (part.capo) {
      line("capo " + std::to_string(part.capo->fret.value));
      ++depth_;
      numbers("strings", part.capo->strings);
      --depth_;
    }
    text("clef", part.clef);
    if (part.transposes) line("transposes " + theory::print(part.transposes->value));
    text("stand in for", part.stands_in_for);
    yes_no("rings", part.rings);
    text("staff", part.staff);
    text("scale length", part.scale_length);
    if (part.fret_count) line("frets " + std::to_string(part.fret_count->value));
    --depth_;
  }

  void print_shape(const ShapeDef& shape) {
    line("shape " + word_in_quotes(shape.name.value));
    ++depth_;
    std::string frets = "frets";
    for (const FretCell& fret : shape.frets) frets += " " + (fret.value ? std::to_string(*fret.value) : "x");
    line(frets);
    numbers("fingers", shape.fingers);
    numbers("thumb", shape.thumb);
    text("hand", shape.hand);
    text("ear", shape.ear);
    text("part", shape.part);
    from(shape.from);
    text("instead of", shape.instead_of);
    text("says", shape.says);
    --depth_;
  }

  void print_pattern(const PatternDef& pattern) {
    line("pattern " + word_in_quotes(pattern.name.value) + (pattern.rings ? " rings" : " stops"));
    ++depth_;
    text("meter", pattern.meter);
    text("says", pattern.says);
    from(pattern.from);
    text("instead of", pattern.instead_of);
    stanzas(pattern.stanzas);
    --depth_;
  }

  void stanzas(const std::vector<Stanza>& all) {
    for (const Stanza& stanza : all) {
      line("stanza");
      ++depth_;
      for (const Lane& lane : stanza.lanes) print_lane(lane);
      --depth_;
    }
  }

  void print_lane(const Lane& lane) {
    std::string head = "lane " + print(lane.kind) + " " + word_in_quotes(lane.name.value);
    if (lane.string > 0) head += " string=" + std::to_string(lane.string);
    if (!lane.subject.empty()) head += " subject=" + word_in_quotes(lane.subject);
    line(head);
    ++depth_;
    for (const LaneBar& bar : lane.bars) print_bar(bar);
    --depth_;
  }

  void print_bar(const LaneBar& bar) {
    line(std::string("bar") + (bar.repeat_before ? " repeats"
                               : bar.repeat_two  ? " repeats-two"
                               : bar.colons      ? " by beats"
                                                 : " shared"));
    if (bar.repeat_before || bar.repeat_two) return;
    ++depth_;
    for (const LaneBeat& beat : bar.beats) {
      std::string words = "beat";
      for (const Cell& cell : beat.cells) words += " [" + print(cell.content) + "]";
      line(words);
    }
    --depth_;
  }

  void print_content(const PartContent& content) {
    line("plays " + word_in_quotes(content.part.value));
    ++depth_;
    yes_no("rings", content.rings);
    from(content.from);
    stanzas(content.stanzas);
    for (const Exception& exception : content.except) {
      line("except " + std::to_string(exception.first) + " to " + std::to_string(exception.last));
      ++depth_;
      stanzas(exception.stanzas);
      --depth_;
    }
    --depth_;
  }

  void print_section(const SectionDef& section) {
    line("section " + word_in_quotes(section.name.value));
    ++depth_;
    text("letter", section.letter);
    if (section.video) line("video " + seconds(section.video->value));
    for (const RecordingTime& time : section.at) {
      line("at " + seconds(time.at.value) + (time.recording ? " in " + word_in_quotes(time.recording->value) : ""));
    }
    text("says", section.says);
    line("times " + std::to_string(section.times.count));
    text("until", section.times.until);
    text("like", section.like);
    text("pick-up", section.pick_up);
    text("meter", section.meter);
    text("key", section.key);
    tempo(section.tempo);
    feel(section.feel);
    yes_no("rings", section.rings);
    from(section.from);
    text("instead of", section.instead_of);
    for (const PartContent& content : section.parts) print_content(content);
    for (const Ending& ending : section.endings) print_ending(ending);
    for (const Remark& remark : section.remarks) print_remark(remark);
    --depth_;
  }

  void print_ending(const Ending& ending) {
    std::string head = "ending " + word_in_quotes(ending.label.value);
    for (const int pass : ending.passes) head += " " + std::to_string(pass);
    line(head);
    ++depth_;
    for (const PartContent& content : ending.parts) print_content(content);
    --depth_;
  }

  void print_remark(const Remark& remark) {
    line("remark " + word_in_quotes(remark.letter.value) + " " + word_in_quotes(remark.text.value));
    ++depth_;
    from(remark.from);
    text("instead of", remark.instead_of);
    --depth_;
  }

  void print_form(const std::vector<FormEntry>& form) {
    if (form.empty()) return;
    line("form");
    ++depth_;
    for (const FormEntry& entry : form) {
      const char* kWords[] = {"section", "segno", "coda", "to coda", "fine", "dal segno", "da capo", "fade"};
      std::string words = kWords[static_cast<std::size_t>(entry.word)];
      if (entry.word == FormWord::Section) words += " " + word_in_quotes(entry.text.value);
      if (entry.until == Until::Coda) words += " to the coda";
      if (entry.until == Until::Fine) words += " to the fine";
      line(words);
    }
    --depth_;
  }

  std::string out_;
  std::size_t depth_ = 0;
};

}  // namespace

std::string print(const Song& song) {
  return SongPrinter().print_song(song);
}

}  // namespace tunesheaf::song
