#include <fmt/format.h>

#include "base/text.h"
#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/conductor.h"
#include "limits/installation.h"

// The circuit's device and cable: recorded, and the load, device and cable in step.

namespace ohmleaf::checks {
namespace {

bool is_ring(const record::Circuit& c) {
  return c.type && *c.type == record::CircuitType::ring_final;
}

Span device_home(const record::Circuit& c) {
  return c.device.span.valid() ? c.device.span : c.span;
}

void device_recorded(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!c.device) {
    s.add(Verdict::missing, Stage::before, "device", "Protective device",
          "the circuit's protective device is not recorded", c.span)
        .action = "Read standard, type, rating and breaking capacity from the device at the board.";
    return;
  }
  if (c.device->standard == limits::DeviceStandard::rccb) {
    Finding& f = s.add(Verdict::fail, Stage::before, "device", "Protective device",
                       "the device entered is an RCCB, which gives no overcurrent protection",
                       c.device.span);
    f.reading = c.device->words();
    f.action =
        "Enter the circuit's own circuit-breaker, RCBO or fuse as device, and the RCCB as rcd.";
    return;
  }
  s.add(Verdict::pass, Stage::before, "device", "Protective device",
        "the protective device is recorded", c.device.span)
      .reading = c.device->words();
}

bool known_size(const SquareMm& size) {
  return limits::resistance_per_metre(size).has_value();
}

void cable_recorded(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const Span where = c.cable.span.valid() ? c.cable.span : c.span;
  if (!c.cable.line || !c.cable.cpc) {
    s.add(Verdict::missing, Stage::before, "cable", "Cable",
          c.cable.line ? "the size of the protective conductor is not recorded"
                       : "the cable's size is not recorded",
          where)
        .action =
        "Read the sizes at the board, line and protective conductor. Length and method may stay "
        "unknown.";
    return;
  }
  for (const auto* size : {&c.cable.line, &c.cable.cpc}) {
    if (known_size(**size)) continue;
    Finding& f = s.add(Verdict::doubtful, Stage::before, "cable", "Cable",
                       fmt::format("{} is no size of conductor", (*size)->with_unit()), size->span);
    f.reading = (*size)->with_unit();
    f.causes = {"a decimal point one place out"};
    f.action = "Read the size again at the board.";
    return;
  }
  if (*c.cable.cpc > *c.cable.line) {
    Finding& f =
        s.add(Verdict::doubtful, Stage::before, "cable", "Cable",
              fmt::format("the protective conductor {} is larger than the line {}; swapped?",
                          c.cable.cpc->with_unit(), c.cable.line->with_unit()),
              c.cable.cpc.span);
    f.causes = {"line and protective conductor were swapped"};
    f.action =
        "Read both sizes again; confirm where a separate, larger protective conductor is run.";
    return;
  }
  s.add(Verdict::pass, Stage::before, "cable", "Cable", "the cable's sizes are recorded", where)
      .reading = c.cable.line->str() + "/" + c.cable.cpc->with_unit();
}

PlainLimit at_most_amps(const Amps& most, std::string derivation, std::string source) {
  PlainLimit out;
  out.value = most.decimal();
  out.printed = "≤ " + most.with_unit();
  out.exact = most.str();
  out.derivation = std::move(derivation);
  out.source = std::move(source);
  out.provenance = limits::Provenance::computed;
  return out;
}

void load_within_device(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!c.load || !c.device || c.device->rating.is_void()) return;
  Ask ask;
  ask.stage = Stage::before;
  ask.cell = "load";
  ask.subject = "Design current Ib";
  ask.labels = {{c.device.span, "this device: In = " + c.device->rating.with_unit()}};
  ask.causes = {"the added load is too much for this circuit"};
  ask.action = "Take the load off this circuit, or give it a circuit of its own.";
  judge_plain(s, plain(c.load),
              at_most_amps(c.device->rating, "Ib ≤ In", "BS 7671 433.1.1 (number from memory)"),
              ask);
}

/// Twin-and-earth where nothing else is said: the only cable with a table here.
bool is_twin_earth(const record::Circuit& c) {
  return !c.cable.kind || ascii_lower(*c.cable.kind).find("twin") != std::string::npos;
}

void cable_carries(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!c.device || !c.cable.line || !c.cable.method || !is_twin_earth(c)) return;
  const auto iz = limits::capacity_twin_earth(*c.cable.line, *c.cable.method);
  if (!iz || c.device->rating.is_void()) return;
  const bool rewirable = c.device->standard == limits::DeviceStandard::bs3036;
  Decimal usable = iz->value.decimal();
  std::string words = iz->derivation;
  if (rewirable) {
    usable = (usable * Decimal(725, 3)).rounded(2, Round::down);
    words += "; × 0.725 for a BS 3036 fuse = " + usable.str() + " A";
  }
  const Decimal wanted = is_ring(c) ? Decimal::integer(20) : c.device->rating.decimal();
  const bool enough = usable >= wanted;
  Finding& f = s.add(enough ? Verdict::pass : Verdict::fail, Stage::before, "cable.capacity",
                     "Current-carrying capacity",
                     fmt::format("the cable carries {} A, {} the {} A that {}", usable.short_str(),
                                 enough ? "enough for" : "less than", wanted.short_str(),
                                 is_ring(c) ? "a ring needs" : "its device lets through"),
                     c.cable.line.span);
  f.reading = usable.short_str() + " A";
  f.limit = "≥ " + wanted.short_str() + " A";
  f.derivation = words + (is_ring(c) ? "; a ring final circuit asks for 20 A" : "; In ≤ Iz");
  f.source = iz->source;
  f.provenance = iz->provenance;
  f.labels = {{c.device.span, "this device"}, {c.cable.method.span, "this method"}};
  f.derivation += "; no correction for grouping or ambient";
  if (enough) return;
  f.causes = {"the device is too large for the cable", "insulation was laid over the cable"};
  f.action = "Fit a smaller device, or a larger cable, before the circuit is used.";
  f.caution = "An overloaded cable gives no sign before it burns.";
}

void volt_drop(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!c.load || !c.cable.line || !c.cable.length || !is_twin_earth(c)) return;
  auto drop = limits::volt_drop(*c.cable.line, *c.cable.length, *c.load);
  if (!drop) return;
  Decimal volts = drop->value.decimal();
  if (is_ring(c)) {  // two paths of half the length: a quarter
    volts = Decimal::divide(volts, Decimal::integer(4), 2, Round::up);
    drop->derivation += " ÷ 4 for a ring = " + volts.str() + " V";
  }
  const auto limit = limits::max_volt_drop(serves_lighting(c), s.edition);
  const bool inside = volts <= limit.value.decimal();
  Finding& f = s.add(inside ? Verdict::pass : Verdict::borderline, Stage::before, "cable.volt_drop",
                     "Voltage drop",
                     fmt::format("voltage drop {} V is {} {}", volts.str(),
                                 inside ? "within" : "over", limit.value.with_unit()),
                     c.cable.length.span);
  f.reading = volts.str() + " V";
  f.limit = limit.printed();
  f.exact = limit.exact;
  f.derivation = drop->derivation + "; " + limit.derivation;
  f.source = limit.source;
  f.provenance = limit.provenance;
  if (!inside)
    f.action =
        "Shorten the run, take a larger cable, or show that the equipment works at the lower "
        "voltage.";
}

void ring_rules(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!is_ring(c)) return;
  if (c.device && !(c.device->rating <= Amps(Decimal::integer(32)))) {
    Finding& f =
        s.add(Verdict::fail, Stage::before, "device", "Ring final circuit",
              fmt::format("{} is too large for a ring final circuit of BS 1363 accessories",
                          c.device->rating.with_unit()),
              device_home(c));
    f.reading = c.device->rating.with_unit();
    f.limit = "≤ 32 A";
    f.action = "Fit a device of 30 or 32 A.";
    f.caution = "Isolate the board, lock off and prove dead before you change the device.";
  }
  const bool mineral =
      c.cable.kind && ascii_lower(*c.cable.kind).find("mineral") != std::string::npos;
  const Decimal least = mineral ? Decimal(15, 1) : Decimal(25, 1);
  if (c.cable.line && c.cable.line->decimal() < least) {
    Finding& f =
        s.add(Verdict::fail, Stage::before, "cable", "Ring final circuit",
              fmt::format("{} is too small for a ring final circuit", c.cable.line->with_unit()),
              c.cable.line.span);
    f.reading = c.cable.line->with_unit();
    f.limit = "≥ " + least.str() + " mm²";
    f.causes = {"the size was misread", "part of the ring was extended in a smaller size"};
    f.action = "Leave the circuit isolated and replace the smaller part.";
  }
}

constexpr Row kRows[] = {
    {{"device-recorded", "The circuit's protective device",
      "Standard, type, rating and breaking capacity of the device that protects the circuit.",
      "common practice", Confirmable::never},
     Over::circuit,
     device_recorded},
    {{"cable-recorded", "The circuit's cable",
      "Sizes of line and protective conductor. Length and installation method are often unknown on "
      "an existing circuit and are optional.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     cable_recorded},
    {{"load-device", "Load within the device",
      "The design current, where it is given, is not above the device's rating.",
      "BS 7671 433.1.1 (number from memory)", Confirmable::never},
     Over::circuit,
     load_within_device},
    {{"cable-capacity", "Cable and device in step",
      "Where the method of installation is known, the cable's tabulated capacity is at least the "
      "device's rating (20 A on a ring; 0.725 of it behind a BS 3036 fuse).",
      "BS 7671 Table 4D5, 433.1 (numbers from memory)", Confirmable::never},
     Over::circuit,
     cable_carries},
    {{"volt-drop", "Voltage drop",
      "Where length and load are known: 3 % for lighting, 5 % for other uses. Over is borderline, "
      "stated.",
      "the source named with the limit", Confirmable::never},
     Over::circuit,
     volt_drop},
    {{"ring-rules", "Device and size of a ring",
      "A ring final circuit stands behind 30 or 32 A, in 2.5 mm² (1.5 mm² mineral insulated) or "
      "more.",
      "BS 7671 433.1.204 (engx.theiet.org 30677; diynot.com)", Confirmable::never},
     Over::circuit,
     ring_rules},
};

}  // namespace

std::span<const Row> device_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
