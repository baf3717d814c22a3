#pragma once
#include <optional>
#include <string>
#include <vector>

#include "archive/archive.h"
#include "base/source.h"

namespace ohmleaf::app {

/// Every reading of these certificates as CSV (RFC 4180: CRLF, quotation marks doubled), one a row,
/// under a row of names: certificate, revision, date, premises, board, circuit, circuit_name, cell,
/// subject, reading, limit, verdict. The job and the profile are those that were filed; verdict and
/// limit are what this version of the program says of them, by the edition of the job. Client and
/// contact are left out.
std::optional<std::string> readings_csv(const archive::Archive& store,
                                        const std::vector<archive::Record>& records,
                                        Diagnostics& out);

}  // namespace ohmleaf::app
