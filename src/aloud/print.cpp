#include "tunesheaf/aloud/print.h"

namespace tunesheaf::aloud {
namespace {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

class Page {
 public:
  explicit Page(const Reading& reading) : reading_(reading) {}

  std::string print() {
    out_ =
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" +
        escaped(reading_.title) +
        ", read aloud</title>\n<style>\nbody { max-width: 42rem; margin: 1rem auto; padding: 0 1rem; "
        "font: 1.15rem/1.6 serif; }\n</style>\n</head>\n<body>\n<p><a href=\"#lesson\">Past the contents</a></p>\n";
    for (std::size_t i = 0; i < reading_.blocks.size(); ++i) {
      if (!in_main_ && reading_.blocks[i].kind != BlockKind::Title) open_main();
      block(i);
    }
    if (!in_main_) open_main();
    out_ += in_section_ ? "</section>\n" : "";
    return out_ + "</main>\n</body>\n</html>\n";
  }

 private:
  void open_main() {
    in_main_ = true;
    bool any = false;
    for (std::size_t i = 0; i < reading_.blocks.size(); ++i) {
      const Block& block = reading_.blocks[i];
      if (block.kind != BlockKind::Heading) continue;
      out_ += any ? "" : "<nav aria-label=\"Contents\">\n<ul>\n";
      any = true;
      out_ += "<li><a href=\"#" + id(i) + "\">" + escaped(block.sentences.front().lead) + "</a></li>\n";
    }
    out_ += any ? "</ul>\n</nav>\n" : "";
    out_ += "<main id=\"lesson\">\n";
  }

  static std::string id(std::size_t block) { return "h" + std::to_string(block); }

  void block(std::size_t i) {
    const Block& block = reading_.blocks[i];
    switch (block.kind) {
      case BlockKind::Title:
        out_ += "<header>\n<h1>" + words(block.sentences.front()) + "</h1>\n</header>\n";
        return;
      case BlockKind::Heading:
        out_ += in_section_ ? "</section>\n" : "";
        in_section_ = true;
        out_ += "<section aria-labelledby=\"" + id(i) + "\">\n<h2 id=\"" + id(i) + "\">" +
                words(block.sentences.front()) + "</h2>\n";
        return;
      case BlockKind::Subheading:
        out_ += "<h3>" + words(block.sentences.front()) + "</h3>\n";
        return;
      case BlockKind::List:
        out_ += "<ul>\n";
        for (const Sentence& sentence : block.sentences) out_ += "<li>" + words(sentence) + "</li>\n";
        out_ += "</ul>\n";
        return;
      case BlockKind::Text:
      case BlockKind::Bar:
        out_ += "<p>";
        for (std::size_t s = 0; s < block.sentences.size(); ++s) {
          out_ += (s == 0 ? "" : block.kind == BlockKind::Bar ? "<br>\n" : "\n") + words(block.sentences[s]);
        }
        out_ += "</p>\n";
        return;
    }
  }

  std::string words(const Sentence& sentence) const {
    std::string text = escaped(sentence.lead);
    if (!sentence.writers.empty()) {
      const bool other = reading_.language.rfind("en", 0) != 0;
      text += other ? "<span lang=\"" + escaped(reading_.language) + "\">" + escaped(sentence.writers) + "</span>"
                    : escaped(sentence.writers);
    }
    if (sentence.address.empty()) return text;
    return "<a href=\"" + escaped(sentence.address) + "\">" + text + "</a>";
  }

  const Reading& reading_;
  std::string out_;
  bool in_main_ = false, in_section_ = false;
};

}  // namespace

std::string to_text(const Reading& reading) {
  std::string out;
  bool first = true, bar_before = false;
  for (const Block& block : reading.blocks) {
    const bool bar = block.kind == BlockKind::Bar;
    if (!first && !(bar && bar_before)) out += "\n";
    first = false;
    bar_before = bar;
    for (const Sentence& sentence : block.sentences) {
      out += sentence.lead + sentence.writers + (sentence.address.empty() ? "" : ": " + sentence.address) + "\n";
    }
  }
  return out;
}

std::string to_html(const Reading& reading) {
  return Page(reading).print();
}

}  // namespace tunesheaf::aloud
