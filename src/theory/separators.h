// What parts the words of a shape or of a recording's pitch. Private to theory.
#pragma once

namespace tunesheaf::theory {

inline bool separates(char c) {
  return c == ' ' || c == '\t' || c == ',';
}

}  // namespace tunesheaf::theory
