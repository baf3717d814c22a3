#pragma once
#include <functional>
#include <string>
#include <vector>

#include "cli/command.h"

namespace ohmleaf::cli {

/// What one job of many came to. Nothing of it has been printed or written yet.
struct Outcome {
  int code = kFine;
  std::string out, err;
  std::string path;  ///< the file that the job makes; empty: none
  std::string bytes;
  std::string done;  ///< printed once the file is written
};

/// The jobs that were named: a folder that holds no job.toml stands for those folders in it that
/// do, in the order of their names. `many` unless exactly one job was named as itself.
struct Jobs {
  std::vector<std::string> paths;
  bool many = false;
};
Jobs jobs_named(const std::vector<std::string>& named);

struct BatchOptions {
  int workers = 0;   ///< 0: one for each processor that this process may use
  std::string what;  ///< beside the progress bar
};

/// Judges or draws each job by `work` and takes the outcomes in the order of the jobs, whichever is
/// ready first. `work` gets an Environment that records. With several workers, each is a process
/// of its own with one thread: pictures are decoded in a child of a process that has no threads,
/// and a job that brings its worker down stops no other. Memory does not grow with the number of
/// jobs. A bar on a terminal's standard error shows how far it is.
void run_batch(Environment& environment, const Jobs& jobs, const BatchOptions& options,
               const std::function<Outcome(Environment&, const std::string& job)>& work,
               const std::function<void(std::size_t place, Outcome&&)>& take);

/// How many jobs came to which exit code.
class Summary {
 public:
  void count(int code);
  int worst() const { return worst_; }
  /// "12 jobs: 10 FINE, 1 that cannot be issued as it stands, …" and a line feed.
  std::string text(std::string_view fine) const;

 private:
  std::size_t fine_ = 0, findings_ = 0, input_ = 0, system_ = 0;
  int worst_ = kFine;
};

/// Prints what a job said; kSystem where standard output fails (told once, by the last line of a
/// batch), else `code`.
int print(Environment& environment, std::string_view out, std::string_view err, int code);
/// The JSON of a job whose worker died: its file and one error.
std::string lost_json(const std::string& job);
/// --workers N
void add_workers(Command& command, int& workers);

/// An Environment that speaks into `outcome`.
Environment recording(const Environment& environment, Outcome& outcome);

}  // namespace ohmleaf::cli
