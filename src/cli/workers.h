#pragma once
#include <sys/types.h>

#include <cstdint>
#include <deque>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "cli/batch.h"

namespace ohmleaf::cli {

/// Processors that this process may run on, at least 1.
std::size_t processors();

/// Worker processes, each a copy of this one made before it has any thread. They are asked by
/// place and answer through a pipe; who has answered gets the next place. A worker that dies is
/// replaced, and only the job that it was at is lost.
class Workers {
 public:
  using Work = std::function<Outcome(std::size_t place)>;
  /// `outcome` is nothing where the worker died; `how` says of what.
  using Take = std::function<void(std::size_t place, std::optional<Outcome> outcome,
                                  const std::string& how)>;

  Workers(std::size_t count, Work work);
  ~Workers();
  Workers(const Workers&) = delete;
  Workers& operator=(const Workers&) = delete;

  /// Places 0 … total-1, given out in that order while there is `room()` for their outcomes.
  void run(std::size_t total, const std::function<bool()>& room, const Take& take);

 private:
  struct Worker {
    pid_t pid = -1;
    int ask = -1, answer = -1;
    std::deque<std::size_t> asked;  ///< in the order of asking
    std::string buffer;             ///< of an answer that has not come whole
  };
  bool start(Worker& worker);
  void stop(Worker& worker);
  bool ask(Worker& worker, std::size_t place);
  void give_out(std::size_t total, bool room);
  bool read_from(Worker& worker, const Take& take);
  void bury(Worker& worker, const Take& take);
  [[noreturn]] void serve(int asked, int answer) const;

  Work work_;
  std::vector<Worker> workers_;
  std::deque<std::size_t> again_;  ///< asked of a worker that died over another job
  std::size_t next_ = 0;
};

}  // namespace ohmleaf::cli
