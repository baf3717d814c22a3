#pragma once
#include <optional>

#include "fuzz/target.h"
#include "record/read.h"

// A job and the profile that it is held against, as the targets that begin with a job need them.

namespace fuzz {

/// The profile of the samples.
inline const ohmleaf::record::Installer& profile() {
  static const ohmleaf::record::Installer installer = [] {
    ohmleaf::Sources sources;
    ohmleaf::Diagnostics found;
    const auto id = sources.add("installer.toml", file("samples/installer.toml"));
    auto read = ohmleaf::record::read_installer(sources, id, found);
    promise(read.has_value(), "the sample profile can be read");
    return *read;
  }();
  return installer;
}

/// A job of the samples.
inline ohmleaf::record::Job sample(const std::string& name) {
  ohmleaf::Sources sources;
  ohmleaf::Diagnostics found;
  const auto id = sources.add("job.toml", file("samples/" + name + "/job.toml"));
  auto job = ohmleaf::record::read_job(sources, id, name, found);
  promise(job.has_value(), "the sample job can be read");
  return *job;
}

/// Reads a job as each command does, held to the promises of reading. Nothing where there are
/// errors, which are then in `found`.
inline std::optional<ohmleaf::record::Job> read_job(std::string_view bytes,
                                                    ohmleaf::Sources& sources,
                                                    ohmleaf::Diagnostics& found) {
  const auto id = sources.add("job.toml", std::string(bytes));
  auto job = ohmleaf::record::read_job(sources, id, "fuzz", found);
  promise(job.has_value() == found.ok(), "a job is read, or there is an error");
  if (job) ohmleaf::record::check_references(*job, profile(), found);
  hold(found, sources);
  if (!found.ok()) return std::nullopt;
  return job;
}

}  // namespace fuzz
