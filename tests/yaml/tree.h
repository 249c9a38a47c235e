// What holds for every tree of nodes, whatever the file. In: a root and its file. Out: the first thing that does not
// hold, or an empty text.
#pragma once
#include <string>

#include "tunesheaf/yaml/node.h"

namespace tunesheaf::yaml {

inline std::string fault_of_span(source::Span span, const source::File& file) {
  if (span.file != file.id() || span.begin > span.end || span.end > file.text().size()) {
    return "span " + std::to_string(span.begin) + "-" + std::to_string(span.end) + " is not in the file";
  }
  return {};
}

inline std::string fault_of_scalar(const Node& node, const source::File& file) {
  const std::string_view slice = file.slice(node.span);
  if (slice.empty()) return "a text without a place";
  const bool one_line = slice.find('\n') == std::string_view::npos;
  if (node.style == ScalarStyle::Plain && one_line && slice != node.text) {
    return "\"" + node.text + "\" stands at \"" + std::string(slice) + "\"";
  }
  const char first = slice.front();
  if ((node.style == ScalarStyle::DoubleQuoted) != (first == '"')) return "double quotes: " + std::string(slice);
  if ((node.style == ScalarStyle::SingleQuoted) != (first == '\'')) return "single quotes: " + std::string(slice);
  if ((first == '"' || first == '\'') && slice.back() != first) return "quote not closed: " + std::string(slice);
  for (const TextLine& line : node.lines) {
    if (file.slice(line.span) != line.text) return "line \"" + line.text + "\" is not where it says";
    if (line.span.begin < node.span.begin || line.span.end > node.span.end) return "line outside its block";
  }
  return {};
}

inline std::string fault_of_tree(const Node& node, const source::File& file) {
  if (std::string fault = fault_of_span(node.span, file); !fault.empty()) return fault;
  const auto child = [&](const Node& inner) -> std::string {
    if (inner.span.begin < node.span.begin || inner.span.end > node.span.end) {
      return "\"" + std::string(file.slice(inner.span)) + "\" is not inside \"" + std::string(file.slice(node.span)) +
             "\"";
    }
    return fault_of_tree(inner, file);
  };
  if (node.kind == NodeKind::Null && node.span.length() != 0) return "nothing takes up room";
  if (node.kind == NodeKind::Scalar) return fault_of_scalar(node, file);
  for (const Node& item : node.items) {
    if (std::string fault = child(item); !fault.empty()) return fault;
  }
  for (const Entry& entry : node.entries) {
    if (entry.key.kind != NodeKind::Scalar) return "a key that is no text";
    if (std::string fault = child(entry.key); !fault.empty()) return fault;
    if (std::string fault = child(entry.value); !fault.empty()) return fault;
    if (entry.value.span.begin < entry.key.span.end) return "a value before its key";
  }
  return {};
}

}  // namespace tunesheaf::yaml
