// Drives the archive from a shell, one command a process, for the fault runs of archive_faults.
// Says "ACK NUMBER REVISION" on stdout only where a certificate was acknowledged.
#include <fcntl.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "archive/archive.h"

namespace {

using namespace ohmleaf;
using namespace ohmleaf::archive;

IssueRequest request(const std::string& job) {
  IssueRequest r;
  r.prefix = "SP";
  r.job_id = job;
  r.job_bytes = "format = 1\n# " + job + "\n";
  r.program = "driver";
  r.person = "R. Hollins";
  r.now = *Instant::parse("2026-11-20T16:30:00Z");
  r.facts = {{"premises", "9 Tallow Yard"}, {"reference", job}};
  return r;
}

std::optional<std::vector<File>> render(const Draw& draw) {
  return std::vector<File>{{"certificate.pdf", "%PDF " + draw.number + std::string(9000, '.')},
                           {"images/logo.png", std::string(300, 'x')}};
}

/// One write, so that an acknowledgement is there whole or not at all.
int answer(const IssueResult& r, const Diagnostics& out) {
  if (r.state != IssueState::issued && r.state != IssueState::already_issued) {
    for (const Diagnostic& d : out.all()) std::fprintf(stderr, "%s\n", d.message.c_str());
    return out.trouble() == Trouble::system ? 3 : 2;
  }
  const std::string line = "ACK " + r.number + " " + std::to_string(r.revision) + "\n";
  return ::write(1, line.data(), line.size()) == static_cast<ssize_t>(line.size()) ? 0 : 3;
}

int check(Archive& archive) {
  Diagnostics out;
  const VerifyReport report = archive.verify(std::nullopt, std::nullopt, out);
  for (const Problem& p : report.problems) {
    std::printf("%s: %s\n", p.file.c_str(), p.what.c_str());
  }
  for (const Record& r : archive.find({}, out)) {
    std::printf("HAS %s %d %s%s\n", r.number.c_str(), r.revision, r.job_id.c_str(),
                r.withdrawn ? " withdrawn" : "");
  }
  return report.problems.empty() && out.ok() ? 0 : 1;
}

/// The control of every fault run: the right files, written as one would without thinking, in
/// their own place and one after another. Unhurt, it leaves an archive without fault.
int careless(const std::filesystem::path& root, const std::string& job) {
  namespace stdfs = std::filesystem;
  const stdfs::path scratch = root.parent_path() / "scratch";
  stdfs::create_directory(scratch);
  stdfs::copy(root, scratch / "archive", stdfs::copy_options::recursive);
  Diagnostics out;
  std::optional<Archive> archive = Archive::open(scratch / "archive", out);
  if (!archive) return 3;
  const IssueResult result = archive->issue(request(job), render, out);
  if (result.state != IssueState::issued) return 3;
  const std::string id = result.folder.parent_path().parent_path().filename();
  for (const auto& e : stdfs::recursive_directory_iterator(scratch / "archive" / id)) {
    const stdfs::path target = root / stdfs::relative(e.path(), scratch / "archive");
    stdfs::create_directories(e.is_directory() ? target : target.parent_path());
    if (e.is_directory()) continue;
    std::ifstream in(e.path(), std::ios::binary);
    std::ofstream(target, std::ios::binary) << in.rdbuf();
  }
  return answer(result, out);
}

int run(const std::vector<std::string>& args) {
  const std::string command = args.at(0);
  if (command == "careless") return careless(args.at(1), args.at(2));
  Diagnostics out;
  std::optional<Archive> archive = Archive::open(args.at(1), out);
  if (!archive) return out.trouble() == Trouble::system ? 3 : 2;
  if (command == "open") return 0;
  if (command == "check") return check(*archive);
  if (command == "issue") {
    int worst = 0;
    for (std::size_t i = 2; i < args.size() && worst == 0; ++i) {
      Diagnostics one;
      const IssueResult result = archive->issue(request(args[i]), render, one);
      worst = answer(result, one);
    }
    return worst;
  }
  if (command == "revise") {
    IssueRequest r = request(args.at(2));
    r.job_bytes += "# revised\n";
    r.reason = "a slip";
    const IssueResult result = archive->revise(r, args.at(3), render, out);
    return answer(result, out);
  }
  if (command == "withdraw") {
    const WithdrawRequest r{"driver", "R. Hollins", "wrong flat", request("x").now};
    const IssueResult result = archive->withdraw(r, args.at(2), out);
    return answer(result, out);
  }
  return 2;
}

}  // namespace

int main(int argc, char** argv) {
  // A call that the fault runs find in the trace: what comes before is the loader's.
  ::access("/ohmleaf-main-begins", F_OK);
  const std::vector<std::string> args(argv + 1, argv + argc);
  if (args.size() < 2) return 2;
  return run(args);
}
