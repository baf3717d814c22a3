#pragma once
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

#include "base/date.h"

namespace ohmleaf::cli {

/// The outside world, by one door: what a command may see and where it may speak. Tests give their
/// own.
struct Environment {
  /// Writes to standard output / error. False: the stream is closed or full.
  std::function<bool(std::string_view)> out;
  std::function<bool(std::string_view)> err;
  std::function<Instant()> now;
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  bool no_color = false;             ///< NO_COLOR is set
  int columns = 80;
  std::filesystem::path data_folder; ///< where forms/ stands: share/ohmleaf or the source tree
  std::filesystem::path config_home;  ///< XDG_CONFIG_HOME, else ~/.config; empty: none
  std::filesystem::path data_home;    ///< XDG_DATA_HOME, else ~/.local/share; empty: none
  bool unicode = true;                ///< the terminal shows more than ASCII
  std::filesystem::path scratch_folder = "/tmp";  ///< for what is made and thrown away (TMPDIR)
};

}  // namespace ohmleaf::cli
