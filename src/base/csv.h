#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/source.h"

namespace ohmleaf {

struct CsvCell {
  std::string text;  ///< decoded: without quotation marks, blanks around it kept
  Span span;         ///< as it stands in the file, quotation marks included
};
using CsvRow = std::vector<CsvCell>;

/// Far beyond any file of readings, near enough that a hostile one costs nothing.
inline constexpr std::size_t kCsvMaxBytes = 4u << 20, kCsvMaxRows = 20'000, kCsvMaxCells = 400;

/// Reads comma-separated values as RFC 4180 has them, and as programs write them: any delimiter of
/// one byte, lines ending in CR, LF or both, a byte-order mark, cells that run over lines inside
/// quotation marks, a doubled mark for one. Empty rows are left out. Errors, at their place: a
/// quotation mark that is never closed, text behind a closed one, text that is not UTF-8, more
/// rows or cells than the bounds above.
std::optional<std::vector<CsvRow>> parse_csv(const Sources& sources, SourceId source,
                                             char delimiter, Diagnostics& out);

/// Whether a spreadsheet may take a cell for something to work out: it begins with = + - @, their
/// full-width forms, a tab or a line end, and is no plain number ("-0.3").
bool begins_formula(std::string_view cell);
/// One row of such a file, with commas and CR LF; cells are quoted where they must be. A cell that
/// begins a formula gets an apostrophe in front, which a spreadsheet takes for "this is text".
std::string csv_row(const std::vector<std::string>& cells);

}  // namespace ohmleaf
