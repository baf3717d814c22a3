#pragma once
#include <string>

#include "cli/command.h"

namespace ohmleaf::cli {

/// `check --watch`: judges the job again whenever it or its installer.toml is saved; first what
/// changed, then how it stands. Ends with Ctrl-C (kInterrupted) or when the job file is gone.
int watch_check(Environment& environment, const Common& common, const std::string& job);

}  // namespace ohmleaf::cli
