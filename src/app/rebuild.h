#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "base/source.h"

namespace ohmleaf::app {

/// An issued certificate made once more from nothing but what is embedded in it.
struct Rebuilt {
  std::string number;
  int revision = 1;
  std::string program;  ///< that issued it: "ohmleaf 0.1.0"
  std::string signed_by;  ///< whom its electronic signature names; not compared itself
  bool same_bytes = false;
  /// Every object and every unpacked stream alike, the bytes perhaps not: another version of the
  /// compression library. True where the bytes are.
  bool same_content = false;
  std::string bytes;  ///< as it comes out now
};

/// Renders `pdf` again: job, profile, forms, words, theme and pictures come out of it, number and
/// moment of issue out of its own record. They are laid out in a new folder below `scratch`, which
/// is removed. A PDF without them, or whose data no longer read: an error and nothing.
/// Call it before any thread is started.
std::optional<Rebuilt> rebuild(std::string_view pdf, const std::filesystem::path& scratch,
                               Sources& sources, Diagnostics& out);

}  // namespace ohmleaf::app
