// The bytes of a file before anything is parsed. In: a File. Out: whether they may be read at all; every fault found is
// in the sink. Invariant afterwards: at most 4 MiB of well-formed UTF-8 without control or direction characters, and
// lines that end with LF or CR LF. Read next: scan.h.
#pragma once
#include "tunesheaf/diag/diagnostic.h"
#include "tunesheaf/source/source.h"

namespace tunesheaf::yaml {

/// Bytes of the byte order mark at the start: 3 or 0.
std::uint32_t byte_order_mark(std::string_view text);
bool check_bytes(const source::File& file, diag::Sink& sink);

}  // namespace tunesheaf::yaml
