#pragma once
#include <string>
#include <string_view>

#include "record/job.h"

namespace ohmleaf::checks {

/// What a reading should come to, from the cable and from the readings before it, for one who is
/// about to take it: "0.21 Ω, from 14 m of 2.5/1.5 mm² at 20 °C". No limit and no verdict. Empty
/// where nothing is known. `cell` as in a finding ("dead.R1R2"); `circuit` an index, -1 for the
/// job.
std::string expected_value(const record::Job& job, int circuit, std::string_view cell);

}  // namespace ohmleaf::checks
