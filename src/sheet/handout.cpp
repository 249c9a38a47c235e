#include <algorithm>
#include <set>

#include "expected.h"
#include "pages.h"
#include "tunesheaf/base/edit_distance.h"
#include "tunesheaf/blocks/instead.h"
#include "tunesheaf/blocks/legend.h"
#include "tunesheaf/blocks/map.h"
#include "tunesheaf/blocks/section.h"
#include "tunesheaf/blocks/shapes.h"
#include "tunesheaf/blocks/title.h"
#include "tunesheaf/blocks/tuning.h"
#include "tunesheaf/sheet/sheet.h"

namespace tunesheaf::sheet {
namespace {

using blocks::Flow;
using blocks::Setting;

int find_part(const score::Timeline& song, const std::string& name) {
  for (std::size_t i = 0; i < song.parts.size(); ++i) {
    if (song.parts[i].name.value == name) return static_cast<int>(i);
  }
  return -1;
}

int find_recording(const score::Timeline& song, const std::string& name) {
  int followed = -1;
  for (std::size_t i = 0; i < song.recordings.size(); ++i) {
    if (!name.empty() && song.recordings[i].name.value == name) return static_cast<int>(i);
    if (song.recordings[i].followed) followed = static_cast<int>(i);
  }
  return followed;
}

std::vector<int> chosen_parts(const HandoutRequest& request) {
  std::vector<int> parts;
  for (const std::string& name : request.parts) {
    const int part = find_part(request.song, name);
    if (part >= 0 && std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(part);
  }
  if (!request.parts.empty() && !parts.empty()) return parts;
  for (std::size_t i = 0; i < request.song.parts.size(); ++i) parts.push_back(static_cast<int>(i));
  return parts;
}

void append(Flow& flow, Flow more) {
  for (auto& item : more) flow.push_back(std::move(item));
}

/// A page had better not end within the block.
Flow together(Flow block) {
  constexpr double kWithin = 15;
  for (std::size_t i = 0; i + 1 < block.size(); ++i) block[i].break_cost += kWithin;
  return block;
}

std::string keywords_of(const Setting& setting) {
  std::vector<std::string> words;
  const auto add = [&words](const std::string& word) {
    if (!word.empty() && std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
  };
  for (const int p : setting.parts) add(setting.song.parts[static_cast<std::size_t>(p)].instrument.name);
  if (setting.song.key) add(theory::print(*setting.song.key, theory::Accidentals::Signs));
  if (setting.song.lesson) add(setting.song.lesson->value);
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
  return out;
}

/// What stands on a handout, in three pieces: the last may change its place.
struct Pieces {
  Flow front, sections, keys;
};

Pieces pieces_of(const Setting& setting, const HandoutRequest& request, diag::Sink& sink) {
  Pieces pieces;
  pieces.front = blocks::title_block(setting);
  append(pieces.front, blocks::about_text(setting));
  append(pieces.front, together(blocks::tuning_ladder(setting)));
  append(pieces.front, together(blocks::section_map(setting)));
  append(pieces.front, together(blocks::shapes_block(setting)));
  if (request.instead) append(pieces.front, blocks::instead_block(setting, *request.instead));
  for (std::size_t i = 0; i < setting.song.sections.size(); ++i) {
    blocks::SectionBlock block = blocks::section_block(setting, static_cast<int>(i));
    report_widths(block, sink);
    append(pieces.sections, std::move(block.flow));
  }
  pieces.keys = together(blocks::drum_key(setting));
  if (request.binding == Binding::Alone) append(pieces.keys, blocks::sign_legend(setting));
  Flow credits = blocks::credits(setting);
  // A line of credits stands on no page by itself.
  if (!pieces.keys.empty() && !credits.empty()) pieces.keys.back().break_after = layout::BreakAfter::Forbidden;
  append(pieces.keys, std::move(credits));
  return pieces;
}

/// The key of the drums, the signs and the credits stand at the end, unless that costs a page which they do not cost
/// before the first section.
Flow whole_flow(const Setting& setting, const HandoutRequest& request, diag::Sink& sink) {
  const Pieces pieces = pieces_of(setting, request, sink);
  Flow at_end = pieces.front;
  append(at_end, pieces.sections);
  append(at_end, pieces.keys);
  Flow before = pieces.front;
  append(before, pieces.keys);
  append(before, pieces.sections);
  const auto pages = [&](const Flow& flow) { return measure(setting, flow, request.binding).pages; };
  return pages(before) < pages(at_end) ? before : at_end;
}

/// Where systems are so high that pages stay half empty, smaller staves bring more of them onto a page: of a few staff
/// spaces down to the style's least, the largest that saves a fifth of the pages or more. Nothing: the style as it is.
template <class SettingFor>
std::optional<style::Style> smaller_style(const HandoutRequest& request, const SettingFor& setting_for,
                                          const Fill& natural) {
  const style::Style& style = request.style;
  constexpr double kWorthTrying = 0.2;  // share of the pages' height left empty, the last page aside
  if (style.least_staff_space >= style.staff_space || natural.pages < 3 || natural.empty < kWorthTrying) return {};
  constexpr int kSteps = 3;
  std::optional<style::Style> best;
  double enough = static_cast<double>(natural.pages) * 0.8;
  for (int step = 1; step <= kSteps; ++step) {
    const double share = static_cast<double>(step) / kSteps;
    style::Style tried =
        style::with_staff_space(style, style.staff_space + (style.least_staff_space - style.staff_space) * share);
    diag::Sink unheard;
    const Setting setting = setting_for(tried);
    const auto count =
        static_cast<double>(measure(setting, whole_flow(setting, request, unheard), request.binding).pages);
    if (count > enough) continue;
    best = std::move(tried);
    enough = count * 0.8;
  }
  return best;
}

Sheet sheet_of(const Setting& setting, const Flow& flow, Binding binding, diag::Sink& sink) {
  const auto& lesson = setting.song.lesson;
  Sheet sheet = blank_sheet(setting, lesson ? "Lesson handout, " + lesson->value : std::string("Lesson handout"));
  sheet.keywords = keywords_of(setting);
  sheet.pages = make_pages(setting, flow, lesson ? lesson->value : std::string(), sink, binding);
  sheet.expected = expected_notes(setting);
  sheet.said = said_words(setting);
  return sheet;
}

}  // namespace

std::vector<UnknownChoice> unknown_choices(const HandoutRequest& request) {
  std::vector<std::string> parts, recordings;
  for (const score::Part& part : request.song.parts) parts.push_back(part.name.value);
  for (const score::Recording& recording : request.song.recordings) recordings.push_back(recording.name.value);
  std::vector<UnknownChoice> out;
  const auto check = [&out](const std::string& word, const std::vector<std::string>& known) {
    if (std::find(known.begin(), known.end(), word) != known.end()) return;
    out.push_back({word, base::nearest_word(word, known).value_or("")});
  };
  for (const std::string& word : request.parts) check(word, parts);
  if (!request.recording.empty()) check(request.recording, recordings);
  return out;
}

Setting handout_setting(const HandoutRequest& request) {
  return {request.song,  request.style,         request.shaper,
          request.music, chosen_parts(request), find_recording(request.song, request.recording)};
}

Sheet make_handout(const HandoutRequest& request, diag::Sink& sink) {
  const auto setting_for = [&](const style::Style& style) {
    const Setting own = handout_setting(request);
    return Setting{own.song, style, own.shaper, own.music, own.parts, own.recording};
  };
  const Setting natural = setting_for(request.style);
  diag::Sink heard;
  const Flow flow = whole_flow(natural, request, heard);
  if (const auto smaller = smaller_style(request, setting_for, measure(natural, flow, request.binding))) {
    const Setting setting = setting_for(*smaller);
    return sheet_of(setting, whole_flow(setting, request, sink), request.binding, sink);
  }
  for (diag::Diagnostic& diagnostic : heard.sorted()) sink.add(std::move(diagnostic));
  return sheet_of(natural, flow, request.binding, sink);
}

std::string print(const Sheet& sheet) {
  std::string out;
  for (std::size_t i = 0; i < sheet.pages.size(); ++i) {
    out += "page " + std::to_string(i + 1) + "\n" + layout::print(*sheet.pages[i]);
  }
  return out;
}

}  // namespace tunesheaf::sheet
