#include "record/csv_readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "base/text.h"
#include "record/codec.h"
#include "record/job_tables.h"
#include "record/read.h"

namespace ohmleaf::record {
namespace {

std::string folded(std::string_view text) { return ascii_lower(to_nfc(trim(text))); }

/// "dead.R1R2" as a node that the job's own readers take: dead = { R1R2 = … }.
TomlNode nested(const std::vector<std::string_view>& steps, std::size_t at, const TomlNode& leaf) {
  if (at == steps.size()) return leaf;
  TomlNode table;
  table.kind = TomlKind::table;
  table.key = steps[at - 1];
  table.span = table.key_span = leaf.span;
  TomlNode inner = nested(steps, at + 1, leaf);
  inner.key = steps[at];
  table.children.push_back(std::move(inner));
  return table;
}

bool is_plain_number(std::string_view text) {
  return !text.empty() && text.front() >= '0' && text.front() <= '9' && Decimal::parse(text);
}

/// What the job's own reader says of the value at that key, at the cell.
bool read_as_in_job(const CsvReading& r, const Shape& shape, SourceId file, Diagnostics& out) {
  TomlNode leaf;
  leaf.span = leaf.key_span = r.span;
  leaf.text = r.text;
  leaf.kind = TomlKind::string;
  if (shape.written == Written::flag)
    leaf.kind = TomlKind::boolean;
  else if (shape.written != Written::fault_current && is_plain_number(r.text))
    leaf.kind = TomlKind::floating;
  const auto steps = split(r.key, '.');
  const TomlNode table = nested(steps, 1, leaf);
  Reader in(file, job_shape, out);
  in.enter("circuit", true);
  const std::size_t before = in.error_count();
  static constexpr Rule none{};
  const Value value{table, steps.front(), none};
  if (steps.front() == "dead") {
    DeadTests dead;
    Codec<DeadTests>::read(in, value, dead);
  } else {
    LiveTests live;
    Codec<LiveTests>::read(in, value, live);
  }
  return in.error_count() == before;
}

/// One column that counts, found in the heading of the file.
struct Column {
  const CsvColumn* asked = nullptr;
  const Shape* shape = nullptr;
  std::size_t at = 0;
  std::string unit;
};
struct Layout {
  std::size_t heading = 0;  ///< index of the heading's row
  std::size_t circuit = 0;
  std::optional<std::size_t> board;
  std::vector<Column> columns;
};

std::optional<std::size_t> column_named(const CsvRow& row, std::string_view heading) {
  for (std::size_t i = 0; i < row.size(); ++i)
    if (folded(row[i].text) == folded(heading)) return i;
  return std::nullopt;
}

constexpr std::size_t kHeadingWithin = 50;

/// The row that holds the heading of the circuits' column; programs put lines of their own above.
std::optional<std::size_t> heading_row(const std::vector<CsvRow>& rows, const CsvMapping& mapping) {
  for (std::size_t i = 0; i < std::min(rows.size(), kHeadingWithin); ++i)
    if (column_named(rows[i], *mapping.circuit)) return i;
  return std::nullopt;
}

std::vector<std::string_view> texts_of(const CsvRow& row) {
  std::vector<std::string_view> out;
  for (const CsvCell& c : row) out.push_back(trim(c.text));
  return out;
}

void no_column(const CsvRow& heading, std::string_view asked, Span asked_at, Diagnostics& out) {
  const auto have = texts_of(heading);
  std::vector<std::string> hints;
  if (const auto near = nearest(asked, have)) hints.push_back("Did you mean \"" + visible(*near) + "\"?");
  std::vector<std::string> shown;
  for (const std::string_view h : have)
    if (!h.empty() && shown.size() < 30) shown.push_back("\"" + visible(h) + "\"");
  hints.push_back("The file has: " + join(shown, ", ") + ".");
  Diagnostic& d = out.error("csv-no-column", heading.empty() ? Span{} : heading.front().span,
                            fmt::format("the file has no column \"{}\"", visible(asked)),
                            std::move(hints));
  d.labels.push_back({asked_at, "asked for here"});
}

std::optional<Layout> layout_of(const std::vector<CsvRow>& rows, const CsvMapping& mapping,
                                SourceId file, Diagnostics& out) {
  const auto row = heading_row(rows, mapping);
  if (!row) {
    if (rows.empty())
      out.error("csv-empty", Span{file, 0, 0}, "the file has no rows", {"Export it again."});
    else
      no_column(rows.front(), *mapping.circuit, mapping.circuit.span, out);
    return std::nullopt;
  }
  const CsvRow& heading = rows[*row];
  Layout found;
  found.heading = *row;
  found.circuit = *column_named(heading, *mapping.circuit);
  bool ok = true;
  if (mapping.board) {
    found.board = column_named(heading, *mapping.board);
    if (!found.board) no_column(heading, *mapping.board, mapping.board.span, out);
    ok = found.board.has_value();
  }
  for (const CsvColumn& c : mapping.columns) {
    const auto at = column_named(heading, c.heading);
    if (at)
      found.columns.push_back({&c, csv_cell_shape(c.key), *at, csv_unit_of(heading[*at].text)});
    else
      no_column(heading, c.heading, c.span, out);
    ok = ok && at;
  }
  return ok ? std::optional(std::move(found)) : std::nullopt;
}

/// The circuit of the job that a row is for; nothing, after a note, where the job has none such.
std::optional<int> circuit_of(const CsvRow& row, const Layout& layout, const Job& job,
                              Diagnostics& out) {
  if (layout.circuit >= row.size() || trim(row[layout.circuit].text).empty()) return std::nullopt;
  const CsvCell& ref = row[layout.circuit];
  std::string board;
  if (layout.board && *layout.board < row.size()) board = folded(row[*layout.board].text);
  std::vector<int> found;
  for (std::size_t i = 0; i < job.circuits.size(); ++i) {
    const Circuit& c = job.circuits[i];
    const bool here = board.empty() || !c.board || folded(*c.board) == board;
    if (here && folded(c.ref.value_or("")) == folded(ref.text)) found.push_back(static_cast<int>(i));
  }
  if (found.size() == 1) return found.front();
  if (found.empty())
    out.warning("csv-other-circuit", ref.span,
                fmt::format("circuit \"{}\" is not in this job: its row was passed over",
                            visible(trim(ref.text))),
                {"Add the circuit to job.toml first, if it belongs there."});
  else
    out.error("csv-two-circuits", ref.span,
              fmt::format("circuit \"{}\" stands on several boards of this job",
                          visible(trim(ref.text))),
              {"Name the column with the board: board = \"…\" in [csv.NAME] of installer.toml."});
  return std::nullopt;
}

/// What the mapping says that a cell's word stands for, else the cell as it is.
std::string worded(const CsvMapping& mapping, std::string_view cell) {
  for (const Extra& w : mapping.words)
    if (folded(w.key) == folded(cell)) return w.text;
  return std::string(trim(cell));
}

std::string toml_value(const std::string& text, const Shape& shape) {
  if (shape.written == Written::flag) return text;
  if (shape.written != Written::fault_current && is_plain_number(text)) return text;
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

/// The figure of a reading, for comparing two of them; nothing where it has none.
std::optional<Decimal> figure(const std::string& text) {
  std::string_view rest = text;
  if (rest.starts_with('>') || rest.starts_with('<')) rest = trim(rest.substr(1));
  std::size_t end = 0;
  while (end < rest.size() && ((rest[end] >= '0' && rest[end] <= '9') || rest[end] == '.')) ++end;
  return Decimal::parse(rest.substr(0, end));
}

/// The greater of two readings is the worse one, except of an insulation resistance.
bool worse(const CsvReading& a, const CsvReading& b, const Shape& shape) {
  const auto x = figure(a.text), y = figure(b.text);
  if (!x || !y) return !x;  // what says nothing about a limit is never passed over
  const bool lowest = shape.unit == "MΩ";
  if (*x == *y) return lowest ? a.text.starts_with('<') : a.text.starts_with('>');
  return lowest ? *x < *y : *x > *y;
}

/// Keeps one reading for each key of a circuit; two that differ are an error, or the worst counts.
void keep(std::vector<CsvReading>& all, CsvReading fresh, const Shape& shape, bool worst,
          Diagnostics& out) {
  const auto it = std::find_if(all.begin(), all.end(), [&](const CsvReading& r) {
    return r.circuit == fresh.circuit && r.key == fresh.key;
  });
  if (it == all.end()) {
    all.push_back(std::move(fresh));
  } else if (worst && shape.written != Written::flag) {
    if (worse(fresh, *it, shape)) *it = std::move(fresh);
  } else if (worst) {
    if (fresh.text == "false") *it = std::move(fresh);
  } else if (it->text != fresh.text) {
    Diagnostic& d = out.error(
        "csv-twice", fresh.span,
        fmt::format("{} of this circuit stands twice: {} and {}", fresh.key, visible(it->text),
                    visible(fresh.text)),
        {"Leave one of them; or write worst = true in [csv.NAME] of installer.toml, and the worst "
         "of them counts."});
    d.labels.push_back({it->span, "the first one"});
  }
}

char delimiter_of(const Sources& sources, SourceId file, const CsvMapping& mapping) {
  if (mapping.delimiter) return mapping.delimiter->front();
  for (const char c : {';', '\t', ',', '|'}) {
    Diagnostics quiet;
    const auto rows = parse_csv(sources, file, c, quiet);
    if (!rows) continue;
    const auto row = heading_row(*rows, mapping);
    if (row && (*rows)[*row].size() > 1) return c;
  }
  return ',';
}

}  // namespace

const Shape* csv_cell_shape(std::string_view key) {
  if (!key.starts_with("dead.") && !key.starts_with("live.")) return nullptr;
  const Shape* at = job_shape().find("circuit");
  for (const std::string_view step : split(key, '.')) {
    if (at == nullptr || at->written == Written::tables) {
      if (at == nullptr || at->name != "circuit") return nullptr;
    }
    at = at->find(step);
  }
  if (at == nullptr) return nullptr;
  switch (at->written) {
    case Written::reading:
    case Written::fault_current:
    case Written::number:
    case Written::flag:
    case Written::text:
      return at;
    default:
      return nullptr;
  }
}

std::vector<CsvReading> read_csv_readings(const Sources& sources, SourceId file,
                                          const CsvMapping& mapping, const Job& job,
                                          Diagnostics& out) {
  std::vector<CsvReading> all;
  const auto rows = parse_csv(sources, file, delimiter_of(sources, file, mapping), out);
  if (!rows || !mapping.circuit) return all;
  const auto layout = layout_of(*rows, mapping, file, out);
  if (!layout) return all;
  const char decimal = mapping.decimal.value_or(".").front();
  for (std::size_t i = layout->heading + 1; i < rows->size(); ++i) {
    if (out.all().size() >= Reader::kMostErrors) break;
    const CsvRow& row = (*rows)[i];
    const auto circuit = circuit_of(row, *layout, job, out);
    if (!circuit) continue;
    for (const Column& c : layout->columns) {
      if (c.at >= row.size()) continue;
      const CsvCell& cell = row[c.at];
      const std::string text = worded(mapping, cell.text);
      if (text.empty()) continue;
      CellFault fault;
      const auto value = csv_cell(text, c.unit, decimal, *c.shape, fault);
      if (!value) {
        out.error("csv-cell", cell.span, c.asked->key + ": " + fault.message, {fault.hint});
        continue;
      }
      CsvReading reading{*circuit, c.asked->key, toml_value(*value, *c.shape), *value, cell.span};
      if (!read_as_in_job(reading, *c.shape, file, out)) continue;
      keep(all, std::move(reading), *c.shape, mapping.worst.value_or(false), out);
    }
  }
  return all;
}

}  // namespace ohmleaf::record
