#pragma once
#include <vector>

#include "bench.h"

// Every check with a failing case, one exactly at its limit where it has one, and a passing one.
// Each case is a sound sample with one thing changed.

namespace bench {

enum class Sort { fails, at_limit, passes };

struct Case {
  const char* check;
  const char* what;  ///< the change, in words
  Sort sort;
  int circuit;       ///< whose finding; -1: the job's
  Verdict expected;  ///< not_applicable also stands for "says nothing"
  void (*change)(record::Job&);
  const char* sample = "sewing-workshop";
};

std::vector<Case> zs_cases();
std::vector<Case> rcd_cases();
std::vector<Case> supply_cases();
std::vector<Case> isolation_cases();
std::vector<Case> dead_cases();
std::vector<Case> consistency_cases();
std::vector<Case> believable_cases();
std::vector<Case> phase_cases();
std::vector<Case> trap_cases();
std::vector<Case> ring_point_cases();
std::vector<Case> accessory_cases();
std::vector<Case> device_cases();
std::vector<Case> paper_cases();
std::vector<Case> all_cases();

/// A tester without a declared uncertainty, so that a reading is a point.
inline void plain_meter(record::Job& job) {
  job.instruments = {text("mft-2"), text("vi-2"), text("pu-1")};
}

}  // namespace bench
