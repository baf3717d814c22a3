#include "limits/disconnection.h"

#include <array>

#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

// Table 41.1.
constexpr std::array<DisconnectionRow, 4> kTable411{{
    {50, 120, d("0.8"), d("0.3"), kNone, kNone, "50 V < U0 ≤ 120 V"},
    {120, 230, d("0.4"), d("0.2"), d("5"), d("0.4"), "120 V < U0 ≤ 230 V"},
    {230, 400, d("0.2"), d("0.07"), d("0.4"), d("0.2"), "230 V < U0 ≤ 400 V"},
    {400, 1000, d("0.1"), d("0.04"), d("0.1"), d("0.1"), "U0 > 400 V"},
}};

const DisconnectionRow* row_for(const Decimal& u0) {
  for (const DisconnectionRow& row : kTable411)
    if (u0 > Decimal::integer(row.above) && u0 <= Decimal::integer(row.to)) return &row;
  return nullptr;
}

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
  const DisconnectionRow* row = row_for(u0);
  if (!row) return no_time(edition, "no band of the table holds this voltage");
  Limit<Seconds> out;
  out.edition = edition;
  out.value = Seconds(tn ? row->tn_ac : row->tt_ac);
  out.derivation = std::string(tn ? "TN" : "TT") + ", final circuit up to " +
                   std::to_string(scope) + " A" +
                   (use == CircuitUse::final_with_socket_outlets ? " with socket-outlets"
                                                                 : " with fixed equipment only") +
                   ", " + std::string(row->band) + " a.c.: " + out.value.with_unit();
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

std::span<const DisconnectionRow> disconnection_rows() {
  return kTable411;
}

Limit<Seconds> max_disconnection_time_dc(Earthing earthing, Volts u0, Edition edition) {
  const DisconnectionRow* row = row_for(u0.decimal());
  if (!row || earthing == Earthing::it)
    return no_time(edition, "Table 41.1 gives times for TN and TT above 50 up to 1000 V");
  const bool tn = is_tn(earthing);
  const Decimal& time = tn ? row->tn_dc : row->tt_dc;
  if (time.is_void())
    return no_time(edition, std::string(row->band) +
                                " d.c.: no time against shock; disconnection may be needed for "
                                "other reasons");
  Limit<Seconds> out;
  out.value = Seconds(time);
  out.exact = time.str();
  out.derivation = std::string(tn ? "TN" : "TT") + ", final circuit, " + std::string(row->band) +
                   " d.c.: " + out.value.with_unit();
  out.source = cite::kTable411;
  out.provenance = Provenance::published;
  out.edition = edition;
  return out;
}

Limit<Seconds> max_disconnection_time_tt_bonded(CircuitUse use, Amps rating, Volts u0,
                                                Edition edition) {
  Limit<Seconds> out = max_disconnection_time(Earthing::tn_s, use, rating, u0, edition);
  out.derivation =
      "TT, overcurrent device disconnects and all extraneous-conductive-parts are "
      "bonded, so the times of TN: " +
      out.derivation;
  return out;
}

Limit<Seconds> reduced_low_voltage_time(Edition edition) {
  Limit<Seconds> out;
  out.value = Seconds(d("5"));
  out.exact = "5";
  out.derivation = "reduced low voltage (55 V or 63.5 V to earth): 5 s";
  out.source = "BS 7671 411.8 (rule and number from memory)";
  out.provenance = Provenance::memory;
  out.edition = edition;
  return out;
}

Limit<Volts> extra_low_voltage_limit(bool direct_current, Edition edition) {
  Limit<Volts> out;
  out.value = Volts(direct_current ? d("120") : d("50"));
  out.exact = out.value.str();
  out.derivation = "SELV and PELV: at most " + out.value.with_unit() +
                   (direct_current ? " d.c." : " a.c.") +
                   "; no disconnection time is asked for against electric shock";
  out.source =
      "safety extra-low voltage, IEC 61558-1 (IEC glossary, std.iec.ch; TLC-direct guide 7.16.2)";
  out.provenance = Provenance::published;
  out.edition = edition;
  return out;
}

}  // namespace ohmleaf::limits
