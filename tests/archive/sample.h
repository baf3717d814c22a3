#pragma once
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "archive/archive.h"
#include "base/files.h"

/// What the archive's tests share: a folder of their own, an invented job, short commands.
namespace sample {

using namespace ohmleaf;
using namespace ohmleaf::archive;
namespace stdfs = std::filesystem;

/// A folder that goes with the test.
class Folder {
 public:
  /// In memory where the system has such a folder: thousands of runs need no disk.
  Folder() {
    const bool shm = !std::getenv("TMPDIR") && ::access("/dev/shm", W_OK) == 0;
    const stdfs::path base = shm ? stdfs::path("/dev/shm") : stdfs::temp_directory_path();
    path_ = make_scratch_folder(base, "ohmleaf-archive-").value();
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    stdfs::remove_all(path_, ignored);
  }
  const stdfs::path& path() const { return path_; }
  stdfs::path archive() const { return path_ / "archive"; }

 private:
  stdfs::path path_;
};

inline std::string slurp(const stdfs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

inline void spill(const stdfs::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
}

inline IssueRequest request(const std::string& job, const std::string& prefix = "SP") {
  IssueRequest r;
  r.prefix = prefix;
  r.job_id = job;
  r.job_bytes = "format = 1\n# the job " + job + "\n";
  r.program = "ohmleaf test";
  r.person = "R. Hollins";
  r.now = *Instant::parse("2026-11-20T16:30:00Z");
  r.facts = {{"premises", "Flat 2, 9 Tallow Yard, Brindle Cross BX4 7QN"},
             {"client", "M. Okonjo-Pryce"},
             {"reference", job}};
  return r;
}

inline Render render(std::string pdf = "%PDF-1.7 certificate\n") {
  return [pdf](const Draw& draw) -> std::optional<std::vector<File>> {
    return std::vector<File>{{"certificate.pdf", pdf + draw.number + " " + draw.chain_head}};
  };
}

inline Archive open(const stdfs::path& root) {
  Diagnostics out;
  std::optional<Archive> archive = Archive::open(root, out);
  if (!archive) std::abort();
  return *archive;
}

inline IssueResult issue(const stdfs::path& root, const std::string& job,
                         const std::string& prefix = "SP") {
  Diagnostics out;
  return open(root).issue(request(job, prefix), render(), out);
}

inline IssueResult revise(const stdfs::path& root, const std::string& job,
                          const std::string& number, const std::string& reason) {
  Diagnostics out;
  IssueRequest r = request(job);
  r.job_bytes += "# " + reason + "\n";
  r.reason = reason;
  return open(root).revise(r, number, render("%PDF-1.7 revised\n"), out);
}

inline VerifyReport verify(const stdfs::path& root) {
  Diagnostics out;
  return open(root).verify(std::nullopt, std::nullopt, out);
}

/// Is there a problem about this file (relative to the archive)?
inline bool names(const VerifyReport& report, const std::string& file) {
  for (const Problem& p : report.problems) {
    if (p.file == file) return true;
  }
  return false;
}

inline std::string all_problems(const VerifyReport& report) {
  std::string text;
  for (const Problem& p : report.problems) text += p.file.string() + ": " + p.what + "\n";
  return text;
}

/// How often to try: `quick` in every run, `full` where OHMLEAF_LONG is set (tests/long).
inline int runs(int quick, int full) {
  return std::getenv("OHMLEAF_LONG") ? full : quick;
}

/// As `runs`, for a number of things to take of many.
inline std::size_t few(int quick, int full) {
  return static_cast<std::size_t>(runs(quick, full));
}

/// Where all chance of these tests begins: the same in each run, unless OHMLEAF_SEED says another.
inline unsigned seed() {
  const char* given = std::getenv("OHMLEAF_SEED");
  return given ? static_cast<unsigned>(std::strtoul(given, nullptr, 10)) : 20261120u;
}

/// A row of the table that tests/long/archive_proof puts together; nothing in a quick run.
inline void row(const std::string& what, long count, const std::string& outcome) {
  if (!std::getenv("OHMLEAF_LONG")) return;
  std::printf("| %s | %ld | %s |\n", what.c_str(), count, outcome.c_str());
  std::fflush(stdout);
}

inline bool shell(const std::string& command) {
  return std::system(("bash -c '" + command + "' >/dev/null 2>&1").c_str()) == 0;
}

}  // namespace sample
