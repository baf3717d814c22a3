// How long a search takes in an archive of 100,000 certificates (or as many as the first argument
// says): "find_bench [COUNT] [FOLDER]". The records are written straight to the disk, then indexed
// as find does it; each search opens the archive anew, as a command does. Prints the median and the
// slowest of 25 runs; the goal is 50 ms. Then the same of issues: the first looks at every
// certificate, the others come right after it. A figure of the machine it ran on, not a test.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <random>

#include "archive/archive.h"
#include "archive/issue_record.h"
#include "archive/ocfl.h"
#include "archive/store.h"
#include "base/digest.h"
#include "base/text.h"

namespace {

using namespace ohmleaf;
using namespace ohmleaf::archive;
namespace fs = std::filesystem;

constexpr int kRuns = 25;

const char* const kRoads[] = {"Tallow Yard", "Hobday Lane",  "Withy Lane",  "Sallow End",
                              "Marl Street", "Alder Rise",   "Quarry Hill", "Ŵern Terrace",
                              "Sluice Row",  "Pennant Court"};
const char* const kNames[] = {"Okonjo-Pryce", "Pennyfather", "Quillfeather", "Hollins",  "Mørk",
                              "Ashgrove",     "Tandy",       "Włodek",       "Ibbotson", "Larkin"};

IssueRecord record(int n, std::mt19937& random) {
  IssueRecord r;
  r.number = make_number("SP", n);
  r.sequence = n;
  r.previous = no_previous();
  r.job_id = fmt::format("job-{}", n);
  r.issued = Instant{1'500'000'000 + std::int64_t{n} * 3600};
  r.program = "bench";
  r.person = "R. Hollins";
  r.salt = std::string(32, 'a');
  if (n == 1)
    for (const File& f : root_files()) r.root_files.emplace_back(f.name, sha512_hex(f.bytes));
  const auto pick = [&](const auto& list) { return list[random() % std::size(list)]; };
  r.facts = {
      {"kind", n % 5 == 0 ? "installation" : "minor works"},
      {"date", r.issued.date().iso()},
      {"premises", fmt::format("{} {}, Brindle Cross BX{} {}QN", random() % 200 + 1, pick(kRoads),
                               random() % 40, random() % 9)},
      {"client", fmt::format("{}. {}", static_cast<char>('A' + random() % 26), pick(kNames))},
      {"work", "Two radio-connected socket-outlets added to the ring final circuit"},
      {"serial", fmt::format("LM{:06}", n)}};
  return r;
}

void write(const fs::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary) << bytes;
}

ocfl::Inventory inventory(const IssueRecord& r, const std::string& bytes) {
  const std::string digest = sha512_hex(bytes), file(kRecordFile);
  ocfl::Inventory all;
  all.id = ascii_lower(r.number);
  all.type = ocfl::kType;
  all.head = "v1";
  all.manifest = {{digest, {"v1/content/" + file}}};
  all.versions = {{"v1", r.issued.iso(), "Issued", r.person, "", {{digest, {file}}}}};
  return all;
}

bool fill(const fs::path& root, int count) {
  fs::create_directories(root);
  fs::create_directories(root.string() + ".work/staging");
  for (const File& f : root_files()) write(root / f.name, f.bytes);
  std::mt19937 random(7);
  for (int n = 1; n <= count; ++n) {
    const IssueRecord r = record(n, random);
    const fs::path content = root / ascii_lower(r.number) / "v1/content";
    fs::create_directories(content);
    const std::string bytes = encode(r);
    write(content / kRecordFile, bytes);
    // The one that an issue goes on from must be as its inventory says.
    if (n == count)
      write(content.parent_path() / ocfl::kInventory, ocfl::encode(inventory(r, bytes)));
  }
  Diagnostics out;
  const auto archive = Archive::open(root, out);
  return archive && archive->rebuild_index({}, out) && out.ok();
}

void measure_issue(const fs::path& root) {
  std::vector<double> times;
  for (int i = 0; i <= kRuns; ++i) {
    const auto start = std::chrono::steady_clock::now();
    Diagnostics out;
    auto archive = Archive::open(root, out);
    IssueRequest r;
    r.prefix = "SP";
    r.job_id = fmt::format("one-more-{}", i);
    r.job_bytes = "format = 1\n";
    r.program = "bench";
    r.person = "R. Hollins";
    r.now = Instant{1'900'000'000};
    const auto render = [](const Draw&) {
      return std::optional(std::vector<File>{{"certificate.pdf", std::string(200'000, '%')}});
    };
    if (!archive || archive->issue(r, render, out).state != IssueState::issued) {
      fmt::print("nothing could be issued: {}\n", out.all().empty() ? "" : out.all()[0].message);
      return;
    }
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    times.push_back(took.count());
  }
  fmt::print("{:47}        {:6.1f} ms\n", "an issue, the first", times.front());
  std::sort(times.begin() + 1, times.end());
  fmt::print("{:47} median {:6.1f} ms  slowest {:6.1f} ms\n", "an issue, each further one",
             times[times.size() / 2], times.back());
}

void measure(const fs::path& root, const char* what, const Query& query) {
  std::vector<double> times;
  std::size_t hits = 0;
  for (int i = 0; i < kRuns; ++i) {
    const auto start = std::chrono::steady_clock::now();
    Diagnostics out;
    const auto archive = Archive::open(root, out);
    hits = archive ? archive->search(query, out).size() : 0;
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    times.push_back(took.count());
  }
  std::sort(times.begin(), times.end());
  fmt::print("{:34} {:6} hits  median {:6.1f} ms  slowest {:6.1f} ms\n", what, hits,
             times[times.size() / 2], times.back());
}

}  // namespace

int main(int argc, char** argv) {
  const int count = argc > 1 ? std::atoi(argv[1]) : 100'000;
  const fs::path folder =
      (argc > 2 ? fs::path(argv[2]) : fs::temp_directory_path()) / "ohmleaf-find-bench";
  fs::remove_all(folder);
  fs::create_directories(folder);
  const fs::path root = folder / "archive";
  if (!fill(root, count)) {
    fmt::print("the archive could not be made\n");
    return 3;
  }
  measure(root, "a number", {{"sp-4711"}, {}, {}, {}, {}});
  measure(root, "part of a serial", {{}, {{"serial", "004711"}}, {}, {}, {}});
  measure(root, "an address", {{"117 tallow yard", "bx12"}, {}, {}, {}, {}});
  measure(root, "client and road, accents aside",
          {{"mork", "wern terrace", "bx7 3"}, {}, {}, {}, {}});
  measure(root, "two short words", {{"117", "z."}, {}, {}, {}, {}});
  measure(root, "a week", {{}, {}, Date::parse("2020-03-02"), Date::parse("2020-03-08"), {}});
  measure(root, "kind and address", {{"88 marl street"}, {{"kind", "installation"}}, {}, {}, {}});
  measure(root, "no such word", {{"zeppelin"}, {}, {}, {}, {}});
  measure_issue(root);
  fs::remove_all(folder);
  return 0;
}
