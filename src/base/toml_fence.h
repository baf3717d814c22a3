#pragma once
#include "base/diagnostic.h"
#include "base/source.h"

namespace ohmleaf {

/// A text in quotation marks: no text of a job is as long by a hundred times.
inline constexpr unsigned kTomlMaxText = 256u << 10;

/// Refuses what toml++ 3.3.0 must not be shown: a single key of 400,000 dots overflows its stack,
/// deep brackets recurse, and text that is not UTF-8 has no columns to point at. One pass, no
/// memory. False after adding an error that names the place.
bool toml_fence(const Sources& sources, SourceId source, Diagnostics& out);

}  // namespace ohmleaf
