#include "cli/signals.h"

#include <unistd.h>

#include <csignal>
#include <string_view>

#include "cli/command.h"

namespace ohmleaf::cli {
namespace {

/// Only what POSIX allows in a handler: no memory, no locks, no destructors.
void end_here(int) {
  constexpr std::string_view kWords =
      "\nohmleaf: interrupted; run the same command again: it says what was done\n";
  const ssize_t written = ::write(STDERR_FILENO, kWords.data(), kWords.size());
  static_cast<void>(written);  // a terminal that is gone hears nothing
  ::_exit(kInterrupted);
}

}  // namespace

void end_on_signals() {
  struct sigaction action {};
  action.sa_handler = end_here;
  sigemptyset(&action.sa_mask);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction before {};
    // Whoever started us with a signal ignored (nohup, a shell's background job) wants it so.
    if (::sigaction(signal, nullptr, &before) == 0 && before.sa_handler == SIG_IGN) continue;
    ::sigaction(signal, &action, nullptr);
  }
  std::signal(SIGPIPE, SIG_IGN);
}

}  // namespace ohmleaf::cli
