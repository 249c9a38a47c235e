#include <algorithm>
#include <tuple>

#include "tunesheaf/diag/diagnostic.h"

namespace tunesheaf::diag {
namespace {

// Everything that makes two diagnostics equal, in one string; NUL cannot occur inside the parts' numbers.
std::string fingerprint(const Diagnostic& d) {
  std::string key = std::to_string(static_cast<unsigned>(d.kind));
  const auto put = [&key](std::string_view part) {
    key += '\0';
    key += std::to_string(part.size());
    key += ':';
    key += part;
  };
  put(d.situation);
  put(d.rule);
  put(d.remedy);
  for (const Label& label : d.labels) {
    put(std::to_string(label.span.file) + "," + std::to_string(label.span.begin) + "," +
        std::to_string(label.span.end));
    put(label.text);
  }
  return key;
}

bool comes_before(const Diagnostic& a, const Diagnostic& b) {
  if (a.labels.empty() || b.labels.empty()) return a.labels.empty() && !b.labels.empty();
  const source::Span& x = a.labels.front().span;
  const source::Span& y = b.labels.front().span;
  return std::tie(x.file, x.begin, x.end) < std::tie(y.file, y.begin, y.end);
}

}  // namespace

void Sink::add(Diagnostic diagnostic) {
  if (!seen_.insert(fingerprint(diagnostic)).second) return;
  if (severity(diagnostic.kind) == Severity::Error) ++errors_;
  if (severity(diagnostic.kind) == Severity::Warning) ++warnings_;
  items_.push_back(std::move(diagnostic));
}

void Sink::add(Kind kind, source::Span span, std::string situation, std::string rule, std::string remedy) {
  add(Diagnostic{kind, {Label{span, {}}}, std::move(situation), std::move(rule), std::move(remedy)});
}

std::vector<Diagnostic> Sink::sorted() const {
  std::vector<Diagnostic> out = items_;
  std::stable_sort(out.begin(), out.end(), comes_before);
  return out;
}

}  // namespace tunesheaf::diag
