// Invented names and texts. In: the random row. Out: names that are unlike one another and no words of the language,
// and texts of odd lengths, some of them with quotes, dashes and letters of other scripts. Read next: generated/song.h.
#pragma once
#include <string>
#include <vector>

#include "generated/random.h"

namespace tunesheaf::generated {

class Words {
 public:
  explicit Words(Random& random);
  /// A name that was not given before; no two share a word.
  std::string name();
  /// A few words, a sentence, or now and then far too many.
  std::string text(int most_words = 40);
  std::string title();
  /// One syllable or word without blanks, for a lane.
  std::string syllable();
  std::string language() const { return language_; }

 private:
  std::string word();
  Random& random_;
  std::string language_;
  std::vector<std::string> names_;
  std::size_t next_name_ = 0;
};

}  // namespace tunesheaf::generated
