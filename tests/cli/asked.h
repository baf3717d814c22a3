#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "cli/world.h"

namespace ohmleaf::test {

/// An answer of `ohmleaf limits`, which touches no file: only standard output and error.
struct Asked {
  std::string out, err;
  int code = 0;

  explicit Asked(std::vector<std::string> args) {
    cli::Environment e;
    e.out = [this](std::string_view t) {
      out += t;
      return true;
    };
    e.err = [this](std::string_view t) {
      err += t;
      return true;
    };
    e.now = [] { return Instant{0}; };
    e.columns = 100;
    args.insert(args.begin(), "limits");
    code = cli::run(args, e);
  }
  bool says(std::string_view words) const { return out.find(words) != std::string::npos; }
  bool complains(std::string_view words) const { return err.find(words) != std::string::npos; }
};

}  // namespace ohmleaf::test
