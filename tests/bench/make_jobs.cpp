// Writes the benchmarks' jobs as folders: "bench_jobs FOLDER CIRCUITS [JOBS]" makes FOLDER with
// installer.toml and one folder a job (job-1, job-2 …), each of CIRCUITS circuits.
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "bench/jobs.h"

int main(int argc, char** argv) {
  namespace fs = std::filesystem;
  using namespace ohmleaf::bench;
  const int circuits = argc > 2 ? std::atoi(argv[2]) : 0;
  const int jobs = argc > 3 ? std::atoi(argv[3]) : 1;
  if (circuits < 1 || jobs < 1) {
    std::fputs("bench_jobs FOLDER CIRCUITS [JOBS]\n", stderr);
    return 2;
  }
  const fs::path root = argv[1];
  fs::create_directories(root);
  std::ofstream(root / "installer.toml") << installer_toml();
  for (int n = 1; n <= jobs; ++n) {
    const fs::path folder = root / ("job-" + std::to_string(n));
    fs::create_directory(folder);
    std::ofstream file(folder / "job.toml");
    if (!(file << job_toml(circuits, n)).flush()) return 3;
  }
  return 0;
}
