#pragma once
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"

namespace ohmleaf {

/// Reads a regular file whole. Missing, unreadable, not a regular file or larger than
/// `max_bytes`: an error in `out` and nothing returned.
std::optional<std::string> read_file(const std::filesystem::path& path, std::size_t max_bytes,
                                     Diagnostics& out);

/// Writes a file so that a reader sees the old bytes or the new, never half: a temporary beside
/// it, fsync, read back and compared, rename, fsync of the folder. Mode 0600 unless given.
bool write_file(const std::filesystem::path& path, std::string_view bytes, Diagnostics& out,
                unsigned mode = 0600);

enum class Replaced { yes, changed, failed };

/// As write_file, in place of a file that is there and still holds `expected`, with its mode; a
/// link is followed. `changed`, with an error, where somebody else wrote to it meanwhile: nothing
/// was written. What runs at the same time and uses this function too waits for its turn.
Replaced replace_file(const std::filesystem::path& path, std::string_view expected,
                      std::string_view bytes, Diagnostics& out);

/// As write_file, but never over a file that is there: false then, with an error.
bool write_new_file(const std::filesystem::path& path, std::string_view bytes, Diagnostics& out,
                    unsigned mode = 0600);

/// A new folder of its own below `parent`, for its owner only, its name beginning with `stem`.
/// Nothing where none can be made there.
std::optional<std::filesystem::path> make_scratch_folder(const std::filesystem::path& parent,
                                                         std::string_view stem);

/// Walks up from `start` (a folder) to the root for a file of that name.
std::optional<std::filesystem::path> find_upwards(const std::filesystem::path& start,
                                                  std::string_view name);

/// The folder of the running program, for the forms installed beside it.
std::filesystem::path program_folder();

/// "No space left on device" and the like, in words, for an errno value.
std::string errno_text(int error);

}  // namespace ohmleaf
