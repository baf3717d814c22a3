#include <fmt/format.h>

#include <algorithm>

#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/installation.h"
#include "limits/protection.h"

// Residual current devices: needed, there, right in kind, fast enough, and the button works.

namespace ohmleaf::checks {
namespace {

Decimal one() {
  return Decimal::integer(1);
}

/// The RCD that the circuit's own trip test operates: the nearest.
std::optional<RcdInPath> tested(const Scene& s) {
  const auto all = rcds_of(s.job, *s.circuit);
  if (all.empty()) return std::nullopt;
  return all.front();
}

bool additional(const RcdInPath& rcd) {
  return gives_additional_protection(*rcd.rcd);
}

std::vector<limits::ProtectionNeed> needs(const Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (c.type && *c.type == record::CircuitType::distribution) return {};
  limits::CircuitPlace place;
  place.socket_outlets = serves_socket_outlets(s.installer, c);
  place.luminaires_in_dwelling = is_dwelling(s.job) && serves_lighting(c);
  place.bathroom = serves_bathroom(c);
  place.outdoors = serves_outdoors(c);
  place.concealed_cable = has_concealed_cable(c);
  return limits::additional_protection(place, s.edition);
}

void rcd_needed(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto reasons = needs(s);
  if (reasons.empty()) return;
  const auto rcds = rcds_of(s.job, c);
  const auto good = std::find_if(rcds.begin(), rcds.end(), additional);
  const Span where = c.device.span.valid() ? c.device.span : c.span;
  std::string why;
  for (const auto& n : reasons) why += (why.empty() ? "" : "; ") + n.reason;
  if (good != rcds.end()) {
    Finding& f = s.add(Verdict::pass, Stage::before, "rcd", "Additional protection",
                       "the 30 mA RCD that is needed is there: " + std::string(good->where), where);
    f.limit = "≤ 30 mA";
    f.reading = good->rcd->idn.with_unit();
    f.derivation = why;
    f.source = reasons.front().source;
    f.provenance = reasons.front().provenance;
    return;
  }
  if (!c.device && rcds.empty()) {  // an RCBO, perhaps: nobody has looked yet
    s.add(Verdict::missing, Stage::before, "rcd", "Additional protection",
          "an RCD of 30 mA or less is needed here, and no device is recorded: " + why, where)
        .action = "Read the device's label at the board: an RCBO, or the RCD upstream of it.";
    return;
  }
  const bool risk_assessed = !is_dwelling(s.job) && !serves_bathroom(c);
  Finding& f =
      s.add(risk_assessed ? Verdict::doubtful : Verdict::fail, Stage::before, "rcd",
            "Additional protection", "an RCD of 30 mA or less is needed here: " + why, where);
  f.confirmable = risk_assessed ? Confirmable::with_reason : Confirmable::never;
  f.limit = "≤ 30 mA";
  if (!rcds.empty()) f.reading = rcds.front().rcd->idn.with_unit();
  f.source = reasons.front().source;
  f.provenance = reasons.front().provenance;
  f.causes = {rcds.empty() ? "the circuit has no RCD" : "the RCD is over 30 mA or time-delayed"};
  f.action =
      risk_assessed
          ? "Fit a 30 mA RCD or RCBO, or confirm with the documented risk assessment and its name."
          : "Fit a 30 mA RCBO or RCD before the work is put into service. In a dwelling this is "
            "never left out by a departure.";
  f.caution = "Isolate the board, lock off and prove dead before you change the device.";
}

void rcd_fault_protection(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!is_tt(s.job)) return;
  const auto rcd = most_sensitive(rcds_of(s.job, c));
  const Span where = c.device.span.valid() ? c.device.span : c.span;
  if (rcd) {
    s.add(Verdict::pass, Stage::before, "rcd", "Fault protection",
          "an RCD gives fault protection on the TT system: " + std::string(rcd->where), where);
    return;
  }
  if (!c.device) {
    s.add(Verdict::missing, Stage::before, "rcd", "Fault protection",
          "a TT system needs an RCD in this circuit's path, and no device is recorded", where)
        .action = "Read the device's label at the board: an RCBO, or the RCD upstream of it.";
    return;
  }
  Finding& f = s.add(Verdict::fail, Stage::before, "rcd", "Fault protection",
                     "a TT system has no RCD in this circuit's path", where);
  f.labels = {{s.job.supply.earthing.span, "earthing is TT"}};
  f.causes = {"the RCD at the origin is not recorded", "the circuit is fed past the RCD"};
  f.action =
      "Do not energise. Put the circuit behind an RCD; overcurrent devices cannot clear an "
      "earth fault through an electrode.";
  f.caution = "Exposed metal stays live on a fault until this is cured.";
}

/// Whether another circuit behind the same RCD at the origin carries this reading.
bool recorded_elsewhere(const Scene& s, bool (*has)(const record::Circuit&)) {
  const auto carries = [&](const record::Circuit& c) {
    if (!has(c)) return false;
    const auto nearest = rcds_of(s.job, c);
    return !nearest.empty() && nearest.front().shared;
  };
  const auto [known, fresh] = s.wide.behind_shared_rcd.try_emplace(has, 0);
  if (fresh)
    known->second = static_cast<std::size_t>(
        std::count_if(s.job.circuits.begin(), s.job.circuits.end(), carries));
  return known->second > (carries(*s.circuit) ? 1U : 0U);
}

Ask time_ask(const Scene& s, const RcdInPath& rcd, std::string cell, std::string subject) {
  const record::Circuit& c = *s.circuit;
  const record::Instrument* meter = instrument_of(s.job, s.installer, c.live.instrument);
  Ask ask;
  ask.stage = Stage::live;
  ask.cell = std::move(cell);
  ask.subject = std::move(subject);
  ask.home = home(c.live.rcd.span.valid() ? c.live.rcd.span : c.live.span, c);
  ask.percent = declared(meter, &record::Instrument::rcd_percent);
  ask.labels = {{rcd.span, std::string(rcd.where) + " sets the limit"}};
  ask.causes = {"the RCD is slow or worn", "the test was set to the wrong current or type",
                "a standing leakage in the circuit"};
  ask.action =
      "Test again with the loads unplugged and both starting polarities, the slower one "
      "counts; if it stays, change the RCD.";
  ask.if_missing = "Test the RCD at IΔn with the loads unplugged and record the slower time.";
  ask.caution =
      "Testing trips the supply: tell the client, and mind computers and medical equipment.";
  return ask;
}

void shared_note(Scene& s, std::string cell, std::string subject) {
  s.add(Verdict::not_applicable, Stage::live, std::move(cell), std::move(subject),
        "recorded with another circuit of the same RCD at the origin", s.circuit->span);
}

void rcd_time(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto rcd = tested(s);
  if (!rcd) {
    if (c.live.rcd.trip_ms)
      s.add(Verdict::doubtful, Stage::live, "live.rcd.trip_ms", "RCD time",
            "an RCD time is recorded, but no RCD stands in this circuit's path",
            c.live.rcd.trip_ms.span)
          .action = "Enter the RCD (device, rcd or supply.rcd), or move the time to its circuit.";
    return;
  }
  const auto has = [](const record::Circuit& o) {
    return o.live.rcd.trip_ms && o.live.rcd.trip_ms->is_number();
  };
  if (rcd->shared && !c.live.rcd.trip_ms && recorded_elsewhere(s, has))
    return shared_note(s, "live.rcd.trip_ms", "RCD time");
  const auto limit = limits::rcd_time(*rcd->rcd, one(), additional(*rcd), s.edition);
  if (limit)
    judge(s, c.live.rcd.trip_ms, *limit, time_ask(s, *rcd, "live.rcd.trip_ms", "RCD time"));
}

void rcd_time_x5(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto rcd = tested(s);
  if (!rcd) return;
  const auto limit = limits::rcd_time(*rcd->rcd, Decimal::integer(5), additional(*rcd), s.edition);
  const auto has = [](const record::Circuit& o) {
    return o.live.rcd.trip_x5_ms && o.live.rcd.trip_x5_ms->is_number();
  };
  if (!limit) return;  // the edition asks for no such test
  if (rcd->shared && !c.live.rcd.trip_x5_ms && recorded_elsewhere(s, has))
    return shared_note(s, "live.rcd.trip_x5_ms", "RCD time at 5 IΔn");
  Ask ask = time_ask(s, *rcd, "live.rcd.trip_x5_ms", "RCD time at 5 IΔn");
  ask.if_missing =
      "Test the RCD at 5 IΔn: this edition asks for it where it gives additional protection.";
  judge(s, c.live.rcd.trip_x5_ms, std::move(*limit), std::move(ask));
}

void rcd_half(Scene& s) {
  const record::Flag& half = s.circuit->live.rcd.half_no_trip;
  if (!half || *half) return;
  Finding& f = s.add(Verdict::fail, Stage::live, "live.rcd.half_no_trip", "RCD at half IΔn",
                     "the RCD trips at half its rated residual current", half.span);
  f.causes = {"a standing leakage in the circuit", "neutral and earth touch behind the RCD",
              "a too sensitive RCD"};
  f.action =
      "Test at the device with its outgoing conductors disconnected: if it holds, look for "
      "leakage in the circuit; if not, change it.";
  f.caution = "Isolate, lock off and prove dead before you take conductors out.";
}

void rcd_button(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto rcd = tested(s);
  if (!rcd) return;
  const auto has = [](const record::Circuit& o) { return o.live.rcd.test_button.value_or(false); };
  if (rcd->shared && !c.live.rcd.test_button && recorded_elsewhere(s, has))
    return shared_note(s, "live.rcd.test_button", "RCD test button");
  Ask ask = time_ask(s, *rcd, "live.rcd.test_button", "RCD test button");
  ask.causes = {"a worn mechanism", "a neutral not connected to the RCD"};
  ask.action =
      "Change the RCD: a button that does not trip it means that its mechanism cannot be trusted.";
  ask.if_missing = "Press the test button once the timed tests are done, and record it.";
  judge_tick(s, c.live.rcd.test_button, "the test button trips the RCD",
             "the test button does not trip the RCD", "the RCD's test button is not recorded", ask);
}

void rcd_type(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto rcd = tested(s);
  if (!rcd || !rcd->rcd->type || *rcd->rcd->type != limits::RcdType::ac) return;
  if (!has_electronics(s.installer, c)) return;
  const bool new_work = c.is_new.value_or(false);
  Finding& f =
      s.add(new_work ? Verdict::fail : Verdict::borderline, Stage::before, "rcd", "RCD type",
            "the RCD is type AC, but the circuit feeds electronic equipment", rcd->span);
  f.reading = "type AC";
  f.limit = "type A or better";
  f.derivation =
      "smooth d.c. from electronics can keep a type AC device from tripping; type A bears "
      "6 mA of it";
  f.action = "Fit a type A device (F for some motor drives, B where the maker asks for it).";
  f.caution = "Isolate the board, lock off and prove dead before you change the device.";
}

void afdd_button(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!c.device || !c.device->afdd.value_or(false)) return;
  Ask ask;
  ask.stage = Stage::live;
  ask.cell = "live.afdd_button";
  ask.subject = "Arc-fault device";
  ask.home = home(c.live.span, c);
  ask.action =
      "Change the device if its test button or indicator does not answer as its maker says.";
  ask.if_missing = "Press its test button, look at its indicator, and record it.";
  judge_tick(s, c.live.afdd_button, "the arc-fault device answers its test button",
             "the arc-fault device does not answer its test button",
             "the arc-fault device's test button is not recorded", ask);
}

constexpr Row kRows[] = {
    {{"rcd-needed", "Additional protection by a 30 mA RCD",
      "Socket-outlets, lighting in dwellings, bathrooms, outdoor equipment and concealed cables "
      "need "
      "an RCD of 30 mA or less without delay, anywhere in the path. In a dwelling it is never left "
      "out "
      "by a departure; elsewhere a documented risk assessment may stand for it.",
      "BS 7671 411.3.3, 411.3.4, 415.1, 522.6, 701 (numbers from memory)",
      Confirmable::with_reason},
     Over::circuit,
     rcd_needed},
    {{"rcd-fault-protection", "An RCD on a TT system",
      "Through an earth electrode an overcurrent device cannot clear a fault in time: every "
      "circuit of "
      "a TT system stands behind an RCD.",
      "BS 7671 411.5 (number from memory)", Confirmable::never},
     Over::circuit,
     rcd_fault_protection},
    {{"rcd-time", "RCD operating time at IΔn",
      "The time at rated residual current against the limit of the edition in force for the design "
      "and "
      "of the kind of device (general, time-delayed, old). It is never compared with 0.2 or 0.4 s.",
      "the source named with each limit", Confirmable::never},
     Over::circuit,
     rcd_time},
    {{"rcd-time-x5", "RCD operating time at 5 IΔn",
      "Asked for by editions before A2:2022 where the RCD gives additional protection.",
      "the source named with each limit", Confirmable::never},
     Over::circuit,
     rcd_time_x5},
    {{"rcd-half", "No trip at half IΔn",
      "An RCD that trips at half its rating will trip without a fault. Not asked for since "
      "A2:2022, but "
      "judged where it was recorded.",
      "BS EN 61008/61009 (Benning IT120B manual p32)", Confirmable::never},
     Over::circuit,
     rcd_half},
    {{"rcd-button", "The RCD's test button",
      "The button proves the mechanism; it is pressed after the timed tests.",
      "BS 7671 643.8, 643.10 (numbers from memory)", Confirmable::never},
     Over::circuit,
     rcd_button},
    {{"rcd-type", "RCD type against the load",
      "A type AC device may be blinded by the direct current that electronic equipment leaks. On a "
      "new "
      "circuit it fails; on an existing one the certificate says so.",
      "BS 7671 531.3.3 (number from memory; rule published by a training site)",
      Confirmable::never},
     Over::circuit,
     rcd_type},
    {{"afdd-button", "Arc-fault device",
      "An arc-fault device's indicator and test button are tried like an RCD's.", "common practice",
      Confirmable::never},
     Over::circuit,
     afdd_button},
};

}  // namespace

std::span<const Row> rcd_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
