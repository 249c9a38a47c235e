// Marks that run over time: spans with nothing under them, spans that contradict one another or the dynamics beside
// them, ends and returns of what never began, and a beginning that is never ended.
#include <algorithm>
#include <array>

#include "playing.h"

namespace tunesheaf::check {
namespace {

using song::ArmSign;
using song::LaneKind;
using theory::Family;

struct Stretched {
  const std::string* kind = nullptr;
  Moment from, to;
  bool ended = false;
  Span span{};
};

constexpr std::array<std::pair<std::string_view, std::string_view>, 16> kOpposites{{
    {"crescendo", "diminuendo"},
    {"8va", "8vb"},
    {"8va", "15ma"},
    {"8vb", "15mb"},
    {"15ma", "15mb"},
    {"palm mute", "let ring"},
    {"palm mute", "half palm mute"},
    {"staccato", "legato"},
    {"staccato", "let ring"},
    {"staccato", "slur"},
    {"accelerando", "ritardando"},
    {"fade in", "fade out"},
    {"brushes", "mallets"},
    {"near the bridge", "over the neck"},
    {"pizzicato", "slur"},
    {"vibrato", "trill"},
}};

/// Marks on notes: without a note under them they say nothing. The others are states of the instrument or the tempo.
constexpr std::array<std::string_view, 14> kOnNotes{"palm mute", "half palm mute",  "let ring",   "slur",  "8va",
                                                    "8vb",       "crescendo",       "diminuendo", "trill", "vibrato",
                                                    "harmonics", "tremolo picking", "staccato",   "legato"};

constexpr std::array<std::string_view, 11> kLevels{"n", "pppp", "ppp", "pp", "p", "mp", "mf", "f", "ff", "fff", "ffff"};

int level_of(const std::string& text) {
  const auto at = std::find(kLevels.begin(), kLevels.end(), text);
  return at == kLevels.end() ? -1 : static_cast<int>(at - kLevels.begin());
}

bool is_sound(const PlayedCell& cell) {
  const auto* sign = cell.sign<song::StringSign>();
  return !cell.silence() && !(sign && (sign->continues || sign->tied));
}

struct Level {
  Moment at;
  int level = -1;  ///< -1: sf, fp and the like, which are of one stroke
  Span span{};
  std::string text;
};

std::vector<Level> levels_of(const Playing& playing) {
  std::vector<Level> out;
  for (const CheckedMusic* music : {&playing.chart, &playing.music})
    for (const PlacedLane& lane : music->lanes) {
      if (lane.kind != LaneKind::Dynamics) continue;
      for (const PlacedCell& cell : lane.cells)
        if (const auto* word = std::get_if<song::WordCell>(&cell.cell->content))
          out.push_back({{cell.bar, cell.onset}, level_of(word->text), cell.cell->span, word->text});
    }
  std::stable_sort(out.begin(), out.end(), [](const Level& a, const Level& b) { return a.at < b.at; });
  return out;
}

class Spans {
 public:
  Spans(Context& context, const Playing& playing) : context_(context), playing_(playing), levels_(levels_of(playing)) {
    for (const PlayedCell& cell : playing.cells) {
      if (is_sound(cell) && (beginnings_.empty() || beginnings_.back() != cell.at())) beginnings_.push_back(cell.at());
      const auto* string = cell.sign<song::StringSign>();
      const auto* drum = cell.sign<song::DrumSign>();
      const auto* pitch = cell.sign<song::PitchSign>();
      if ((string && string->tremolo) || (drum && drum->roll > 0) || (pitch && pitch->tremolo))
        swelling_.push_back(cell.at());
    }
    for (const InForce& shape : playing.music.shapes)
      if (shape.index >= 0) beginnings_.push_back({shape.bar, shape.onset});
    std::sort(beginnings_.begin(), beginnings_.end());
    follow();
  }

  void run() {
    for (const PlacedLane& lane : playing_.music.lanes) {
      if (lane.kind == LaneKind::Mark) gather(lane);
      if (lane.kind == LaneKind::Pedal) pedal(lane);
      if (lane.kind == LaneKind::Arm) arm(lane);
    }
    for (const Stretched& span : spans_) {
      under(span);
      hairpin(span);
    }
    std::stable_sort(spans_.begin(), spans_.end(),
                     [](const Stretched& a, const Stretched& b) { return a.from < b.from; });
    for (std::size_t i = 0; i < spans_.size(); ++i)
      for (std::size_t j = i + 1; j < spans_.size() && spans_[j].from < spans_[i].to; ++j)
        contradict(spans_[i], spans_[j]);
  }

 private:
  Moment end_of_section() const { return {static_cast<int>(playing_.section.bars.size()), Fraction(0)}; }

  void gather(const PlacedLane& lane) {
    const std::size_t first = spans_.size();
    for (const PlacedCell& cell : lane.cells) {
      const Moment at{cell.bar, cell.onset};
      const bool on = std::holds_alternative<song::SpanSign>(cell.cell->content);
      const bool open = spans_.size() > first && !spans_.back().ended;
      if (open) {
        spans_.back().to = at;
        spans_.back().ended = true;
      } else if (!on) {
        context_.say(
            Kind::NothingToEnd, cell.cell->span,
            "the lane " + diag::quoted(lane.name) + " ends in " + bar_words(cell.bar) + ", and it has not begun",
            "a span begins with on, goes on with -, and ends with .", "write on where it begins, or take the . away");
      }
      if (on) spans_.push_back({&lane.subject, at, end_of_section(), false, cell.cell->span});
    }
    if (spans_.size() > first && !spans_.back().ended) never_ends(spans_[first], spans_.back());
  }

  /// Who ends the others ends this one too; a hairpin or a rake over many bars is a forgotten end.
  void never_ends(const Stretched& first, const Stretched& last) {
    const int bars = last.to.first - last.from.first;
    const std::string& kind = *last.kind;
    const bool growing = kind == "crescendo" || kind == "diminuendo" || kind == "accelerando" || kind == "ritardando";
    const bool forgotten = &first != &last && first.ended && bars > 2;
    if (!forgotten && !(growing && bars > 4) && !(kind == "rake" && bars > 1)) return;
    context_.say(Kind::SpanNeverEnds, last.span,
                 "the lane " + diag::quoted(kind) + " begins in " + bar_words(last.from.first) +
                     " and never ends, so it runs over " + std::to_string(bars) + " bars",
                 "a span ends with . or with the section", "write . where it ends");
  }

  std::size_t notes_in(Moment from, Moment to, bool inclusive) const {
    const auto begin = std::lower_bound(beginnings_.begin(), beginnings_.end(), from);
    const auto end =
        inclusive ? std::upper_bound(begin, beginnings_.end(), to) : std::lower_bound(begin, beginnings_.end(), to);
    return static_cast<std::size_t>(end - begin);
  }

  /// Something that began before the span is still held where it begins.
  bool held_at(Moment from) const {
    const auto less = [](const std::pair<Moment, bool>& state, const Moment& place) { return state.first < place; };
    const auto at = std::lower_bound(held_.begin(), held_.end(), from, less);
    return at != held_.begin() && std::prev(at)->second;
  }

  /// After each moment: whether a voice holds something. A new note ends what its voice held, a silence its own lane.
  void follow() {
    std::array<std::set<std::pair<const PlacedLane*, int>>, 2> voices;
    for_each_moment(playing_.cells, [&](auto begin, auto end) {
      for (auto it = begin; it != end; ++it)
        if (is_sound(*it)) voices[it->lane->lower ? 1 : 0].clear();
      for (auto it = begin; it != end; ++it) {
        auto& voice = voices[it->lane->lower ? 1 : 0];
        if (it->silence()) voice.erase({it->lane, it->cell->string});
        if (!it->silence()) voice.insert({it->lane, it->cell->string});
      }
      held_.push_back({begin->at(), !voices[0].empty() || !voices[1].empty()});
    });
  }

  void under(const Stretched& span) {
    const std::string& kind = *span.kind;
    if (std::find(kOnNotes.begin(), kOnNotes.end(), kind) == kOnNotes.end()) return;
    const std::size_t notes = notes_in(span.from, span.to, kind == "slur");
    if (notes == 0 && !held_at(span.from)) {
      context_.say(Kind::NothingToMark, span.span,
                   "nothing sounds under the span " + diag::quoted(kind) + " in " + bar_words(span.from.first),
                   "a span marks the notes under it", "move it over notes, or take it away");
    } else if (kind == "slur" && notes + (held_at(span.from) ? 1 : 0) < 2) {
      context_.say(Kind::NothingToMark, span.span,
                   "the slur in " + bar_words(span.from.first) + " covers a single note",
                   "a slur joins at least two notes; it ends with . behind the last", "let it reach the next note");
    }
  }

  bool can_swell(const Stretched& span) const {
    const Family family = playing_.part.instrument.family;
    if (family == Family::Bowed || family == Family::Voice || family == Family::Wind) return true;
    const std::string& name = playing_.part.instrument.name;
    if (name == "organ" || name == "accordion" || name == "synthesizer") return true;
    for (const std::string_view mark : {"volume swell", "feedback", "tremolo picking", "fade in", "fade out", "trill"})
      if (playing_.under(mark, span.from)) return true;
    return std::any_of(swelling_.begin(), swelling_.end(), [&](const Moment& at) { return at < span.to; });
  }

  void hairpin(const Stretched& span) {
    const bool up = *span.kind == "crescendo";
    if (!up && *span.kind != "diminuendo") return;
    if (up && notes_in(span.from, span.to, true) == 1 && !can_swell(span)) {
      context_.say(Kind::NothingToMark, span.span,
                   "the crescendo in " + bar_words(span.from.first) +
                       " has no length to grow over: a single stroke of " +
                       with_article(playing_.part.instrument.name) + " falls under it",
                   "a note that is plucked or struck only fades; a hairpin grows from note to note",
                   "let it reach over more notes, or write a tremolo or a volume swell");
      return;
    }
    levels(span, up);
  }

  void levels(const Stretched& span, bool up) {
    const auto later = [](const Moment& place, const Level& level) { return place < level.at; };
    const auto begin = std::upper_bound(levels_.begin(), levels_.end(), span.from, later);
    const auto end = std::upper_bound(levels_.begin(), levels_.end(), span.to, later);
    if (begin == levels_.begin() || end == levels_.begin()) return;
    const Level &before = *std::prev(begin), &after = *std::prev(end);
    if (after.at != span.to || before.level < 0 || after.level < 0) return;
    if (up ? before.level < after.level : after.level < before.level) return;
    context_.sink.add({Kind::MarksContradict,
                       {{span.span, up ? "louder from here" : "softer from here"},
                        {before.span, "from " + before.text},
                        {after.span, "to " + after.text}},
                       "the " + *span.kind + " leads from " + before.text + " to " + after.text,
                       up ? "a crescendo leads to something louder" : "a diminuendo leads to something softer",
                       std::string("write ") + (up ? "diminuendo" : "crescendo") + ", or mend the dynamics"});
  }

  void contradict(const Stretched& a, const Stretched& b) {
    const bool opposite = std::any_of(kOpposites.begin(), kOpposites.end(), [&](const auto& pair) {
      return (*a.kind == pair.first && *b.kind == pair.second) || (*b.kind == pair.first && *a.kind == pair.second);
    });
    if (!opposite) return;
    context_.say_both(Kind::MarksContradict, b.span, *b.kind, a.span, *a.kind,
                      diag::quoted(*a.kind) + " and " + diag::quoted(*b.kind) + " are on at the same time in " +
                          bar_words(std::max(a.from.first, b.from.first)),
                      "one of them undoes the other", "end the first with . before the second begins");
  }

  void pedal(const PlacedLane& lane) {
    bool down = false;
    for (const PlacedCell& cell : lane.cells) {
      const auto* word = std::get_if<song::WordCell>(&cell.cell->content);
      const std::string text = word ? word->text : ".";
      if (!down && (text == "." || text == "change"))
        context_.say(Kind::NothingToEnd, cell.cell->span,
                     std::string("the pedal is ") + (word ? "changed" : "lifted") + " in " + bar_words(cell.bar) +
                         ", and it is not down",
                     "on puts the pedal down, change lifts it and puts it down again, . lifts it",
                     "write on where the foot goes down");
      down = word != nullptr;
    }
  }

  void arm(const PlacedLane& lane) {
    bool away = false;
    for (const PlacedCell& cell : lane.cells) {
      const auto* sign = std::get_if<ArmSign>(&cell.cell->content);
      if (!sign) {
        away = false;
        continue;
      }
      const Moment at{cell.bar, cell.onset};
      if (sign->action == ArmSign::Action::Back && !away) {
        context_.say(Kind::NothingToEnd, cell.cell->span,
                     "the arm goes back in " + bar_words(cell.bar) + ", and it has not been moved",
                     "dive and up leave the arm where it is, and back brings it to rest; a dip returns by itself",
                     "write dive or up before it, or take it away");
      } else if (notes_in(at, at, true) == 0 && !held_at(at)) {
        context_.say(
            Kind::NothingToMark, cell.cell->span,
            "nothing sounds where the arm makes " + context_.words(cell.cell->span) + " in " + bar_words(cell.bar),
            "the vibrato bar bends notes that sound", "move it over a note");
      }
      reach(*sign, cell);
      if (sign->action == ArmSign::Action::Dive || sign->action == ArmSign::Action::Up) away = true;
      if (sign->action == ArmSign::Action::Back) away = false;
    }
  }

  void reach(const ArmSign& sign, const PlacedCell& cell) {
    constexpr int kUp = 7, kDown = 24;  // semitones: what floating bridges do at most
    const int most = sign.action == ArmSign::Action::Up ? kUp : kDown;
    if (!(Fraction(most) < sign.semitones)) return;
    context_.say(Kind::WideBend, cell.cell->span,
                 "the arm is to move " + context_.words(cell.cell->span) + ", " +
                     std::to_string(sign.semitones.floor()) + " semitones",
                 "a vibrato bar raises a string by " + std::to_string(kUp) + " semitones at most, and lowers it by " +
                     std::to_string(kDown),
                 "write a smaller number: the figure counts semitones");
  }

  Context& context_;
  const Playing& playing_;
  std::vector<Level> levels_;
  std::vector<Moment> beginnings_, swelling_;
  std::vector<std::pair<Moment, bool>> held_;
  std::vector<Stretched> spans_;
};

}  // namespace

void judge_spans(Context& context, const Playing& playing) {
  Spans(context, playing).run();
}

/// "a tempo" comes back from something.
void check_tempo_returns(Context& context) {
  bool changed = false;
  const auto look = [&](const CheckedMusic& music, bool& section_changes) {
    for (const PlacedLane& lane : music.lanes) {
      if (lane.kind == LaneKind::Mark && (lane.subject == "ritardando" || lane.subject == "accelerando"))
        section_changes = section_changes || !lane.cells.empty();
      if (lane.kind != LaneKind::Tempo) continue;
      for (const PlacedCell& cell : lane.cells) {
        const auto* word = std::get_if<song::WordCell>(&cell.cell->content);
        if (!word) continue;
        if (word->text == "a tempo" && !changed && !section_changes)
          context.say(Kind::NothingToEnd, cell.cell->span, "the tempo comes back here, and nothing has changed it",
                      "a tempo returns to the tempo before a change such as rit. or accel.",
                      "write the change before it, or take it away");
        section_changes = true;
      }
    }
  };
  for (const CheckedSection& section : context.data.sections) {
    bool here = section.def->tempo.has_value();
    for (const CheckedMusic& music : section.parts)
      for (const PlacedLane& lane : music.lanes)
        if (lane.kind == LaneKind::Mark && (lane.subject == "ritardando" || lane.subject == "accelerando")) here = true;
    look(section.chart, here);
    for (const CheckedMusic& music : section.parts) look(music, here);
    changed = changed || here;
  }
}

}  // namespace tunesheaf::check
