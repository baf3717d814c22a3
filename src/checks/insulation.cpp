#include <fmt/format.h>

#include <algorithm>

#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/conductor.h"

// Insulation resistance: at the right voltage, with the electronics out of the way.

namespace ohmleaf::checks {
namespace {

using record::Electronics;

bool connected(const record::Insulation& x) {
  return x.electronics && *x.electronics == Electronics::connected;
}

bool selv(const record::Circuit& c) {
  return mentions(c.feeds, "selv") || mentions(c.feeds, "pelv");
}

limits::InsulationRule rule(const Scene& s) {
  return limits::insulation(u0(s.job), selv(*s.circuit), connected(s.circuit->dead.insulation),
                            s.edition);
}

Ask ask_for(const Scene& s, std::string cell, std::string subject) {
  const record::Circuit& c = *s.circuit;
  const record::Instrument* meter = instrument_of(s.job, s.installer, c.dead.instrument);
  Ask ask;
  ask.stage = Stage::dead;
  ask.cell = std::move(cell);
  ask.subject = std::move(subject);
  ask.home = home(c.dead.insulation.span.valid() ? c.dead.insulation.span : c.dead.span, c);
  ask.percent = declared(meter, &record::Instrument::insulation_percent);
  ask.causes = {"an appliance, lamp or neon left in circuit",
                "damp in an accessory, box or cable end", "a damaged cable or a trapped conductor"};
  ask.action =
      "Leave the circuit isolated. Unplug and remove everything, split the circuit, and find the "
      "part that reads low.";
  ask.caution = "The test voltage hurts: nobody on the conductors; discharge them afterwards.";
  return ask;
}

template <class Q>
Finding& judged(Scene& s, const record::Measured<Q>& field, Ask ask) {
  const limits::InsulationRule r = rule(s);
  const auto& volts = s.circuit->dead.insulation.volts;
  Finding& f = judge(s, field, r.minimum, std::move(ask));
  f.derivation +=
      "; test voltage " + (volts ? volts->with_unit() : r.test_voltage.with_unit() + " taken");
  return f;
}

void live_earth(Scene& s) {
  each_part(s.circuit->dead.insulation.live_earth, "dead.insulation.live_earth",
            "Insulation, live to earth",
            [&](const auto& field, const std::string& cell, const std::string& subject) {
              Ask ask = ask_for(s, cell, subject);
              ask.if_missing =
                  "Test line and neutral together to earth, switches closed, lamps out.";
              judged(s, field, std::move(ask));
            });
}

void live_live(Scene& s) {
  const record::Insulation& x = s.circuit->dead.insulation;
  const Ask ask = ask_for(s, "dead.insulation.live_live", "Insulation, live to live");
  if (!connected(x)) {
    each_part(x.live_live, ask.cell, ask.subject,
              [&](const auto& field, const std::string& cell, const std::string& subject) {
                Ask one = ask_for(s, cell, subject);
                one.if_missing =
                    "Test line to neutral with electronics disconnected; if they cannot be, say "
                    "electronics = \"connected\" and test line and neutral joined to earth at "
                    "250 V.";
                judged(s, field, one);
              });
    return;
  }
  if (!x.live_live || !x.live_live->is_number()) {
    s.add(Verdict::not_applicable, Stage::dead, ask.cell, ask.subject,
          "no live to live test through connected electronics", x.electronics.span);
    return;
  }
  Finding& f = s.add(Verdict::doubtful, Stage::dead, ask.cell, ask.subject,
                     "a live to live reading is recorded although electronics stayed connected",
                     x.live_live.span);
  f.reading = shown_of(x.live_live);
  f.labels = {{x.electronics.span, "electronics connected"}};
  f.causes = {"the electronics were in fact disconnected", "the test went through them"};
  f.action =
      "If they were disconnected, say so; otherwise take the reading out and try the equipment.";
}

void voltage(Scene& s) {
  const record::Insulation& x = s.circuit->dead.insulation;
  const bool read =
      (x.live_live && x.live_live->is_number()) || (x.live_earth && x.live_earth->is_number());
  if (!read) return;
  const limits::InsulationRule r = rule(s);
  const Span where = x.volts.span.valid() ? x.volts.span : x.span;
  if (!x.volts) {
    if (!connected(x)) return;  // the usual voltage is taken and stated
    s.add(Verdict::missing, Stage::dead, "dead.insulation.volts", "Insulation test voltage",
          "the test voltage is not recorded, and electronics stayed connected", where)
        .action = "Enter the voltage: 250 V where electronics stay connected.";
    return;
  }
  if (*x.volts < r.test_voltage) {
    Finding& f =
        s.add(Verdict::missing, Stage::dead, "dead.insulation.volts", "Insulation test voltage",
              fmt::format("the test at {} does not show what a test at {} would",
                          x.volts->with_unit(), r.test_voltage.with_unit()),
              where);
    f.reading = x.volts->with_unit();
    f.limit = "≥ " + r.test_voltage.with_unit();
    f.source = r.minimum.source;
    f.provenance = r.minimum.provenance;
    f.action = "Disconnect the electronics and test again at " + r.test_voltage.with_unit() +
               "; if they cannot be disconnected, say electronics = \"connected\".";
    return;
  }
  if (connected(x) && *x.volts > r.test_voltage) {
    Finding& f =
        s.add(Verdict::doubtful, Stage::dead, "dead.insulation.volts", "Insulation test voltage",
              fmt::format("{} was used with electronics connected; {} is the most",
                          x.volts->with_unit(), r.test_voltage.with_unit()),
              where);
    f.reading = x.volts->with_unit();
    f.limit = "≤ " + r.test_voltage.with_unit();
    f.labels = {{x.electronics.span, "electronics connected"}};
    f.action = "Try every electronic accessory and its functions; confirm that none was harmed.";
    return;
  }
  s.add(Verdict::pass, Stage::dead, "dead.insulation.volts", "Insulation test voltage",
        "the insulation test voltage is right", where)
      .reading = x.volts->with_unit();
}

void electronics(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const record::Insulation& x = c.dead.insulation;
  const bool here = has_electronics(s.installer, c);
  const Span where = x.electronics.span.valid() ? x.electronics.span
                                                : home(x.span.valid() ? x.span : c.dead.span, c);
  if (here && (!x.electronics || *x.electronics == Electronics::none)) {
    Finding& f =
        s.add(x.electronics ? Verdict::doubtful : Verdict::missing, Stage::dead,
              "dead.insulation.electronics", "Electronics in the insulation test",
              x.electronics
                  ? "no electronics are stated, but an accessory of this circuit has some"
                  : "nothing says whether electronics were disconnected for the insulation test",
              where);
    f.action = "Write electronics = \"disconnected\" or \"connected\", as it was.";
    f.caution = "500 V can destroy electronic accessories.";
    return;
  }
  if (!x.electronics || *x.electronics != Electronics::disconnected) return;
  bool tried = here;
  for (const auto& a : c.accessories) {
    const auto* item = item_of(s.installer, a.item);
    if (item && item->electronics.value_or(false))
      tried = tried && a.function_tested.value_or(false);
  }
  if (!x.reconnected && tried) {
    s.add(Verdict::pass, Stage::dead, "dead.insulation.reconnected", "Reconnected after the test",
          "each electronic accessory was tried afterwards, so it is connected again", where);
    return;
  }
  Ask ask;
  ask.stage = Stage::dead;
  ask.cell = "dead.insulation.reconnected";
  ask.subject = "Reconnected after the test";
  ask.home = where;
  ask.action = "Reconnect what was disconnected for the test, then try it.";
  ask.if_missing =
      "Confirm that everything disconnected for the insulation test is back: reconnected = true.";
  judge_tick(s, x.reconnected, "what was disconnected for the test is back",
             "what was disconnected for the test is still disconnected",
             "nothing says that what was disconnected for the insulation test is back", std::move(ask));
}

void look_closer(Scene& s) {
  const record::Insulation& x = s.circuit->dead.insulation;
  const auto guide = limits::insulation_investigate(s.edition);
  const auto least = rule(s).minimum;
  const auto look = [&](const record::Measured<Megohms>& field, const std::string& cell,
                        const std::string& subject) {
    const auto v = figure(field);
    if (!v || *v < least.value.decimal() || *v >= guide.value.decimal()) return;
    Finding& f = s.add(Verdict::note, Stage::dead, cell, subject,
                       fmt::format("{} {} passes, but under {} it is worth looking into", subject,
                                   shown_of(field), guide.value.with_unit()),
                       field.span);
    f.reading = shown_of(field);
    f.limit = guide.printed();
    f.source = guide.source;
    f.provenance = guide.provenance;
    f.action = "Look for damp or an appliance left in circuit while the circuit is still isolated.";
  };
  each_part(x.live_live, "dead.insulation.live_live", "Insulation, live to live", look);
  each_part(x.live_earth, "dead.insulation.live_earth", "Insulation, live to earth", look);
}

/// Finite readings that are the same to the last digit on every circuit were copied, or taken once
/// for all; ">999" on every circuit is normal.
void equal_everywhere(Scene& s) {
  const auto& circuits = s.job.circuits;
  if (circuits.size() < 2) return;
  const std::string& first = circuits.front().dead.insulation.live_earth
                                 ? circuits.front().dead.insulation.live_earth->text
                                 : std::string();
  if (first.empty()) return;
  const bool same = std::all_of(circuits.begin(), circuits.end(), [&](const record::Circuit& c) {
    const auto& r = c.dead.insulation.live_earth;
    return r && r->is_value() && r->text == first;
  });
  if (!same) return;
  Finding& f = s.add(Verdict::doubtful, Stage::dead, "insulation", "Insulation on every circuit",
                     fmt::format("every circuit shows the same insulation reading, {} MΩ", first),
                     circuits.front().dead.insulation.live_earth.span);
  f.reading = first + " MΩ";
  f.causes = {"one test of all circuits together was written to each", "a reading was copied"};
  f.action = "Test each circuit on its own; or confirm that the whole board was tested together.";
}

constexpr Row kRows[] = {
    {{"insulation-live-earth", "Insulation, live conductors to earth",
      "Line and neutral to earth, at least the minimum for the circuit's voltage.",
      "BS 7671 Table 64 (number from memory)", Confirmable::never},
     Over::circuit,
     live_earth},
    {{"insulation-live-live", "Insulation between live conductors",
      "Line to neutral with electronics disconnected. Where they cannot be, this test is left out "
      "and line and "
      "neutral joined are tested to earth at 250 V.",
      "BS 7671 Table 64 (number from memory)", Confirmable::never},
     Over::circuit,
     live_live},
    {{"insulation-voltage", "Insulation test voltage",
      "500 V for a 230 V circuit; 250 V with electronics connected.",
      "BS 7671 643.3 (number from memory)", Confirmable::with_reason},
     Over::circuit,
     voltage},
    {{"insulation-electronics", "Electronics and the insulation test",
      "Electronics are disconnected for the test, and back again afterwards: reconnected, or "
      "tried.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     electronics},
    {{"insulation-low", "Insulation that passes but is low",
      "Under 2 MΩ there may be a latent defect. A note.",
      "Linsley, Basic Electrical Installation Work p367", Confirmable::never},
     Over::circuit,
     look_closer},
    {{"insulation-equal", "Equal insulation readings",
      "Equal finite readings on every circuit were copied or taken once for all.",
      "common practice", Confirmable::with_reason},
     Over::job,
     equal_everywhere},
};

}  // namespace

std::span<const Row> insulation_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
