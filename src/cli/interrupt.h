#pragma once

namespace ohmleaf::cli {

/// While one of these lives, Ctrl-C (and a request to end) is noted instead of ending the program
/// at once: what is being saved is saved first, and a last line can say where things stand.
/// Waiting for a line or for a file ends at once.
class Interrupt {
 public:
  Interrupt();
  ~Interrupt();
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;

  static bool pressed();
};

}  // namespace ohmleaf::cli
