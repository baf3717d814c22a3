#pragma once
#include <string>

#include "base/json.h"

namespace ohmleaf::cli {

/// A list of a report's JSON as CSV (RFC 4180): the columns are its members by name, those of a
/// member that is an object with a point between ("place.line"); lists are joined by "; ".
/// No cell begins a formula (csv_row).
std::string csv_of(const Json& list);

}  // namespace ohmleaf::cli
