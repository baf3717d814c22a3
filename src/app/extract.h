#pragma once
#include <string>

#include "app/workspace.h"
#include "base/diagnostic.h"

namespace ohmleaf::app {

/// The part of installer.toml that goes with a certificate: the firm, the people and instruments
/// the job names, the accessories it used, the look. Written anew from the parsed file, so that
/// comments, other people and private parts never leave the installer's machine; it reads as an
/// installer.toml of its own.
std::string installer_extract(const Workspace& workspace, Sources& sources, Diagnostics& out);

}  // namespace ohmleaf::app
