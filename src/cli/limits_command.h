#pragma once
#include "cli/command.h"

namespace ohmleaf::cli {

/// Adds `ohmleaf limits …`: every limit with its derivation and source, without a job. The exit
/// code is 0, or 2 where the question cannot be answered as it stands.
void add_limits_command(Command& app, Environment& environment, int& exit_code);

}  // namespace ohmleaf::cli
