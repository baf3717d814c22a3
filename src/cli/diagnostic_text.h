#pragma once
#include <string>

#include "base/diagnostic.h"
#include "cli/style.h"

namespace ohmleaf::cli {

/// `file:line:col: severity: message`, the user's own line with a caret under the place, then
/// what else is pointed at, then what to do. The one place where diagnostics become text.
std::string diagnostic_text(const Diagnostic& d, const Sources& sources, const Style& style,
                            int width);

/// All of them, in file order.
std::string diagnostics_text(Diagnostics diagnostics, const Sources& sources, const Style& style,
                             int width);

/// "job.toml:41:9", or empty for a span without a source.
std::string place_text(Span span, const Sources& sources);

/// The line with a caret under the span, indented.
std::string excerpt_text(Span span, const Sources& sources, const Style& style);

}  // namespace ohmleaf::cli
