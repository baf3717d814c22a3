// What is said of a job as JSON: SQLite's parser, which knows nothing of us, must take it.
#include <sqlite3.h>

#include "checks/check.h"
#include "cli/report_json.h"
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

bool sqlite_takes(const std::string& json) {
  static sqlite3* db = [] {
    sqlite3* made = nullptr;
    sqlite3_open(":memory:", &made);
    return made;
  }();
  static sqlite3_stmt* asked = [] {
    sqlite3_stmt* made = nullptr;
    sqlite3_prepare_v2(db, "select json_valid(?)", -1, &made, nullptr);
    return made;
  }();
  sqlite3_reset(asked);
  sqlite3_bind_text(asked, 1, json.data(), static_cast<int>(json.size()), SQLITE_STATIC);
  return sqlite3_step(asked) == SQLITE_ROW && sqlite3_column_int(asked, 0) == 1;
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
  fuzz::promise(sqlite_takes(cli::diagnostics_json(found, sources).dump()), "errors are JSON");
  if (!job || !found.ok()) return 0;
  app::Workspace workspace;
  workspace.job_path = "job.toml";
  workspace.job = std::move(*job);
  workspace.installer = installer;
  const checks::Report report = checks::check(workspace.job, installer);
  const std::string json = cli::report_json(workspace, report, sources).dump();
  fuzz::promise(sqlite_takes(json), "a report is JSON");
  for (const unsigned char c : json)
    fuzz::promise(c >= 0x20 || c == '\n', "no control character leaves in JSON");
  return 0;
}
