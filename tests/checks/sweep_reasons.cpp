#include <algorithm>
#include <array>

#include "sweep.h"

// Why a slip that no check names is physically possible. Each reason is a rule with its own words:
// it looks at the figures before and after, never at the name of a job.

namespace bench {
namespace {

using ohmleaf::Decimal;
using record::Circuit;
using record::Job;

const Circuit* circuit_of(const Job& job, int index) {
  return index < 0 ? nullptr : &job.circuits[static_cast<std::size_t>(index)];
}

/// The number in a reading as written, without ">" or unit; nothing where it was taken out.
std::optional<Decimal> number(const std::string& text) {
  const std::size_t from = text.empty() || text.front() == '>' || text.front() == '<' ? 1 : 0;
  if (text.size() <= from) return std::nullopt;
  return Decimal::parse(text.substr(from, text.find(' ') - from));
}

/// By how much the slip changes its reading, in its unit.
std::optional<Decimal> change(const Slip& slip) {
  const auto a = number(slip.before), b = number(slip.after);
  if (!a || !b) return std::nullopt;
  return (*a - *b).abs();
}

bool within(const Slip& slip, const Decimal& most) {
  const auto by = change(slip);
  return by && *by <= most;
}

bool is_tt(const Job& job) {
  return job.supply.earthing && *job.supply.earthing == limits::Earthing::tt;
}

bool starts(const std::string& text, std::string_view with) {
  return text.starts_with(with);
}

// ---- the rules ----------------------------------------------------------------------------------

/// 1 MΩ is the least for 230 V, with electronics connected as without.
bool insulation_anywhere(const Job&, const Slip& slip) {
  const auto after = number(slip.after);
  return starts(slip.reading, "dead.insulation.") && after && *after >= Decimal::integer(1) &&
         slip.kind != SlipKind::moved &&
         (slip.other.empty() || starts(slip.other, "dead.insulation."));
}

bool rcd_slow_but_within(const Job&, const Slip& slip) {
  const auto after = number(slip.after);
  return slip.reading == "live.rcd.trip_ms" && slip.kind == SlipKind::times_ten && after &&
         *after <= Decimal::integer(200);
}

bool rcds_of_two_circuits(const Job&, const Slip& slip) {
  const auto after = number(slip.after);
  return slip.reading == "live.rcd.trip_ms" && slip.kind == SlipKind::exchanged && after &&
         *after <= Decimal::integer(200) && *after >= Decimal::integer(5);
}

bool loops_alike(const Job&, const Slip& slip) {
  const auto loop = [](const std::string& cell) {
    return cell == "dead.r1" || cell == "dead.rn" || cell == "dead.r2";
  };
  if (slip.kind != SlipKind::swapped) return false;
  if (loop(slip.reading) && loop(slip.other)) return within(slip, Decimal(5, 2));
  // The lines of one circuit, of which a quarter more or less is allowed.
  const auto before = number(slip.before);
  return whole_cell(slip.reading) == whole_cell(slip.other) && before &&
         within(slip, *before * Decimal(25, 2));
}

/// kA that Ze lets flow to earth.
bool at_least_by_ze(const Job& job) {
  if (!job.supply.ze || !job.supply.pfc || job.supply.ze->value.decimal().is_zero()) return false;
  const Decimal ka = job.supply.pfc->value.decimal() * Decimal::integer(1000);
  return ka * (job.supply.ze->value.decimal() + Decimal(5, 2)) >= Decimal::integer(230);
}

bool above_u0_by_ze(const Job& sound, const Slip& slip) {
  return whole_cell(slip.reading) == "supply.pfc" && slip.other.empty() && !is_tt(sound) &&
         at_least_by_ze(slip.job);
}

bool ze_and_fault_current_fit_both_ways(const Job& sound, const Slip& slip) {
  return slip.reading == "supply.ze" && slip.other == "supply.pfc" && at_least_by_ze(sound) &&
         at_least_by_ze(slip.job);
}

/// 0.05 Ω, and what the job's tester declares.
bool loop_scatter(const Job& sound, const Slip& slip) {
  const auto cell = whole_cell(slip.reading);
  const bool loop = cell == "live.zs" || cell == "dead.R1R2";
  const Circuit* c = circuit_of(sound, slip.circuit);
  if (!loop || c == nullptr || is_tt(sound) || slip.kind == SlipKind::moved) return false;
  const record::Instrument* meter = nullptr;
  for (const auto& key : sound.instruments)
    if (key && !meter) meter = installer().instrument(*key);
  if (meter == nullptr || !c->live.zs) return false;
  Decimal most = Decimal(5, 2);
  if (meter->loop_ohms) most = most + meter->loop_ohms->decimal();
  if (meter->loop_percent)
    most = most + c->live.zs->value.decimal() * meter->loop_percent->decimal() * Decimal(1, 2);
  return within(slip, most);
}

bool electrode_is_the_loop(const Job& sound, const Slip& slip) {
  const Circuit* c = circuit_of(sound, slip.circuit);
  if (!is_tt(sound) || c == nullptr || slip.kind == SlipKind::moved) return false;
  const auto after = number(slip.after);
  if (!after) return false;
  if (slip.reading == "dead.R1R2" && slip.other.empty())
    return (!c->cable.length || within(slip, Decimal(5, 2))) && *after <= Decimal::integer(3);
  const auto& ra = sound.supply.ra;
  if (slip.reading != "live.zs" || !ra) return false;
  const Decimal electrode = ra->value.decimal();
  return *after * Decimal::integer(4) >= electrode &&
         *after <= electrode * Decimal(13, 1) + Decimal::integer(25);
}

bool bond_of_hundredths(const Job&, const Slip& slip) {
  return starts(slip.reading, "bonding.") && slip.reading.ends_with("_ohms") &&
         within(slip, Decimal(2, 2));
}

struct Rule {
  const char* name;
  const char* words;
  bool (*holds)(const Job&, const Slip&);
};
constexpr std::array kRules = {
    Rule{"insulation lies anywhere above its minimum",
         "good insulation reads from a few megohms to the end of the range, and nothing ties the "
         "readings of a circuit, or of two circuits, to one another",
         insulation_anywhere},
    Rule{"an RCD may be this slow", "within 200 ms a device is within every standard there was",
         rcd_slow_but_within},
    Rule{"two RCDs, two times", "nothing ties the time of one circuit's RCD to another's",
         rcds_of_two_circuits},
    Rule{"loops that are alike",
         "exchanged, two loops of a ring within 0.05 Ω of each other, or two lines of a circuit "
         "within a quarter, are as true as before",
         loops_alike},
    Rule{"fault current above U0 ÷ Ze",
         "it is the larger of line-neutral and line-earth, so only a figure below U0 ÷ Ze is "
         "impossible",
         above_u0_by_ze},
    Rule{"Ze and fault current fit both ways",
         "exchanged, the fault current is still not below U0 ÷ Ze, and Zs below the sum can be a "
         "parallel path",
         ze_and_fault_current_fit_both_ways},
    Rule{
        "within the scatter of the loop test",
        "the slip changes the reading by no more than 0.05 Ω and the tester's declared uncertainty",
        loop_scatter},
    Rule{"the electrode is the loop",
         "on TT the electrode outweighs the conductors, bonding can lower Zs to a quarter of RA, "
         "and a run of unknown length may be short",
         electrode_is_the_loop},
    Rule{"hundredths of an ohm on a bond",
         "the slip changes the reading by no more than 0.02 Ω, which leads and clamp change too",
         bond_of_hundredths},
};

}  // namespace

Reason possible_because(const record::Job& sound, const Slip& slip) {
  for (const Rule& rule : kRules)
    if (rule.holds(sound, slip)) return {rule.name, rule.words};
  return {};
}

std::vector<Reason> all_reasons() {
  std::vector<Reason> out;
  for (const Rule& rule : kRules) out.push_back({rule.name, rule.words});
  return out;
}

}  // namespace bench
