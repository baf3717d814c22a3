#include "app/readings.h"

#include "base/csv.h"
#include "base/text.h"
#include "checks/check.h"
#include "record/read.h"

namespace ohmleaf::app {
namespace {

/// Only what was read off an instrument or written down for one: a rule has no reading.
void add_readings(std::string& csv, const archive::Record& r, const record::Job& job,
                  const checks::Report& report) {
  for (const checks::Finding& f : report.findings) {
    if (f.reading.empty() || f.cell.empty()) continue;
    const record::Circuit* c =
        f.circuit < 0 ? nullptr : &job.circuits[static_cast<std::size_t>(f.circuit)];
    csv += csv_row({r.number, std::to_string(r.revision), job.date ? job.date->iso() : "",
                    job.premises.value_or(""), c ? c->board.value_or("") : "",
                    c ? c->ref.value_or("") : "", c ? c->name.value_or("") : "", f.cell, f.subject,
                    f.reading, f.limit, std::string(checks::name(f.verdict))});
  }
}

}  // namespace

std::optional<std::string> readings_csv(const archive::Archive& store,
                                        const std::vector<archive::Record>& records,
                                        Diagnostics& out) {
  std::string csv;
  csv += csv_row({"certificate", "revision", "date", "premises", "board", "circuit", "circuit_name",
                  "cell", "subject", "reading", "limit", "verdict"});
  for (const archive::Record& r : records) {
    if (r.expired) continue;
    Sources sources;
    const auto job_bytes = store.read(r.number, 0, "job.toml", out);
    const auto installer_bytes = store.read(r.number, 0, "installer.toml", out);
    if (!job_bytes || !installer_bytes) return std::nullopt;
    const SourceId job_source = sources.add(r.number + "/job.toml", *job_bytes);
    const auto job = record::read_job(sources, job_source, r.job_id, out);
    const auto installer = record::read_installer(
        sources, sources.add(r.number + "/installer.toml", *installer_bytes), out);
    if (!job || !installer) return std::nullopt;
    add_readings(csv, r, *job, checks::check(*job, *installer));
  }
  return csv;
}

}  // namespace ohmleaf::app
