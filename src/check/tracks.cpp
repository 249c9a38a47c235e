#include <algorithm>
#include <map>

#include "context.h"

namespace tunesheaf::check {
namespace {

using song::LaneKind;

struct TrackKey {
  LaneKind kind;
  int string;
  std::string subject;
  friend auto operator<=>(const TrackKey&, const TrackKey&) = default;
};

TrackKey key_of(const song::Lane& lane) {
  return {lane.kind, lane.string, lane.subject};
}

Track& track_for(Tracks& tracks, const song::Lane& lane) {
  for (Track& track : tracks.tracks)
    if (key_of(*track.lane) == key_of(lane)) return track;
  tracks.tracks.push_back({&lane, std::vector<const song::LaneBar*>(static_cast<std::size_t>(tracks.bars), nullptr)});
  return tracks.tracks.back();
}

std::string bars_text(std::size_t count) {
  return std::to_string(count) + (count == 1 ? " bar" : " bars");
}

void say_unequal(Context& context, const song::Lane& lane, const song::Lane& longest) {
  context.say_both(Kind::LanesUnequal, lane.name.span, bars_text(lane.bars.size()), longest.name.span,
                   bars_text(longest.bars.size()),
                   "the lane " + diag::quoted(lane.name.value) + " has " + bars_text(lane.bars.size()) + ", and " +
                       diag::quoted(longest.name.value) + " beside it has " + std::to_string(longest.bars.size()),
                   "lanes that stand together run through the same bars; an empty bar is | |",
                   "add the bars that are missing, or take away those that are too many");
}

const song::Lane& longest_of(const song::Stanza& stanza) {
  const song::Lane* longest = &stanza.lanes.front();
  // The commonest length is the one that is meant; of two equally common ones the longer.
  std::map<std::size_t, int> lengths;
  for (const auto& lane : stanza.lanes) ++lengths[lane.bars.size()];
  std::size_t best = 0;
  int most = 0;
  for (const auto& [length, count] : lengths)
    if (count >= most) {
      most = count;
      best = length;
    }
  for (const auto& lane : stanza.lanes)
    if (lane.bars.size() == best) {
      longest = &lane;
      break;
    }
  return *longest;
}

/// The bar itself, or the one that % or %% stands for.
const song::LaneBar* looked_up(Context& context, const song::LaneBar& bar,
                               const std::vector<const song::LaneBar*>& so_far) {
  if (!bar.repeat_before && !bar.repeat_two) return &bar;
  const std::size_t back = bar.repeat_two ? 2 : 1;
  const song::LaneBar* again = so_far.size() < back ? nullptr : so_far[so_far.size() - back];
  if (again == nullptr && bar.repeat_two) {
    context.say(Kind::NothingBefore, bar.span, "%% has no bar two before it to repeat in this lane",
                "%% alone in a bar repeats the bar two before; two of them bring two bars back", "write the bar out");
  } else if (again == nullptr) {
    context.say(Kind::NothingBefore, bar.span, "% has no bar before it to repeat in this lane",
                "% alone in a bar repeats the bar before", "write the bar out");
  }
  return again;
}

void add_stanza(Context& context, const song::Stanza& stanza, Tracks& out) {
  if (stanza.lanes.empty()) return;
  const song::Lane& longest = longest_of(stanza);
  std::map<TrackKey, const song::Lane*> seen;
  for (const auto& lane : stanza.lanes) {
    if (lane.bars.size() != longest.bars.size()) say_unequal(context, lane, longest);
    if (auto [at, fresh] = seen.try_emplace(key_of(lane), &lane); !fresh) {
      context.say_both(Kind::LaneTwice, lane.name.span, "again", at->second->name.span, "first here",
                       "the lane " + diag::quoted(lane.name.value) + " stands twice in one stanza",
                       "each lane has one line; a blank line begins the bars that follow",
                       "join the two lines, or part them by a blank line");
      continue;
    }
    Track& track = track_for(out, lane);
    for (const auto& bar : lane.bars) {
      track.bars.push_back(looked_up(context, bar, track.bars));
    }
    track.bars.resize(static_cast<std::size_t>(out.bars) + longest.bars.size(), nullptr);
  }
  out.bars += static_cast<int>(longest.bars.size());
  for (Track& track : out.tracks) track.bars.resize(static_cast<std::size_t>(out.bars), nullptr);
}

bool replaced_by_pattern(LaneKind kind) {
  return plays(kind) || kind == LaneKind::Pattern || kind == LaneKind::Pluck || kind == LaneKind::Pick ||
         kind == LaneKind::Finger;
}

void apply_exception(Context& context, const song::Exception& exception, Tracks& out) {
  const auto resolved = [&](int bar) { return bar < 0 ? out.bars + bar : bar - 1; };
  const int first = resolved(exception.first), last = resolved(exception.last);
  if (first < 0 || last >= out.bars || first > last) {
    context.say(
        Kind::NoSuchBar, exception.where.span,
        context.words(exception.where.span) + " is no bar of this section, which has " + std::to_string(out.bars),
        "an exception names bars as first, last, 3 or 3-4", "name bars the section has");
    return;
  }
  const Tracks changed = gather(context, exception.stanzas);
  if (changed.bars == 0) return;
  const int count = last - first + 1;
  if (changed.bars != count && changed.bars != 1) {
    context.say(Kind::PartsUnequal, exception.where.span,
                "the exception for " + context.words(exception.where.span) + " holds " + std::to_string(changed.bars) +
                    " bars in place of " + std::to_string(count),
                "an exception has as many bars as it replaces, or one that stands for each of them",
                "write " + std::to_string(count) + (count == 1 ? " bar" : " bars"));
    return;
  }
  const bool patterned = std::any_of(changed.tracks.begin(), changed.tracks.end(), [](const Track& t) {
    return t.lane->kind == LaneKind::Pattern || t.lane->kind == LaneKind::Strum;
  });
  for (int i = 0; i < count; ++i) {
    const auto at = static_cast<std::size_t>(first + i);
    const auto from = static_cast<std::size_t>(changed.bars == 1 ? 0 : i);
    // Who writes a pattern for a bar means it in place of what was plucked there.
    for (Track& track : out.tracks)
      if (patterned && replaced_by_pattern(track.lane->kind)) track.bars[at] = nullptr;
    for (const Track& track : changed.tracks) track_for(out, *track.lane).bars[at] = track.bars[from];
  }
}

class Gatherer {
 public:
  explicit Gatherer(Context& context)
      : context_(context), sections_(context.song.sections), done_(sections_.size()), busy_(sections_.size(), 0) {}

  std::vector<SectionContent> all() {
    for (std::size_t i = 0; i < sections_.size(); ++i) section(i);
    std::vector<SectionContent> out;
    for (auto& content : done_) out.push_back(std::move(*content));
    return out;
  }

 private:
  const SectionContent& section(std::size_t index) {
    if (done_[index]) return *done_[index];
    busy_[index] = 1;
    const song::SectionDef& def = sections_[index];
    SectionContent content;
    content.body.resize(context_.data.parts.size() + 1);
    if (const auto base = base_of(def, index)) {
      content = section(*base);
      context_.data.sections[index].like = static_cast<int>(*base);
    }
    fill(def.parts, content.body);
    if (!def.endings.empty()) {
      content.endings.clear();
      content.ending_defs.clear();
      for (const auto& ending : def.endings) {
        std::vector<Tracks> parts(context_.data.parts.size() + 1);
        fill(ending.parts, parts);
        content.endings.push_back(std::move(parts));
        content.ending_defs.push_back(&ending);
      }
    }
    const bool once = def.times.span.length() > 0 && def.times.span != def.name.span && def.times.count == 1;
    if (once && !def.times.until && def.endings.empty()) append_last_ending(content);
    busy_[index] = 0;
    done_[index] = std::move(content);
    return *done_[index];
  }

  /// A section like a repeated one, but played once: its last ending follows the body.
  static void append_last_ending(SectionContent& content) {
    if (content.endings.empty()) return;
    std::size_t last = 0;
    int latest = 0;
    for (std::size_t e = 0; e < content.endings.size(); ++e)
      for (const int pass : content.ending_defs[e]->passes)
        if (pass > latest) {
          latest = pass;
          last = e;
        }
    int bars = 0;
    for (const Tracks& tracks : content.body) bars = std::max(bars, tracks.bars);
    int more = 0;
    for (const Tracks& tracks : content.endings[last]) more = std::max(more, tracks.bars);
    for (std::size_t slot = 0; slot < content.body.size(); ++slot) {
      Tracks& body = content.body[slot];
      const Tracks& ending = content.endings[last][slot];
      if (body.bars == 0 && ending.bars == 0) continue;
      const auto begin = static_cast<std::size_t>(bars);
      body.bars = bars + more;
      for (Track& track : body.tracks) track.bars.resize(static_cast<std::size_t>(body.bars), nullptr);
      for (const Track& track : ending.tracks)
        std::copy(track.bars.begin(), track.bars.end(),
                  track_for(body, *track.lane).bars.begin() + static_cast<std::ptrdiff_t>(begin));
    }
    content.endings.clear();
    content.ending_defs.clear();
  }

  std::optional<std::size_t> base_of(const song::SectionDef& def, std::size_t index) {
    if (!def.like) return std::nullopt;
    for (std::size_t i = 0; i < sections_.size(); ++i) {
      if (sections_[i].name.value != def.like->value) continue;
      if (busy_[i] == 0) return i;
      context_.say_both(Kind::LikeCircle, def.like->span, "like " + diag::quoted(def.like->value),
                        sections_[i].name.span, i == index ? "the section itself" : "and this one leads back",
                        "the section " + diag::quoted(def.name.value) + " is like " + diag::quoted(def.like->value) +
                            ", which in the end is like " + diag::quoted(def.name.value),
                        "`like` must lead to a section that is written out", "write one of them out");
      return std::nullopt;
    }
    std::vector<std::string> names;
    for (const auto& section : sections_) names.push_back(section.name.value);
    context_.say(Kind::UnknownName, def.like->span, "there is no section called " + diag::quoted(def.like->value),
                 "`like` holds the name of another section of this song",
                 nearest_remedy(def.like->value, names, "sections"));
    return std::nullopt;
  }

  void fill(const std::vector<song::PartContent>& parts, std::vector<Tracks>& out) {
    for (const auto& content : parts) {
      std::size_t slot = 0;
      if (content.part.value != "chart") {
        const auto part = part_named(context_, content.part.value);
        if (!part) {
          say_unknown_part(content.part);
          continue;
        }
        slot = static_cast<std::size_t>(*part) + 1;
      }
      Tracks& tracks = out[slot];
      if (!content.stanzas.empty()) tracks = gather(context_, content.stanzas);
      for (const auto& exception : content.except) apply_exception(context_, exception, tracks);
      tracks.stated = true;
      tracks.span = content.part.span;
      if (content.rings) tracks.rings = content.rings->value;
      tracks.from = content.from;
    }
  }

  void say_unknown_part(const song::Text& name) {
    std::vector<std::string> names = {"chart"};
    for (const auto& part : context_.data.parts) names.push_back(part.def->name.value);
    context_.say(Kind::UnknownName, name.span, "there is no part called " + diag::quoted(name.value),
                 "a section holds lanes for the parts of the song, and `chart` for what all share",
                 nearest_remedy(name.value, names, "parts"));
  }

  Context& context_;
  const std::vector<song::SectionDef>& sections_;
  std::vector<std::optional<SectionContent>> done_;
  std::vector<char> busy_;
};

}  // namespace

Tracks gather(Context& context, const std::vector<song::Stanza>& stanzas) {
  Tracks out;
  for (const auto& stanza : stanzas) add_stanza(context, stanza, out);
  out.stated = out.bars > 0;
  return out;
}

std::vector<SectionContent> gather_sections(Context& context) {
  context.data.sections.resize(context.song.sections.size());
  for (std::size_t i = 0; i < context.song.sections.size(); ++i)
    context.data.sections[i].def = &context.song.sections[i];
  return Gatherer(context).all();
}

}  // namespace tunesheaf::check
