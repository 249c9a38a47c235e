// From a song on its way to finished pages. In: Work with its Timeline, and the wishes of the command line. Out: the
// sheet and its display list, or what stood in the way. Invariant: fonts and style are opened once per run.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tunesheaf/app/command_line.h"
#include "tunesheaf/app/commands.h"
#include "tunesheaf/app/pipeline.h"
#include "tunesheaf/export/files.h"
#include "tunesheaf/paint/display_list.h"
#include "tunesheaf/sheet/chart.h"
#include "tunesheaf/sheet/legend.h"
#include "tunesheaf/sheet/practice.h"
#include "tunesheaf/sheet/sheet.h"
#include "tunesheaf/style/load.h"
#include "tunesheaf/text/font_book.h"
#include "tunesheaf/text/music_signs.h"
#include "tunesheaf/text/shaper.h"

namespace tunesheaf::app {

/// What a press is set up with: the words of the command line, or of a book.
struct PressWishes {
  std::string style = "house", paper = "a4";
  std::optional<source::Span> asked;  ///< where the style is named, when it is in a file
  std::vector<style::Override> overrides;
  std::vector<std::string> parts;
  std::string recording, instead;
};

class Press {
 public:
  /// The fonts and the style; the error is a sentence. Faults in a style file go to `work.sink`.
  static base::Result<std::unique_ptr<Press>, std::string> open(Work& work, const CommandLine& line);
  static base::Result<std::unique_ptr<Press>, std::string> open(Work& work, const PressWishes& wishes);

  /// Names on the command line that the song does not know; empty when all is well.
  std::string unknown_name(const Work& work) const;
  /// Reads --instead for this song; the fault as a sentence, or empty.
  std::string read_instead(const Work& work);
  sheet::Sheet handout(Work& work);
  base::Result<sheet::Chart, sheet::ChartRefusal> chart(Work& work, blocks::ChartPlayer player,
                                                        blocks::ChartNames names);
  /// Of these sections, as indices; at least one.
  sheet::Sheet practice(Work& work, const std::vector<int>& sections);
  sheet::Sheet legend(Work& work, const std::vector<blocks::SignGroup>& groups);
  static paint::Document paint(const sheet::Sheet& sheet);
  text::FontBook& fonts() { return *fonts_; }
  text::Shaper& shaper() { return *shaper_; }
  text::MusicFont& music() { return *music_; }
  const style::Style& style() const { return style_; }
  /// Every token with its value, as text: two presses whose texts are alike print alike.
  const std::string& style_text() const { return style_text_; }
  /// For the next song.
  void choose(std::vector<std::string> parts, sheet::Binding binding) {
    parts_ = std::move(parts);
    binding_ = binding;
  }
  /// The parts that a handout shows, as blocks want them.
  blocks::Setting setting(const Work& work) const;

 private:
  Press() = default;
  sheet::HandoutRequest request(const score::Timeline& song) const;

  std::unique_ptr<text::FontBook> fonts_;
  std::unique_ptr<text::Shaper> shaper_;
  std::unique_ptr<text::MusicFont> music_;
  style::Style style_;
  std::vector<std::string> parts_;
  std::string recording_;
  std::string wish_;  ///< --instead as typed
  std::optional<blocks::Instead> instead_;
  std::string style_text_;
  sheet::Binding binding_ = sheet::Binding::Alone;
};

/// Where a sheet goes, and the wishes about it.
struct Target {
  const CommandLine& line;
  const std::string& path;
  exporting::Format format;
  std::vector<std::string>* written =
      nullptr;  ///< of several sheets: takes the names, and --depfile is left to the caller
};
/// Opens the press for a song that has a Timeline; nothing when something was said and the work ends with `code`.
std::unique_ptr<Press> open_press(Work& work, const CommandLine& line, const Console& console, int& code);
/// How pages are written to a file of this name; nothing when that was said, and the work ends with `code`.
std::optional<exporting::Format> page_format(const std::string& target, const Console& console, int& code);
/// Writes the sheet's files and what --depfile asks for, then says what `work` found and, where progress is shown, the
/// names of the files; an exit code.
int write_sheet(const sheet::Sheet& sheet, Press& press, const Work& work, const Target& target,
                const Console& console);

/// One line on err: what could not be written, and what to do about it.
int say_unwritten(const Console& console, const exporting::WriteFault& fault);
/// Prints where the pages break a rule, then their number; an exit code.
int say_audit(const sheet::Sheet& sheet, const Work& work, const CommandLine& line, const Console& console);
/// "guitar, double bass": the names, without blanks around them; empty ones are left out.
std::vector<std::string> split_names(const std::string& list);

/// The folder of named styles: TUNESHEAF_STYLES, else beside the program (../share/tunesheaf/styles), else `styles` in
/// one of the four folders above it; empty when there is none.
std::string style_folder();

}  // namespace tunesheaf::app
