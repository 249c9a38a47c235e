#include "chart_players.h"

#include <algorithm>
#include <optional>
#include <span>

#include "tunesheaf/blocks/words.h"
#include "tunesheaf/theory/chord.h"

namespace tunesheaf::blocks {
namespace {

bool sounds_in(std::span<const score::Segment> bar) {
  return std::any_of(bar.begin(), bar.end(), [](const score::Segment& s) { return s.event >= 0 && !s.rest; });
}

bool plays_in(const score::PartMusic& music, std::size_t bar) {
  return std::any_of(music.voices.begin(), music.voices.end(),
                     [&](const score::Voice& voice) { return bar < voice.bars.size() && sounds_in(voice.bars[bar]); });
}

bool plays(const score::PartMusic& music) {
  return std::any_of(music.voices.begin(), music.voices.end(), [](const score::Voice& voice) {
    return std::any_of(voice.bars.begin(), voice.bars.end(), sounds_in);
  });
}

std::string name_of(const score::Timeline& song, const score::PartMusic& music) {
  return song.parts[static_cast<std::size_t>(music.part)].name.value;
}

const score::Section& section_of(const score::Timeline& song, const ChartStep& step) {
  return song.sections[static_cast<std::size_t>(step.section)];
}

/// Bars before the first whole one, and that one.
std::size_t first_whole_bar(const score::Section& section) {
  std::size_t bar = 0;
  while (bar + 1 < section.bars.size() && section.bars[bar].pick_up) ++bar;
  return bar;
}

/// "1 2 3 4", and, before a pick-up, the beats of the next bar that go before it.
std::string count_of(const score::Section& section) {
  if (section.bars.empty()) return {};
  const score::Bar& bar = section.bars[first_whole_bar(section)];
  std::string out;
  const auto beats = bar.meter.beats();
  for (std::size_t i = 0; i < beats.size(); ++i) out += (i == 0 ? "" : " ") + std::to_string(i + 1);
  const score::Bar& first = section.bars.front();
  if (!first.pick_up) return out;
  const Fraction starts = bar.meter.bar_length() - first.length;
  out += " \u00b7";
  for (std::size_t i = 0; i < beats.size(); ++i) {
    if (beats[i].onset < starts) out += " " + std::to_string(i + 1);
  }
  return out;
}

/// True when no part sounds at any time from `begin` to `end` of a bar.
bool silent(const score::Section& section, std::size_t bar, Fraction begin, Fraction end) {
  for (const score::PartMusic& music : section.parts) {
    for (const score::Voice& voice : music.voices) {
      if (bar >= voice.bars.size()) continue;
      for (const score::Segment& segment : voice.bars[bar]) {
        const bool inside = segment.onset < end && begin < segment.onset + segment.duration;
        if (segment.event >= 0 && !segment.rest && inside) return false;
      }
    }
  }
  return true;
}

bool strikes_within(const score::PartMusic& music, std::size_t bar, Fraction begin, Fraction end) {
  return std::any_of(music.voices.begin(), music.voices.end(), [&](const score::Voice& voice) {
    return bar < voice.bars.size() &&
           std::any_of(voice.bars[bar].begin(), voice.bars[bar].end(), [&](const score::Segment& s) {
             return s.event >= 0 && !s.rest && !s.tied_from && begin <= s.onset && s.onset < end;
           });
  });
}

/// From where on a part sounds in a bar, and where it is silent again for good; nothing where it rests.
std::optional<std::pair<Fraction, Fraction>> sounds_from(const score::PartMusic& music, std::size_t bar) {
  std::optional<std::pair<Fraction, Fraction>> out;
  for (const score::Voice& voice : music.voices) {
    if (bar >= voice.bars.size()) continue;
    for (const score::Segment& segment : voice.bars[bar]) {
      if (segment.event < 0 || segment.rest) continue;
      const Fraction end = segment.onset + segment.duration;
      if (!out) out.emplace(segment.onset, end);
      out->first = base::min(out->first, segment.onset);
      out->second = std::max(out->second, end);
    }
  }
  return out;
}

/// "drums fill": who sounds in the rest of a bar after all have stopped, where that is a few alone.
std::string fills(const score::Timeline& song, const score::Section& section, std::size_t bar, Fraction from) {
  constexpr std::size_t kFew = 2;
  std::vector<std::string> names;
  for (const score::PartMusic& music : section.parts) {
    const auto sounds = sounds_from(music, bar);
    if (sounds && from < sounds->second) names.push_back(name_of(song, music));
  }
  if (names.empty() || names.size() > kFew || names.size() == section.parts.size()) return {};
  return list_words(names) + (names.size() == 1 && !names.front().ends_with("s") ? " fills" : " fill");
}

/// "cajon\u00a0rests": the verb never stands alone on a line.
std::string rest_words(const std::vector<std::string>& names) {
  return list_words(names) + (names.size() == 1 ? "\u00a0rests" : "\u00a0rest");
}

/// True when a part comes in only at the end of a bar, after a whole bar of rest, and leads over the bar line.
bool comes_in_late(const score::Section& section, const score::PartMusic& music, std::size_t bar) {
  if (bar == 0 || plays_in(music, bar - 1)) return false;
  const auto sounds = sounds_from(music, bar);
  const Fraction length = section.bars[bar].length;
  return sounds && length / Fraction(2) <= sounds->first && sounds->second == length;
}

bool ends_a_round(const score::Section& section, std::size_t bar) {
  return bar + 1 == section.bars.size() || section.bars[bar].ending_end;
}

/// A part's first bar as played: index into Timeline::played.
std::optional<std::size_t> first_played(const score::Timeline& song, std::size_t part) {
  for (std::size_t i = 0; i < song.played.size(); ++i) {
    const score::PlayedBar& bar = song.played[i];
    const score::Section& section = song.sections[static_cast<std::size_t>(bar.section)];
    if (part < section.parts.size() && plays_in(section.parts[part], static_cast<std::size_t>(bar.bar))) return i;
  }
  return std::nullopt;
}

/// "at B", "at C bar 5", "at the end of A".
std::string place_words(const score::Section& section, const score::PartMusic& music, std::size_t bar) {
  if (ends_a_round(section, bar) && comes_in_late(section, music, bar)) return "at the end of " + section.letter;
  const std::size_t whole = bar - std::min(bar, first_whole_bar(section));
  return "at " + section.letter + (whole == 0 ? "" : " bar " + std::to_string(whole + 1));
}

/// Names of what one reads where the page has the chords of the song: "G is A, D7 is E7".
std::string translated(const score::Timeline& song, const theory::Key& page_key, const ChartPlayer& reader) {
  constexpr std::size_t kMost = 5;
  std::vector<std::string> known;
  std::string out;
  for (const score::Section& section : song.sections) {
    for (const score::Harmony* harmony : chords_of(section)) {
      const theory::Key& key = section.bars[static_cast<std::size_t>(harmony->at.bar)].key;
      if (!harmony->name || harmony->none || known.size() == kMost || key != page_key) continue;
      const std::string page = theory::print(*harmony->name, theory::Accidentals::Signs);
      if (std::find(known.begin(), known.end(), page) != known.end()) continue;
      known.push_back(page);
      const auto read = chord_for(*harmony->name, reader, ChartNames::Hand, key);
      out += (out.empty() ? "" : ", ") + page + "\u00a0is\u00a0" + theory::print(read, theory::Accidentals::Signs);
    }
  }
  return out;
}

/// The keys of the song, its own first, each with the letters of the sections that stand in it.
std::vector<std::pair<theory::Key, std::vector<std::string>>> keys_of(const score::Timeline& song) {
  std::vector<std::pair<theory::Key, std::vector<std::string>>> out{{*song.key, {}}};
  for (const score::Section& section : song.sections) {
    for (const score::Bar& bar : section.bars) {
      auto known = std::find_if(out.begin(), out.end(), [&](const auto& one) { return one.first == bar.key; });
      if (known == out.end()) known = out.insert(out.end(), {bar.key, {}});
      if (known->second.empty() || known->second.back() != section.letter) known->second.push_back(section.letter);
    }
  }
  return out;
}

}  // namespace

std::string who_rests(const score::Timeline& song, const score::Section& section, const std::set<int>& said) {
  if (song.parts.size() < 2) return {};
  std::vector<std::string> resting, playing;
  for (const score::PartMusic& music : section.parts) {
    if (plays(music)) {
      playing.push_back(name_of(song, music));
    } else if (said.count(music.part) == 0) {
      resting.push_back(name_of(song, music));
    }
  }
  if (resting.empty() || playing.empty()) return {};
  if (playing.size() < resting.size()) return "only " + list_words(playing);
  return rest_words(resting);
}

std::string rests_in_most(const score::Timeline& song, std::set<int>& said) {
  constexpr std::size_t kOften = 3;
  std::string out;
  for (std::size_t p = 0; p < song.parts.size() && song.parts.size() > 1; ++p) {
    std::vector<std::string> letters;
    std::size_t rests = 0;
    for (const score::Section& section : song.sections) {
      if (p >= section.parts.size()) continue;
      if (plays(section.parts[p])) {
        letters.push_back(section.letter);
      } else {
        ++rests;
      }
    }
    if (rests < kOften || rests <= letters.size()) continue;
    said.insert(static_cast<int>(p));
    const std::string& name = song.parts[p].name.value;
    out +=
        (out.empty() ? "" : "; ") + name + (letters.empty() ? " rests throughout" : " only in " + list_words(letters));
  }
  return out;
}

void who_starts(const score::Timeline& song, const std::set<int>& said, ChartContent& chart) {
  if (chart.form.empty()) return;
  const score::Section& first = section_of(song, chart.form.front());
  // Where the count is written out, the song says itself who counts.
  const bool written = !chart.count_in.empty();
  const bool uncounted = song.counts_in && song.counts_in->value == song::kNobody;
  if (!written) chart.count_in = uncounted ? "none" : count_of(first);
  std::vector<std::string> starts;
  std::vector<std::pair<std::size_t, std::size_t>> later;  // index into the bars played, part
  const score::Part* counts = nullptr;
  for (std::size_t p = 0; p < first.parts.size(); ++p) {
    const auto at = first_played(song, p);
    if (!at) continue;
    if (*at > first_whole_bar(first)) {
      if (said.count(static_cast<int>(p)) == 0) later.emplace_back(*at, p);
      continue;
    }
    const score::Part& part = song.parts[p];
    if (song.starts.empty()) starts.push_back(part.name.value);
    if (counts == nullptr || (!part.kit.empty() && counts->kit.empty())) counts = &part;
  }
  for (const score::Text& name : song.starts) starts.push_back(name.value);
  if (song.counts_in) {
    chart.counts = uncounted ? std::string() : song.counts_in->value;
  } else if (counts != nullptr && !written) {
    chart.counts = counts->name.value;
  }
  chart.starts = list_words(starts);
  std::sort(later.begin(), later.end());
  for (std::size_t i = 0; i < later.size();) {
    const score::PlayedBar& at = song.played[later[i].first];
    const score::Section& section = song.sections[static_cast<std::size_t>(at.section)];
    const std::string place = place_words(section, section.parts[later[i].second], static_cast<std::size_t>(at.bar));
    std::vector<std::string> names;
    for (const std::size_t now = later[i].first; i < later.size() && later[i].first == now; ++i) {
      names.push_back(song.parts[later[i].second].name.value);
    }
    chart.enters += (chart.enters.empty() ? "" : ", ") + list_words(names) + " " + place;
  }
}

void who_reads(const score::Timeline& song, ChartContent& chart) {
  const bool page = chart.player.words.empty() && chart.names == ChartNames::Hand;
  if (!page || !song.key) return;
  std::vector<std::pair<int, std::vector<std::string>>> readers;  // semitones from the page, names
  for (const score::Part& part : song.parts) {
    const int up = ((part.from_page.semitones % 12) + 12) % 12;
    if (up == 0 || !part.kit.empty()) continue;
    const auto known = std::find_if(readers.begin(), readers.end(), [&](const auto& one) { return one.first == up; });
    if (known != readers.end()) {
      known->second.push_back(part.name.value);
    } else {
      readers.push_back({up, {part.name.value}});
    }
  }
  for (const auto& [up, names] : readers) {
    ChartPlayer reader;
    reader.up = up;
    chart.reads += (chart.reads.empty() ? "" : "; ") + list_words(names) + (names.size() == 1 ? " reads" : " read");
    for (const auto& [key, letters] : keys_of(song)) {
      if (key != *song.key) chart.reads += "; in " + list_words(letters);
      chart.reads += " in " + key_words(key_for(key, reader, ChartNames::Hand));
      const std::string chords = translated(song, key, reader);
      if (!chords.empty()) chart.reads += ": " + chords;
    }
  }
}

std::vector<Stop> stops(const score::Timeline& song, const score::Section& section) {
  std::vector<Stop> out;
  if (song.parts.empty()) return out;
  for (std::size_t b = 0; b < section.bars.size(); ++b) {
    const score::Bar& bar = section.bars[b];
    const auto beats = bar.meter.beats();
    bool sounded = false, stopped = false;
    for (const theory::BarSpan& beat : beats) {
      if (bar.pick_up || bar.length < beat.end()) break;
      const bool quiet = silent(section, b, beat.onset, beat.end());
      if (quiet && sounded && !stopped)
        out.push_back({static_cast<int>(b), beat.onset, fills(song, section, b, beat.end())});
      stopped = quiet;
      sounded = sounded || !quiet;
    }
  }
  return out;
}

std::vector<PickUp> pick_ups(const score::Timeline& song, const score::Section& section) {
  std::vector<PickUp> out;
  const auto add = [&](std::size_t bar, Fraction onset, const std::string& name) {
    const auto known = std::find_if(out.begin(), out.end(), [&](const PickUp& one) {
      return one.bar == static_cast<int>(bar) && one.onset == onset;
    });
    if (known != out.end()) {
      known->players += ", " + name;
    } else {
      out.push_back({static_cast<int>(bar), onset, section.bars[bar].length - onset, name});
    }
  };
  if (song.parts.size() < 2) return out;
  for (std::size_t b = 0; b < section.bars.size(); ++b) {
    for (const score::PartMusic& music : section.parts) {
      if (section.bars[b].pick_up && b < first_whole_bar(section)) {
        if (const auto sounds = sounds_from(music, b)) add(b, sounds->first, name_of(song, music));
      } else if (ends_a_round(section, b) && comes_in_late(section, music, b)) {
        add(b, sounds_from(music, b)->first, name_of(song, music));
      }
    }
  }
  return out;
}

Fraction plays_on(const score::Section& section, std::size_t bar, Fraction first) {
  return silent(section, bar, Fraction{}, first) ? Fraction{} : first;
}

std::optional<Fraction> plays_again(const score::Timeline& song, const score::Section& section, std::size_t bar,
                                    Fraction end) {
  std::optional<Fraction> from;
  for (const theory::BarSpan& beat : section.bars[bar].meter.beats()) {
    if (beat.onset < end) continue;
    const bool struck = std::any_of(section.parts.begin(), section.parts.end(), [&](const score::PartMusic& music) {
      const bool drums = !song.parts[static_cast<std::size_t>(music.part)].kit.empty();
      return !drums && strikes_within(music, bar, beat.onset, beat.end());
    });
    if (!struck) from.reset();
    if (struck && !from) from = beat.onset;
  }
  return from;
}

}  // namespace tunesheaf::blocks
