#include "teller.h"

namespace tunesheaf::aloud {

Reading read(const score::Timeline& song, const Request& request) {
  Reading reading;
  Teller teller{song, request, reading};
  tell_head(teller);
  if (teller.whole()) tell_tunings(teller);
  tell_shapes(teller);
  if (teller.whole()) tell_form(teller);
  tell_sections(teller);
  return reading;
}

}  // namespace tunesheaf::aloud
