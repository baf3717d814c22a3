#pragma once
#include <filesystem>
#include <string_view>

#include "base/diagnostic.h"

namespace ohmleaf {

/// Writes what can be made again at any time: whole or not at all, as `write_file` does, but
/// without waiting for the disk. Mode 0644. A full disk is an error all the same.
bool write_quick(const std::filesystem::path& path, std::string_view bytes, Diagnostics& out);

}  // namespace ohmleaf
