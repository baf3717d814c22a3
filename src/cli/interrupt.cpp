#include "cli/interrupt.h"

#include <csignal>
#include <initializer_list>

namespace ohmleaf::cli {
namespace {

volatile std::sig_atomic_t noted = 0;

void note(int) {
  noted = 1;
}

void handle(void (*how)(int)) {
  struct sigaction action {};
  action.sa_handler = how;  // without SA_RESTART: a read that waits comes back
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaction(signal, &action, nullptr);
}

}  // namespace

Interrupt::Interrupt() {
  noted = 0;
  handle(note);
}
Interrupt::~Interrupt() {
  handle(SIG_DFL);
}

bool Interrupt::pressed() {
  return noted != 0;
}

}  // namespace ohmleaf::cli
