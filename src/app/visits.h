#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/date.h"
#include "base/diagnostic.h"
#include "base/toml.h"
#include "record/job.h"

// Where the installer has been before: certificates in the archive and the job folders beside it.

namespace ohmleaf::app {

struct Visit {
  std::string premises, client;
  Date day;
  std::string name;            ///< "HL-0001", or the job's folder
  std::filesystem::path file;  ///< of a job folder; empty for a certificate
  std::string number;          ///< of a certificate
  int revision = 0;
};

/// Every visit, newest first; a certificate before the folder that it was issued from. Job files
/// below the profile's folder that cannot be read are passed over.
std::vector<Visit> visits(const std::filesystem::path& profile,
                          const std::filesystem::path& archive_root);
/// The latest visit to each premises; at most `most`.
std::vector<Visit> latest_of_each(const std::vector<Visit>& visits, std::size_t most);
/// The visit of that certificate number or job folder, or to those premises (case, accents and
/// punctuation aside); the latest one.
std::optional<Visit> visit_named(const std::vector<Visit>& known, const std::string& words);
/// What was recorded at a visit, as types and as it was written.
struct LastJob {
  record::Job job;
  TomlNode root;
  std::string name;
  Date day;
};
std::optional<LastJob> job_of(const Visit& visit, const std::filesystem::path& archive_root,
                              Diagnostics& out);

}  // namespace ohmleaf::app
