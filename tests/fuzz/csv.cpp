// A CSV file of readings, as an instrument or a spreadsheet writes it: the first byte chooses
// delimiter and decimal sign.
#include "base/csv.h"

#include "fuzz/target.h"
#include "record/csv_readings.h"
#include "record/read.h"

using namespace ohmleaf;

namespace {

struct Bench {
  Sources sources;
  record::Job job;
  record::Installer installer;

  Bench() {
    Diagnostics found;
    const SourceId text = sources.add("job.toml", fuzz::file("samples/sewing-workshop/job.toml"));
    const SourceId profile =
        sources.add("installer.toml", fuzz::file("samples/installer.toml") + R"(
[csv.comma]
circuit = "Circuit"
columns = { "live.zs" = "Zs" }
[csv.other]
circuit = "Ref"
delimiter = ";"
decimal = ","
columns = { "live.zs" = "Zs", "live.rcd.trip_ms" = "RCD" }
)");
    job = *record::read_job(sources, text, "fuzz", found);
    const auto read = record::read_installer(sources, profile, found);
    fuzz::promise(read && read->csv.size() == 2, "the profile can be read");
    installer = *read;
  }
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Bench bench;
  if (size == 0) return 0;
  Sources sources = bench.sources;
  Diagnostics parsed, found;
  const SourceId id = sources.add("bench.csv", std::string(fuzz::text_of(data + 1, size - 1)));
  const auto rows = parse_csv(sources, id, ",;\t|"[data[0] % 4], parsed);
  fuzz::promise(rows.has_value() == parsed.ok(), "a table is read, or there is an error");
  if (rows) fuzz::promise(rows->size() <= kCsvMaxRows, "a table has an end");
  fuzz::hold(parsed, sources);
  const auto& mapping = bench.installer.csv[data[0] % 2];
  for (const auto& reading : record::read_csv_readings(sources, id, mapping, bench.job, found)) {
    const auto circuit = static_cast<std::size_t>(reading.circuit);
    fuzz::promise(circuit < bench.job.circuits.size(), "a reading belongs to a circuit of the job");
    fuzz::promise(!reading.key.empty() && !reading.text.empty(),
                  "a reading has a key and a figure");
  }
  fuzz::hold(found, sources);
  return 0;
}
