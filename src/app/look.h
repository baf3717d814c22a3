#pragma once
#include <optional>
#include <string>

#include "app/workspace.h"
#include "layout/theme.h"

namespace ohmleaf::app {

/// Colours and type of the pages, with the file they came from, which is embedded and archived.
struct Look {
  std::string name;   ///< "harbour"; empty: our own
  std::string bytes;  ///< of the theme's file
  layout::Theme theme;
};

/// The theme named on the command line, else in installer.toml's [look], else our own ("plain").
/// A theme is a name (theme-NAME.toml in the installer's forms/ or in ours) or the path of a file,
/// from the folder of installer.toml. The firm's accent goes over it when the pages are laid out.
std::optional<Look> load_look(const Workspace& workspace, Sources& sources, Diagnostics& out);

}  // namespace ohmleaf::app
