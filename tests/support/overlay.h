// Two layouts one over the other, for the report of a golden that fails. In: dumps in the language of layout::print.
// Out: pictures in SVG, or nothing for a text that is no such dump. Expected is drawn in red, actual in blue; what both
// have is dark. Invariant: read from the dumps alone, so that every test can show it, whatever it links.
#pragma once
#include <algorithm>
#include <cstdlib>
#include <iomanip>
#include <sstream>
#include <string>
#include <vector>

namespace tunesheaf::support {

struct DumpPicture {
  std::string marks;  ///< elements of SVG, without colour
  double width = 0, height = 0;
};

/// Draws line by line; what it does not know it leaves out.
class DumpReader {
 public:
  DumpPicture read(const std::string& dump) {
    std::istringstream lines(dump);
    for (std::string line; std::getline(lines, line);) {
      const std::size_t indent = line.find_first_not_of(' ');
      if (indent == std::string::npos) continue;
      const std::size_t depth = indent / 2;
      if (line.compare(indent, 6, "frame ") == 0) {
        open_frame(line.substr(indent), depth);
      } else if (depth > 0 && depth <= frames_.size()) {
        frames_.resize(depth);
        item(line.substr(indent));
      }
    }
    picture_.height = std::max(picture_.height, below_);
    picture_.marks = out_.str();
    return std::move(picture_);
  }

 private:
  struct Point {
    double x = 0, y = 0;
  };

  static Point pair_of(const std::string& text) {
    const std::size_t comma = text.find(',');
    if (comma == std::string::npos) return {};
    return {std::strtod(text.c_str(), nullptr), std::strtod(text.c_str() + comma + 1, nullptr)};
  }

  /// The word after ` word `, as "at 3,4".
  static std::string after(const std::string& line, const std::string& word) {
    const std::size_t at = line.find(" " + word + " ");
    if (at == std::string::npos) return {};
    const std::size_t begin = at + word.size() + 2;
    return line.substr(begin, line.find(' ', begin) - begin);
  }

  /// Frames that stand in no other are drawn one under the other.
  void open_frame(const std::string& line, std::size_t depth) {
    Point at = pair_of(after(line, "at"));
    const Point size = pair_of(after(line, "size"));
    frames_.resize(std::min(depth, frames_.size()));
    if (frames_.empty()) {
      at.y += below_;
      below_ = at.y + size.y + kBetween;
    } else {
      at.x += frames_.back().x;
      at.y += frames_.back().y;
    }
    picture_.width = std::max(picture_.width, at.x + size.x);
    frames_.push_back(at);
  }

  void item(const std::string& line) {
    std::istringstream words(line);
    std::string kind, place, layer, shape;
    words >> kind >> place >> layer >> shape;
    const Point own = pair_of(place);
    const Point at{frames_.back().x + own.x, frames_.back().y + own.y};
    const std::string stroke = after(line, "stroke");
    const std::string pen = stroke.empty() ? std::string(" stroke=\"none\"") : " stroke-width=\"" + stroke + "\"";
    if (shape == "line") {
      std::string to;
      words >> to;
      const Point end = pair_of(to);
      out_ << "<line x1=\"" << at.x << "\" y1=\"" << at.y << "\" x2=\"" << at.x + end.x << "\" y2=\"" << at.y + end.y
           << "\"" << pen << "/>\n";
    } else if (shape == "rect") {
      std::string extent;
      words >> extent;
      const Point size = pair_of(extent);
      out_ << "<rect x=\"" << at.x << "\" y=\"" << at.y << "\" width=\"" << size.x << "\" height=\"" << size.y
           << "\" fill-opacity=\"" << (after(line, "fill").empty() ? "0" : "0.2") << "\"" << pen << "/>\n";
    } else if (shape == "path") {
      path(line, at, pen);
    } else if (shape == "text") {
      text(line, at);
    }
  }

  void path(const std::string& line, Point at, const std::string& pen) {
    out_ << "<path transform=\"translate(" << at.x << " " << at.y << ")\" d=\"";
    std::istringstream words(line.substr(line.find(" path ") + 6));
    for (std::string word; words >> word;) {
      if (word == "fill" || word == "stroke" || word == "subject" || word == "from") break;
      const char letter = word[0];
      if (letter == 'm' || letter == 'l' || letter == 'c') word[0] = static_cast<char>(letter - 'a' + 'A');
      out_ << word << " ";
    }
    out_ << "\" fill-opacity=\"" << (after(line, "fill").empty() ? "0" : "1") << "\"" << pen << "/>\n";
  }

  void text(const std::string& line, Point at) {
    const std::size_t begin = line.find('"') + 1;
    std::size_t end = begin;
    while (end < line.size() && line[end] != '"') end += line[end] == '\\' ? 2 : 1;
    if (end >= line.size()) return;
    const std::string face = line.substr(end + 1);  // " Gentium Plus 400 italic 13 wide 171.6 #161412"
    const std::size_t wide = face.find(" wide ");
    if (wide == std::string::npos) return;
    const std::string size = face.substr(face.rfind(' ', wide - 1) + 1, wide - face.rfind(' ', wide - 1) - 1);
    const std::size_t weight = face.find_first_of("0123456789");
    out_ << "<text x=\"" << at.x << "\" y=\"" << at.y << "\" font-family=\"" << face.substr(1, weight - 2)
         << "\" font-size=\"" << size << "\" font-weight=\"" << face.substr(weight, 3) << "\" stroke=\"none\""
         << (face.find(" italic ") != std::string::npos ? " font-style=\"italic\"" : "") << " textLength=\""
         << after(face, "wide") << "\" lengthAdjust=\"spacingAndGlyphs\">";
    for (std::size_t i = begin; i < end; ++i) {
      if (line[i] == '\\' && i + 1 < end) ++i;
      if (line[i] == '<') {
        out_ << "&lt;";
      } else if (line[i] == '&') {
        out_ << "&amp;";
      } else {
        out_ << line[i];
      }
    }
    out_ << "</text>\n";
  }

  static constexpr double kBetween = 6;  // pt between frames of their own
  std::vector<Point> frames_;
  double below_ = 0;
  std::ostringstream out_;
  DumpPicture picture_;
};

inline bool is_layout_dump(const std::string& text) {
  return text.rfind("frame ", 0) == 0 || text.find("\nframe ") != std::string::npos;
}

/// Three pictures, the first of both; empty unless both texts are dumps of a layout (one may be missing altogether).
inline std::string overlay_html(const std::string& expected, const std::string& actual) {
  const bool before = is_layout_dump(expected), after = is_layout_dump(actual);
  if (!after || (!before && !expected.empty())) return {};
  const DumpPicture a = DumpReader().read(expected), b = DumpReader().read(actual);
  const auto layer = [](const DumpPicture& picture, const char* colour) {
    return std::string("<g style=\"mix-blend-mode:multiply\" fill=\"") + colour + "\" stroke=\"" + colour + "\">\n" +
           picture.marks + "</g>\n";
  };
  std::ostringstream head;
  head << "<svg xmlns=\"http://www.w3.org/2000/svg\" style=\"background:white\" viewBox=\"-20 -20 "
       << std::max(a.width, b.width) + 40 << " " << std::max(a.height, b.height) + 40 << "\" width=\"1100\">\n";
  const std::string red = layer(a, "#e04040"), blue = layer(b, "#4080e0");
  return "<h2>overlay: expected red, actual blue</h2>\n" + head.str() + red + blue + "</svg>\n<h2>expected</h2>\n" +
         head.str() + red + "</svg>\n<h2>actual</h2>\n" + head.str() + blue + "</svg>\n";
}

}  // namespace tunesheaf::support
