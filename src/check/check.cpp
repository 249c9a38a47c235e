#include <algorithm>

#include "context.h"
#include "tunesheaf/base/edit_distance.h"

namespace tunesheaf::check {

std::string nearest_remedy(std::string_view word, const std::vector<std::string>& known, std::string_view kind) {
  if (auto near = base::nearest_word(word, known)) return "did you mean " + diag::quoted(*near) + "?";
  if (known.empty()) return "the song has no " + std::string(kind) + " yet; write one";
  constexpr std::size_t kMost = 8;
  std::string list;
  for (std::size_t i = 0; i < known.size() && i < kMost; ++i) list += (i == 0 ? "" : ", ") + known[i];
  if (known.size() > kMost) list += " and " + std::to_string(known.size() - kMost) + " more";
  return "the " + std::string(kind) + " are " + list;
}

bool on_strings(song::LaneKind kind) {
  using song::LaneKind;
  return kind == LaneKind::String || kind == LaneKind::Thumb || kind == LaneKind::FretOf || kind == LaneKind::StringOf;
}

bool plays(song::LaneKind kind) {
  using song::LaneKind;
  return on_strings(kind) || kind == LaneKind::Strum || kind == LaneKind::Notes || kind == LaneKind::Right ||
         kind == LaneKind::Left || kind == LaneKind::Kit;
}

std::string with_article(const std::string& name) {
  const bool vowel = !name.empty() && std::string_view("aeioAEIO8").find(name[0]) != std::string_view::npos;
  return (vowel ? "an " : "a ") + name;
}

std::string bar_words(int bar) {
  return "bar " + std::to_string(bar + 1) + " of the section";
}

namespace {

/// Faults that are likely only echoes of a fault of reading: what could not be read is missing here.
bool may_be_an_echo(Kind kind) {
  switch (kind) {
    case Kind::Unused:
    case Kind::EmptySection:
    case Kind::LanesUnequal:
    case Kind::PartsUnequal:
    case Kind::NothingToMark:
    case Kind::LaneAlone:
    case Kind::NothingBefore:
    case Kind::NoSuchBar:
    case Kind::BadForm:
    case Kind::ClaimDiffers:
      return true;
    default:
      return false;
  }
}

/// A name that a fault of reading has told already as a key nobody knows: a part that is called otherwise in `parts`.
bool told_of_its_name(const diag::Diagnostic& item, const std::vector<diag::Diagnostic>& earlier,
                      const source::File& file) {
  if (item.kind != Kind::UnknownName || item.labels.empty()) return false;
  const std::string name = diag::quoted(file.slice(item.labels.front().span));
  return std::any_of(earlier.begin(), earlier.end(), [&](const diag::Diagnostic& told) {
    return told.kind == Kind::UnknownKey && told.situation.find(name) != std::string::npos;
  });
}

/// Hands on what was found; after faults of reading only what cannot be an echo of them.
void hand_on(const diag::Sink& found, diag::Sink& sink, const source::File& file) {
  std::set<std::uint32_t> lines;
  const bool echoes = sink.has_errors();
  const std::vector<diag::Diagnostic> earlier = echoes ? sink.sorted() : std::vector<diag::Diagnostic>{};
  for (const diag::Diagnostic& told : earlier)
    for (const diag::Label& label : told.labels) lines.insert(file.place(label.span.begin).line);
  for (diag::Diagnostic& item : found.sorted()) {
    const bool same_line = std::any_of(item.labels.begin(), item.labels.end(), [&](const diag::Label& label) {
      return lines.count(file.place(label.span.begin).line) > 0;
    });
    // What is unused or not printed is worth saying of a song that is otherwise in order.
    const bool minor = item.kind == Kind::Unused || item.kind == Kind::NotPrinted;
    if (minor && found.has_errors()) continue;
    if (echoes && (same_line || may_be_an_echo(item.kind) || told_of_its_name(item, earlier, file))) continue;
    sink.add(std::move(item));
  }
}

}  // namespace

std::optional<CheckedSong> check(song::Song written, const source::File& file, diag::Sink& sink) {
  CheckedData data;
  data.song = std::make_shared<const song::Song>(std::move(written));
  diag::Sink found;
  Context context{*data.song, file, found, data};
  check_song_heading(context);
  check_parts(context);
  check_stand_ins(context);
  check_recordings(context);
  check_shapes(context);
  check_patterns(context);
  const std::vector<SectionContent> content = gather_sections(context);
  check_bars(context, content);
  check_form(context);
  check_retunes(context, content);
  lay_patterns(context, content);
  check_lanes(context);
  check_strings(context);
  check_tab_alone(context);
  check_accents(context);
  if (context.wrong_sums.empty()) check_playing(context);  // who plays at once is known when the bars are
  if (context.wrong_sums.empty()) check_cues(context);
  check_start(context);
  check_pick_up_lengths(context);
  check_tempo_returns(context);
  check_words(context);
  check_form_reached(context);
  check_seams(context);
  check_pick_ups(context);
  check_times(context);
  check_claims(context);
  check_unused(context);
  say_not_printed(context);
  say_changes_nothing(context);
  const bool sound = !found.has_errors() && !sink.has_errors();
  hand_on(found, sink, file);
  if (!sound) return std::nullopt;
  return CheckedSong(std::move(data));
}

}  // namespace tunesheaf::check
