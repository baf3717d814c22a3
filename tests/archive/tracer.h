#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

/// Runs a function in a child process that sees each of its own system calls, and hurts it at one
/// of them: as `strace --inject` does, but without starting a program anew, so that thousands of
/// runs take minutes. Linux on x86-64.
namespace tracer {

enum class Act {
  kill,       ///< SIGKILL on the way into the call, which then does not happen
  error,      ///< the call does not happen and fails with `value` as errno
  lie,        ///< the call does not happen and succeeds with `value`
  lie_whole,  ///< a write that does not happen and says that it wrote all
  shorten,    ///< a write that really happens, of `value` bytes at most
  cut         ///< as kill, but the child is held first: for a look at what is on the disk
};

struct Fault {
  Act act = Act::kill;
  long call = -1;         ///< the system call's number; -1: any
  int nth = 1;            ///< of those calls, from 1
  bool for_ever = false;  ///< from the nth on
  long value = 0;
};

struct Run {
  int exit_code = -1;       ///< -1: killed
  int injected = 0;         ///< how often the fault was seen to happen
  bool endless = false;     ///< did not end, however long it was left at it; killed by us
  std::vector<long> calls;  ///< all that it made, in order, but for its end
};

/// `work` gives the child's exit code. Whatever it does to memory is lost, but for what is shared.
/// `held` is called at a cut, while the child still stands there. Nothing where the system lets
/// no process filter its calls.
std::optional<Run> run(const std::function<int()>& work, const std::optional<Fault>& fault,
                       const std::function<void()>& held = {});

/// "openat", for messages; a number where it has no name here.
std::string name_of(long call);

}  // namespace tracer
