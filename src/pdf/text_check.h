#pragma once
#include <array>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "layout/frames.h"
#include "pdf/pdf.h"
#include "pdf/subset.h"

namespace ohmleaf::pdf {

using Subsets = std::array<Subset, layout::kFaceCount>;

/// Reads every text that goes into the file: valid UTF-8, no forbidden character, not longer
/// than a PDF/A string may be, every drawn character in its face. Reports all that is wrong, each
/// character once, and marks in `subsets` what is drawn. False if anything was reported.
bool check_texts(const layout::Document& document, const Meta& meta, Subsets& subsets,
                 Diagnostics& out);

/// Stored text (a title, a description) on one line: line breaks and tabs become spaces.
std::string one_line(std::string_view text);

}  // namespace ohmleaf::pdf
