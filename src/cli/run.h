#pragma once
#include <string>
#include <vector>

#include "cli/environment.h"

namespace ohmleaf::cli {

/// Runs one command; `args` without the program's name. Returns the exit code (design.md 6):
/// 0 nothing to do about it, 1 findings that stop an issue, 2 wrong input or command, 3 the system
/// failed, 130 interrupted.
int run(const std::vector<std::string>& args, Environment& environment);

/// What main() calls: builds the real environment and runs.
int main_entry(int argc, char** argv);

}  // namespace ohmleaf::cli
