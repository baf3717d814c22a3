#include "cli/run.h"

#include <unistd.h>

#include <chrono>
#include <cerrno>
#include <cstdlib>

#include "base/version.h"

namespace ohmleaf::cli {

int run(const std::vector<std::string>& args, Environment& environment) {
  (void)args;
  environment.out("ohmleaf " + std::string(program_version()) + "\n");
  return 0;
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

}  // namespace

int main_entry(int argc, char** argv) {
  Environment e;
  e.out = [](std::string_view t) { return write_all(STDOUT_FILENO, t); };
  e.err = [](std::string_view t) { return write_all(STDERR_FILENO, t); };
  e.now = [] {
    return Instant{std::chrono::duration_cast<std::chrono::seconds>(
                       std::chrono::system_clock::now().time_since_epoch())
                       .count()};
  };
  return run(std::vector<std::string>(argv + 1, argv + argc), e);
}

}  // namespace ohmleaf::cli
