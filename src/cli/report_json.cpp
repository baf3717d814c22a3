#include "cli/report_json.h"

#include "base/version.h"
#include "checks/by_circuit.h"
#include "checks/needs.h"
#include "checks/site_sheet.h"

namespace ohmleaf::cli {
namespace {

using checks::Finding;
using checks::Verdict;

Json place_json(Span span, const Sources& sources) {
  if (!span.valid()) return {};
  const SourceText& text = sources.get(span.source);
  const LineColumn at = text.line_column(span.begin);
  Json j = Json::object();
  j.set("file", text.name()).set("line", std::int64_t{at.line}).set("column", std::int64_t{at.column});
  return j;
}

Json texts(const std::vector<std::string>& list) {
  Json j = Json::array();
  for (const std::string& s : list) j.push(s);
  return j;
}

Json finding_json(const Finding& f, const record::Job& job, const Sources& sources) {
  Json j = Json::object();
  j.set("check", f.check).set("verdict", checks::name(f.verdict)).set("stage", checks::name(f.stage));
  if (f.circuit >= 0) {
    const auto& c = job.circuits.at(static_cast<std::size_t>(f.circuit));
    j.set("board", c.board.value_or("")).set("circuit", c.ref.value_or(""));
  } else {
    j.set("board", Json()).set("circuit", Json());
  }
  j.set("cell", f.cell).set("subject", f.subject).set("message", f.message);
  j.set("reading", f.reading).set("limit", f.limit).set("exact", f.exact);
  j.set("difference", f.difference).set("derivation", f.derivation).set("source", f.source);
  j.set("decision", f.decision);
  j.set("provenance", f.provenance ? Json(limits::name(*f.provenance)) : Json());
  j.set("used_permille", f.used_permille ? Json(*f.used_permille) : Json());
  j.set("causes", texts(f.causes)).set("action", f.action).set("caution", f.caution);
  j.set("site_sheet", checks::site_sheet_place(f));
  j.set("place", place_json(f.span, sources));
  Json see = Json::array();
  for (const Label& l : f.labels) {
    Json one = Json::object();
    one.set("place", place_json(l.span, sources)).set("text", l.text);
    see.push(std::move(one));
  }
  j.set("see", std::move(see));
  j.set("blocks", f.blocks());
  j.set("confirmed_by", f.confirmed_by).set("confirmed_reason", f.confirmed_reason);
  return j;
}

}  // namespace

Json report_json(const app::Workspace& w, const checks::Report& report, const Sources& sources) {
  Json job = Json::object();
  job.set("file", w.job_path.string()).set("id", w.job.job_id());
  job.set("premises", w.job.premises.value_or("")).set("client", w.job.client.value_or(""));
  job.set("date", w.job.date ? Json(w.job.date->iso()) : Json());
  const checks::Tally all = report.tally();
  Json counts = Json::object();
  for (const Verdict v : {Verdict::fail, Verdict::missing, Verdict::doubtful, Verdict::borderline,
                          Verdict::pass, Verdict::note, Verdict::not_applicable})
    counts.set(std::string(checks::name(v)), all.count(v));
  const checks::ByCircuit found(report);
  Json circuits = Json::array();
  for (std::size_t i = 0; i < w.job.circuits.size(); ++i) {
    const auto& c = w.job.circuits[i];
    Json one = Json::object();
    one.set("board", c.board.value_or("")).set("circuit", c.ref.value_or(""));
    one.set("name", c.name.value_or("")).set("verdict", checks::name(found.worst_of(static_cast<int>(i))));
    circuits.push(std::move(one));
  }
  Json findings = Json::array();
  for (const Finding& f : report.findings) findings.push(finding_json(f, w.job, sources));
  Json j = Json::object();
  j.set("format", 1).set("program", "ohmleaf " + std::string(program_version()));
  j.set("job", std::move(job)).set("edition", limits::name(report.edition));
  j.set("verdict", checks::name(report.verdict)).set("issuable", all.issuable);
  j.set("counts", std::move(counts)).set("circuits", std::move(circuits));
  j.set("findings", std::move(findings));
  return j;
}

Json diagnostics_json(const Diagnostics& diagnostics, const Sources& sources) {
  Json list = Json::array();
  for (const Diagnostic& d : diagnostics.all()) {
    Json one = Json::object();
    one.set("severity", d.severity == Severity::error     ? "error"
                        : d.severity == Severity::warning ? "warning"
                                                          : "note");
    one.set("id", d.id).set("message", d.message).set("place", place_json(d.span, sources));
    one.set("hints", texts(d.hints));
    list.push(std::move(one));
  }
  return list;
}

}  // namespace ohmleaf::cli
