// Cells as text for the `song` phase. In: a cell's content. Out: one word or a few, the same for equal contents and
// different for different ones. Read next: print.cpp.
#pragma once
#include <string>

#include "tunesheaf/song/lane.h"

namespace tunesheaf::song {

std::string print(const CellContent& content);
std::string print(const Accents& accents);
/// "String", "Thumb", "StringOf" ... in small letters.
std::string print(LaneKind kind);

}  // namespace tunesheaf::song
