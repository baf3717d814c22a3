#include "cli/run.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <new>
#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "base/version.h"
#include "cli/archive_common.h"
#include "cli/command.h"
#include "cli/interrupt.h"
#include "cli/limits_command.h"
#include "cli/password.h"
#include "cli/signals.h"

namespace ohmleaf::cli {
namespace {

constexpr const char* kAbout =
    "Checks the readings of electrical work against their limits, issues the certificate and "
    "keeps it.\n\nIsolate, lock off and prove dead before you touch; dead tests come before live "
    "tests. This program compares what was recorded with the limits: it never says that an "
    "installation is safe. A skilled person decides, by the local code in force.";

constexpr const char* kFooter =
    "Exit codes: 0 nothing to do about it; 1 findings that stop an issue, or a verification that "
    "fails; 2 the input or the command is wrong; 3 the system failed; 130 interrupted.";

constexpr std::string_view kNoMemory =
    "ohmleaf: error: there is not enough memory\n  → Close other programs and run the command again; "
    "it says what was done.\n";

int command_error(const Parsed& parsed, Environment& e) {
  e.err("ohmleaf: error: " + visible(parsed.text) + "\n  → " + parsed.words +
        (parsed.whole ? " --help names the commands." : " --help shows how it is used.") + "\n");
  return kInput;
}

}  // namespace

int run(const std::vector<std::string>& args, Environment& e) {
  if (const auto refused = refuse_password_argument(args, e)) return *refused;
  int exit_code = kFine;
  Command app(kAbout, "ohmleaf");
  app.footer(kFooter);
  app.require_subcommand(0, 1);
  app.set_version_flag("--version", "ohmleaf " + std::string(program_version()));
  add_start(app, e, exit_code);
  add_note(app, e, exit_code);
  add_check(app, e, exit_code);
  add_draft(app, e, exit_code);
  add_issue(app, e, exit_code);
  add_find(app, e, exit_code);
  add_show(app, e, exit_code);
  add_withdraw(app, e, exit_code);
  add_verify(app, e, exit_code);
  add_due(app, e, exit_code);
  add_export(app, e, exit_code);
  add_redact(app, e, exit_code);
  add_expire(app, e, exit_code);
  add_extract(app, e, exit_code);
  add_forms(app, e, exit_code);
  add_keys(app, e, exit_code);
  add_timestamp(app, e, exit_code);
  add_limits_command(app, e, exit_code);
  add_needs(app, e, exit_code);
  add_take(app, e, exit_code);
  add_schema(app, e, exit_code);
  add_manual(app, e, exit_code);
  try {
    const Parsed parsed = app.parse(args);
    switch (parsed.kind) {
      case Parsed::Kind::ran: return parsed.whole ? say(e, app.help()) : exit_code;
      case Parsed::Kind::help: return say(e, parsed.text);
      case Parsed::Kind::version: return say(e, parsed.text + "\n");
      case Parsed::Kind::wrong: return command_error(parsed, e);
    }
  } catch (const std::bad_alloc&) {
    e.err(kNoMemory);
    return kSystem;
  }
  return exit_code;
}

namespace {

constexpr std::size_t kMostOfALine = 1u << 20;

bool write_all(int fd, std::string_view text) {
  while (!text.empty()) {
    const ssize_t n = ::write(fd, text.data(), text.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    text.remove_prefix(static_cast<std::size_t>(n));
  }
  return true;
}

int terminal_columns() {
  winsize size{};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) return size.ws_col;
  return 80;
}

/// The time on the wall, by the system's time zone.
DateTime wall_clock() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  ::localtime_r(&now, &local);
  return {{local.tm_year + 1900, local.tm_mon + 1, local.tm_mday},
          local.tm_hour, local.tm_min, local.tm_sec};
}

/// Lines of standard input. A line is at most what a job could hold; Ctrl-C ends the waiting.
std::optional<std::string> read_line() {
  static std::string held;
  for (;;) {
    if (const auto end = held.find('\n'); end != std::string::npos) {
      std::string line = held.substr(0, end);
      held.erase(0, end + 1);
      if (line.ends_with('\r')) line.pop_back();
      return line;
    }
    char buffer[4096];
    const ssize_t n = Interrupt::pressed() ? 0 : ::read(STDIN_FILENO, buffer, sizeof buffer);
    if (n < 0 && errno == EINTR && !Interrupt::pressed()) continue;
    if (n > 0 && held.size() < kMostOfALine) {
      held.append(buffer, static_cast<std::size_t>(n));
      continue;
    }
    if (held.empty() || Interrupt::pressed()) return std::nullopt;
    return std::exchange(held, {});
  }
}

/// A folder of the user's own, by the XDG base directory specification: the variable where it is an
/// absolute path, else the usual place in the home folder.
std::filesystem::path user_folder(const char* variable, const char* usual) {
  if (const char* set = std::getenv(variable); set != nullptr && *set == '/') return set;
  const char* home = std::getenv("HOME");
  return home != nullptr && *home == '/' ? std::filesystem::path(home) / usual
                                         : std::filesystem::path();
}

/// By the first of LC_ALL, LC_CTYPE and LANG that is set. Nothing set: a terminal of today.
bool shows_unicode() {
  for (const char* variable : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const char* set = std::getenv(variable);
    if (set == nullptr || *set == '\0') continue;
    const std::string locale = ascii_lower(set);
    return locale.find("utf-8") != std::string::npos || locale.find("utf8") != std::string::npos;
  }
  return true;
}

}  // namespace

namespace {

int run_here(int argc, char** argv) {
  Environment e;
  e.out = [](std::string_view t) { return write_all(STDOUT_FILENO, t); };
  e.err = [](std::string_view t) { return write_all(STDERR_FILENO, t); };
  e.now = [] {
    return Instant{std::chrono::duration_cast<std::chrono::seconds>(
                       std::chrono::system_clock::now().time_since_epoch())
                       .count()};
  };
  e.wall_clock = wall_clock;
  e.read_line = read_line;
  e.interrupted = [] { return Interrupt::pressed(); };
  e.in_is_terminal = ::isatty(STDIN_FILENO) == 1;
  e.out_is_terminal = ::isatty(STDOUT_FILENO) == 1;
  e.err_is_terminal = ::isatty(STDERR_FILENO) == 1;
  const char* no_color = std::getenv("NO_COLOR");
  e.no_color = no_color != nullptr && *no_color != '\0';
  e.columns = terminal_columns();
  if (const char* scratch = std::getenv("TMPDIR"); scratch != nullptr && *scratch != '\0')
    e.scratch_folder = scratch;
  e.config_home = user_folder("XDG_CONFIG_HOME", ".config");
  e.data_home = user_folder("XDG_DATA_HOME", ".local/share");
  e.unicode = shows_unicode();
  e.data_folder = program_folder().parent_path() / "share" / "ohmleaf";
  return run(std::vector<std::string>(argv + 1, argv + argc), e);
}

}  // namespace

int main_entry(int argc, char** argv) {
  end_on_signals();
  try {
    return run_here(argc, argv);
  } catch (const std::bad_alloc&) {
    write_all(STDERR_FILENO, kNoMemory);
  } catch (const std::exception& e) {
    write_all(STDERR_FILENO, "ohmleaf: error: something went wrong in the program itself: ");
    write_all(STDERR_FILENO, e.what());
    write_all(STDERR_FILENO, "\n  → Run the command again; it says what was done.\n");
  }
  return kSystem;
}

}  // namespace ohmleaf::cli
