#include "cli/run.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdlib>

#include "base/files.h"
#include "base/heap.h"
#include "base/text.h"
#include "base/version.h"
#include "cli/archive_common.h"
#include "cli/command.h"
#include "cli/limits_command.h"
#include "cli/password.h"

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
  try {
    const Parsed parsed = app.parse(args);
    switch (parsed.kind) {
      case Parsed::Kind::ran: return parsed.whole ? say(e, app.help()) : exit_code;
      case Parsed::Kind::help: return say(e, parsed.text);
      case Parsed::Kind::version: return say(e, parsed.text + "\n");
      case Parsed::Kind::wrong: return command_error(parsed, e);
    }
  } catch (const std::bad_alloc&) {
    e.err("ohmleaf: error: there is not enough memory\n");
    return kSystem;
  }
  return exit_code;
}

namespace {

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

}  // namespace

int main_entry(int argc, char** argv) {
  prepare_heap();
  std::signal(SIGPIPE, SIG_IGN);  // a closed pipe is an error we report, not a death
  Environment e;
  e.out = [](std::string_view t) { return write_all(STDOUT_FILENO, t); };
  e.err = [](std::string_view t) { return write_all(STDERR_FILENO, t); };
  e.now = [] {
    return Instant{std::chrono::duration_cast<std::chrono::seconds>(
                       std::chrono::system_clock::now().time_since_epoch())
                       .count()};
  };
  e.out_is_terminal = ::isatty(STDOUT_FILENO) == 1;
  e.err_is_terminal = ::isatty(STDERR_FILENO) == 1;
  const char* no_color = std::getenv("NO_COLOR");
  e.no_color = no_color != nullptr && *no_color != '\0';
  e.columns = terminal_columns();
  if (const char* scratch = std::getenv("TMPDIR"); scratch != nullptr && *scratch != '\0')
    e.scratch_folder = scratch;
  e.data_folder = program_folder().parent_path() / "share" / "ohmleaf";
  return run(std::vector<std::string>(argv + 1, argv + argc), e);
}

}  // namespace ohmleaf::cli
