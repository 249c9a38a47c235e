// The three ways to print diagnostics; print() in print.cpp chooses. In: sorted diagnostics and their files. Out: text.
// Invariant: no byte of a source file reaches the output unless it is harmless to a terminal (words.h).
#pragma once
#include "tunesheaf/diag/diagnostic.h"

namespace tunesheaf::diag {

std::string print_people(const std::vector<Diagnostic>& diagnostics, const source::Files& files, bool colour);
std::string print_lines(const std::vector<Diagnostic>& diagnostics, const source::Files& files);
std::string print_json(const std::vector<Diagnostic>& diagnostics, const source::Files& files);

}  // namespace tunesheaf::diag
