#include "cli/limits_answer.h"
#include "limits/conductor.h"
#include "limits/installation.h"
#include "limits/protection.h"
#include "limits/supply.h"
#include "limits/table.h"

// `limits fault`, `bonding`, `supply`.

namespace ohmleaf::cli {

using namespace limits;

namespace {

const std::vector<Earthing> kSystems{Earthing::tn_s, Earthing::tn_c_s, Earthing::tn_c,
                                     Earthing::tt};

void add_main_bonding(const LimitQuestion& q, LimitAnswer& a) {
  const auto system =
      q.choice<Earthing>("system", "earthing system", earthing_from_name, kSystems, std::nullopt);
  const auto neutral = q.maybe_number("neutral", false, 2000);
  const auto earthing = q.maybe_number("earthing", false, 2000);
  if (!q.ok() || !system) return;
  const auto as_size = [](const std::optional<Decimal>& v) {
    return v ? std::optional<SquareMm>(SquareMm(*v)) : std::nullopt;
  };
  const auto limit = min_main_bonding(*system, as_size(neutral), as_size(earthing), q.edition());
  if (limit) return a.add("main bonding conductor on " + std::string(name(*system)), *limit);
  const bool pme = *system == Earthing::tn_c_s || *system == Earthing::tn_c;
  q.wrong(
      "missing-option",
      pme ? "main bonding on TN-C-S follows from the supply neutral, which is not given"
          : "main bonding follows from the earthing conductor, which is not given",
      pme ? "Add its size, for example --neutral 25." : "Add its size, for example --earthing 16.");
}

void add_resistance(const LimitQuestion& q, LimitAnswer& a) {
  const auto size = q.number("size"), length = q.number("length", std::nullopt, false, 100000);
  if (!size || !length) return;
  const auto expected = bonding_resistance(SquareMm(*size), Metres(*length));
  if (expected) {
    a.add("bonding conductor " + size->short_str() + " mm², " + length->str() + " m", *expected);
    return a.add("sometimes quoted for main bonding", bonding_guide(q.edition()));
  }
  std::vector<std::string> sizes;
  for (const SquareMm& s : known_sizes()) sizes.push_back(s.decimal().short_str());
  q.wrong("unknown-size", "there is no conductor of " + size->str() + " mm²",
          "Sizes that exist: " + list_words(sizes) + " mm².");
}

}  // namespace

void answer_fault(const LimitQuestion& q, LimitAnswer& a) {
  const auto impedance = q.number("impedance", std::nullopt, false, 1000000);
  const auto volts = q.number("volts", d("230"), false, 1000);
  const auto breaking = q.maybe_number("breaking", false, 1000);
  if (!q.ok() || !impedance || !volts) return;
  const Derived<Amps> current = fault_current(Ohms(*impedance), Volts(*volts));
  if (current.value.is_void())
    return q.wrong("too-large", "the figures are larger than can be worked out exactly",
                   "Give the impedance in ohms, for example --impedance 0.28.");
  a.add("prospective fault current", current);
  const Kiloamps kiloamps(current.value.decimal() * d("0.001"));
  if (q.flag("three-phase")) {
    a.add("three phases, line to line", three_phase_fault_current(kiloamps));
    a.add("three phases, rule of thumb", three_phase_rule_of_thumb(kiloamps));
  }
  a.add("declared by a distributor at the origin",
        declared_max_fault_current(q.flag("three-phase"), q.edition()));
  if (!breaking) return;
  const auto limit = max_fault_current(Kiloamps(*breaking), q.edition());
  a.add("breaking capacity of the device", limit);
  const Kiloamps worst =
      q.flag("three-phase") ? three_phase_fault_current(kiloamps).value : kiloamps;
  a.notes.emplace_back(worst <= limit.value
                           ? "The breaking capacity covers it."
                           : "The breaking capacity does not cover it, unless a conditional rating "
                             "of the board with its supply fuse does (limits supply).");
}

void answer_bonding(const LimitQuestion& q, LimitAnswer& a) {
  const bool resistance = q.has("size") || q.has("length");
  const bool main = q.has("system") || q.has("neutral") || q.has("earthing");
  const auto line = q.maybe_number("line", false, 2000), ia = q.maybe_number("ia", false, 100000);
  if (!q.ok()) return;
  if (!resistance && !main && !line && !ia && !q.flag("supplementary"))
    return q.wrong(
        "missing-option", "the question is not complete",
        "Ask one of: --size 10 --length 27 (resistance), --system TN-C-S --neutral 25 or "
        "--system TT --earthing 16 (main bonding), --line 2.5 (protective conductor), "
        "--supplementary, --ia 145 (supplementary bonding).");
  if (resistance) add_resistance(q, a);
  if (main) add_main_bonding(q, a);
  if (line)
    a.add("protective conductor for a line of " + line->str() + " mm²",
          min_protective_conductor(SquareMm(*line), q.edition()));
  if (q.flag("supplementary") || ia) {
    a.add("supplementary bonding, protected", supplementary_bonding_min(true, q.edition()));
    a.add("supplementary bonding, not protected", supplementary_bonding_min(false, q.edition()));
  }
  if (ia) {
    a.add("supplementary bonding, resistance",
          supplementary_bonding_max(Amps(*ia), false, q.edition()));
    a.add("the same in a special location",
          supplementary_bonding_max(Amps(*ia), true, q.edition()));
  }
}

void answer_supply(const LimitQuestion& q, LimitAnswer& a) {
  std::vector<Earthing> systems{Earthing::tn_s, Earthing::tn_c_s, Earthing::tt};
  if (q.has("system")) {
    const auto one =
        q.choice<Earthing>("system", "earthing system", earthing_from_name, kSystems, std::nullopt);
    if (!one) return;
    systems = {*one};
  }
  for (Earthing system : systems) {
    const std::string words = "Ze declared on " + std::string(name(system));
    if (const auto ze = declared_max_ze(system, q.edition()))
      a.add(words, *ze);
    else if (system == Earthing::tt)
      a.add("distributor's earth on TT, plus the local electrode (no limit of Ze)",
            tt_distributor_electrode(q.edition()));
    else
      a.notes.push_back(words + ": none is published, ask the distributor.");
  }
  a.add("voltage", supply_voltage(q.edition()));
  a.add("fault current declared, single-phase", declared_max_fault_current(false, q.edition()));
  a.add("fault current declared, three-phase", declared_max_fault_current(true, q.edition()));
  a.add("consumer unit, conditional rating", consumer_unit_conditional_rating(q.edition()));
}

}  // namespace ohmleaf::cli
