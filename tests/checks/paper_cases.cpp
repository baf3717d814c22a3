#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Date;
using ohmleaf::DateTime;
using record::Job;
constexpr int kJob = -1;

void confirm(Job& j, const char* check, const char* circuit) {
  record::Confirmation c;
  c.span = {1, 0, 1};
  c.check = text(check);
  if (circuit) c.circuit = text(circuit);
  c.reason = text("measured twice, metal water pipe in parallel");
  c.by = text("rh");
  j.confirmations.push_back(c);
}
void departure(Job& j, const char* what) {
  record::Departure d;
  d.span = {1, 0, 1};
  d.what = text(what);
  d.reason = text("no less safe, because it is watched");
  d.by = text("rh");
  j.departures.push_back(d);
}
record::InspectionItem& item(Job& j) {
  return j.inspection.front();
}
void report(Job& j) {
  j.kind = field(record::JobKind::condition_report);
  j.next_inspection = field(Date{2031, 11, 20});
}
}  // namespace

std::vector<Case> paper_cases() {
  return {
      {"kind", "a new circuit under minor works", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.circuits[0].is_new = field(true); }},
      {"kind", "an addition", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"particulars", "no comment on the existing installation", Sort::fails, kJob,
       Verdict::missing, [](Job& j) { j.existing = {}; }},
      {"particulars", "no circuit", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.circuits.clear(); }},
      {"particulars", "complete", Sort::passes, kJob, Verdict::not_applicable, [](Job&) {}},
      {"not-known", "a way that nobody has looked up", Sort::fails, 0, Verdict::missing,
       [](Job& j) { j.circuits[0].ref = text("?"); }},
      {"not-known", "an accessory somewhere", Sort::fails, 0, Verdict::missing,
       [](Job& j) { j.circuits[0].accessories[0].where = text(" ? "); }},
      {"not-known", "all known", Sort::passes, 0, Verdict::not_applicable, [](Job&) {}},
      {"signer", "nobody known", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.person = text("zz"); }},
      {"signer", "known", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"inspection", "not answered at all", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.inspection.clear(); }},
      {"inspection", "an item not in order", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { item(j).done = false; }},
      {"inspection", "an item left out", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.inspection.erase(j.inspection.begin()); }},
      {"inspection", "a limitation on one's own work", Sort::fails, kJob, Verdict::missing,
       [](Job& j) {
         item(j).done.reset();
         item(j).limitation = "no access";
       }},
      {"inspection", "all answered", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"next-inspection", "set by minor works", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) {
         j.next_inspection = field(Date{2031, 1, 1});
       }},
      {"next-inspection", "absent from an installation certificate", Sort::fails, kJob,
       Verdict::missing, [](Job& j) { j.next_inspection = {}; }, "new-board"},
      {"next-inspection", "exactly ten years", Sort::at_limit, kJob, Verdict::pass, [](Job&) {},
       "new-board"},
      {"next-inspection", "ten years and a day", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) {
         j.next_inspection = field(Date{2036, 11, 21});
       },
       "new-board"},
      {"dates", "designed after the work", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) {
         j.design_date = field(Date{2026, 11, 21});
       }},
      {"dates", "proved dead the day after", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) {
         j.isolation.proved_dead = field(DateTime{{2026, 11, 21}, 9, 0, 0});
       }},
      {"dates", "designed the same day", Sort::at_limit, kJob, Verdict::not_applicable,
       [](Job& j) {
         j.design_date = field(Date{2026, 11, 20});
       }},
      {"notification", "a new circuit, not answered", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.notification = {}; }, "new-board"},
      {"notification", "a bathroom entered as not notifiable", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { j.circuits[0].places.push_back(text("bathroom")); }},
      {"notification", "no route", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.notification.route = {}; }, "new-board"},
      {"notification", "recorded", Sort::passes, kJob, Verdict::pass, [](Job&) {}, "new-board"},
      {"departure", "from what is never departed from", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { departure(j, "No RCD for the freezer"); }},
      {"departure", "without a reason", Sort::fails, kJob, Verdict::missing,
       [](Job& j) {
         departure(j, "Height of a socket-outlet");
         j.departures[0].reason = {};
       }},
      {"departure", "stated", Sort::passes, kJob, Verdict::note,
       [](Job& j) { departure(j, "Height of a socket-outlet"); }},
      {"limitation", "agreed with nobody", Sort::fails, kJob, Verdict::missing,
       [](Job& j) {
         j.limitations.push_back({{1, 0, 1}, text("loft"), {}});
       }},
      {"limitation", "agreed", Sort::passes, kJob, Verdict::not_applicable,
       [](Job& j) {
         j.limitations.push_back({{1, 0, 1}, text("loft"), text("the client")});
       }},
      {"observation", "without a code in a report", Sort::fails, kJob, Verdict::missing,
       [](Job& j) {
         report(j);
         j.observations.push_back({{1, 0, 1}, text("cracked socket-outlet"), {}, {}});
       }},
      {"observation", "a danger", Sort::fails, kJob, Verdict::note,
       [](Job& j) {
         report(j);
         j.observations.push_back({{1, 0, 1}, text("bare line conductor"), {}, text("C1")});
       }},
      {"observation", "none", Sort::passes, kJob, Verdict::not_applicable, [](Job&) {}},
      {"signer", "not named for installation certificates", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.person = text("minor-only"); }, "new-board"},
      {"signer", "a learner signs for the construction", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { j.signing.construction = text("tq"); }, "new-board"},
      {"signer", "nobody of that name authorises", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.signing.authorised = text("zz"); }, "condition-report"},
      {"signer", "named for minor works", Sort::passes, kJob, Verdict::pass,
       [](Job& j) { j.person = text("minor-only"); }},
      {"confirmation", "of a check that does not exist", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { confirm(j, "zs-summ", "3"); }},
      {"confirmation", "of a fail", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) {
         j.circuits[0].dead.polarity = field(false);
         confirm(j, "polarity-dead", "3");
       }},
      {"confirmation", "of a doubt", Sort::passes, kJob, Verdict::not_applicable,
       [](Job& j) {
         j.circuits[0].live.zs = reading<ohmleaf::Ohms>("0.60");
         confirm(j, "zs-sum", "3");
       }},
  };
}

}  // namespace bench
