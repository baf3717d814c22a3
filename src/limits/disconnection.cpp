#include <array>

#include "limits/protection.h"
#include "limits/sources.h"
#include "limits/table.h"

namespace ohmleaf::limits {
namespace {

struct TimeRow {
  int above, to;   ///< U0 in V a.c.: above < U0 <= to
  Decimal tn, tt;  ///< s
  std::string_view band;
};
// Table 41.1, alternating current.
constexpr std::array<TimeRow, 4> kTable411{{
    {50, 120, d("0.8"), d("0.3"), "50 V < U0 ≤ 120 V"},
    {120, 230, d("0.4"), d("0.2"), "120 V < U0 ≤ 230 V"},
    {230, 400, d("0.2"), d("0.07"), "230 V < U0 ≤ 400 V"},
    {400, 1000, d("0.1"), d("0.04"), "U0 > 400 V"},
}};

Limit<Seconds> no_time(Edition edition, std::string why) {
  Limit<Seconds> out;
  out.value = Seconds(kNone);
  out.exact = "not tabulated";
  out.derivation = std::move(why);
  out.source = cite::kTable411;
  out.provenance = Provenance::published;
  out.edition = edition;
  return out;
}

/// Up to which rating a final circuit falls under Table 41.1.
int scope_amps(CircuitUse use, Edition edition) {
  const bool eighteenth = edition != Edition::y2008 && edition != Edition::y2015;
  return eighteenth && use == CircuitUse::final_with_socket_outlets ? 63 : 32;
}

Limit<Seconds> by_band(bool tn, CircuitUse use, const Decimal& u0, int scope, Edition edition) {
  Limit<Seconds> out;
  out.edition = edition;
  for (const TimeRow& row : kTable411) {
    if (!(u0 > Decimal::integer(row.above)) || u0 > Decimal::integer(row.to)) continue;
    out.value = Seconds(tn ? row.tn : row.tt);
    out.derivation = std::string(tn ? "TN" : "TT") + ", final circuit up to " +
                     std::to_string(scope) + " A" +
                     (use == CircuitUse::final_with_socket_outlets ? " with socket-outlets"
                                                                   : " with fixed equipment only") +
                     ", " + std::string(row.band) + " a.c.: " + out.value.with_unit();
  }
  out.exact = out.value.str();
  out.source = cite::kTable411;
  if (edition != Edition::y2008 && edition != Edition::y2015) out.source += cite::kScope18th;
  out.provenance = Provenance::published;
  return out;
}

}  // namespace

Limit<Seconds> max_disconnection_time(Earthing earthing, CircuitUse use, Amps rating, Volts u0,
                                      Edition edition) {
  const Decimal& volts = u0.decimal();
  if (!(volts > d("0")) || volts > d("1000"))
    return no_time(edition, "the nominal voltage to earth must lie between 0 and 1000 V a.c.");
  if (volts <= d("50"))
    return no_time(edition,
                   "Table 41.1 begins above 50 V a.c.: SELV and PELV need no "
                   "disconnection time against electric shock");
  if (earthing == Earthing::it)
    return no_time(edition, "IT systems have rules of their own that no table here gives");
  const bool tn = is_tn(earthing);
  const int scope = scope_amps(use, edition);
  // A rating that is not known counts as inside the scope: the shorter time.
  if (use != CircuitUse::distribution && !(rating.decimal() > Decimal::integer(scope)))
    return by_band(tn, use, volts, scope, edition);
  Limit<Seconds> out;
  out.edition = edition;
  out.value = Seconds(tn ? d("5") : d("1"));
  out.exact = out.value.str();
  out.derivation =
      std::string(tn ? "TN" : "TT") + ", " +
      (use == CircuitUse::distribution ? std::string("distribution circuit")
                                       : "final circuit above " + std::to_string(scope) + " A") +
      ": " + out.value.with_unit();
  out.source = tn ? cite::kDistributionTn : cite::kDistributionTt;
  out.provenance = Provenance::published;
  return out;
}

}  // namespace ohmleaf::limits
