#include "support.h"

// disconnection_times.tsv and the scopes of the editions.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

/// A voltage at the upper end of a band such as "120<U0<=230".
Volts top_of(const std::string& band) {
  const auto at = band.rfind("<=");
  return at == std::string::npos ? 500_volt : Volts(dec(band.substr(at + 2)));
}
Volts bottom_of(const std::string& band) {
  const std::string low = band.starts_with("U0>") ? band.substr(3) : band.substr(0, band.find('<'));
  return Volts(dec(low) + dec("0.1"));
}

Limit<Seconds> time_of(Earthing e, CircuitUse use, Amps in, Volts u0, Edition edition) {
  return max_disconnection_time(e, use, in, u0, edition);
}

}  // namespace

TEST_CASE("disconnection: every band of Table 41.1 (disconnection_times.tsv), both ends") {
  int bands = 0;
  for (const TsvRow& row : read_tsv("limits/disconnection_times.tsv")) {
    CAPTURE(row.where());
    const Earthing earthing = row["system"] == "TN" ? Earthing::tn_s : Earthing::tt;
    if (row["circuit"] == "final circuit (see scope)") {
      ++bands;
      for (const Volts& u0 : {top_of(row["U0_band_V_ac"]), bottom_of(row["U0_band_V_ac"])})
        for (Edition edition : kAllEditions) {
          CAPTURE(u0.str());
          const auto limit =
              time_of(earthing, CircuitUse::final_fixed_equipment, 20_amp, u0, edition);
          CHECK(limit.value.str() == row["ac_s"]);
          CHECK(limit.provenance == provenance_of(row["source"]));
          check_evidence(limit);
        }
    } else if (row["circuit"] == "distribution / other circuits") {
      ++bands;
      const auto limit =
          time_of(earthing, CircuitUse::distribution, 100_amp, 230_volt, Edition::y2026);
      CHECK(limit.value.str() == row["ac_s"]);
      CHECK(limit.source.find("the-regs.co.uk/blog/?p=245") != std::string::npos);
    }
  }
  CHECK(bands == 10);
}

TEST_CASE("disconnection: the scope of the 18th edition is 63 A with sockets, 32 A fixed") {
  for (Edition edition : kEighteenth) {
    const auto sockets = CircuitUse::final_with_socket_outlets;
    const auto fixed = CircuitUse::final_fixed_equipment;
    CHECK(time_of(Earthing::tn_c_s, sockets, 63_amp, 230_volt, edition).value == 0.4_sec);
    CHECK(time_of(Earthing::tn_c_s, sockets, 80_amp, 230_volt, edition).value == 5_sec);
    CHECK(time_of(Earthing::tn_c_s, fixed, 32_amp, 230_volt, edition).value == 0.4_sec);
    CHECK(time_of(Earthing::tn_c_s, fixed, 40_amp, 230_volt, edition).value == 5_sec);
    CHECK(time_of(Earthing::tt, fixed, 40_amp, 230_volt, edition).value == 1_sec);
    CHECK(time_of(Earthing::tt, sockets, 32_amp, 230_volt, edition).value == 0.2_sec);
  }
}

TEST_CASE("disconnection: the 17th edition drew the line at 32 A for all (engx 22739)") {
  for (Edition edition : {Edition::y2008, Edition::y2015}) {
    for (CircuitUse use :
         {CircuitUse::final_with_socket_outlets, CircuitUse::final_fixed_equipment}) {
      CHECK(time_of(Earthing::tn_s, use, 32_amp, 230_volt, edition).value == 0.4_sec);
      CHECK(time_of(Earthing::tn_s, use, 40_amp, 230_volt, edition).value == 5_sec);
    }
  }
}

TEST_CASE("disconnection: an unknown rating counts as inside the scope") {
  const auto limit = time_of(Earthing::tn_s, CircuitUse::final_fixed_equipment,
                             Amps(Decimal::void_value()), 230_volt, Edition::y2026);
  CHECK(limit.value == 0.4_sec);
}

TEST_CASE("disconnection: what the table does not give is void, with the reason") {
  struct Case {
    Earthing earthing;
    const char *volts, *words;
  };
  for (const Case& c :
       {Case{Earthing::tn_s, "50", "SELV and PELV"}, Case{Earthing::tt, "12", "SELV"},
        Case{Earthing::tn_s, "0", "between 0 and 1000"},
        Case{Earthing::tn_s, "1001", "between 0 and 1000"},
        Case{Earthing::tn_s, "-230", "between 0 and 1000"},
        Case{Earthing::it, "230", "IT systems"}}) {
    CAPTURE(c.volts);
    const auto limit = time_of(c.earthing, CircuitUse::final_fixed_equipment, 16_amp,
                               Volts(dec(c.volts)), Edition::y2026);
    CHECK(limit.value.is_void());
    CHECK(limit.printed() == "not tabulated");
    CHECK(limit.derivation.find(c.words) != std::string::npos);
    CHECK_FALSE(0.01_sec <= limit.value);
  }
}

TEST_CASE("disconnection: never longer at a higher voltage, and TT never longer than TN") {
  for (Edition edition : kAllEditions) {
    Seconds last_tn = 10_sec, last_tt = 10_sec;
    for (int u = 51; u <= 1000; u += 13) {
      CAPTURE(u);
      const Volts u0(Decimal::integer(u));
      const auto use = CircuitUse::final_with_socket_outlets;
      const auto tn = time_of(Earthing::tn_s, use, 32_amp, u0, edition);
      const auto tt = time_of(Earthing::tt, use, 32_amp, u0, edition);
      CHECK(tn.value <= last_tn);
      CHECK(tt.value <= last_tt);
      CHECK(tt.value < tn.value);
      last_tn = tn.value;
      last_tt = tt.value;
    }
  }
}
