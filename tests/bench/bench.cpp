// How long each step of a certificate takes, and how that grows: "ninja bench && bin/bench". Each
// line says the time, bytes out, the peak of memory while it ran, and the growth exponent against
// the next smaller size of the same step (1: twice the circuits take twice the time). Figures of
// the machine that they ran on, not a test.
#include <benchmark/benchmark.h>
#include <fmt/format.h>
#include <malloc.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <memory>

#include "app/documents.h"
#include "app/workspace.h"
#include "archive/archive.h"
#include "base/files.h"
#include "bench/jobs.h"
#include "checks/check.h"
#include "pdf/pdf.h"

namespace {

using namespace ohmleaf;
namespace fs = std::filesystem;

/// The highest that memory stood since it was made, in MB; it is the whole process's, so what an
/// earlier step freed is given back first.
struct Peak {
  Peak() {
    malloc_trim(0);
    std::ofstream("/proc/self/clear_refs") << "5";
  }
  double mb() const {
    std::ifstream status("/proc/self/status");
    for (std::string line; std::getline(status, line);)
      if (line.starts_with("VmHWM:")) return std::stod(line.substr(6)) / 1024;
    return 0;
  }
};

fs::path scratch() {
  static const fs::path folder =
      make_scratch_folder(fs::temp_directory_path(), "ohmleaf-bench-").value();
  return folder;
}

/// A job on the disk with all that is made of it, step by step.
struct Case {
  fs::path folder;
  Sources sources;
  Diagnostics out;
  std::optional<app::Workspace> workspace;
  checks::Report report;
  std::optional<app::Stationery> stationery;
  layout::IssueFacts facts;

  explicit Case(int circuits) : folder(scratch() / std::to_string(circuits)) {
    fs::create_directories(folder);
    if (!fs::exists(folder / "job.toml")) {
      std::ofstream(scratch() / "installer.toml") << bench::installer_toml();
      std::ofstream(folder / "job.toml") << bench::job_toml(circuits);
    }
    workspace = load(sources, out);
    if (!workspace) return;
    report = checks::check(workspace->job, workspace->installer);
    stationery =
        app::load_stationery(*workspace, app::document_names(workspace->job), sources, out);
    facts.draft = true;
    facts.program = "bench";
  }
  std::optional<app::Workspace> load(Sources& into, Diagnostics& told) const {
    app::Places places;
    places.data_folder = program_folder().parent_path() / "share" / "ohmleaf";
    return app::load(folder, places, into, told);
  }
  std::optional<layout::Document> lay_out() {
    const auto view = layout::document_view(workspace->job, workspace->installer, report, facts);
    std::vector<const layout::Form*> forms;
    for (const app::LoadedForm& f : stationery->forms) forms.push_back(f.form.get());
    return layout::lay_out(forms, view, pdf::font_metrics(), {}, out);
  }
};

/// Only the last one is kept: what the others hold would count in every peak.
std::unique_ptr<Case>& kept() {
  static std::unique_ptr<Case> one;
  return one;
}

Case& case_of(const benchmark::State& state) {
  static std::int64_t circuits = 0;
  if (!kept() || circuits != state.range(0)) {
    kept().reset();
    circuits = state.range(0);
    kept() = std::make_unique<Case>(static_cast<int>(circuits));
  }
  return *kept();
}

void finish(benchmark::State& state, const Peak& peak, double bytes) {
  state.counters["bytes"] = bytes;
  state.counters["peak_MB"] = peak.mb();
}

void reading(benchmark::State& state) {
  Case& one = case_of(state);
  const Peak peak;
  for (auto _ : state) {
    Sources sources;
    Diagnostics told;
    benchmark::DoNotOptimize(one.load(sources, told));
  }
  finish(state, peak, static_cast<double>(one.workspace->job_bytes.size()));
}

void checking(benchmark::State& state) {
  Case& one = case_of(state);
  const Peak peak;
  std::size_t findings = 0;
  for (auto _ : state)
    findings = checks::check(one.workspace->job, one.workspace->installer).findings.size();
  finish(state, peak, 0);
  state.counters["findings"] = static_cast<double>(findings);
}

void laying_out(benchmark::State& state) {
  Case& one = case_of(state);
  const Peak peak;
  std::size_t pages = 0;
  for (auto _ : state) {
    const auto document = one.lay_out();
    pages = document ? document->pages.size() : 0;
  }
  finish(state, peak, 0);
  state.counters["pages"] = static_cast<double>(pages);
}

void rendering(benchmark::State& state) {
  Case& one = case_of(state);
  const auto document = one.lay_out();
  pdf::Meta meta;
  meta.creator = "bench";
  meta.id_seed = "bench";
  meta.attachments.push_back({"job.toml", "application/toml", "The job", one.workspace->job_bytes,
                              pdf::Attachment::Relation::source});
  const Peak peak;
  std::size_t bytes = 0;
  for (auto _ : state) {
    const auto pdf = pdf::render(*document, meta, one.out);
    bytes = pdf ? pdf->size() : 0;
  }
  finish(state, peak, static_cast<double>(bytes));
}

/// Reading, checks, layout and rendering in one, as `draft` does them.
void drafting(benchmark::State& state) {
  kept().reset();
  const Peak peak;
  std::size_t bytes = 0;
  for (auto _ : state) {
    Case fresh(static_cast<int>(state.range(0)));
    const auto pdf = app::render(*fresh.workspace, fresh.report, *fresh.stationery, fresh.facts,
                                 Instant{}, fresh.sources, fresh.out);
    bytes = pdf ? pdf->size() : 0;
  }
  finish(state, peak, static_cast<double>(bytes));
}

// ---- the archive, by the number of certificates in it ------------------------------------------

std::vector<archive::File> filed(int n) {
  return {{"job.toml", bench::job_toml(1, n)}, {"certificate.pdf", std::string(20'000, '%')}};
}

archive::IssueRequest request(int n) {
  archive::IssueRequest r;
  r.prefix = "WL";
  r.job_id = fmt::format("job-{}", n);
  r.job_bytes = bench::job_toml(1, n);
  r.program = "bench";
  r.person = "M. Tandy";
  r.now = Instant{1'700'000'000 + std::int64_t{n} * 60};
  r.facts = {{"premises", fmt::format("{} Alder Rise, Sallow End SW8 {}QN", n % 300 + 1, n % 10)},
             {"client", "Saffron Ibbotson"},
             {"date", "2026-11-20"}};
  return r;
}

int& issued(std::int64_t size) {
  static std::map<std::int64_t, int> counts;
  return counts[size];
}

bool issue_next(archive::Archive& archive, std::int64_t size) {
  Diagnostics out;
  const int n = ++issued(size);
  archive.issue(
      request(n), [n](const archive::Draw&) { return std::optional(filed(n)); }, out);
  return out.ok();
}

fs::path archive_of(const benchmark::State& state) {
  const std::int64_t size = state.range(0);
  const fs::path root = scratch() / fmt::format("archive-{}", size);
  Diagnostics out;
  if (issued(size) > 0) return root;
  auto archive = archive::Archive::open(root, out);
  while (archive && issued(size) < size && issue_next(*archive, size)) {
  }
  return root;
}

void issuing(benchmark::State& state) {
  const fs::path root = archive_of(state);
  const Peak peak;
  Diagnostics out;
  for (auto _ : state) {
    auto archive = archive::Archive::open(root, out);
    if (!archive || !issue_next(*archive, state.range(0)))
      state.SkipWithError("nothing was issued");
  }
  finish(state, peak, 0);
}

void finding(benchmark::State& state) {
  const fs::path root = archive_of(state);
  Diagnostics out;
  if (const auto archive = archive::Archive::open(root, out)) archive->rebuild_index({}, out);
  const Peak peak;
  std::size_t hits = 0;
  for (auto _ : state) {
    const auto archive = archive::Archive::open(root, out);
    hits = archive ? archive->find({"17 alder rise"}, out).size() : 0;
  }
  finish(state, peak, 0);
  state.counters["hits"] = static_cast<double>(hits);
}

void verifying(benchmark::State& state) {
  const fs::path root = archive_of(state);
  const Peak peak;
  Diagnostics out;
  archive::VerifyReport report;
  for (auto _ : state) {
    const auto archive = archive::Archive::open(root, out);
    if (archive) report = archive->verify(archive::VerifyOptions{}, out);
    if (!report.problems.empty()) state.SkipWithError("the archive does not verify");
  }
  finish(state, peak, static_cast<double>(report.bytes));
}

void circuits(benchmark::internal::Benchmark* b) {
  for (const int n : {1, 12, 100, 1'000, 10'000}) b->Arg(n);
  b->Unit(benchmark::kMillisecond);
}
void jobs(benchmark::internal::Benchmark* b) {
  for (const int n : {1, 100, 10'000}) b->Arg(n);
  b->Unit(benchmark::kMillisecond);
}

BENCHMARK(reading)->Apply(circuits);
BENCHMARK(checking)->Apply(circuits);
BENCHMARK(laying_out)->Apply(circuits);
BENCHMARK(rendering)->Apply(circuits);
BENCHMARK(drafting)->Apply(circuits);
BENCHMARK(finding)->Apply(jobs);
BENCHMARK(verifying)->Apply(jobs);
BENCHMARK(issuing)->Apply(jobs)->Iterations(20);  // last: it adds to the archives

/// Writes the exponent behind each line.
class Exponents : public benchmark::ConsoleReporter {
 public:
  Exponents() : ConsoleReporter(OO_Tabular) {}
  void ReportRuns(const std::vector<Run>& runs) override {
    std::vector<Run> shown = runs;
    for (Run& run : shown) {
      const std::string name = run.run_name.function_name;
      const double size = std::atof(run.run_name.args.c_str());
      const double time =
          run.cpu_accumulated_time / static_cast<double>(std::max<std::int64_t>(1, run.iterations));
      const auto before = last_.find(name);
      if (before != last_.end() && size > before->second.first && before->second.second > 0)
        run.report_label =
            fmt::format("exponent {:.2f}", std::log(time / before->second.second) /
                                               std::log(size / before->second.first));
      last_[name] = {size, time};
    }
    ConsoleReporter::ReportRuns(shown);
  }

 private:
  std::map<std::string, std::pair<double, double>> last_;
};

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  Exponents report;
  benchmark::RunSpecifiedBenchmarks(&report);
  std::error_code ec;
  fs::remove_all(scratch(), ec);
  return 0;
}
