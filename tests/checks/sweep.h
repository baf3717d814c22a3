#pragma once
#include <string>
#include <vector>

#include "bench.h"

// The systematic sweep: every reading of a job, with its point moved one place each way, exchanged
// with its neighbour, moved to the next circuit, exchanged with the next circuit's.

namespace bench {

enum class SlipKind { times_ten, tenth, swapped, moved, exchanged };

/// One slip, made in a copy of the job.
struct Slip {
  SlipKind kind = SlipKind::times_ten;
  std::string reading;        ///< cell within its circuit or the job: "live.zs"
  std::string other;          ///< the cell that it was swapped with; else empty
  std::string before, after;  ///< as written
  int circuit = -1;           ///< -1: the job's own
  record::Job job;

  std::string words() const;  ///< "circuit 0, live.zs × 10: 0.46 -> 4.6"
};

/// "live.zs" of "live.zs.L2": the reading whose part it is.
std::string_view whole_cell(std::string_view cell);

/// Every slip that changes what is written.
std::vector<Slip> slips_of(const record::Job& job);

/// Whether the report of the slipped job has a finding, borderline or worse, that the report of the
/// sound job had not, at the cell that slipped or at one that physics ties to it.
bool noticed(const Slip& slip, const Report& before, const Report& after);

/// Why a slip that no check can notice is physically possible: the name of the first reason that
/// holds, and its words. Empty where none does.
struct Reason {
  std::string name, words;
};
Reason possible_because(const record::Job& sound, const Slip& slip);
std::vector<Reason> all_reasons();

}  // namespace bench
