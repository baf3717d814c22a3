#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "checks/facts.h"
#include "checks/judge.h"
#include "checks/slip.h"
#include "limits/conductor.h"
#include "limits/protection.h"

// Readings that no other reading contradicts, yet of a size that such a thing does not have: the
// end of an instrument's range, a conductor that is not made, a run longer than any house.

namespace ohmleaf::checks {
namespace {

// ---- the end of the insulation range ------------------------------------------------------------

/// One insulation reading of a circuit.
struct Insulated {
  const record::Measured<Megohms>* field;
  std::string cell, subject;
};

std::vector<Insulated> insulation_readings(const record::Circuit& c) {
  std::vector<Insulated> out;
  const record::Insulation& x = c.dead.insulation;
  const auto take = [&](const record::Measured<Megohms>& field, const std::string& cell,
                        const std::string& subject) { out.push_back({&field, cell, subject}); };
  each_part(x.live_live, "dead.insulation.live_live", "Insulation, live to live", take);
  each_part(x.live_earth, "dead.insulation.live_earth", "Insulation, live to earth", take);
  std::erase_if(out, [](const Insulated& r) {
    return !*r.field || !(*r.field)->is_number() || (*r.field)->value.is_void();
  });
  return out;
}

bool open_ended(const Insulated& r) {
  return (*r.field)->kind == ReadingKind::above;
}

/// Instrument and test voltage: readings of one range end alike.
std::string range_of(const record::Circuit& c) {
  const auto& volts = c.dead.insulation.volts;
  return c.dead.instrument.value_or("") + "/" + (volts ? volts->str() : std::string());
}

/// How often ">999" stands, and where first.
struct Tally {
  std::size_t count = 0, place = 0;
  const record::Measured<Megohms>* first = nullptr;
};
struct Smaller {  // no void value comes here
  bool operator()(const Decimal& a, const Decimal& b) const { return a < b; }
};

/// ">999" of each range: the one that stands most often; of several the one that stands first.
std::map<std::string, const record::Measured<Megohms>*> range_ends(const record::Job& job) {
  std::map<std::string, std::map<Decimal, Tally, Smaller>> ranges;
  std::size_t place = 0;
  for (const record::Circuit& c : job.circuits) {
    for (const Insulated& r : insulation_readings(c)) {
      if (!open_ended(r)) continue;
      Tally& tally = ranges[range_of(c)][(*r.field)->value.decimal()];
      if (tally.count++ == 0) tally = {1, place, r.field};
      ++place;
    }
  }
  std::map<std::string, const record::Measured<Megohms>*> ends;
  for (const auto& [range, values] : ranges) {
    const auto best = std::max_element(values.begin(), values.end(), [](const auto& a, const auto& b) {
      if (a.second.count != b.second.count) return a.second.count < b.second.count;
      return a.second.place > b.second.place;
    });
    ends[range] = best->second.first;
  }
  return ends;
}

bool point_moved(const Decimal& a, const Decimal& b) {
  return a != b && (shifted(a, 1) == b || shifted(a, -1) == b);
}

void insulation_range(Scene& s) {
  if (!s.wide.range_ends) s.wide.range_ends = range_ends(s.job);
  const auto found = s.wide.range_ends->find(range_of(*s.circuit));
  if (found == s.wide.range_ends->end()) return;
  const record::Measured<Megohms>& end = *found->second;
  for (const Insulated& r : insulation_readings(*s.circuit)) {
    if (&end == r.field) continue;
    const Decimal mine = (*r.field)->value.decimal(), top = end->value.decimal();
    const bool other_end = open_ended(r) && point_moved(mine, top);
    const bool over_it = (*r.field)->is_value() && mine > top;
    if (!other_end && !over_it) continue;
    Finding& f = s.add(
        Verdict::doubtful, Stage::dead, r.cell, r.subject,
        other_end
            ? fmt::format("{} {} and {} were read on one range, which can end at only one of them",
                          r.subject, shown_of(*r.field), shown_of(end))
            : fmt::format("{} {} is more than the instrument shows, for it shows {} elsewhere",
                          r.subject, shown_of(*r.field), shown_of(end)),
        r.field->span);
    f.reading = shown_of(*r.field);
    f.limit = "range ends at " + end->value.with_unit();
    f.labels = {{end.span, "the end of the range"}};
    f.causes = {"a decimal point one place out", "another instrument or another range was used"};
    f.action =
        "Read the end of the insulation range off the instrument and correct the one that is "
        "wrong; if another instrument was used, name it for that circuit.";
  }
}

// ---- an RCD that is slow ------------------------------------------------------------------------

void rcd_slow(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto all = rcds_of(s.job, c);
  const auto time = figure(c.live.rcd.trip_ms);
  if (all.empty() || !time || all.front().rcd->delayed || all.front().rcd->bs4293) return;
  const RcdInPath& rcd = all.front();
  const auto allowed = limits::rcd_time(*rcd.rcd, Decimal::integer(1), true, s.edition);
  limits::Rcd old = *rcd.rcd;
  old.bs4293 = true;
  const auto guide = limits::rcd_time(old, Decimal::integer(1), true, s.edition);
  if (!allowed || !guide || !(*time <= allowed->value.decimal())) return;  // judged by rcd-time
  if (*time <= guide->value.decimal()) return;
  Finding& f =
      s.add(Verdict::borderline, Stage::live, "live.rcd.trip_ms", "RCD time",
            fmt::format("RCD time {} is within {}, but slower than even the old devices were "
                        "allowed; {} entered as {}?",
                        shown_of(c.live.rcd.trip_ms), allowed->value.with_unit(),
                        shifted(*time, 1).short_str(), c.live.rcd.trip_ms->text),
            c.live.rcd.trip_ms.span);
  f.reading = shown_of(c.live.rcd.trip_ms);
  f.limit = guide->printed();
  f.exact = guide->exact;
  f.derivation =
      "a device without delay opens within some tens of milliseconds; " + guide->derivation;
  f.source = guide->source;
  f.provenance = guide->provenance;
  f.labels = {{rcd.span, std::string(rcd.where)}};
  f.causes = {"a decimal point one place out", "a sticking mechanism", "a time-delayed device"};
  f.action =
      "Press the test button a few times and test again with the loads unplugged; a device that "
      "stays this slow is best changed.";
  f.caution =
      "Testing trips the supply: tell the client, and mind computers and medical equipment.";
}

// ---- the run that R1+R2 speaks of ---------------------------------------------------------------

/// Longer than a run on a final circuit in any house.
Decimal longest_run() {
  return Decimal::integer(150);
}

struct Run {
  const record::Measured<Ohms>* field;
  const char* cell;
  const char* subject;
  SquareMm line;
  std::optional<SquareMm> cpc;
};

/// Metres of cable that the reading speaks of at 20 °C.
std::optional<Decimal> metres(const Run& run) {
  const auto ohms = figure(*run.field);
  const auto per_100 = limits::expected_r1r2(run.line, run.cpc, Metres(Decimal::integer(100)),
                                             Celsius(Decimal::integer(20)));
  if (!ohms || !per_100 || per_100->value.decimal().is_zero()) return std::nullopt;
  return Decimal::divide(*ohms * Decimal::integer(100), per_100->value.decimal(), 0,
                         Round::half_up);
}

void run_too_long(Scene& s, const Run& run) {
  const auto length = metres(run);
  if (!length || length->is_void() || *length <= longest_run()) return;
  const auto slips =
      single_slips({{run.subject, (*run.field)->text, *figure(*run.field)}},
                   [&](const std::vector<Decimal>& v) { return v[0] < *figure(*run.field); });
  Finding& f = s.add(Verdict::doubtful, Stage::dead, run.cell, run.subject,
                     fmt::format("{} {} would be {} m of this cable{}", run.subject,
                                 shown_of(*run.field), length->str(), slip_tail(slips)),
                     run.field->span);
  f.reading = shown_of(*run.field);
  f.limit = "a run of at most " + longest_run().str() + " m";
  f.derivation =
      fmt::format("resistance per metre of these sizes at 20 °C (IEC 60228): {} m", length->str());
  f.labels = {{s.circuit->cable.line.span, "this size"}};
  f.causes = slips;
  f.causes.insert(f.causes.end(),
                  {"a loose joint in line or protective conductor", "the leads were not nulled",
                   "the size is not what was entered"});
  f.action =
      "Null the leads and measure again; if it stays, look for the joint, or enter the length.";
  f.caution = kDeadFirst;
}

void r1r2_run(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const bool ring = c.type && *c.type == record::CircuitType::ring_final;
  if (ring || c.cable.length || !c.cable.line || !c.cable.cpc) return;
  if (c.dead.r1r2)
    run_too_long(s, {&c.dead.r1r2, "dead.R1R2", "R1+R2", *c.cable.line, *c.cable.cpc});
  else if (c.dead.r2_only)
    run_too_long(s, {&c.dead.r2_only, "dead.R2", "R2", *c.cable.cpc, std::nullopt});
}

// ---- a supply that could not blow its own fuse --------------------------------------------------

void fault_current_fuse(Scene& s) {
  const record::Supply& x = s.job.supply;
  const auto pfc = figure(x.pfc);
  if (!pfc || !x.main_fuse || x.main_fuse->rating.is_void()) return;
  // A cartridge fuse need not blow below 1.6 times its rating; a supply is never that weak.
  const Decimal least = x.main_fuse->rating.decimal() * Decimal(16, 1) * Decimal(1, 3);
  if (*pfc >= least) return;
  const auto slips = single_slips({{"the fault current", x.pfc->text, *pfc}},
                                  [&](const auto& v) { return v[0] >= least; });
  Finding& f = s.add(Verdict::doubtful, Stage::live, "supply.pfc", "Prospective fault current",
                     fmt::format("fault current {} would not blow the supply's own fuse{}",
                                 shown_of(x.pfc), slip_tail(slips)),
                     x.pfc.span);
  f.reading = shown_of(x.pfc);
  f.limit = "≥ " + least.short_str() + " kA";
  f.exact = least.short_str();
  f.derivation = "1.6 × " + x.main_fuse->rating.with_unit() + " = " + least.short_str() + " kA";
  f.labels = {{x.main_fuse.span, "this fuse"}};
  f.causes = slips;
  f.causes.insert(f.causes.end(), {"the earth loop was read where line–neutral was meant",
                                   "a loose supply neutral, if it is true"});
  f.action =
      "Measure line–neutral at the origin again; if it stays this low, tell the distributor at "
      "once.";
  f.caution = "Live test at the origin: insulated leads, covers on where they can be.";
}

// ---- conductors that are not made ---------------------------------------------------------------

struct Conductor {
  const char* cell;
  const char* subject;
  record::Measured<SquareMm> record::Bonding::*size;
};
constexpr Conductor kConductors[] = {
    {"bonding.earthing_conductor", "Earthing conductor", &record::Bonding::earthing_conductor},
    {"bonding.water", "Main bonding, water", &record::Bonding::water},
    {"bonding.gas", "Main bonding, gas", &record::Bonding::gas},
    {"bonding.oil", "Main bonding, oil", &record::Bonding::oil},
    {"bonding.structure", "Main bonding, structural steel", &record::Bonding::structure},
    {"bonding.other", "Main bonding, other service", &record::Bonding::other},
};

void protective_size(Scene& s) {
  for (const Conductor& conductor : kConductors) {
    const auto& field = s.job.bonding.*conductor.size;
    const auto size = figure(field);
    if (!size || limits::resistance_per_metre(SquareMm(*size))) continue;
    const auto slips = single_slips({{"the size", field->text, *size}}, [](const auto& v) {
      return limits::resistance_per_metre(SquareMm(v[0])).has_value();
    });
    Finding& f = s.add(Verdict::doubtful, Stage::before, conductor.cell, conductor.subject,
                       fmt::format("{} {}: no conductor of that size is made{}", conductor.subject,
                                   shown_of(field), slip_tail(slips)),
                       field.span);
    f.reading = shown_of(field);
    f.causes = slips;
    f.causes.push_back("a size from another system of units, or tape measured by its width");
    f.action = "Read the size again, by the strands and their diameter where no marking is left.";
  }
}

constexpr Row kRows[] = {
    {{"protective-size", "Sizes of earthing and bonding that are made",
      "A size that no conductor has is a slip of the decimal point, or an old conductor whose size "
      "in square millimetres must be worked out and confirmed.",
      "sizes of IEC 60228", Confirmable::with_reason},
     Over::job,
     protective_size},
    {{"r1r2-run", "R1+R2 against the longest run",
      "Where the length is not known, R1+R2 (or R2) says how long the run would be. More than 150 "
      "m "
      "on a final circuit is a joint or a slip.",
      "IEC 60228 resistances; 150 m common practice", Confirmable::with_reason},
     Over::circuit,
     r1r2_run},
    {{"insulation-range", "The end of the insulation range",
      "Readings such as >999 show where the instrument's range ends. One instrument at one test "
      "voltage ends at one figure, and no reading of it is above that.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     insulation_range},
    {{"fault-current-fuse", "Fault current against the supply's fuse",
      "A supply that cannot blow its own fuse does not exist: a fault current under 1.6 times the "
      "fuse's rating is a slip, or a supply in trouble.",
      "conventional fusing current of gG fuses, 1.6 In (IEC 60269-1, from memory)",
      Confirmable::with_reason},
     Over::job,
     fault_current_fuse},
    {{"rcd-slow", "RCD that is slow for its kind",
      "Within its limit of 300 ms, but slower than the 200 ms that devices of the old standard "
      "were "
      "allowed: a decimal point, a sticking mechanism or a delayed device. Borderline.",
      "BS 4293 time as named with the limit; use as a guide common practice", Confirmable::never},
     Over::circuit,
     rcd_slow},
};

}  // namespace

std::span<const Row> believable_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
