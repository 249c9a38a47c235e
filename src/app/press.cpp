#include "press.h"

#include <cstdlib>
#include <filesystem>
#include <system_error>

#include "tunesheaf/base/ascii.h"
#include "tunesheaf/style/load.h"
#include "tunesheaf/text/pango_shaper.h"

namespace tunesheaf::app {
namespace {

using base::trimmed;

namespace fs = std::filesystem;

/// A style that the song names by a file is looked for beside the song first.
std::string style_of(const Work& work) {
  if (!work.song || !work.song->style) return "house";
  const std::string& named = work.song->style->value;
  const fs::path near = fs::path(work.files.file(work.file).path()).parent_path() / named;
  std::error_code ignored;
  return fs::path(named).extension() == ".yaml" && fs::exists(near, ignored) ? near.string() : named;
}

}  // namespace

std::vector<std::string> split_names(const std::string& list) {
  std::vector<std::string> names;
  std::size_t begin = 0;
  while (begin <= list.size()) {
    const std::size_t end = std::min(list.find(',', begin), list.size());
    if (const std::string name = trimmed(list.substr(begin, end - begin)); !name.empty()) names.push_back(name);
    begin = end + 1;
  }
  return names;
}

std::string style_folder() {
  if (const char* named = std::getenv("TUNESHEAF_STYLES"); named != nullptr && *named != '\0') return named;
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  if (error) return {};
  const auto is_style_folder = [](const fs::path& folder) {
    std::error_code ignored;
    return fs::exists(folder / "house.yaml", ignored);
  };
  if (const fs::path shared = program.parent_path().parent_path() / "share/tunesheaf/styles"; is_style_folder(shared)) {
    return shared.string();
  }
  fs::path above = program.parent_path();
  for (int i = 0; i < 4; ++i, above = above.parent_path()) {
    if (is_style_folder(above / "styles")) return (above / "styles").string();
  }
  return {};
}

base::Result<std::unique_ptr<Press>, std::string> Press::open(Work& work, const CommandLine& line) {
  PressWishes wishes;
  for (const std::string& setting : line.all("--set")) {
    if (auto wish = style::read_override(setting)) wishes.overrides.push_back(std::move(wish.value()));
  }
  const auto asked = line.option("--style");
  if (!asked && work.song && work.song->style) wishes.asked = work.song->style->span;
  wishes.style = asked.value_or(style_of(work));
  wishes.paper = line.option("--paper").value_or("a4");
  wishes.parts = split_names(line.option("--parts").value_or(""));
  wishes.recording = line.option("--recording").value_or("");
  wishes.instead = line.option("--instead").value_or("");
  return open(work, wishes);
}

base::Result<std::unique_ptr<Press>, std::string> Press::open(Work& work, const PressWishes& wishes) {
  std::unique_ptr<Press> press(new Press());
  auto fonts = text::FontBook::open(text::FontBook::usual_folders());
  if (!fonts) return fonts.error().message;
  press->fonts_ = std::move(fonts.value());
  press->shaper_ = text::make_pango_shaper(*press->fonts_);
  const auto loaded = style::load_style(wishes.style, wishes.paper, style_folder(), work.files, work.sink,
                                        {wishes.overrides, wishes.asked});
  if (!loaded) return std::string("the style has errors");
  press->style_ = loaded->style;
  press->style_text_ = wishes.paper + "\n";
  for (const auto& [token, from] : loaded->provenance) press->style_text_ += token + ": " + from.value + "\n";
  press->music_ = std::make_unique<text::MusicFont>(*press->shaper_, press->style_.music_family);
  press->parts_ = wishes.parts;
  press->recording_ = wishes.recording;
  press->wish_ = wishes.instead;
  return press;
}

blocks::Setting Press::setting(const Work& work) const {
  return sheet::handout_setting(request(*work.timeline));
}

sheet::HandoutRequest Press::request(const score::Timeline& song) const {
  return {song, style_, *shaper_, *music_, parts_, recording_, instead_, binding_};
}

std::string Press::unknown_name(const Work& work) const {
  std::string text;
  for (const sheet::UnknownChoice& choice : sheet::unknown_choices(request(*work.timeline))) {
    text += (text.empty() ? "" : "; ") + std::string("the song has no part or recording \"") + choice.word + "\"";
    if (!choice.nearest.empty()) text += ", the nearest is \"" + choice.nearest + "\"";
  }
  if (text.empty()) return text;
  text += "; its parts are ";
  for (const score::Part& part : work.timeline->parts) {
    text += (&part == &work.timeline->parts.front() ? "\"" : ", \"") + part.name.value + "\"";
  }
  return text;
}

std::string Press::read_instead(const Work& work) {
  if (wish_.empty()) return {};
  const auto wish = blocks::read_instead(wish_, *work.timeline);
  if (!wish) return "--instead: " + wish.error().sentence;
  instead_ = blocks::play_instead(*work.timeline, *wish);
  if (instead_->any()) return {};
  return "--instead: the song names no chord and no shape with a common name, so there is nothing to play instead";
}

sheet::Sheet Press::handout(Work& work) {
  return sheet::make_handout(request(*work.timeline), work.sink);
}

base::Result<sheet::Chart, sheet::ChartRefusal> Press::chart(Work& work, blocks::ChartPlayer player,
                                                             blocks::ChartNames names) {
  return sheet::make_chart({*work.timeline, style_, *shaper_, *music_, std::move(player), names, binding_}, work.sink);
}

sheet::Sheet Press::practice(Work& work, const std::vector<int>& sections) {
  return sheet::make_practice(request(*work.timeline), sections, work.sink);
}

sheet::Sheet Press::legend(Work& work, const std::vector<blocks::SignGroup>& groups) {
  return sheet::make_legend(request(*work.timeline), groups, work.sink);
}

paint::Document Press::paint(const sheet::Sheet& sheet) {
  paint::Document document;
  document.title = sheet.title;
  document.author = sheet.author;
  document.subject = sheet.subject;
  document.keywords = sheet.keywords;
  document.language = sheet.language;
  for (const auto& frame : sheet.pages) {
    document.pages.push_back(paint::flatten(*frame, sheet.paper));
    document.pages.back().ground = sheet.ground;
  }
  return document;
}

}  // namespace tunesheaf::app
