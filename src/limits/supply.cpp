#include "limits/supply.h"

#include "limits/installation.h"
#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

constexpr Origin kSsen{Provenance::published, "SSEN ForContractors page"};
constexpr Origin kMemory{Provenance::memory, cite::kMemory};
constexpr Origin kVoltage{Provenance::published, "legislation.gov.uk/uksi/1994/3021"};
constexpr Origin kGrid{Provenance::published, "connections.nationalgrid.co.uk (one notice)"};
constexpr Origin kUnit{Provenance::published,
                       "536.4.201, Appendix 14 statement (diynot.com 611429)"};
constexpr Origin kThreePhase{Provenance::published, "the-regs.co.uk/blog/?p=240"};

template <class Q>
Limit<Q> limit(Q value, std::string derivation, const Origin& origin, Edition edition) {
  Limit<Q> out;
  out.value = value;
  out.exact = value.str();
  out.derivation = std::move(derivation);
  out.source = origin.source;
  out.provenance = origin.provenance;
  out.edition = edition;
  return out;
}

}  // namespace

std::optional<Limit<Ohms>> declared_max_ze(Earthing earthing, Edition edition) {
  if (earthing != Earthing::tn_s && earthing != Earthing::tn_c_s) return std::nullopt;
  const Ohms ze(earthing == Earthing::tn_s ? d("0.8") : d("0.35"));
  return limit(ze,
               std::string(name(earthing)) + ": the distributor's usual declared maximum of Ze, " +
                   ze.with_unit(),
               {Provenance::published, cite::kSupplyZe}, edition);
}

Limit<Volts> supply_voltage(Edition edition) {
  Limit<Volts> out = limit(Volts((d("230") * d("0.94")).rounded(1, Round::half_up)),
                           "230 V × 0.94 = 216.2 V to 230 V × 1.10 = 253 V", kVoltage, edition);
  out.sense = Sense::between;
  out.upper = Volts((d("230") * d("1.10")).rounded(0, Round::half_up));
  out.exact += " to " + out.upper->str();
  return out;
}

Limit<Ohms> tt_distributor_electrode(Edition edition) {
  return limit(Ohms(d("21")),
               "TT: about 21 Ω at the distributor's transformer, to which the local electrode adds",
               kMemory, edition);
}

Limit<Kiloamps> declared_max_fault_current(bool three_phase, Edition edition) {
  return limit(Kiloamps(three_phase ? d("25") : d("16")),
               three_phase ? "three-phase supply: the distributor's declared maximum, 25 kA"
                           : "single-phase supply: the distributor's declared maximum, 16 kA",
               kSsen, edition);
}

Limit<Ohms> cut_out_100a_max_zs(Edition edition) {
  return limit(Ohms(d("0.38")), "100 A cut-out on TN-C-S: 0.38 Ω by one distributor's notice",
               kGrid, edition);
}

Limit<Kiloamps> consumer_unit_conditional_rating(Edition edition) {
  return limit(
      Kiloamps(d("16")),
      "a domestic consumer unit to BS EN 61439-3 is rated 16 kA behind the supply fuse that "
      "its maker names",
      kUnit, edition);
}

Derived<Kiloamps> three_phase_fault_current(Kiloamps single_phase) {
  Derived<Kiloamps> out;
  out.source = kThreePhase.source;
  // √(3 I²) keeps every digit until the one rounding.
  const Decimal square = single_phase.decimal() * single_phase.decimal() * d("3");
  const bool usable = single_phase > Kiloamps(d("0"));
  out.value = Kiloamps(usable ? Decimal::sqrt(square, 2, Round::up) : kNone);
  out.exact = usable ? Decimal::sqrt(square, 4, Round::down).str() : "not tabulated";
  out.derivation = single_phase.with_unit() + " × √3 = " + out.exact + " kA; rounded up to " +
                   out.value.with_unit();
  if (!usable) out.derivation = "the fault current must be more than 0";
  return out;
}

Derived<Kiloamps> three_phase_rule_of_thumb(Kiloamps single_phase) {
  Derived<Kiloamps> out;
  out.source = kThreePhase.source;
  const bool usable = single_phase > Kiloamps(d("0"));
  out.value = Kiloamps(usable ? single_phase.decimal() * d("2") : kNone);
  out.exact = usable ? out.value.str() : "not tabulated";
  out.derivation =
      usable ? single_phase.with_unit() + " × 2 = " + out.value.with_unit() + " (rule of thumb)"
             : "the fault current must be more than 0";
  return out;
}

Derived<Ohms> impedance_from(Volts volts, Amps amps) {
  Derived<Ohms> out;
  const bool usable = volts > Volts(d("0")) && amps > Amps(d("0"));
  out.value =
      Ohms(usable ? Decimal::divide(volts.decimal(), amps.decimal(), 3, Round::down) : kNone);
  out.exact = usable ? exact4(volts.decimal(), amps.decimal()) : "not tabulated";
  out.derivation = usable ? volts.with_unit() + " ÷ " + amps.with_unit() + " = " + out.exact + " Ω"
                          : "voltage and current must be more than 0";
  out.source = "Ohm's law";
  return out;
}

Limit<Ohms> supplementary_bonding_max(Amps operating, bool special_location, Edition edition) {
  const Decimal volts = special_location ? d("25") : d("50");
  const bool usable = operating > Amps(d("0"));
  const Decimal value =
      usable ? Decimal::divide(volts, operating.decimal(), 2, Round::down) : kNone;
  const std::string exact = usable ? exact4(volts, operating.decimal()) : "not tabulated";
  Limit<Ohms> out = limit(Ohms(value),
                          usable ? volts.str() + " V ÷ " + operating.with_unit() + " = " + exact +
                                       " Ω; rounded down to " + Ohms(value).with_unit()
                                 : "the operating current must be more than 0",
                          {Provenance::computed,
                           "R ≤ 50 V ÷ Ia, 25 V in special locations (iaeimagazine.org, Scaddan "
                           "2016)"},
                          edition);
  out.exact = exact;
  return out;
}

Limit<SquareMm> supplementary_bonding_min(bool mechanically_protected, Edition edition) {
  Limit<SquareMm> out =
      limit(SquareMm(mechanically_protected ? d("2.5") : d("4")),
            mechanically_protected ? "supplementary bonding, mechanically protected: 2.5 mm²"
                                   : "supplementary bonding, not mechanically protected: 4 mm²",
            {Provenance::published, cite::kBonding}, edition);
  out.sense = Sense::at_least;
  return out;
}

Limit<SquareMm> electrode_conductor_min(Edition edition) {
  Limit<SquareMm> out =
      limit(SquareMm(d("2.5")),
            "conductor to an earth electrode, copper, protected against corrosion and mechanical "
            "damage: 2.5 mm²; buried without such protection much more",
            {Provenance::memory, "BS 7671 542.3.1, Table 54.1 (from memory)"}, edition);
  out.sense = Sense::at_least;
  return out;
}

Limit<Ohms> bonding_guide(Edition edition) {
  return limit(Ohms(d("0.05")),
               "0.05 Ω is guidance, not a limit: compare with length × resistance per metre; up to "
               "0.1 Ω is acceptable where expected",
               {Provenance::published, "engx.theiet.org 29227 (on guidance note 3, 9th edition)"},
               edition);
}

}  // namespace ohmleaf::limits
