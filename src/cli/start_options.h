#pragma once
#include <string>

#include "cli/command.h"

namespace ohmleaf::cli {

/// What `ohmleaf start FOLDER` was given; every answer that it would ask for is one of these.
struct StartOptions {
  Common common;
  std::string folder;
  std::string work, like, premises, client, contact, person, date, nation;
  std::string board, circuit, name, device, accessory, where, instruments;
  bool fresh = false, installer = false;
};

void add_start_options(Command& command, StartOptions& options);

}  // namespace ohmleaf::cli
