#include "base/diagnostic.h"

#include <algorithm>
#include <tuple>

namespace ohmleaf {

Diagnostic& Diagnostics::add(Diagnostic d) {
  if (d.severity == Severity::error && trouble_ == Trouble::none) trouble_ = Trouble::input;
  items_.push_back(std::move(d));
  return items_.back();
}

Diagnostic& Diagnostics::error(std::string id, Span span, std::string message,
                               std::vector<std::string> hints) {
  return add({Severity::error, std::move(id), std::move(message), span, {}, std::move(hints)});
}

Diagnostic& Diagnostics::warning(std::string id, Span span, std::string message,
                                 std::vector<std::string> hints) {
  return add({Severity::warning, std::move(id), std::move(message), span, {}, std::move(hints)});
}

Diagnostic& Diagnostics::system_error(std::string id, std::string message,
                                      std::vector<std::string> hints) {
  Diagnostic& d = add({Severity::error, std::move(id), std::move(message), {}, {}, std::move(hints)});
  trouble_ = Trouble::system;
  return d;
}

void Diagnostics::sort() {
  std::stable_sort(items_.begin(), items_.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.span.source, a.span.begin) < std::tie(b.span.source, b.span.begin);
  });
}

}  // namespace ohmleaf
