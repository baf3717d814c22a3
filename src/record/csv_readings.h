#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/csv.h"
#include "base/diagnostic.h"
#include "record/installer.h"
#include "record/job.h"
#include "record/view.h"

// Readings out of a CSV file of the installer's own: which cell is which reading of which circuit,
// in the unit of its key, judged by the same readers as the job file. Pure: texts in, values out.

namespace ohmleaf::record {

/// One cell that the job can take.
struct CsvReading {
  int circuit = 0;    ///< index into Job::circuits
  std::string key;    ///< within the circuit: "live.zs"
  std::string value;  ///< as the job file writes it: 0.43, ">999", true
  std::string text;   ///< the same without quotation marks
  Span span;          ///< of the cell
};

/// Every reading of the file for circuits of the job, in the order of the file. Rows of other
/// circuits are passed over with a note. Errors, each at its cell: a heading that is not there, a
/// reading that is none, a unit that does not fit, two different readings for one key (unless the
/// mapping says that the worst counts).
std::vector<CsvReading> read_csv_readings(const Sources& sources, SourceId file,
                                          const CsvMapping& mapping, const Job& job,
                                          Diagnostics& out);

/// What may stand at a key of a circuit, where a cell can fill it; null elsewhere.
const Shape* csv_cell_shape(std::string_view key);

/// A cell as the job file has it: "0,43 Ω" → "0.43", "430 mΩ" → "0.430". `heading_unit` is the
/// unit of the column's heading, which counts where the cell has none. On failure nothing, with
/// the reason in `fault`.
struct CellFault {
  std::string message, hint;
};
std::optional<std::string> csv_cell(std::string_view cell, std::string_view heading_unit,
                                    char decimal, const Shape& shape, CellFault& fault);

/// "Zs (Ω)", "Zs [Ω]", "Zs, Ω", "Zs in Ω" → "Ω"; empty where the heading names none.
std::string csv_unit_of(std::string_view heading);

}  // namespace ohmleaf::record
