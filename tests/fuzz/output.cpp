// Any texts in a job, its file, its file's name and what was found, and what is then written of it:
// for a terminal, as JSON, CSV and SVG. Parsers that know nothing of us read it back. The first
// byte chooses what is written; the rest are the texts, separated by 0x1E.
#include <set>

#include "checks/check.h"
#include "cli/csv_report.h"
#include "cli/diagnostic_text.h"
#include "cli/plot.h"
#include "cli/report_json.h"
#include "cli/report_text.h"
#include "fuzz/job.h"
#include "fuzz/read_csv.h"
#include "fuzz/read_json.h"
#include "fuzz/read_xml.h"

using namespace ohmleaf;

namespace {

/// Nothing that moves the cursor, hides what stands there or turns it round: no control character
/// but the line feed, no character that changes the direction of text, no byte that is no
/// character.
void harmless(const std::string& text) {
  fuzz::promise(!first_invalid_utf8(text), "a terminal gets characters");
  for (const char32_t c : decode_utf8(text)) {
    const bool control = (c < 0x20 && c != '\n') || (c >= 0x7F && c < 0xA0);
    const bool direction = c == 0x61C || c == 0x200E || c == 0x200F ||
                           (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
    fuzz::promise(!control && !direction, "no control character reaches a terminal");
  }
}

bool is_number(std::string_view cell) {
  if (cell.starts_with('+') || cell.starts_with('-')) cell.remove_prefix(1);
  const auto point = cell.find('.');
  const auto digits = [](std::string_view s) {
    return !s.empty() && s.find_first_not_of("0123456789") == std::string_view::npos;
  };
  return digits(cell.substr(0, point)) &&
         (point == std::string_view::npos || digits(cell.substr(point + 1)));
}

/// What a cell was made from, and that a spreadsheet shows it and works nothing out.
void cell(const std::string& read, const std::string& from) {
  const bool formula =
      !read.empty() && std::string_view("=+-@\t\r\n").find(read[0]) != std::string_view::npos;
  fuzz::promise(!formula || is_number(read), "no cell begins a formula");
  fuzz::promise(read == from || read == "'" + from, "a cell holds what went into it");
}

std::optional<std::string> member(const Json& object, const std::string& name) {
  const Json* value = object.find(name);
  const std::string* text = value != nullptr ? value->as_string() : nullptr;
  return text != nullptr ? std::optional(*text) : std::nullopt;
}

/// A small job and a few findings of it, of each kind one: what is to be tried is how texts are
/// written, and a whole report would be the same again many times.
struct Bench {
  record::Job job = fuzz::sample("tt-cottage");
  checks::Report report;
  std::string bytes = fuzz::file("samples/tt-cottage/job.toml");

  Bench() {
    job.circuits.resize(1);
    report = checks::check(job, fuzz::profile());
    std::set<std::pair<checks::Verdict, bool>> seen;
    std::erase_if(report.findings, [&](const checks::Finding& f) {
      return !seen.emplace(f.verdict, f.used_permille.has_value()).second;
    });
    fuzz::promise(report.findings.size() >= 3, "the sample has findings of several kinds");
  }
};

struct Input {
  Sources sources;
  app::Workspace workspace;
  checks::Report report;

  explicit Input(const std::vector<std::string_view>& parts) {
    static const Bench bench;
    std::size_t next = 0;
    const auto text = [&] { return std::string(next < parts.size() ? parts[next++] : ""); };
    const std::string name = text();
    sources.add(name, bench.bytes);
    sources.add(name, text());
    workspace.job_path = name;
    workspace.job = bench.job;
    workspace.installer = fuzz::profile();
    report = bench.report;
    const auto put = [&](std::string& to) {
      if (next < parts.size()) to = parts[next++];
    };
    record::Job& j = workspace.job;
    record::Circuit& c = j.circuits[0];
    for (record::Text* field : {&j.premises, &c.name, &c.ref, &c.board})
      put(field->value.emplace(field->value_or("")));
    for (checks::Finding& f : report.findings) {
      for (std::string* to :
           {&f.message, &f.subject, &f.reading, &f.limit, &f.difference, &f.derivation, &f.source,
            &f.action, &f.caution, &f.confirmed_by, &f.confirmed_reason})
        put(*to);
      if (next < parts.size()) f.causes = {text()};
      for (Label& label : f.labels) put(label.text);
    }
  }
};

void terminal(const Input& in, bool verbose) {
  const cli::Style plain(false);
  harmless(cli::report_text(in.workspace, in.report, in.sources, plain, 80, {verbose, false}));
  harmless(cli::plot_text(cli::plot_of(in.workspace, in.report), plain, 80, verbose));
}

/// Messages that quote the file: each of its lines, with its hostile name in front.
void messages(const Input& in) {
  Diagnostics found;
  const auto size = static_cast<std::uint32_t>(in.sources.get(2).text().size());
  for (std::uint32_t at = 0; at <= size && found.all().size() < 8; at += 1 + size / 8) {
    const Span span{2, at, std::min(at + 3, size)};
    const std::string words = in.workspace.job.premises.value_or("");
    found.error("fuzz", span, words, {words}).labels.push_back({span, words});
  }
  harmless(cli::diagnostics_text(found, in.sources, cli::Style(false), 80));
  const std::string json = cli::diagnostics_json(found, in.sources).dump();
  fuzz::promise(fuzz::json_reader().takes(json), "messages are JSON");
}

void csv(const Input& in) {
  const Json json = cli::report_json(in.workspace, in.report, in.sources);
  fuzz::promise(fuzz::json_reader().takes(json.dump()), "a report is JSON");
  const Json::Array& findings = *json.find("findings")->as_array();
  const auto table = fuzz::read_csv(cli::csv_of(*json.find("findings")));
  fuzz::promise(table && table->size() == findings.size() + 1, "each finding is a row of the CSV");
  const auto& names = table->front();
  for (std::size_t row = 1; row < table->size(); ++row) {
    const auto& cells = (*table)[row];
    fuzz::promise(cells.size() == names.size(), "each row has a cell for each column");
    for (std::size_t i = 0; i < cells.size(); ++i)
      cell(cells[i], member(findings[row - 1], names[i]).value_or(cells[i]));
  }
}

void svg(const Input& in) {
  const auto circuits = cli::plot_of(in.workspace, in.report);
  std::string about;
  for (const cli::PlotCircuit& c : circuits)
    about += (about.empty() ? "" : "; ") + c.title + ": " + std::string(checks::name(c.verdict));
  fuzz::Xml xml = fuzz::read_xml(cli::plot_svg(circuits));
  fuzz::promise(xml.well_formed, "a picture is XML");
  fuzz::promise(xml.texts["desc"] == visible(about), "a picture says what it shows");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const Input in(split(fuzz::text_of(data + 1, size - 1), '\x1e'));
  switch (data[0] % 5) {
    case 0:
      messages(in);
      break;
    case 1:
    case 2:
      terminal(in, data[0] % 5 == 1);
      break;
    case 3:
      csv(in);
      break;
    default:
      svg(in);
      break;
  }
  return 0;
}
