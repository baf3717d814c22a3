#pragma once
#include <optional>
#include <string>

#include "app/workspace.h"

namespace ohmleaf::app {

/// The profile that a command without a job works with: the one named, or installer.toml found by
/// walking up from the current folder.
std::optional<record::Installer> load_installer(const Places& places, Sources& sources,
                                                Diagnostics& out);

/// The name of the one who acts on the archive: the person of that key, or the profile's only one.
std::optional<std::string> person_in_charge(const Places& places, const std::string& key,
                                            Sources& sources, Diagnostics& out);

}  // namespace ohmleaf::app
