#include "cli/interrupt.h"

#include <array>
#include <csignal>

namespace ohmleaf::cli {
namespace {

constexpr std::array kSignals{SIGINT, SIGTERM, SIGHUP};

volatile std::sig_atomic_t noted = 0;
std::array<struct sigaction, kSignals.size()> before{};

void note(int) { noted = 1; }

}  // namespace

Interrupt::Interrupt() {
  noted = 0;
  struct sigaction action {};
  action.sa_handler = note;  // without SA_RESTART: a read that waits comes back
  for (std::size_t i = 0; i < kSignals.size(); ++i) {
    ::sigaction(kSignals[i], nullptr, &before[i]);
    // Whoever started us with a signal ignored wants it so.
    if (before[i].sa_handler != SIG_IGN) ::sigaction(kSignals[i], &action, nullptr);
  }
}
Interrupt::~Interrupt() {
  for (std::size_t i = 0; i < kSignals.size(); ++i) ::sigaction(kSignals[i], &before[i], nullptr);
}

bool Interrupt::pressed() { return noted != 0; }

}  // namespace ohmleaf::cli
