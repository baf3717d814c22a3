#pragma once
#include <cstddef>
#include <functional>
#include <optional>
#include <string>

namespace ohmleaf::app {

/// What work on a file of unknown origin may use.
struct Fence {
  int seconds = 2;  ///< of the processor, and about as much by the clock
  std::size_t memory = std::size_t{256} << 20;  ///< bytes of address space
};

/// Runs `work` in a child process that can do no harm: little memory, little time, no file that it
/// could write, nothing but a pipe to answer through. Gives what `work` returned, whole. Nothing
/// where it crashed, threw, or met a bound; the caller judges the answer as it would the file. Call
/// it before any thread is started.
std::optional<std::string> run_fenced(const Fence& fence, const std::function<std::string()>& work);

}  // namespace ohmleaf::app
