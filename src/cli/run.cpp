#include "cli/run.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <new>
#include <utility>

#include "base/files.h"
#include "base/memory.h"
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

struct Described {
  std::vector<std::string_view> commands;
  void (*add)(Command&, Environment&, int&);
};

/// Every command, in the order of the help.
const std::vector<Described>& described() {
  static const std::vector<Described> all = {
      {{"start"}, add_start},
      {{"note"}, add_note},
      {{"check"}, add_check},
      {{"sheet", "notice", "draft"}, add_draft},
      {{"issue", "revise"}, add_issue},
      {{"find"}, add_find},
      {{"show"}, add_show},
      {{"withdraw"}, add_withdraw},
      {{"verify"}, add_verify},
      {{"due"}, add_due},
      {{"export", "import"}, add_export},
      {{"redact"}, add_redact},
      {{"expire"}, add_expire},
      {{"extract"}, add_extract},
      {{"forms"}, add_forms},
      {{"keys"}, add_keys},
      {{"timestamp"}, add_timestamp},
      {{"limits"}, add_limits_command},
      {{"needs"}, add_needs},
      {{"take"}, add_take},
      {{"schema"}, add_schema},
      {{}, add_manual},  // it shows every command, so it is never described alone
  };
  return all;
}

/// Describing all commands takes longer than most of them run: where the first word names one, that
/// one is enough. Help, a misspelt word and the manual see them all.
void describe(Command& app, const std::vector<std::string>& args, Environment& e, int& exit_code) {
  if (args.size() == 1 && args.front() == "--version") return;
  const auto named = [&](const Described& d) {
    return !args.empty() &&
           std::find(d.commands.begin(), d.commands.end(), args.front()) != d.commands.end();
  };
  const auto one = std::find_if(described().begin(), described().end(), named);
  if (one != described().end()) return one->add(app, e, exit_code);
  for (const Described& d : described()) d.add(app, e, exit_code);
}

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
  describe(app, args, e, exit_code);
  try {
    const Parsed parsed = app.parse(args);
    switch (parsed.kind) {
      case Parsed::Kind::ran: return parsed.whole ? say(e, app.help()) : exit_code;
      case Parsed::Kind::help: return say(e, parsed.text);
      case Parsed::Kind::version: return say(e, parsed.text + "\n");
      case Parsed::Kind::wrong: return command_error(parsed, e);
    }
  } catch (const std::bad_alloc& error) {
    tell_of(error, e.err);
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
  if (!kSanitized) e.leave = [](int code) { std::exit(code); };
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
  } catch (const std::exception& error) {
    tell_of(error, [](std::string_view text) { return write_all(STDERR_FILENO, text); });
  }
  return kSystem;
}

}  // namespace ohmleaf::cli
