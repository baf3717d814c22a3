#include "limits/conductor.h"
#include "limits/sources.h"
#include "limits/table.h"

// A ring of length L is measured end to end (r1, rn, r2) and then cross-connected. Line of one end
// joined to neutral of the other makes two halves of r1 + rn in parallel at every point: the
// reading is (r1 + rn) ÷ 4 all round. Line with the protective conductor gives (r1 + r2) ÷ 4 at
// the middle; towards the origin it falls where r2 > r1.

namespace ohmleaf::limits {
namespace {

Derived<Ohms> quarter(const char* words, Ohms a, Ohms b) {
  const Decimal sum = a.decimal() + b.decimal();
  // A quarter always ends within two more places: exact, not rounded.
  Decimal value = sum * d("0.25");
  if (a.decimal().is_negative() || b.decimal().is_negative()) value = kNone;
  Derived<Ohms> out;
  const int places = value.is_void() ? 0 : value.scale();
  const Decimal to_hundredths = value.rounded(2, Round::down);
  out.value = Ohms(places > 2 && to_hundredths == value ? to_hundredths : value);
  out.exact = value.short_str();
  out.derivation =
      std::string(words) + " = (" + a.str() + " + " + b.str() + ") Ω ÷ 4 = " + out.exact + " Ω";
  out.source = cite::kRingFormula;
  return out;
}

}  // namespace

Ring ring(Ohms r1, Ohms rn, Ohms r2, std::optional<SquareMm> line, std::optional<SquareMm> cpc) {
  Ring out{quarter("(r1 + rn) ÷ 4", r1, rn), quarter("(r1 + r2) ÷ 4", r1, r2), std::nullopt};
  if (!line || !cpc) return out;
  const auto line_r = resistance_per_metre(*line), cpc_r = resistance_per_metre(*cpc);
  if (!line_r || !cpc_r || r1.decimal().is_negative()) return out;
  const Decimal top = r1.decimal() * cpc_r->value.decimal(), below = line_r->value.decimal();
  Derived<Ohms> r2_expected;
  r2_expected.value = Ohms(Decimal::divide(top, below, 3, Round::half_up));
  if (r2_expected.value.is_void()) return out;
  r2_expected.exact = exact4(top, below);
  r2_expected.derivation = "r1 × R(cpc) ÷ R(line) = " + r1.str() + " Ω × " + cpc_r->value.str() +
                           " ÷ " + line_r->value.str() + " = " + r2_expected.exact + " Ω (ratio " +
                           Decimal::divide(cpc_r->value.decimal(), below, 3, Round::half_up).str() +
                           " from the resistances, not from the areas)";
  r2_expected.source = cite::kIec60228;
  out.expected_r2 = std::move(r2_expected);
  return out;
}

Limit<Ohms> ring_line_neutral_tolerance(Edition edition) {
  Limit<Ohms> out;
  out.value = Ohms(d("0.05"));
  out.exact = "0.05";
  out.derivation = "r1 and rn have the same size and length: they agree within 0.05 Ω (guidance)";
  out.source = cite::kRingTolerance;
  out.provenance = Provenance::common_practice;
  out.edition = edition;
  return out;
}

}  // namespace ohmleaf::limits
