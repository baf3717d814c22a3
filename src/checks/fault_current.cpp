#include <fmt/format.h>

#include <algorithm>

#include "checks/facts.h"
#include "checks/judge.h"
#include "checks/slip.h"
#include "limits/protection.h"
#include "limits/supply.h"

// Prospective fault current: known, believable, and within what the devices can break.

namespace ohmleaf::checks {
namespace {

using limits::DeviceStandard;

/// The reading that a circuit's device must be able to break: at its board, else at the origin.
const record::Measured<Kiloamps>& pfc_of(const record::Job& job, const record::Circuit& c) {
  return c.live.pfc ? c.live.pfc : job.supply.pfc;
}

void recorded(Scene& s) {
  const record::Supply& x = s.job.supply;
  const bool at_boards =
      !s.job.circuits.empty() &&
      std::all_of(s.job.circuits.begin(), s.job.circuits.end(),
                  [](const auto& c) { return c.live.pfc && c.live.pfc->is_number(); });
  Ask ask;
  ask.stage = Stage::live;
  ask.cell = "supply.pfc";
  ask.subject = "Prospective fault current";
  ask.home = x.span;
  ask.if_missing =
      "Measure line–neutral and line–earth at the origin and enter the larger, or ask the "
      "distributor (pfc_by = \"enquiry\").";
  ask.caution = "Live test at the origin: insulated leads, covers on where they can be.";
  if (!x.pfc && at_boards) return;  // each board has its own
  if (require(s, x.pfc, ask))
    s.add(Verdict::pass, Stage::live, ask.cell, ask.subject,
          "the prospective fault current is recorded", x.pfc.span)
        .reading = shown_of(x.pfc);
}

bool right_supply_fuse(const record::Job& job) {
  if (!job.supply.main_fuse) return false;
  const limits::Device& f = *job.supply.main_fuse;
  const bool cartridge = f.standard == DeviceStandard::bs88_2 ||
                         f.standard == DeviceStandard::bs88_3 ||
                         f.standard == DeviceStandard::bs1361;
  return cartridge && f.rating <= Amps(Decimal::integer(100));
}

/// A 6 kA breaker in a consumer unit with a conditional rating of 16 kA behind the right fuse.
void conditional(const Scene& s, Finding& f, const record::Measured<Kiloamps>& pfc) {
  const auto limit = limits::max_fault_current(Kiloamps(Decimal::integer(16)), s.edition);
  if (standing(plain(pfc), plain(limit), Decimal::integer(0), Decimal::integer(0)) !=
      Standing::within)
    return;
  f.verdict = Verdict::borderline;
  f.message = fmt::format(
      "Fault current {} is over the device's own {}, and relies on the consumer unit's "
      "conditional rating of 16 kA",
      f.reading, s.circuit->device->breaking->with_unit());
  f.derivation +=
      "; consumer unit rated 16 kA conditionally, behind a cartridge fuse of 100 A or less";
  f.labels.push_back({s.job.supply.main_fuse.span, "this supply fuse"});
  f.action =
      "Read on the consumer unit's label that it carries the 16 kA conditional rating, and say so.";
}

void breaking_capacity(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!c.device) return;
  const auto& pfc = pfc_of(s.job, c);
  const std::string cell = c.live.pfc ? "live.pfc" : "device";
  if (!c.device->breaking) {
    Finding& f = s.add(Verdict::missing, Stage::before, "device", "Breaking capacity",
                       "the breaking capacity of the device is not recorded", c.device.span);
    f.action = "Read it from the device (6000 in a box is 6 kA) and add it: \"" +
               c.device->words() + ", 6 kA\".";
    return;
  }
  if (!pfc || !pfc->is_number()) return;  // asked for elsewhere
  Ask ask;
  ask.stage = Stage::before;
  ask.cell = cell;
  ask.subject = "Fault current";
  ask.labels = {{c.device.span, "this device breaks " + c.device->breaking->with_unit()}};
  ask.causes = {"the board is close to a strong supply",
                "the reading was taken wrong, or is in amperes"};
  ask.action =
      "Leave the circuit off. Fit a device with a higher breaking capacity, or back-up protection "
      "that its maker states.";
  ask.caution = "A device that cannot break a fault can burst.";
  Finding& f = judge(s, pfc, limits::max_fault_current(*c.device->breaking, s.edition), std::move(ask));
  if (f.verdict == Verdict::fail && c.device->is_breaker() && right_supply_fuse(s.job))
    conditional(s, f, pfc);
}

/// Half a unit of the last place written: "1.1" can be 1.05 to 1.15.
Decimal half_last_place(const Decimal& v) {
  return Decimal(5, std::min(v.scale() + 1, Decimal::kMaxScale));
}

void against_ze(Scene& s) {
  const record::Supply& x = s.job.supply;
  const auto ze = highest(x.ze), pfc = highest(x.pfc);
  if (is_tt(s.job) || !ze || !pfc || ze->is_zero()) return;
  const bool three = is_three_phase(s.job);  // between lines at least √3 times that of one line
  const Decimal volts = u0(s.job).decimal() * (three ? Decimal(173, 2) : Decimal::integer(1));
  const auto least = [&](const Decimal& z) {  // kA, with 0.05 Ω of scatter allowed on the loop test
    return Decimal::divide(volts, (z + Decimal(5, 2)) * Decimal::integer(1000), 6, Round::down);
  };
  const auto below = [&](const Decimal& z, const Decimal& i) {
    return i + half_last_place(i) < least(z);
  };
  if (!below(*ze, *pfc)) return;
  const auto slips = single_slips(
      {{"the fault current", x.pfc->text, *pfc}, {"Ze", x.ze->text, *ze}}, [&](const auto& v) {
        return !below(v[1], v[0]) && v[0] <= least(v[1]) * Decimal::integer(2);
      });
  const auto expected = limits::fault_current(Ohms(*ze), u0(s.job));
  Finding& f =
      s.add(Verdict::doubtful, Stage::live, "supply.pfc", "Prospective fault current",
            fmt::format("fault current {} is below {}U0 ÷ Ze, and U0 ÷ Ze is {}{}", shown_of(x.pfc),
                        three ? "√3 × " : "", expected.value.with_unit(), slip_tail(slips)),
            x.pfc.span);
  f.reading = shown_of(x.pfc);
  f.limit = "about " + expected.value.with_unit() + " or more";
  f.exact = expected.exact;
  f.derivation = expected.derivation + "; 0.05 Ω allowed for the loop test";
  f.source = expected.source;
  f.provenance = expected.provenance;
  f.labels = {{x.ze.span, "Ze"}};
  f.causes = slips;
  if (three) f.causes.push_back("a single-phase figure was entered for a three-phase supply");
  f.causes.insert(f.causes.end(), {"the smaller of line–neutral and line–earth was entered",
                                   "amperes entered as kiloamperes"});
  f.action = "Measure again at the origin, line–neutral and line–earth, and enter the larger.";
}

void at_board(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto origin = highest(s.job.supply.pfc), board = highest(c.live.pfc);
  if (!origin || !board) return;
  const Decimal most = *origin * Decimal(12, 1) + half_last_place(*origin);  // a fifth for scatter
  if (*board <= most) return;
  const auto slips = single_slips(
      {{"the board", c.live.pfc->text, *board}, {"the origin", s.job.supply.pfc->text, *origin}},
      [](const auto& v) {
        return v[0] <= v[1] * Decimal(12, 1) && v[0] * Decimal::integer(4) >= v[1];
      });
  Finding& f =
      s.add(Verdict::doubtful, Stage::live, "live.pfc", "Fault current at the board",
            fmt::format("fault current {} at the board is more than {} at the origin{}",
                        shown_of(c.live.pfc), shown_of(s.job.supply.pfc), slip_tail(slips)),
            c.live.pfc.span);
  f.reading = shown_of(c.live.pfc);
  f.limit = "≤ " + shown_of(s.job.supply.pfc);
  f.labels = {{s.job.supply.pfc.span, "at the origin"}};
  f.causes = slips;
  f.causes.push_back("the two were swapped");
  f.action = "Measure both again; the origin has the highest fault current.";
}

/// More than a distributor declares is a unit or a point out of place.
void believable(Scene& s, const record::Measured<Kiloamps>& field, const char* cell) {
  const auto declared = limits::declared_max_fault_current(is_three_phase(s.job), s.edition);
  const Decimal most = declared.value.decimal();
  const auto v = figure(field);
  if (!v || *v <= most) return;
  const auto slips = single_slips({{"the fault current", field->text, *v}},
                                  [&](const auto& x) { return x[0] <= most; });
  Finding& f =
      s.add(Verdict::doubtful, Stage::live, cell, "Prospective fault current",
            fmt::format("fault current {} is more than a public supply of this kind shows{}",
                        shown_of(field), slip_tail(slips)),
            field.span);
  f.reading = shown_of(field);
  f.limit = declared.printed();
  f.exact = declared.exact;
  f.derivation = declared.derivation;
  f.source = declared.source;
  f.provenance = declared.provenance;
  f.causes = slips;
  f.causes.push_back("amperes entered as kiloamperes");
  f.action = "Read the unit on the instrument again.";
}

void board_believable(Scene& s) {
  believable(s, s.circuit->live.pfc, "live.pfc");
}
void origin_believable(Scene& s) {
  believable(s, s.job.supply.pfc, "supply.pfc");
}

constexpr Row kRows[] = {
    {{"fault-current", "Prospective fault current recorded",
      "The larger of line–neutral and line–earth at the origin (or at each board).",
      "BS 7671 643.7.3.201 (number from memory)", Confirmable::never},
     Over::job,
     recorded},
    {{"breaking-capacity", "Breaking capacity against fault current",
      "The device must be able to break the fault current where it stands. A consumer unit's "
      "conditional rating of "
      "16 kA behind the right supply fuse counts, and is named.",
      "BS 7671 434.5.1, 536.4.201 (numbers from memory; diynot.com 611429)", Confirmable::never},
     Over::circuit,
     breaking_capacity},
    {{"fault-current-ze", "Fault current against Ze",
      "The fault current cannot be below U0 ÷ Ze. Above is normal, where line–neutral is the "
      "larger. Not asked on TT.",
      "formula Ipf = U0 ÷ Z (method: the-regs.co.uk/blog/?p=240)", Confirmable::with_reason},
     Over::job,
     against_ze},
    {{"fault-current-board", "Fault current at the board",
      "Further from the origin the fault current can only be smaller.", "arithmetic",
      Confirmable::with_reason},
     Over::circuit,
     at_board},
    {{"fault-current-size", "Fault current of a believable size",
      "More than 16 kA on a single-phase supply, or 25 kA on a three-phase one, is more than a "
      "distributor "
      "declares.",
      "distributor's maximum (SSEN ForContractors page)", Confirmable::with_reason},
     Over::circuit,
     board_believable},
    {{"fault-current-size-origin", "Fault current of a believable size, at the origin",
      "More than 16 kA on a single-phase supply, or 25 kA on a three-phase one, is more than a "
      "distributor "
      "declares.",
      "distributor's maximum (SSEN ForContractors page)", Confirmable::with_reason},
     Over::job,
     origin_believable},
};

}  // namespace

std::span<const Row> fault_current_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
