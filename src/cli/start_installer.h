#pragma once
#include "cli/command.h"
#include "cli/environment.h"

namespace ohmleaf::cli {

/// `ohmleaf start installer`; `chosen` is set where it was the command.
void add_start_installer(Command& start, Environment& environment, int& exit_code, bool& chosen);

}  // namespace ohmleaf::cli
