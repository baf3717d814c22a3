#pragma once
#include <exception>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "app/workspace.h"
#include "base/diagnostic.h"
#include "cli/environment.h"
#include "cli/options.h"
#include "cli/style.h"

namespace ohmleaf::cli {

/// Exit codes, documented in README.md and design.md section 6.
enum ExitCode { kFine = 0, kFindings = 1, kInput = 2, kSystem = 3, kInterrupted = 130 };

/// What every command takes.
struct Common {
  std::string installer;
  std::string archive;
  std::string theme;
  std::string language;
  std::string color = "auto";
  bool json = false;
  bool csv = false;
  bool quiet = false;
  bool verbose = false;
};

enum CommonFlags : unsigned {
  kInstaller = 1,
  kArchive = 2,
  kJson = 4,
  kVolume = 8,
  kTheme = 16,
  kLanguage = 32,
  kCsv = 256
};
/// Adds the options of `which` (and always --color) to a command.
void add_common(Command& command, Common& common, unsigned which);

/// Examples, one a line with two spaces before it: below the options in --help, in the manual, and
/// each run by the tests.
void add_examples(Command& command, const std::string& examples);

app::Places places_of(const Common& common, const Environment& environment);
Style style_for(const Common& common, const Environment& environment, bool error_stream);

/// Prints to standard output; kSystem where that fails, else `code`.
int say(Environment& environment, std::string_view text, int code = kFine);
/// The last step of a command that holds much and has nothing open: ends the process where it can.
int leave(Environment& environment, int code);
/// Prints a report whose details are set in: all of it, or with --quiet the lines that are not.
int report(Environment& environment, const Common& common, const std::string& text,
           int code = kFine);
/// With --verbose: what a command works with ("archive", its path), on standard error.
void tell(Environment& environment, const Common& common, std::string_view what,
          const std::filesystem::path& where);
/// Prints all diagnostics to standard error and gives the exit code they ask for.
int complain(Environment& environment, const Diagnostics& diagnostics, const Sources& sources,
             const Common& common);
/// The same for `--json`: an object with "format" and "errors" on standard output.
int complain_json(Environment& environment, const Diagnostics& diagnostics, const Sources& sources);

/// Says of an exception that no layer took what there is to do about it. Asks for no memory where that has
/// ended.
void tell_of(const std::exception& error, const std::function<bool(std::string_view)>& say);

/// Each adds one command; the command's callback leaves its exit code in `exit_code`.
void add_start(Command& app, Environment& environment, int& exit_code);
void add_note(Command& app, Environment& environment, int& exit_code);
void add_check(Command& app, Environment& environment, int& exit_code);
void add_draft(Command& app, Environment& environment, int& exit_code);
void add_issue(Command& app, Environment& environment, int& exit_code);
void add_forms(Command& app, Environment& environment, int& exit_code);
void add_keys(Command& app, Environment& environment, int& exit_code);
void add_extract(Command& app, Environment& environment, int& exit_code);
void add_schema(Command& app, Environment& environment, int& exit_code);
void add_needs(Command& app, Environment& environment, int& exit_code);
void add_take(Command& app, Environment& environment, int& exit_code);
void add_manual(Command& app, Environment& environment, int& exit_code);

}  // namespace ohmleaf::cli
