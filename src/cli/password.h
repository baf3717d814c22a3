#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cli/command.h"
#include "seal/key.h"

// Passwords and the key that they open. A password comes from the terminal or from a file
// descriptor; whoever can list processes could read it among the arguments or in the environment.

namespace ohmleaf::cli {

/// The options of a command that signs.
struct SigningOptions {
  std::string key;  ///< PKCS#12 file; empty: not signed
  std::string password_fd;
};
void add_signing(Command& command, SigningOptions& options);
void add_password_fd(Command& command, std::string& into);

/// Where an argument looks like a password, says why not and what else, without repeating it.
std::optional<int> refuse_password_argument(const std::vector<std::string>& args,
                                            Environment& environment);

/// From the descriptor (a number, as written), up to its first line's end; else from the terminal,
/// not echoed, where `twice` asks again. Call `seal::guard_process` first.
std::optional<seal::Secret> read_password(const std::string& descriptor, const std::string& what,
                                          bool twice, Diagnostics& out);

/// Opens the key that the options name, asking for its password. Before anything is written.
std::optional<seal::Key> open_key(const SigningOptions& options, Instant now, Diagnostics& out);

}  // namespace ohmleaf::cli
