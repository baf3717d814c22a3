#pragma once
#include <string>
#include <vector>

#include "cli/options.h"

namespace ohmleaf::cli {

/// One page of the manual, in the macros of man(7).
struct ManualPage {
  std::string name;  ///< "ohmleaf-check"
  int section = 1;
  std::string about;  ///< the line behind the name
  std::string roff;   ///< the whole file
};

/// Every page: one of the program, one of each command, and those of the files and of the readings.
/// `program` is the program with all its commands.
std::vector<ManualPage> manual_pages(const CommandView& program);

/// The completion of command lines for bash, zsh or fish.
std::string bash_completion(const CommandView& program);
std::string zsh_completion(const CommandView& program);
std::string fish_completion(const CommandView& program);

}  // namespace ohmleaf::cli
