#include "app/take.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/files.h"
#include "base/text.h"
#include "base/toml_edit.h"
#include "record/csv_readings.h"
#include "record/read.h"

namespace ohmleaf::app {
namespace {

namespace fs = std::filesystem;
using record::CsvMapping;
using record::View;

const CsvMapping* mapping_of(const record::Installer& installer, const std::string& asked,
                             Diagnostics& out) {
  if (installer.csv.empty()) {
    out.error("csv-no-mapping", {}, "installer.toml does not say how a CSV file is read",
              {"`ohmleaf take --headings FILE.csv` writes a [csv.NAME] to "
               "begin with."});
    return nullptr;
  }
  if (asked.empty() && installer.csv.size() == 1) return &installer.csv.front();
  if (const CsvMapping* found = asked.empty() ? nullptr : installer.csv_mapping(asked))
    return found;
  std::vector<std::string> known;
  for (const CsvMapping& m : installer.csv) known.push_back(m.id);
  out.error("csv-no-mapping", {},
            asked.empty() ? "installer.toml knows several kinds of CSV file"
                          : "installer.toml has no [csv." + visible(asked) + "]",
            {"Choose one with --as: " + join(known, ", ") + "."});
  return nullptr;
}

/// What stands in the job at a key of a circuit. A reading that is given as one
/// figure is in the way of its parts, and the parts of the figure.
const View* standing(const View& circuit, const std::string& key) {
  const View* at = &circuit;
  for (const std::string_view step : split(key, '.')) {
    if (at->kind == View::Kind::text && at->members.empty()) return at;
    const View* next = at->find(step);
    if (next == nullptr) return nullptr;
    at = next;
  }
  return at->present() ? at : nullptr;
}

bool same_reading(const std::string& a, const std::string& b) {
  const auto x = Decimal::parse(a), y = Decimal::parse(b);
  return x && y ? *x == *y : a == b;
}

std::string place_of(const record::Circuit& c) {
  return (c.board ? *c.board + " " : std::string()) + c.ref.value_or("");
}

Taken judged(const record::CsvReading& r, const View& circuit, const record::Circuit& c,
             bool replace, Diagnostics& out) {
  Taken t{Taken::What::fresh, r.circuit, r.key, r.text, {}};
  const View* have = standing(circuit, r.key);
  if (have == nullptr) return t;
  t.before = have->text;
  if (same_reading(have->text, r.text)) {
    t.what = Taken::What::same;
  } else if (replace) {
    t.what = Taken::What::replaced;
  } else {
    t.what = Taken::What::differs;
    Diagnostic& d =
        out.error("csv-differs", r.span,
                  fmt::format("circuit {} has another {} already: {}, and the file says {}",
                              visible(place_of(c)), r.key, visible(have->text), visible(r.text)),
                  {"Find out which of them is right. Take it out of the file or the job, "
                   "or say --replace."});
    d.labels.push_back({have->span, "in the job"});
  }
  return t;
}

TomlPath path_of(const record::CsvReading& r) {
  TomlPath path{{"circuit", r.circuit}};
  for (const std::string_view step : split(r.key, '.')) path.push_back({std::string(step), -1});
  return path;
}

/// The keys of a table in the order of the record, for a line that is added.
std::vector<std::string> order_of(const TomlPath& table) {
  const record::Shape* at = &record::job_shape();
  for (const TomlStep& step : table) {
    at = at->find(step.key);
    if (at == nullptr) return {};
  }
  std::vector<std::string> out;
  for (const record::Shape& m : at->members) out.push_back(m.name);
  return out;
}

}  // namespace

std::optional<TakeResult> take(const Workspace& w, const fs::path& file, const std::string& asked,
                               bool replace, Sources& sources, Diagnostics& out) {
  const CsvMapping* mapping = mapping_of(w.installer, asked, out);
  if (mapping == nullptr) return std::nullopt;
  auto bytes = read_file(file, kCsvMaxBytes, out);
  if (!bytes) return std::nullopt;
  const SourceId source = sources.add(file.string(), std::move(*bytes));
  const auto readings = record::read_csv_readings(sources, source, *mapping, w.job, out);
  if (!out.ok()) return std::nullopt;
  const View job = record::view_of(w.job);
  const View* circuits = job.find("circuit");
  TakeResult result;
  result.job_bytes = w.job_bytes;
  for (const record::CsvReading& r : readings) {
    const auto i = static_cast<std::size_t>(r.circuit);
    const Taken t = judged(r, circuits->items.at(i), w.job.circuits.at(i), replace, out);
    result.readings.push_back(t);
    if (t.what != Taken::What::fresh && t.what != Taken::What::replaced) continue;
    auto edited = edit_toml(result.job_bytes, path_of(r), r.value, order_of);
    if (edited)
      result.job_bytes = std::move(*edited);
    else
      out.error("csv-no-place", r.span,
                fmt::format("{} of circuit {} finds no place in the job's text", r.key,
                            visible(place_of(w.job.circuits.at(i)))),
                {"Write " + r.key + " = " + r.value + " into the job yourself."});
  }
  if (readings.empty())
    out.warning("csv-nothing", Span{source, 0, 0},
                "the file has no reading for a circuit of this job",
                {"Its references are compared with those of the job's circuits."});
  return out.ok() ? std::optional(std::move(result)) : std::nullopt;
}

namespace {

struct Guess {
  std::string_view in_heading, key;
};
// The trade's own words in a heading, in lower case; the first that is in it.
constexpr std::array kGuesses{Guess{"r1+r2", "dead.R1R2"},
                              Guess{"r1r2", "dead.R1R2"},
                              Guess{"rn", "dead.rn"},
                              Guess{"r1", "dead.r1"},
                              Guess{"r2", "dead.r2"},
                              Guess{"zs", "live.zs"},
                              Guess{"trip", "live.rcd.trip_ms"},
                              Guess{"rcd", "live.rcd.trip_ms"},
                              Guess{"pfc", "live.pfc"},
                              Guess{"ipf", "live.pfc"},
                              Guess{"l-e", "dead.insulation.live_earth"},
                              Guess{"live-earth", "dead.insulation.live_earth"},
                              Guess{"l-n", "dead.insulation.live_live"},
                              Guess{"live-live", "dead.insulation.live_live"}};

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : visible(text))
    out += c == '"' || c == '\\' ? std::string("\\") + c : std::string(1, c);
  return out + "\"";
}

}  // namespace

std::optional<std::string> suggest_mapping(const fs::path& file, Sources& sources,
                                           Diagnostics& out) {
  auto bytes = read_file(file, kCsvMaxBytes, out);
  if (!bytes) return std::nullopt;
  const SourceId source = sources.add(file.string(), std::move(*bytes));
  std::vector<CsvRow> best;
  char delimiter = ',';
  for (const char c : {';', '\t', ',', '|'}) {
    Diagnostics quiet;
    auto rows = parse_csv(sources, source, c, quiet);
    if (!rows || rows->empty() || (!best.empty() && rows->front().size() <= best.front().size()))
      continue;
    best = std::move(*rows);
    delimiter = c;
  }
  if (best.empty() && !parse_csv(sources, source, ',', out)) return std::nullopt;
  std::string text = "[csv.mine]\n";
  text += fmt::format("delimiter = {}\n",
                      delimiter == '\t' ? "\"\\t\"" : toml_text(std::string(1, delimiter)));
  text += fmt::format("decimal   = \".\"        # or \",\"\n");
  std::string circuit, board, lines;
  std::vector<std::string_view> used;
  for (const CsvCell& cell : best.empty() ? CsvRow{} : best.front()) {
    const std::string heading = ascii_lower(to_nfc(trim(cell.text)));
    if (heading.empty()) continue;
    if (circuit.empty() && (heading.find("circuit") != std::string::npos || heading == "ref")) {
      circuit = trim(cell.text);
      continue;
    }
    if (board.empty() && heading.find("board") != std::string::npos) {
      board = trim(cell.text);
      continue;
    }
    const auto guess = std::find_if(kGuesses.begin(), kGuesses.end(), [&](const Guess& g) {
      return heading.find(g.in_heading) != std::string::npos &&
             std::find(used.begin(), used.end(), g.key) == used.end();
    });
    if (guess != kGuesses.end()) used.push_back(guess->key);
    lines +=
        (guess == kGuesses.end() ? "# \"live.…\" = " : "\"" + std::string(guess->key) + "\" = ") +
        toml_text(trim(cell.text)) + "\n";
  }
  text += "circuit   = " + toml_text(circuit) +
          (circuit.empty() ? "        # heading of the circuit's reference\n" : "\n");
  if (!board.empty()) text += "board     = " + toml_text(board) + "\n";
  return text + "\n[csv.mine.columns]\n" + lines;
}

}  // namespace ohmleaf::app
