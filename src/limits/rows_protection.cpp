#include "limits/disconnection.h"
#include "limits/rcd_type.h"
#include "limits/rows_tables.h"
#include "limits/zs_tables.h"

namespace ohmleaf::limits::rows {
namespace {

constexpr const char* kTimes[] = {"0.4", "5"};

Seconds seconds(const char* text) {
  return Seconds(Decimal::parse(text).value_or(kNone));
}

std::vector<Row> breakers(const char* table, Curve curve, const char* letter, Edition edition) {
  std::vector<Row> out;
  for (const BreakerRow& row : breaker_rows())
    for (const char* time : kTimes) {
      Device device;
      device.curve = curve;
      device.rating = Amps(Decimal::integer(row.rating));
      if (const auto limit = max_zs(device, seconds(time), edition))
        out.push_back(
            from_limit(table, letter + std::to_string(row.rating) + " at " + time + " s", *limit));
    }
  return out;
}

std::vector<Row> fuses(const char* table, DeviceStandard standard, Edition edition) {
  std::vector<Row> out;
  for (const FuseRow& row : fuse_rows(standard)) {
    Device device;
    device.standard = standard;
    device.rating = Amps(Decimal::integer(row.rating));
    if (const auto limit = max_zs(device, Seconds(row.time), edition))
      out.push_back(
          from_limit(table, std::to_string(row.rating) + " A at " + row.time.str() + " s", *limit));
  }
  return out;
}

void both_currents(std::vector<Row>& out, const DisconnectionRow& band, Earthing earthing,
                   Edition edition) {
  const Volts u0(Decimal::integer(band.to));
  const std::string item =
      std::string(is_tn(earthing) ? "TN" : "TT") + ", final circuit, " + std::string(band.band);
  out.push_back(from_limit("disconnection", item + " a.c.",
                           max_disconnection_time(earthing, CircuitUse::final_fixed_equipment,
                                                  Amps(d("16")), u0, edition)));
  const auto dc = max_disconnection_time_dc(earthing, u0, edition);
  out.push_back(
      from_limit("disconnection", item + " d.c.", dc,
                 dc.value.is_void() ? "none against shock; other reasons may ask for it" : ""));
}

}  // namespace

std::vector<Row> zs_b(Edition e) {
  return breakers("zs-b", Curve::b, "B", e);
}
std::vector<Row> zs_c(Edition e) {
  return breakers("zs-c", Curve::c, "C", e);
}
std::vector<Row> zs_d(Edition e) {
  return breakers("zs-d", Curve::d, "D", e);
}
std::vector<Row> zs_bs88_2(Edition e) {
  return fuses("zs-bs88-2", DeviceStandard::bs88_2, e);
}
std::vector<Row> zs_bs88_3(Edition e) {
  return fuses("zs-bs88-3", DeviceStandard::bs88_3, e);
}
std::vector<Row> zs_bs1361(Edition e) {
  return fuses("zs-bs1361", DeviceStandard::bs1361, e);
}
std::vector<Row> zs_bs3036(Edition e) {
  return fuses("zs-bs3036", DeviceStandard::bs3036, e);
}
std::vector<Row> zs_bs1362(Edition e) {
  return fuses("zs-bs1362", DeviceStandard::bs1362, e);
}

std::vector<Row> disconnection(Edition edition) {
  std::vector<Row> out;
  for (Earthing earthing : {Earthing::tn_s, Earthing::tt})
    for (const DisconnectionRow& band : disconnection_rows())
      both_currents(out, band, earthing, edition);
  for (Earthing earthing : {Earthing::tn_s, Earthing::tt})
    out.push_back(from_limit(
        "disconnection",
        std::string(is_tn(earthing) ? "TN" : "TT") + ", distribution and larger final circuits",
        max_disconnection_time(earthing, CircuitUse::distribution, Amps(d("100")), Volts(d("230")),
                               edition)));
  const bool eighteenth = edition != Edition::y2008 && edition != Edition::y2015;
  out.push_back(from_text(
      "disconnection", "scope of the final-circuit rows",
      eighteenth ? "final circuits up to 63 A with socket-outlets, up to 32 A with fixed equipment "
                   "only"
                 : "final circuits up to 32 A",
      {Provenance::published, eighteenth ? "engx.theiet.org/f/wiring-and-regulations/22739"
                                         : "ericmark.talktalk.net/41-1.html"}));
  out.push_back(from_text("disconnection", "TT behind an overcurrent device",
                          "the times of TN where all extraneous-conductive-parts are bonded",
                          {Provenance::published, "ericmark.talktalk.net/41-1.html"}));
  out.push_back(
      from_limit("disconnection", "reduced low voltage", reduced_low_voltage_time(edition)));
  out.push_back(from_limit("disconnection", "SELV and PELV, a.c.",
                           extra_low_voltage_limit(false, edition), "no time against shock"));
  out.push_back(from_limit("disconnection", "SELV and PELV, d.c.",
                           extra_low_voltage_limit(true, edition), "no time against shock"));
  return out;
}

std::vector<Row> rcd_zs(Edition edition) {
  std::vector<Row> out;
  for (int idn : {10, 30, 100, 300, 500, 1000})
    out.push_back(from_limit("rcd-zs", std::to_string(idn) + " mA",
                             max_zs_rcd(Milliamps(Decimal::integer(idn)), edition),
                             idn == 1000 ? "not tabulated in BS 7671" : ""));
  out.push_back(from_limit("rcd-zs", "earth electrode, stability",
                           electrode_stability_guide(edition), "guidance"));
  return out;
}

std::vector<Row> rcd_times(Edition edition) {
  std::vector<Row> out;
  for (const RcdTimeRow& row : rcd_time_rows()) {
    const std::string item = std::string(row.standard) + ", " + std::string(row.device) + ", " +
                             row.multiple.short_str() + " × IΔn";
    Row made = from_limit("rcd-times", item,
                          rcd_time_limit(row.standard, row.device, row.multiple, edition),
                          std::string(row.note));
    // Two sources, one multiple: the row shows its own figures, the function answers the first.
    if (!row.least_ms.is_void() && !row.most_ms.is_void())
      made.value = row.least_ms.str() + " to " + row.most_ms.str();
    made.source = row.origin.source;
    out.push_back(std::move(made));
  }
  out.push_back(from_text("rcd-times", "BS 4293 time-delayed, 1 × IΔn",
                          "0.5 × delay + 200 ms to delay + 200 ms",
                          {Provenance::published, "trade article on RCD testing, about 2008"}));
  out.push_back(from_text("rcd-times", "ramp test",
                          "30 to 110 % of IΔn, steps of 300 ms (500 ms for S)",
                          {Provenance::published, "Megger MFT1700 manual p25"}));
  return out;
}

std::vector<Row> rcd_types(Edition edition) {
  std::vector<Row> out;
  for (LoadKind load : {LoadKind::fixed_without_dc, LoadKind::electronic,
                        LoadKind::frequency_controlled, LoadKind::smooth_dc}) {
    const RcdSuitability least = least_rcd_type(load);
    out.push_back({"rcd-types",
                   std::string(name(load)),
                   "type " + std::string(name(least.least)),
                   {},
                   least.reason,
                   least.source,
                   least.provenance});
  }
  const auto band = [&](RcdType type, ResidualCurrent current, const char* words, const char* idn) {
    if (const auto limit = rcd_trip_current(
            type, current, Milliamps(Decimal::parse(idn).value_or(kNone)), edition))
      out.push_back(from_limit("rcd-types", words, *limit, "of IΔn"));
  };
  band(RcdType::ac, ResidualCurrent::alternating, "operating current, alternating", "30");
  band(RcdType::a, ResidualCurrent::pulsating_dc, "operating current, type A, pulsating d.c.",
       "30");
  band(RcdType::a, ResidualCurrent::pulsating_dc,
       "operating current, type A up to 10 mA, pulsating d.c.", "10");
  band(RcdType::b, ResidualCurrent::smooth_dc, "operating current, type B, smooth d.c.", "30");
  return out;
}

}  // namespace ohmleaf::limits::rows
