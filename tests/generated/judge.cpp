#include "generated/judge.h"

#include <algorithm>
#include <exception>
#include <filesystem>
#include <memory>

#include "../../src/app/audit_rules.h"
#include "tunesheaf/paint/audit.h"
#include "tunesheaf/sheet/sheet.h"
#include "tunesheaf/song/read.h"
#include "tunesheaf/style/load.h"
#include "tunesheaf/yaml/node.h"

namespace tunesheaf::generated {
namespace {

std::string style_folder() {
  return std::string(TUNESHEAF_SOURCE_DIR) + "/styles";
}

std::unique_ptr<app::Work> worked(const std::string& text) {
  auto work = std::make_unique<app::Work>();
  work->file = work->files.add("song.yaml", text);
  app::to_timeline(*work);
  return work;
}

struct Printed {
  sheet::Sheet sheet;
  paint::Document document;
};

/// Fonts are measured once: the shaper keeps nothing that one song could leave to the next.
Printed print_sheet(app::Work& work, const Wish& wish) {
  const auto loaded = style::load_style(wish.style, wish.paper, style_folder(), work.files, work.sink);
  if (!loaded) throw std::runtime_error("the style " + wish.style + " does not load");
  const auto shaper = text::make_fixed_shaper();
  text::MusicFont music(*shaper, loaded->style.music_family);
  Printed out;
  out.sheet = sheet::make_handout({*work.timeline, loaded->style, *shaper, music, {}, ""}, work.sink);
  out.document.title = out.sheet.title;
  out.document.language = out.sheet.language;
  for (const auto& frame : out.sheet.pages) out.document.pages.push_back(paint::flatten(*frame, out.sheet.paper));
  return out;
}

void judge_tidy(const app::Work& work, std::vector<Failure>& out) {
  const std::string once = song::tidy(*work.nodes, work.files.file(work.file));
  app::Work again;
  again.file = again.files.add("song.yaml", once);
  if (!app::to_song(again)) {
    out.push_back({"tidy spoils the song", once});
    return;
  }
  if (song::print(*again.song) != song::print(*work.song)) out.push_back({"tidy changes the song", once});
  if (song::tidy(*again.nodes, again.files.file(again.file)) != once) out.push_back({"tidy is not done at once", once});
}

void judge_pages(app::Work& work, const Wish& wish, std::vector<Failure>& out) {
  const Printed printed = print_sheet(work, wish);
  for (const paint::Breach& breach : paint::audit(printed.document, app::audit_rules(printed.sheet)))
    out.push_back({"audit " + cause_of(breach), paint::print({breach})});
  const std::string dump = paint::print(printed.document);
  std::string error;
  const auto parsed = paint::parse(dump, error);
  if (!parsed) {
    out.push_back({"dump is not read back", error});
  } else if (paint::print(*parsed) != dump) {
    out.push_back({"dump is read back as another", ""});
  }
}

void judge_sheet(app::Work& work, const Wish& wish, std::vector<Failure>& out) {
  const auto loaded = style::load_style(wish.style, wish.paper, style_folder(), work.files, work.sink);
  if (!loaded) throw std::runtime_error("the style " + wish.style + " does not load");
  const auto shaper = text::make_fixed_shaper();
  if (wish.sheet == SheetKind::Chart) {
    judge_chart(*work.timeline, loaded->style, *shaper, wish.number, out);
  } else {
    judge_practice(*work.timeline, loaded->style, *shaper, out);
  }
}

}  // namespace

std::string cause_of(const paint::Breach& breach) {
  std::vector<std::string> kinds;
  std::string rest = breach.text;
  bool quoted = false;
  std::string bare;
  for (std::size_t i = 0; i < rest.size(); ++i) {
    if (rest[i] == '\'' && (quoted ? i + 1 == rest.size() || rest[i + 1] == ' ' : i > 0 && rest[i - 1] == ' ')) {
      quoted = !quoted;
    } else if (!quoted) {
      bare += rest[i];
    }
  }
  if (const std::size_t cut = bare.find(" overlap by"); cut != std::string::npos) {
    bare = bare.substr(0, cut);
    const std::size_t both = bare.find(" and ");
    std::string a = bare.substr(0, both), b = both == std::string::npos ? "" : bare.substr(both + 5);
    const auto trim = [](std::string& word) {
      while (!word.empty() && word.back() == ' ') word.pop_back();
    };
    trim(a);
    trim(b);
    if (b < a) std::swap(a, b);
    return breach.rule + " " + a + " / " + b;
  }
  std::string words;
  for (const char c : bare)
    if ((c < '0' || c > '9') && c != '.') words += c;
  return breach.rule + " " + words;
}

std::vector<std::string> style_names() {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(style_folder()))
    if (entry.path().extension() == ".yaml") names.push_back(entry.path().stem().string());
  std::sort(names.begin(), names.end());
  return names;
}

Wish wish_for(std::uint64_t number, SheetKind sheet) {
  static const std::vector<std::string> kStyles = style_names();
  return {kStyles[(number / 2) % kStyles.size()], number % 2 == 0 ? "a4" : "letter", sheet, number};
}

std::vector<Failure> judge(const std::string& text, const Wish& wish) {
  std::vector<Failure> out;
  try {
    const auto work = worked(text);
    for (const diag::Diagnostic& item : work->sink.sorted()) {
      if (diag::severity(item.kind) != diag::Severity::Error) continue;
      const std::string cell =
          item.labels.empty() ? "" : std::string(work->files.file(work->file).slice(item.labels.front().span));
      out.push_back({"check " + std::string(diag::name(item.kind)), item.situation + " [" + cell + "]"});
    }
    if (!out.empty()) return out;
    if (!work->timeline) return {{"nothing comes of it", "no error is said, and there is no Timeline"}};
    if (wish.sheet != SheetKind::Handout) {
      judge_sheet(*work, wish, out);
      return out;
    }
    out = judge_timeline(*work->timeline);
    judge_tidy(*work, out);
    judge_pages(*work, wish, out);
  } catch (const std::exception& fault) {
    out.push_back({"exception", fault.what()});
  }
  return out;
}

std::optional<Pages> pages_of(const std::string& text, const Wish& wish) {
  const auto work = worked(text);
  if (!work->timeline) return std::nullopt;
  Printed printed = print_sheet(*work, wish);
  return Pages{std::move(printed.document), app::audit_rules(printed.sheet)};
}

std::string display_list(const std::string& text, const Wish& wish) {
  const auto work = worked(text);
  return work->timeline ? paint::print(print_sheet(*work, wish).document) : "";
}

}  // namespace tunesheaf::generated
