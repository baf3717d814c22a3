// A job file: read, held against the profile of the samples, and judged.
#include "checks/check.h"
#include "fuzz/target.h"
#include "record/read.h"

using namespace ohmleaf;

namespace {

record::Installer profile() {
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add("installer.toml", fuzz::file("samples/installer.toml"));
  auto installer = record::read_installer(sources, id, found);
  fuzz::promise(installer.has_value(), "the sample profile can be read");
  return *installer;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const record::Installer installer = profile();
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add("job.toml", std::string(fuzz::text_of(data, size)));
  auto job = record::read_job(sources, id, "fuzz", found);
  fuzz::promise(job.has_value() == found.ok(), "a job is read, or there is an error");
  if (job) record::check_references(*job, installer, found);
  fuzz::hold(found, sources);
  if (!job || !found.ok()) return 0;
  const checks::Report report = checks::check(*job, installer);
  fuzz::promise(!report.findings.empty(), "a job has something to judge");
  for (const checks::Finding& f : report.findings)
    fuzz::promise(!f.message.empty() && !first_invalid_utf8(f.message), "a finding has words");
  return 0;
}
