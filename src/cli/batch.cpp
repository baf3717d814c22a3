#include "cli/batch.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <system_error>

#include "base/json.h"
#include "base/memory.h"
#include "base/text.h"
#include "cli/progress.h"
#include "cli/workers.h"

namespace ohmleaf::cli {
namespace {

namespace fs = std::filesystem;

/// Bytes of outcomes that wait for an earlier one; at this many no new job is begun.
constexpr std::size_t kMostWaiting = std::size_t{32} << 20;

constexpr const char* kJobFile = "job.toml";

/// The job folders in a folder that is none itself.
std::vector<std::string> jobs_inside(const fs::path& folder) {
  std::vector<std::string> found;
  std::error_code ec;
  for (fs::directory_iterator it(folder, ec), end; !ec && it != end; it.increment(ec)) {
    std::error_code none;
    if (fs::is_regular_file(it->path() / kJobFile, none)) found.push_back(it->path().string());
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// Takes the bar away before something else is printed.
void wipe(Environment& e) {
  if (e.err_is_terminal) e.err("\r\033[K");
}

std::size_t size_of(const Outcome& o) {
  return sizeof o + o.out.size() + o.err.size() + o.bytes.size();
}

/// Work in this process, one job after the other. What no layer took is told of this job, and stops no
/// other.
Outcome alone(Environment& e, const std::string& job,
              const std::function<Outcome(Environment&, const std::string&)>& work) {
  Outcome said, made;
  Environment quiet = recording(e, said);
  try {
    made = work(quiet, job);
  } catch (const std::exception& error) {
    made = {};
    made.code = kSystem;
    tell_of(error, quiet.err);
  }
  made.out.insert(0, said.out);
  made.err.insert(0, said.err);
  return made;
}

Outcome lost(const std::string& job, const std::string& how) {
  Outcome o;
  o.code = kSystem;
  o.err = "ohmleaf: error: " + job + ": the work on this job ended by itself (" + how +
          ")\n  → Nothing was written for it. Try it alone; if it happens again, the job's file is "
          "worth a report.\n";
  return o;
}

}  // namespace

Jobs jobs_named(const std::vector<std::string>& named) {
  Jobs jobs;
  for (const std::string& name : named) {
    std::error_code ec;
    const bool folder = fs::is_directory(name, ec) && !fs::exists(fs::path(name) / kJobFile, ec);
    auto inside = folder ? jobs_inside(name) : std::vector<std::string>();
    if (inside.empty()) {
      jobs.paths.push_back(name);  // a job, or what loading it will complain of
      continue;
    }
    jobs.many = true;
    jobs.paths.insert(jobs.paths.end(), inside.begin(), inside.end());
  }
  jobs.many = jobs.many || jobs.paths.size() > 1;
  return jobs;
}

void Summary::count(int code) {
  worst_ = std::max(worst_, code);
  ++(code == kFine ? fine_ : code == kFindings ? findings_ : code == kInput ? input_ : system_);
}

std::string Summary::text(std::string_view fine) const {
  std::vector<std::string> parts;
  const auto part = [&](std::size_t n, std::string_view words) {
    if (n > 0) parts.push_back(std::to_string(n) + " " + std::string(words));
  };
  part(fine_, fine);
  part(findings_, "that cannot be issued as it stands");
  part(input_, "with wrong input");
  part(system_, "that the system failed on");
  return std::to_string(fine_ + findings_ + input_ + system_) + " jobs: " + join(parts, ", ") +
         "\n";
}

int print(Environment& e, std::string_view out, std::string_view err, int code) {
  if (!err.empty()) e.err(err);
  return out.empty() || e.out(out) ? code : static_cast<int>(kSystem);
}

std::string lost_json(const std::string& job) {
  Json error = Json::object();
  error.set("severity", "error").set("id", "lost").set("place", Json());
  error.set("message", "the work on this job ended by itself").set("hints", Json::array());
  Json one = Json::object();
  one.set("format", 1).set("file", job).set("errors", Json::array().push(std::move(error)));
  return one.dump();
}

void add_workers(Command& command, int& workers) {
  command
      .add_option("--workers", workers, "Jobs to work on at once (default: one for each processor)")
      ->type_name("N");
}

Environment recording(const Environment& environment, Outcome& outcome) {
  Environment quiet = environment;
  quiet.out = [&outcome](std::string_view t) {
    outcome.out += t;
    return true;
  };
  quiet.err = [&outcome](std::string_view t) {
    outcome.err += t;
    return true;
  };
  return quiet;
}

void run_batch(Environment& e, const Jobs& jobs, const BatchOptions& options,
               const std::function<Outcome(Environment&, const std::string& job)>& work,
               const std::function<void(std::size_t place, Outcome&&)>& take) {
  keep_memory();  // what one document needed, the next one will need too
  const std::size_t total = jobs.paths.size();
  const auto bar = progress_bar(e, options.what);
  std::map<std::size_t, Outcome> early;  // ready before those that stand in front of them
  std::size_t next = 0, waiting = 0;
  const auto hand_over = [&](std::size_t place, Outcome&& outcome) {
    waiting += size_of(outcome);
    early.emplace(place, std::move(outcome));
    for (auto it = early.begin(); it != early.end() && it->first == next; it = early.begin()) {
      const Outcome& o = it->second;
      waiting -= size_of(o);
      if (!o.out.empty() || !o.err.empty() || !o.path.empty()) wipe(e);
      take(next++, std::move(it->second));
      early.erase(it);
      if (bar) bar(next, total);
    }
  };
  const std::size_t workers = std::min(
      total, options.workers > 0 ? static_cast<std::size_t>(options.workers) : processors());
  if (workers < 2) {
    for (std::size_t i = 0; i < total; ++i) hand_over(i, alone(e, jobs.paths[i], work));
    return;
  }
  Workers pool(workers, [&](std::size_t place) { return alone(e, jobs.paths[place], work); });
  pool.run(
      total, [&] { return waiting < kMostWaiting; },
      [&](std::size_t place, std::optional<Outcome> outcome, const std::string& how) {
        hand_over(place, outcome ? std::move(*outcome) : lost(jobs.paths[place], how));
      });
}

}  // namespace ohmleaf::cli
