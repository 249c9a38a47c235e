// Where words of running text may be parted. In: text, its language, a folder of hyphenation dictionaries. Out: the
// text with soft hyphens (U+00AD) in it. Invariant: without a dictionary for the language the text comes back as it is;
// words with capitals, figures or hyphens of their own are left whole, so names and chords are never parted (German
// nouns have a capital and are parted). Read next: text/pango_shaper.h.
#pragma once
#include <map>
#include <memory>
#include <string>

namespace tunesheaf::text {

/// Unicode's SOFT HYPHEN: a place where a word may be parted, else unseen.
inline constexpr char32_t kSoftHyphen = 0xAD;

class Hyphenator {
 public:
  /// Dictionaries are files hyph_LANGUAGE.dic, such as hyph_en_US.dic. Not safe to share between threads.
  explicit Hyphenator(std::string folder = usual_folder());
  ~Hyphenator();
  Hyphenator(const Hyphenator&) = delete;
  Hyphenator& operator=(const Hyphenator&) = delete;

  /// `language` is a BCP 47 tag; a dictionary of another region is taken where there is none of its own.
  std::string parted(const std::string& text, const std::string& language);
  /// Where the system's packages put them.
  static std::string usual_folder();
  /// The dictionaries of a folder with their sizes, in order: what was set with others must be set again.
  static std::string installed(const std::string& folder);

 private:
  class Dictionary;
  class PlainDictionary;
  class RichDictionary;
  Dictionary* dictionary(const std::string& language);

  std::string folder_;
  std::map<std::string, std::unique_ptr<Dictionary>> read_;  ///< by language; nothing where there is none
};

/// What a shaper may also be: one that prepares running text before it is broken into lines.
class RunningText {
 public:
  virtual ~RunningText() = default;
  /// With soft hyphens, and a short last word tied to the one before it.
  virtual std::string running(const std::string& text, const std::string& language) = 0;
};

}  // namespace tunesheaf::text
