// A job file: read, held against the profile of the samples, and judged.
#include "fuzz/job.h"

#include "checks/check.h"

using namespace ohmleaf;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Sources sources;
  Diagnostics found;
  const auto job = fuzz::read_job(fuzz::text_of(data, size), sources, found);
  if (!job) return 0;
  const checks::Report report = checks::check(*job, fuzz::profile());
  fuzz::promise(!report.findings.empty(), "a job has something to judge");
  for (const checks::Finding& f : report.findings)
    fuzz::promise(!f.message.empty() && !first_invalid_utf8(f.message), "a finding has words");
  return 0;
}
