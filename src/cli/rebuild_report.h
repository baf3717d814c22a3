#pragma once
#include <optional>
#include <string>

#include "archive/archive.h"
#include "cli/command.h"

namespace ohmleaf::cli {

/// `verify --rebuild`: renders every revision of `number` (or of every certificate) again from its
/// own embedded data and says of each whether it comes out the same. 1 where one does not.
int report_rebuild(Environment& environment, const Common& common, const archive::Archive& store,
                   const std::optional<std::string>& number);

}  // namespace ohmleaf::cli
