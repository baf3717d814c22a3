#include <algorithm>

#include "bench.h"
#include "checks/by_circuit.h"

// The report as a whole: order, verdict, what blocks, confirmations, and that dead tests come
// first.

namespace bench {
namespace {
using ohmleaf::Megohms;
using ohmleaf::Millis;
using ohmleaf::Ohms;
using ohmleaf::checks::Stage;
using record::Job;

void confirm(Job& j, const char* check, const char* circuit) {
  record::Confirmation c;
  c.span = {1, 0, 1};
  c.check = text(check);
  if (circuit) c.circuit = text(circuit);
  c.reason = text("measured twice, metal water pipe in parallel");
  c.by = text("rh");
  j.confirmations.push_back(c);
}

bool contains(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}
}  // namespace

TEST_CASE("the sound samples may be issued") {
  for (const char* name : {"sewing-workshop", "tt-cottage", "new-board"}) {
    CAPTURE(name);
    const Report r = report_of(sample(name));
    CHECK(r.issuable());
    CHECK(r.verdict <= Verdict::borderline);
    CHECK(r.count(Verdict::fail) + r.count(Verdict::missing) + r.count(Verdict::doubtful) == 0);
  }
}

TEST_CASE("the tired day's seven mistakes are all named") {
  const Report r = report_of(sample("tired-day"));
  CHECK_FALSE(r.issuable());
  CHECK(verdict_of(r, "zs-overcurrent", 2) == Verdict::fail);
  CHECK(verdict_of(r, "zs-sum", 1) == Verdict::doubtful);
  CHECK(contains(found(r, "zs-sum", 1)->message, "0.62 entered as 6.2 for R1+R2?"));
  CHECK(verdict_of(r, "ring-closes", 0) == Verdict::fail);
  CHECK(verdict_of(r, "rcd-time", 0) == Verdict::missing);
  CHECK(verdict_of(r, "calibration", -1) == Verdict::fail);
  CHECK(verdict_of(r, "load-range", 1) == Verdict::fail);
  CHECK(verdict_of(r, "box-depth", 0) == Verdict::fail);
}

TEST_CASE("no figure is asked after that would be as wrong") {
  // 0.0460 for 46.0 would be below Ze alone: only what one place too many explains is named.
  const auto asked = [](const char* zs) {
    const Report r = report_of(
        job_of(replaced(sample_text("sewing-workshop"), "zs         = 0.46", zs)));
    return found(r, "zs-sum", 0)->message;
  };
  CHECK(contains(asked("zs         = 4.6"), "0.46 entered as 4.6 for Zs?"));
  CHECK_FALSE(contains(asked("zs         = 46.0"), "entered as"));
  // 0.24 ms for 0.024 would be shorter than any RCD opens, too.
  const auto time = [](const char* ms) {
    const Report r =
        report_of(job_of(replaced(sample_text("sewing-workshop"), "trip_ms = 24", ms)));
    return found(r, "rcd-time-plausible", 0)->message;
  };
  CHECK(contains(time("trip_ms = 2.4"), "24 entered as 2.4?"));
  CHECK(contains(time("trip_ms = 0.024"), "24 entered as 0.024?"));
  CHECK_FALSE(contains(time("trip_ms = 0.0012"), "entered as"));
}

TEST_CASE("what to do about too many places is said of the reading that has them") {
  const auto action = [](const char* was, const char* is) {
    return found(report_of(job_of(replaced(sample_text("sewing-workshop"), was, is))), "resolution", 0)
        ->action;
  };
  CHECK(contains(action("zs         = 0.46", "zs         = 0.4613"), "zs_by"));
  CHECK(action("trip_ms = 24", "trip_ms = 24.35") == "Enter it as the display showed it.");
}

TEST_CASE("nothing ever says that an installation is safe") {
  for (const char* name : {"sewing-workshop", "tired-day", "tt-cottage", "new-board"})
    for (const Finding& f : report_of(sample(name)).findings)
      for (const char* claim : {"is safe", "safe to", "are safe:", "safely"}) {
        CAPTURE(f.message);
        CHECK_FALSE(contains(f.message + f.action, claim));
      }
}

TEST_CASE(
    "a message is one sentence without a full stop, and a blocking one says what to do next") {
  Job bare;  // nothing recorded at all: every missing message there is
  bare.kind = field(record::JobKind::minor_works);
  bare.date = field(ohmleaf::Date{2026, 11, 20});
  bare.circuits.resize(1);
  bare.circuits[0].type = field(record::CircuitType::ring_final);
  for (const Job& job : {sample("tired-day"), bare})
    for (const Finding& f : report_of(job).findings) {
      CAPTURE(f.check);
      CAPTURE(f.message);
      CHECK_FALSE(f.message.empty());
      CHECK_FALSE(f.message.ends_with("."));
      CHECK_FALSE(f.cell.empty());
      CHECK_FALSE(f.subject.empty());
      CHECK_FALSE(f.source.empty());
      if (f.blocks()) CHECK_FALSE(f.action.empty());
    }
}

TEST_CASE(
    "findings stand the job first, then circuit by circuit, worst first, then in the order of "
    "work") {
  const Report r = report_of(sample("tired-day"));
  const auto ordered = [](const Finding& a, const Finding& b) {
    if (a.circuit != b.circuit) return a.circuit < b.circuit;
    if (a.verdict != b.verdict) return a.verdict > b.verdict;
    return a.stage < b.stage;
  };
  CHECK(std::is_sorted(r.findings.begin(), r.findings.end(), ordered));
  CHECK(r.findings.front().circuit == -1);
}

TEST_CASE("a circuit is judged as it would be alone, wherever it stands among others") {
  // Circuits are looked at some at a time: more than two lots of them, no two of which read the same.
  Job many = sample("sewing-workshop");
  const std::vector<record::Circuit> of_sample = many.circuits;
  many.circuits.clear();
  for (int i = 0; i < 70; ++i) {
    record::Circuit c = of_sample[static_cast<std::size_t>(i) % of_sample.size()];
    c.ref = text(std::to_string(i + 1));
    c.live.zs = reading<Ohms>((i < 45 ? "0." : "1.") + std::to_string(i + 10));
    if (i % 11 == 3) c.dead.insulation.live_earth = reading<Megohms>("0." + std::to_string(i + 10));
    if (i % 13 == 5) c.live.rcd.trip_ms = {};
    many.circuits.push_back(std::move(c));
  }
  const Report all = report_of(many);
  std::size_t seen = 0, unlike = 0;
  for (int i = 0; i < 70; ++i) {
    Job one = many;
    one.circuits = {many.circuits[static_cast<std::size_t>(i)]};
    std::vector<Finding> alone = report_of(one).findings, among = all.findings;
    std::erase_if(alone, [](const Finding& f) { return f.circuit != 0; });
    std::erase_if(among, [&](const Finding& f) { return f.circuit != i; });
    CAPTURE(i);
    REQUIRE(alone.size() == among.size());
    for (std::size_t k = 0; k < alone.size(); ++k, ++seen) {
      const Finding &a = alone[k], &b = among[k];
      const bool same = a.check == b.check && a.verdict == b.verdict && a.cell == b.cell &&
                        a.message == b.message && a.reading == b.reading && a.limit == b.limit &&
                        a.derivation == b.derivation && a.source == b.source && a.action == b.action &&
                        a.caution == b.caution && a.causes == b.causes;
      unlike += same ? 0 : 1;
    }
  }
  CHECK(seen > 70 * 10);
  CHECK(unlike == 0);
}

TEST_CASE("findings by their cell: the worst first met, parts below the whole") {
  Report r;
  const auto add = [&](int circuit, const char* cell, Verdict verdict) {
    Finding& f = r.findings.emplace_back();
    f.circuit = circuit;
    f.cell = cell;
    f.verdict = verdict;
    f.limit = "≤ 1 Ω";
  };
  add(-1, "supply.ze", Verdict::pass);
  add(0, "live.zs", Verdict::pass);
  add(0, "live.zs", Verdict::fail);
  add(0, "live.zs", Verdict::fail);
  add(1, "live.zs.L2", Verdict::borderline);
  add(1, "live.zs.L1", Verdict::borderline);
  add(1, "live.zs-other", Verdict::fail);
  add(1, "live.zsx", Verdict::fail);
  add(1, "live.zs.L3", Verdict::pass);
  const ohmleaf::checks::ByCircuit found(r);
  const ohmleaf::checks::ByCell cells(found);
  const auto& all = r.findings;
  CHECK(ohmleaf::checks::worst(cells.at(0, "live.zs")) == &all[2]);
  CHECK(cells.at(0, "live.zs").size() == 3);
  CHECK(cells.at(0, "live.zs")[0] == &all[1]);
  CHECK(cells.at(0, "live").empty());
  CHECK(cells.below(0, "live.zs").empty());
  CHECK(cells.at(1, "live.zs").empty());
  CHECK(cells.below(1, "live.zs").size() == 3);
  CHECK(ohmleaf::checks::worst(cells.below(1, "live.zs")) == &all[4]);  // of two alike, as the report has them
  CHECK(cells.at(-1, "supply.ze")[0] == &all[0]);
  CHECK(cells.at(2, "live.zs").empty());
  CHECK(cells.at(-2, "live.zs").empty());
  CHECK(cells.at(0, "live.zs").size() == 3);  // and back again
  CHECK(found.with(Verdict::fail).size() == 4);
  CHECK(found.with(Verdict::missing).empty());
  CHECK(found.with_limit().size() == all.size());
  CHECK(found.tally().count(Verdict::borderline) == 2);
  CHECK(found.tally().worst == Verdict::fail);
  CHECK_FALSE(found.tally().issuable);
}

TEST_CASE("a cell shows the worst that is said of it") {
  Job j = sample("sewing-workshop");
  j.circuits[kRing].live.zs = reading<Ohms>("4.6");
  const Report r = report_of(j);
  REQUIRE(r.at(kRing, "live.zs"));
  CHECK(r.at(kRing, "live.zs")->verdict == Verdict::doubtful);
  CHECK(r.at(kRing, "live.nothing") == nullptr);
  CHECK(report_of(sample("sewing-workshop")).at(kRing, "live.zs")->limit == "≤ 1.37 Ω");
}

TEST_CASE("a failed dead test stops the circuit's live tests") {
  Job j = sample("sewing-workshop");
  j.circuits[kRing].dead.insulation.live_earth = reading<Megohms>("0.2");
  j.circuits[kRing].live.zs = {};
  const Report r = report_of(j);
  const Finding* zs = found(r, "zs-overcurrent", kRing);
  REQUIRE(zs);
  CHECK(zs->verdict == Verdict::missing);
  CHECK(contains(zs->message, "do not energise"));
  CHECK(contains(zs->action, "isolated and locked off"));
}

TEST_CASE("a failed dead test of one circuit says nothing of another") {
  Job j = sample("sewing-workshop");
  j.circuits[kRing].dead.insulation.live_earth = reading<Megohms>("0.2");
  j.circuits[kLighting].live.zs = {};
  CHECK_FALSE(contains(found(report_of(j), "zs-overcurrent", kLighting)->message, "energise"));
}

TEST_CASE(
    "a doubt that is confirmed with reason and name counts as borderline and blocks nothing") {
  Job j = sample("sewing-workshop");
  j.circuits[kRing].live.zs = reading<Ohms>("0.60");
  CHECK_FALSE(report_of(j).issuable());
  confirm(j, "zs-sum", "3");
  const Report r = report_of(j);
  CHECK(r.issuable());
  CHECK(r.verdict == Verdict::borderline);
  CHECK(found(r, "zs-sum", kRing)->confirmed_by == "Rosalind Hobday");
  CHECK_FALSE(found(r, "zs-sum", kRing)->confirmed_reason.empty());
}

TEST_CASE("a confirmation without reason or name confirms nothing") {
  for (const bool reason : {true, false}) {
    Job j = sample("sewing-workshop");
    j.circuits[kRing].live.zs = reading<Ohms>("0.60");
    confirm(j, "zs-sum", "3");
    if (reason)
      j.confirmations[0].reason = text(" ");
    else
      j.confirmations[0].by = {};
    const Report r = report_of(j);
    CHECK_FALSE(r.issuable());
    CHECK(verdict_of(r, "confirmation", -1) == Verdict::missing);
  }
}

TEST_CASE("a confirmation for another circuit confirms nothing, and neither does one of a fail") {
  Job j = sample("sewing-workshop");
  j.circuits[kRing].live.zs = reading<Ohms>("0.60");
  confirm(j, "zs-sum", "6");
  CHECK_FALSE(report_of(j).issuable());
  Job failed = sample("sewing-workshop");
  failed.circuits[kRing].live.rcd.trip_ms = reading<Millis>("400");
  confirm(failed, "rcd-time", "3");
  CHECK_FALSE(report_of(failed).issuable());
}

TEST_CASE("a verdict that allows for uncertainty names its decision rule, others do not") {
  Job j = sample("sewing-workshop");
  const Report declared = report_of(j);
  CHECK(contains(found(declared, "zs-overcurrent", kRing)->decision, "pass only where 0.46 ± 0.063 Ω"));
  CHECK(contains(found(declared, "zs-overcurrent", kRing)->decision, "JCGM 106"));
  // The limit's own words are the same for every reading: a page lists it once.
  CHECK_FALSE(contains(found(declared, "zs-overcurrent", kRing)->derivation, "0.46"));
  j.instruments = {text("mft-2"), text("vi-2"), text("pu-1")};  // declares nothing
  CHECK(found(report_of(j), "zs-overcurrent", kRing)->decision.empty());
  Job missing = sample("sewing-workshop");
  missing.circuits[kRing].live.zs = {};
  const Report r = report_of(missing);
  CHECK(found(r, "zs-overcurrent", kRing)->decision.empty());
  CHECK(contains(found(r, "zs-overcurrent", kRing)->caution, "Live test"));
}

TEST_CASE("a confirmation means the circuit of its board, and nothing where that is left open") {
  Job j = sample("sewing-workshop");
  j.circuits[kRing].live.zs = reading<Ohms>("0.60");
  j.circuits[kLighting].ref = text("3");
  j.circuits[kLighting].board = text("CU2");
  confirm(j, "zs-sum", "3");
  const Report open = report_of(j);
  CHECK_FALSE(open.issuable());
  CHECK(verdict_of(open, "confirmation", -1) == Verdict::missing);
  CHECK(contains(found(open, "confirmation", -1)->message, "on which board"));
  j.confirmations[0].board = text("CU2");
  CHECK_FALSE(report_of(j).issuable());
  j.confirmations[0].board = text("CU1");
  CHECK(report_of(j).issuable());
}

TEST_CASE("in a condition report a fail is an observation and blocks nothing") {
  Job j = sample("new-board");
  j.kind = field(record::JobKind::condition_report);
  j.circuits[0].live.rcd.trip_ms = reading<Millis>("400");
  j.circuits[0].live.zs = reading<Ohms>("LIM: no access to the far end");
  const Report r = report_of(j);
  CHECK(verdict_of(r, "rcd-time", 0) == Verdict::fail);
  CHECK(found(r, "rcd-time", 0)->observation);
  CHECK(verdict_of(r, "zs-overcurrent", 0) == Verdict::not_applicable);
  CHECK(r.issuable());
}

TEST_CASE("a job with nothing in it is judged, not crashed on, and cannot be issued") {
  const Report r = ohmleaf::checks::check(Job{}, record::Installer{});
  CHECK_FALSE(r.issuable());
  CHECK(r.verdict >= Verdict::missing);
  Job one;
  one.circuits.resize(3);
  one.circuits[1].accessories.resize(2);
  one.controls.resize(1);
  one.confirmations.resize(1);
  one.departures.resize(1);
  CHECK_FALSE(ohmleaf::checks::check(one, record::Installer{}).issuable());
}

TEST_CASE("the same job gives the same report") {
  const Job j = sample("tired-day");
  const Report a = report_of(j), b = report_of(j);
  REQUIRE(a.findings.size() == b.findings.size());
  for (std::size_t i = 0; i < a.findings.size(); ++i)
    CHECK(a.findings[i].message == b.findings[i].message);
}

TEST_CASE("the table explains every check once") {
  std::vector<std::string> ids;
  for (const auto& c : ohmleaf::checks::all_checks()) {
    CAPTURE(c.id);
    CHECK_FALSE(c.subject.empty());
    CHECK(c.says.size() > 30);
    CHECK_FALSE(c.source.empty());
    ids.emplace_back(c.id);
  }
  std::sort(ids.begin(), ids.end());
  CHECK(std::adjacent_find(ids.begin(), ids.end()) == ids.end());
}

}  // namespace bench
