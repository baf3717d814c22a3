#pragma once

namespace ohmleaf::cli {

/// From here on SIGINT, SIGTERM and SIGHUP end the program with a sentence on standard error and
/// exit code 130. They may come at any moment: what is written is built aside and put in place by
/// one step, so that nothing half-written is left, and the same command again says what was done.
/// A closed pipe no longer kills: it is an error that is reported.
void end_on_signals();

}  // namespace ohmleaf::cli
