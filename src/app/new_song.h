// A song to start from. In: an instrument, a tuning, a meter, each by name. Out: the text of a valid song file with
// comments, or a sentence that says which of them is not known. Invariant: `check` finds nothing in what this writes.
#pragma once
#include <string>

#include "tunesheaf/base/result.h"

namespace tunesheaf::app {

struct NewSong {
  std::string instrument = "guitar";
  std::string tuning;  ///< empty: the instrument's usual one
  std::string meter = "4/4";
};

base::Result<std::string, std::string> write_new_song(const NewSong& wanted);

}  // namespace tunesheaf::app
