#include "sweep.h"

#include <algorithm>
#include <map>
#include <string_view>
#include <tuple>
#include <type_traits>

#include "checks/slip.h"

namespace bench {
namespace {

using ohmleaf::Decimal;
using record::Job;

/// The reading, or each of its parts where it was taken line by line; afterwards the whole shows
/// the worst of them again.
template <class Q, class Set, class Visit>
void each_of(record::Split<Q, Set>& split, const std::string& cell, int circuit, Visit visit) {
  if (!split.divided()) {
    record::Measured<Q>& whole = split;
    visit(cell, circuit, whole);
    return;
  }
  for (std::size_t i = 0; i < Set::names.size(); ++i)
    visit(cell + "." + std::string(Set::names[i]), circuit, split.parts[i]);
  split.divide(split.span, split.key_span);
}

/// Calls `visit(cell, circuit, field)` for every reading, in an order that never changes, the order
/// in which a sheet has them: two that follow one another are neighbours.
template <class Visit>
void each_reading(Job& j, Visit visit) {
  visit("supply.ze", -1, j.supply.ze);
  visit("supply.ra", -1, j.supply.ra);
  each_of(j.supply.pfc, "supply.pfc", -1, visit);
  visit("bonding.earthing_conductor", -1, j.bonding.earthing_conductor);
  visit("bonding.water", -1, j.bonding.water);
  visit("bonding.gas", -1, j.bonding.gas);
  visit("bonding.oil", -1, j.bonding.oil);
  visit("bonding.structure", -1, j.bonding.structure);
  visit("bonding.other", -1, j.bonding.other);
  visit("bonding.water_ohms", -1, j.bonding.water_ohms);
  visit("bonding.gas_ohms", -1, j.bonding.gas_ohms);
  visit("bonding.oil_ohms", -1, j.bonding.oil_ohms);
  visit("bonding.structure_ohms", -1, j.bonding.structure_ohms);
  visit("bonding.other_ohms", -1, j.bonding.other_ohms);
  for (std::size_t i = 0; i < j.circuits.size(); ++i) {
    record::Circuit& c = j.circuits[i];
    const int n = static_cast<int>(i);
    visit("dead.r1", n, c.dead.r1);
    visit("dead.rn", n, c.dead.rn);
    visit("dead.r2", n, c.dead.r2);
    visit("dead.cross_ln", n, c.dead.cross_ln);
    visit("dead.cross_lc", n, c.dead.cross_lc);
    each_of(c.dead.r1r2, "dead.R1R2", n, visit);
    visit("dead.R2", n, c.dead.r2_only);
    each_of(c.dead.insulation.live_live, "dead.insulation.live_live", n, visit);
    each_of(c.dead.insulation.live_earth, "dead.insulation.live_earth", n, visit);
    each_of(c.live.zs, "live.zs", n, visit);
    each_of(c.live.pfc, "live.pfc", n, visit);
    visit("live.rcd.trip_ms", n, c.live.rcd.trip_ms);
    visit("live.rcd.trip_x5_ms", n, c.live.rcd.trip_x5_ms);
  }
}

struct Place {
  std::string cell;
  int circuit;
  std::string unit, text;
  bool numeric;
};

std::vector<Place> places(Job job) {
  std::vector<Place> out;
  each_reading(job, [&](const std::string& cell, int circuit, auto& field) {
    using Q = std::decay_t<decltype(field.value->value)>;
    out.push_back({cell, circuit, std::string(Q::unit::symbol), field ? field->text : std::string(),
                   field && field->is_number()});
  });
  return out;
}

/// The job with the reading at `place` written as `text`; an empty text takes it out.
Job with(Job job, std::size_t place, const std::string& text) {
  std::size_t at = 0;
  each_reading(job, [&](const std::string&, int, auto& field) {
    if (at++ != place) return;
    using Q = std::decay_t<decltype(field.value->value)>;
    const auto span = field.span;
    if (text.empty())
      field.value.reset();
    else
      field = reading<Q>(text);
    if (span.valid()) field.span = span;
  });
  return job;
}

/// A fault current is written with its unit; in a type it is a number of kiloamperes.
std::string digits_of(const std::string& text) {
  return text.substr(0, text.find(' '));
}

std::string moved_point(const std::string& text, int by) {
  const bool open = text.front() == '>' || text.front() == '<';
  const std::string digits = digits_of(open ? text.substr(1) : text);
  const auto value = Decimal::parse(digits);
  REQUIRE(value.has_value());
  const std::string shifted = ohmleaf::checks::shifted(*value, by).str();
  return open ? std::string(1, text.front()) + shifted : shifted;
}

using Places = std::vector<Place>;

Slip slip_at(const Place& p, SlipKind kind, std::string after, Job job, std::string other = {}) {
  return {kind, p.cell, std::move(other), p.text, std::move(after), p.circuit, std::move(job)};
}

void shifts(const Job& job, const Places& all, std::size_t i, std::vector<Slip>& out) {
  for (const int by : {-1, 1}) {
    const std::string text = moved_point(all[i].text, by);
    out.push_back(
        slip_at(all[i], by < 0 ? SlipKind::times_ten : SlipKind::tenth, text, with(job, i, text)));
  }
}

/// With the next reading of the row, whatever its unit, and with the next of the same unit.
void swaps(const Job& job, const Places& all, std::size_t i, std::vector<Slip>& out) {
  bool next = true;
  for (std::size_t k = i + 1; k < all.size() && all[k].circuit == all[i].circuit; ++k) {
    if (!all[k].numeric) continue;
    const bool same = all[k].unit == all[i].unit;
    if ((next || same) && digits_of(all[k].text) != digits_of(all[i].text)) {
      const std::string mine = digits_of(all[i].text), its = digits_of(all[k].text);
      out.push_back(
          slip_at(all[i], SlipKind::swapped, its, with(with(job, i, its), k, mine), all[k].cell));
    }
    next = false;
    if (same) return;
  }
}

void rows(const Job& job, const Places& all, std::size_t i, std::vector<Slip>& out) {
  if (all[i].circuit < 0) return;
  for (std::size_t k = i + 1; k < all.size(); ++k) {
    if (all[k].cell != all[i].cell || all[k].circuit != all[i].circuit + 1) continue;
    if (all[k].text == all[i].text) return;
    out.push_back(slip_at(all[i], SlipKind::moved, "", with(with(job, i, ""), k, all[i].text)));
    if (all[k].numeric)
      out.push_back(slip_at(all[i], SlipKind::exchanged, all[k].text,
                            with(with(job, i, all[k].text), k, all[i].text)));
    return;
  }
}

std::string_view kind_words(SlipKind kind) {
  switch (kind) {
    case SlipKind::times_ten:
      return "× 10";
    case SlipKind::tenth:
      return "÷ 10";
    case SlipKind::swapped:
      return "swapped with";
    case SlipKind::moved:
      return "moved to the next circuit";
    case SlipKind::exchanged:
      return "exchanged with the next circuit's";
  }
  return "?";
}

/// Cells that physics ties to one another: a finding at one of them is about all of them.
const std::vector<std::vector<std::string_view>>& ties() {
  static const std::vector<std::vector<std::string_view>> all = {
      {"supply.ze", "supply.pfc", "live.zs", "live.pfc"},
      {"supply.ra", "live.zs"},
      {"supply.pfc", "live.pfc", "device"},
      {"bonding.earthing_conductor", "bonding.water", "bonding.gas", "bonding.oil",
       "bonding.structure", "bonding.other"},
      {"dead.r1", "dead.rn", "dead.r2", "dead.cross_ln", "dead.cross_lc", "dead.R1R2", "dead.R2",
       "live.zs"},
      {"live.zs", "live.pfc", "cable.cpc"},
      {"dead.insulation.live_live", "dead.insulation.live_earth", "insulation"},
      {"live.rcd.trip_ms", "live.rcd.trip_x5_ms"},
  };
  return all;
}

bool tied(std::string_view slipped, std::string_view found) {
  slipped = whole_cell(slipped);
  found = whole_cell(found);
  if (slipped == found) return true;
  const auto holds = [](const auto& group, std::string_view cell) {
    return std::find(group.begin(), group.end(), cell) != group.end();
  };
  return std::any_of(ties().begin(), ties().end(), [&](const auto& group) {
    return holds(group, slipped) && holds(group, found);
  });
}

bool concerns(const Slip& slip, const Finding& f) {
  const bool own = slip.circuit < 0 || f.circuit < 0 || f.circuit == slip.circuit;
  const bool next = slip.kind == SlipKind::moved || slip.kind == SlipKind::exchanged;
  if (!own && !(next && f.circuit == slip.circuit + 1)) return false;
  return tied(slip.reading, f.cell) || (!slip.other.empty() && tied(slip.other, f.cell));
}

}  // namespace

std::string_view whole_cell(std::string_view cell) {
  const auto dot = cell.rfind('.');
  if (dot == std::string_view::npos) return cell;
  const std::string_view last = cell.substr(dot + 1);
  const bool part = last == "N" || last == "three-phase" || (last.size() >= 2 && last[0] == 'L');
  return part ? cell.substr(0, dot) : cell;
}

std::string Slip::words() const {
  std::string out = circuit < 0 ? "job" : "circuit " + std::to_string(circuit);
  out += ", " + reading + " " + std::string(kind_words(kind));
  if (!other.empty()) out += " " + other;
  return out + ": " + before + " -> " + (after.empty() ? "nothing" : after);
}

std::vector<Slip> slips_of(const record::Job& job) {
  const Places all = places(job);
  std::vector<Slip> out;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!all[i].numeric) continue;
    shifts(job, all, i, out);
    swaps(job, all, i, out);
    rows(job, all, i, out);
  }
  return out;
}

bool noticed(const Slip& slip, const Report& before, const Report& after) {
  using Key = std::tuple<std::string_view, int, std::string, Verdict>;
  std::map<Key, int> known;
  for (const Finding& f : before.findings) ++known[{f.check, f.circuit, f.cell, f.verdict}];
  return std::any_of(after.findings.begin(), after.findings.end(), [&](const Finding& f) {
    return f.verdict > Verdict::pass && concerns(slip, f) &&
           --known[{f.check, f.circuit, f.cell, f.verdict}] < 0;
  });
}

}  // namespace bench
