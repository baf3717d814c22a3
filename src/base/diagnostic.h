#pragma once
#include <string>
#include <utility>
#include <vector>

#include "base/source.h"

namespace ohmleaf {

enum class Severity { error, warning, note };

/// A second place that a message points at ("the device that set this limit").
struct Label {
  Span span;
  std::string text;
};

/// One message as a value. Libraries make them, `cli/` alone prints them.
/// `id` is stable and lower case ("unknown-key"); `message` one calm sentence without a full
/// stop; `hints` say what to do next, each a sentence.
struct Diagnostic {
  Severity severity = Severity::error;
  std::string id;
  std::string message;
  Span span;
  std::vector<Label> labels;
  std::vector<std::string> hints;
};

/// What went wrong outside the user's text decides the exit code (2 input, 3 system).
enum class Trouble { none, input, system };

/// The one sink. Collects everything of a phase; `sort` puts it in file order.
class Diagnostics {
 public:
  Diagnostic& add(Diagnostic d);
  /// The user's input is wrong (exit 2).
  Diagnostic& error(std::string id, Span span, std::string message,
                    std::vector<std::string> hints = {});
  Diagnostic& warning(std::string id, Span span, std::string message,
                      std::vector<std::string> hints = {});
  /// The system failed: disk full, no permission (exit 3).
  Diagnostic& system_error(std::string id, std::string message,
                           std::vector<std::string> hints = {});

  bool ok() const { return trouble_ == Trouble::none; }
  Trouble trouble() const { return trouble_; }
  const std::vector<Diagnostic>& all() const { return items_; }
  bool empty() const { return items_.empty(); }
  /// Stable sort by source, then place.
  void sort();

 private:
  std::vector<Diagnostic> items_;
  Trouble trouble_ = Trouble::none;
};

}  // namespace ohmleaf
