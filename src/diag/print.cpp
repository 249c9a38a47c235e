#include <nlohmann/json.hpp>

#include "printers.h"
#include "tunesheaf/diag/words.h"

namespace tunesheaf::diag {
namespace {

using Json = nlohmann::ordered_json;

void put_place(Json& object, const source::Span* span, const source::Files& files) {
  if (span == nullptr) {
    for (const char* key : {"file", "line", "column", "end_line", "end_column"}) object[key] = nullptr;
    return;
  }
  const source::File& file = files.file(span->file);
  const source::Place begin = file.place(span->begin);
  const source::Place end = file.place(span->end);
  object["file"] = file.path();
  object["line"] = begin.line;
  object["column"] = begin.column;
  object["end_line"] = end.line;
  object["end_column"] = end.column;
}

}  // namespace

std::string print_json(const std::vector<Diagnostic>& diagnostics, const source::Files& files) {
  Json array = Json::array();
  for (const Diagnostic& d : diagnostics) {
    Json object = Json::object();
    put_place(object, d.labels.empty() ? nullptr : &d.labels.front().span, files);
    object["severity"] = name(severity(d.kind));
    object["kind"] = name(d.kind);
    object["situation"] = d.situation;
    object["rule"] = d.rule;
    object["remedy"] = d.remedy;
    object["labels"] = Json::array();
    for (const Label& label : d.labels) {
      Json one = Json::object();
      put_place(one, &label.span, files);
      one["text"] = label.text;
      object["labels"].push_back(std::move(one));
    }
    array.push_back(std::move(object));
  }
  // A path or a quoted word may hold bytes that are not UTF-8; JSON may not.
  return array.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string print_lines(const std::vector<Diagnostic>& diagnostics, const source::Files& files) {
  std::string out;
  for (const Diagnostic& d : diagnostics) {
    if (!d.labels.empty()) {
      const source::Span span = d.labels.front().span;
      const source::File& file = files.file(span.file);
      const source::Place place = file.place(span.begin);
      out += shown(file.path()) + ":" + std::to_string(place.line) + ":" + std::to_string(place.column) + ": ";
    }
    out += std::string(name(severity(d.kind))) + ": " + shown(d.situation);
    if (!d.rule.empty()) out += "; " + shown(d.rule);
    if (!d.remedy.empty()) out += "; " + shown(d.remedy);
    out += " [" + std::string(name(d.kind)) + "]\n";
  }
  return out;
}

std::string print(const std::vector<Diagnostic>& diagnostics, const source::Files& files, Format format, bool colour) {
  switch (format) {
    case Format::People:
      return print_people(diagnostics, files, colour);
    case Format::Lines:
      return print_lines(diagnostics, files);
    case Format::Json:
      break;
  }
  return print_json(diagnostics, files);
}

}  // namespace tunesheaf::diag
