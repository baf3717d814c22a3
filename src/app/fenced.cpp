#include "app/fenced.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstring>

namespace ohmleaf::app {
namespace {

// The sanitizer reserves far more address space than it uses. g++ and clang++ say it differently.
#if defined(__SANITIZE_ADDRESS__)
constexpr bool kSanitized = true;
#elif defined(__has_feature)
constexpr bool kSanitized = __has_feature(address_sanitizer);
#else
constexpr bool kSanitized = false;
#endif

bool write_all(int fd, const void* data, std::size_t size) {
  const auto* p = static_cast<const char*>(data);
  while (size > 0) {
    const ssize_t n = ::write(fd, p, size);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    p += n;
    size -= static_cast<std::size_t>(n);
  }
  return true;
}

void limit_self(const Fence& fence) {
  const auto seconds = static_cast<rlim_t>(fence.seconds * (kSanitized ? 10 : 1));
  const rlimit cpu{seconds, seconds};
  ::setrlimit(RLIMIT_CPU, &cpu);
  const rlimit none{0, 0};
  ::setrlimit(RLIMIT_FSIZE, &none);
  ::setrlimit(RLIMIT_CORE, &none);
  if constexpr (!kSanitized) {
    const rlimit memory{fence.memory, fence.memory};
    ::setrlimit(RLIMIT_AS, &memory);
  }
}

[[noreturn]] void answer_in_child(int fd, const Fence& fence,
                                  const std::function<std::string()>& work) {
  limit_self(fence);
  try {
    const std::string answer = work();
    const std::uint64_t size = answer.size();
    if (write_all(fd, &size, sizeof size)) write_all(fd, answer.data(), answer.size());
  } catch (...) {
    ::_exit(1);
  }
  ::_exit(0);
}

/// All that the child says, or nothing when it takes too long.
std::optional<std::string> listen(int fd, int seconds) {
  using Clock = std::chrono::steady_clock;
  const auto until = Clock::now() + std::chrono::seconds(seconds);
  std::string out;
  char buffer[65536];
  for (;;) {
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(until - Clock::now());
    pollfd p{fd, POLLIN, 0};
    const int ready = left.count() <= 0 ? 0 : ::poll(&p, 1, static_cast<int>(left.count()));
    if (ready < 0 && errno == EINTR) continue;
    if (ready <= 0) return std::nullopt;
    const ssize_t n = ::read(fd, buffer, sizeof buffer);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return std::nullopt;
    if (n == 0) return out;
    out.append(buffer, static_cast<std::size_t>(n));
  }
}

}  // namespace

std::optional<std::string> run_fenced(const Fence& fence,
                                      const std::function<std::string()>& work) {
  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0) return std::nullopt;
  const pid_t child = ::fork();
  if (child == 0) answer_in_child(ends[1], fence, work);
  ::close(ends[1]);
  std::optional<std::string> said;
  // The limit is of work; a machine that is busy with other things may take longer over it.
  if (child > 0) said = listen(ends[0], fence.seconds * 10);
  ::close(ends[0]);
  if (child < 0) return std::nullopt;
  if (!said) ::kill(child, SIGKILL);
  while (::waitpid(child, nullptr, 0) < 0 && errno == EINTR) {
  }
  std::uint64_t size = 0;
  if (!said || said->size() < sizeof size) return std::nullopt;
  std::memcpy(&size, said->data(), sizeof size);
  if (said->size() - sizeof size != size) return std::nullopt;  // it died on the way
  said->erase(0, sizeof size);
  return said;
}

}  // namespace ohmleaf::app
