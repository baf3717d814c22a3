#pragma once
#include <functional>
#include <string>

#include "cli/environment.h"

namespace ohmleaf::cli {

/// A bar on standard error for long work, where that is a terminal; nothing at all where it is not.
/// It is wiped when the work is done.
std::function<void(std::size_t, std::size_t)> progress_bar(Environment& environment,
                                                           std::string what);

}  // namespace ohmleaf::cli
