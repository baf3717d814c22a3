#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/protection.h"

// Fault protection: is the loop low enough for the device that must clear it?

namespace ohmleaf::checks {
namespace {

using limits::Limit;

/// Zs of the circuit, or of one of its lines.
struct Loop {
  const record::Measured<Ohms>& zs;
  std::string cell, subject;
};

Ask zs_ask(const Scene& s, const Loop& loop) {
  const record::Circuit& c = *s.circuit;
  Ask ask;
  ask.stage = Stage::live;
  ask.cell = loop.cell;
  ask.subject = loop.subject;
  ask.home = home(c.live.span, c);
  ask.if_missing =
      "Measure Zs at the farthest point of the circuit, or enter Ze + (R1+R2) with zs_by = "
      "\"calculated\".";
  ask.caution = "Live test: covers on, leads on before the circuit is energised.";
  return ask;
}

std::string means(const record::Circuit& c) {
  if (!c.live.zs_by) return "taken as measured";
  return *c.live.zs_by == record::Means::calculated ? "calculated from Ze + (R1+R2)" : "measured";
}

/// What a Zs that passes the table is then compared with: the exact correction where the
/// temperature of the conductors and Ze are known, else the 80 % guide. Never both.
struct Allowance {
  Limit<Ohms> limit;
  std::string words;
};
Allowance allowance(const Scene& s, const Limit<Ohms>& table) {
  const record::Circuit& c = *s.circuit;
  const auto ze = figure(s.job.supply.ze);
  if (c.dead.ambient && ze) {
    const Limit<Ohms> exact =
        limits::measured_exact(table, Ohms(*ze), *c.dead.ambient, Celsius(Decimal::integer(70)));
    return {exact, "corrected exactly from " + c.dead.ambient->with_unit() + " to 70 °C"};
  }
  return {limits::measured_guide(table), "80 % guide: read at ambient, cable at 70 °C in service"};
}

std::optional<Limit<Ohms>> rcd_limit(const Scene& s, const std::optional<RcdInPath>& rcd) {
  if (!rcd) return std::nullopt;
  return limits::max_zs_rcd(rcd->rcd->idn, s.edition);
}

void relies_on_rcd(Finding& f, const Limit<Ohms>& table, const Limit<Ohms>& rcd) {
  f.verdict = Verdict::borderline;
  f.message = fmt::format(
      "{} {} is over the {} for overcurrent but within the RCD's {}: "
      "disconnection relies on the RCD",
      f.subject, f.reading, table.value.with_unit(), rcd.value.with_unit());
  f.action =
      "Look for the cause first (a loose joint, a long run, a thin protective conductor). "
      "If it stays, state on the certificate that disconnection relies on the RCD, and check "
      "that a line–neutral fault is still cleared by the overcurrent device.";
  f.derivation += "; RCD: " + rcd.derivation;
}

void note_allowance(Finding& f, const Limit<Ohms>& table, const Allowance& a,
                    const Interval<Ohms>& reading) {
  if (a.limit.value.is_void()) return;
  std::string guidance = a.limit.source;  // without the table's own source, which the finding has
  if (const std::string of_table = "; " + table.source; guidance.ends_with(of_table))
    guidance.erase(guidance.size() - of_table.size());
  f.derivation += fmt::format("; with the temperature allowed for {} ({}; {})", a.limit.printed(),
                              a.words, guidance);
  if (f.verdict != Verdict::pass && f.verdict != Verdict::borderline) return;
  if (reading.high && *reading.high <= a.limit.value) return;
  f.verdict = Verdict::borderline;
  f.message = fmt::format(
      "{} {} is within its limit of {}, but over {} with the cable at its "
      "working temperature allowed for",
      f.subject, f.reading, table.value.with_unit(), a.limit.value.with_unit());
  f.action =
      "Measure again with a two-lead high-current test if the RCD allows it, or give the "
      "temperature of the conductors (ambient) for an exact correction; a lower Zs is found "
      "by tightening or shortening.";
}

void not_tabulated(Scene& s, const Loop& loop, const std::string& exists) {
  const record::Circuit& c = *s.circuit;
  Finding& f = s.add(Verdict::doubtful, Stage::live, loop.cell, loop.subject,
                     loop.subject + " has no tabulated limit for " + c.device->words(),
                     loop.zs.span.valid() ? loop.zs.span : home(c.live.span, c));
  if (loop.zs) f.reading = shown_of(loop.zs);
  f.limit = "not tabulated";
  f.derivation = exists;
  f.action =
      "Take the limit from the maker's data and confirm the reading against it, with the "
      "figure as reason and your name.";
  f.labels = {{c.device.span, "this device"}};
}

void one_zs_overcurrent(Scene& s, const Loop& loop) {
  const record::Circuit& c = *s.circuit;
  const auto time = disconnection_time(s.job, s.installer, c, s.edition);
  const bool has_overcurrent =
      c.device && c.device->standard != limits::DeviceStandard::rccb && time.has_value();
  if (!has_overcurrent) {
    require(s, loop.zs, zs_ask(s, loop));  // the device itself is asked for elsewhere
    return;
  }
  std::string exists;
  const auto limit = limits::max_zs(*c.device, time->value, s.edition, &exists);
  Ask ask = zs_ask(s, loop);
  if (!limit) {
    if (require(s, loop.zs, ask)) not_tabulated(s, loop, exists);
    return;
  }
  const record::Instrument* meter = instrument_of(s.job, s.installer, c.live.instrument);
  ask.percent = declared(meter, &record::Instrument::loop_percent);
  ask.absolute = declared(meter, &record::Instrument::loop_ohms);
  ask.labels = {{c.device.span, "this device sets the limit, within " + time->value.with_unit()}};
  ask.causes = {"a loose or corroded joint in line or protective conductor",
                "a run too long or too thin for this device",
                "a high Ze: compare with the reading at the origin"};
  ask.action =
      "Leave the circuit off. Compare Zs with Ze + (R1+R2): if the sum is lower, look for "
      "the joint; if it agrees, the run or the device must change.";
  ask.caution = kBeforeJoint;
  Finding& f = judge(s, loop.zs, *limit, ask);
  if (f.verdict == Verdict::missing)
    f.caution = zs_ask(s, loop).caution;  // to measure, not to cure
  if (loop.zs) f.derivation += "; Zs " + means(c);
  if (!loop.zs || !loop.zs->is_number()) return;
  const auto rcd = rcd_limit(s, most_sensitive(rcds_of(s.job, c)));
  if (f.verdict == Verdict::fail) {
    if (rcd && standing(plain(loop.zs), plain(*rcd), ask.percent, ask.absolute) == Standing::within)
      relies_on_rcd(f, *limit, *rcd);
    return;
  }
  note_allowance(f, *limit, allowance(s, *limit), interval_of(*loop.zs, ask.percent, ask.absolute));
}

/// Every line of a circuit that was read line by line; TT has no Zs limit for overcurrent, there
/// RA × IΔn decides.
void zs_overcurrent(Scene& s) {
  if (is_tt(s.job)) return;
  each_part(s.circuit->live.zs, "live.zs", "Zs",
            [&](const auto& field, const std::string& cell, const std::string& subject) {
              one_zs_overcurrent(s, {field, cell, subject});
            });
}

void one_zs_rcd(Scene& s, const RcdInPath& found, const Loop& loop) {
  const RcdInPath* rcd = &found;
  const bool usable = loop.zs && loop.zs->is_number() && !loop.zs->value.is_void();
  if (!usable && !is_tt(s.job)) return;  // asked for by the overcurrent limit
  Ask ask = zs_ask(s, loop);
  ask.labels = {{rcd->span, std::string(rcd->where) + " sets the limit"}};
  ask.causes = {"an open or poor earth connection", "a dry or corroded earth electrode"};
  ask.action =
      "Leave the circuit off. Find why the earth loop is this high: test the protective "
      "conductor end to end, then the means of earthing.";
  ask.caution =
      "Exposed metal may become live on a fault. Isolate, lock off and prove dead before "
      "you open it.";
  judge(s, loop.zs, limits::max_zs_rcd(rcd->rcd->idn, s.edition), ask);
}

void zs_rcd(Scene& s) {
  const auto rcd = most_sensitive(rcds_of(s.job, *s.circuit));
  if (!rcd) return;  // a TT circuit without one fails on that ground
  each_part(s.circuit->live.zs, "live.zs", "Zs",
            [&](const auto& field, const std::string& cell, const std::string& subject) {
              one_zs_rcd(s, *rcd, {field, cell, subject});
            });
}

void disconnection(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto time = disconnection_time(s.job, s.installer, c, s.edition);
  if (!time) return;
  Finding& f =
      s.add(Verdict::note, Stage::before, "disconnection_time", "Disconnection time",
            "the circuit must disconnect within " + time->value.with_unit(), c.device.span);
  f.limit = time->printed();
  f.exact = time->exact;
  f.derivation = time->derivation;
  f.source = time->source;
  f.provenance = time->provenance;
  if (!use_of(s.installer, c).stated)
    f.derivation += "; what it feeds is not stated, so taken as socket-outlets";
  f.labels = {{c.device.span, "this device"}};
}

constexpr Row kRows[] = {
    {{"disconnection-time", "Disconnection time",
      "How fast a fault to earth must be cleared, chosen by the system, by what the circuit feeds "
      "and by the rating of its device. It sets which column of the Zs tables applies.",
      "BS 7671 Table 41.1 and 411.3.2 (numbers from memory)", Confirmable::never},
     Over::circuit,
     disconnection},
    {{"zs-overcurrent", "Zs against the overcurrent device",
      "The earth fault loop must be low enough for the circuit's overcurrent device to disconnect "
      "in "
      "time (TN systems). The reading is compared as it stands with the tabulated figure, then "
      "with "
      "80 % of it because it was taken cold, or with the exact correction where the conductor "
      "temperature is given, never both. Over the table but within 50 V ÷ IΔn of an RCD is "
      "borderline: disconnection relies on the RCD and the certificate says so.",
      "the table named with each limit", Confirmable::with_reason},
     Over::circuit,
     zs_overcurrent},
    {{"zs-rcd", "Zs against the RCD",
      "Where an RCD is in the path, Zs × IΔn may not exceed 50 V. On a TT system this is the limit "
      "that counts; elsewhere it is shown beside the overcurrent limit. No temperature allowance "
      "belongs on it.",
      "the table named with each limit", Confirmable::never},
     Over::circuit,
     zs_rcd},
};

}  // namespace

std::span<const Row> zs_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
