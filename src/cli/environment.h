#pragma once
#include <filesystem>
#include <functional>
#include <optional>
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
  std::function<DateTime()> wall_clock;  ///< the time on the wall where the user is
  /// The next line of standard input, without its line ending; nothing at its end, and nothing
  /// where Ctrl-C was pressed while it was waited for.
  std::function<std::optional<std::string>()> read_line;
  /// True once Ctrl-C was pressed in a command that watches for it (`cli/interrupt.h`).
  std::function<bool()> interrupted;
  /// Ends the process with a code, where it stands: its memory goes back whole, which to take apart takes longer.
  /// None where the process goes on, as in tests.
  std::function<void(int)> leave;
  bool in_is_terminal = false;
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
