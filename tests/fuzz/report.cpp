// What is said of a job as JSON: SQLite's parser, which knows nothing of us, must take it.
#include "checks/check.h"
#include "cli/report_json.h"
#include "fuzz/job.h"
#include "fuzz/read_json.h"

using namespace ohmleaf;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Sources sources;
  Diagnostics found;
  auto job = fuzz::read_job(fuzz::text_of(data, size), sources, found);
  fuzz::JsonReader& sqlite = fuzz::json_reader();
  fuzz::promise(sqlite.takes(cli::diagnostics_json(found, sources).dump()), "errors are JSON");
  if (!job) return 0;
  app::Workspace workspace;
  workspace.job_path = "job.toml";
  workspace.job = std::move(*job);
  workspace.installer = fuzz::profile();
  const checks::Report report = checks::check(workspace.job, workspace.installer);
  const std::string json = cli::report_json(workspace, report, sources).dump();
  fuzz::promise(sqlite.takes(json), "a report is JSON");
  fuzz::promise(sqlite.text(json, "$.job.premises") == workspace.job.premises.value_or(""),
                "a text comes out of the JSON as it went in");
  for (const unsigned char c : json)
    fuzz::promise(c >= 0x20 || c == '\n', "no control character leaves in JSON");
  return 0;
}
