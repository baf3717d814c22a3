#pragma once
#include <string>

/// Invented jobs for the benchmarks: sound readings, so that every check runs and none stops an
/// issue.
namespace ohmleaf::bench {

/// The profile that every job here rests on.
std::string installer_toml();
/// An installation certificate of `circuits` new circuits, twelve on a board. `which` makes two
/// jobs of one size differ in their texts and readings.
std::string job_toml(int circuits, int which = 0);

}  // namespace ohmleaf::bench
