#include "limits/capacity_tables.h"

#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

constexpr Origin published(std::string_view source) {
  return {Provenance::published, source};
}

constexpr Origin kFlat = published(cite::k4d5);
constexpr Origin kEngx = published("BS 7671 Table 4D5 (engx.theiet.org 30677 (20 A))");
constexpr Origin kForums =
    published("BS 7671 Table 4D5 (diynot.com 201157; diybanter.com/7274 (27 A))");
constexpr Origin kForum4 = published("BS 7671 Table 4D5 (diynot.com 201157 (27 A))");
constexpr Origin kMany = published(cite::k4d2a);
constexpr Origin kSingle = published(cite::k4d1a);
constexpr Origin kMemory4d2b{Provenance::memory, cite::k4d2bMemory};

// Two loaded conductors only: flat twin-and-earth has no more.
constexpr std::array kTwinEarth{
    CapacityRow{d("1.0"), "100", d("13"), kNone, kFlat},
    CapacityRow{d("1.0"), "101", d("10.5"), kNone, kFlat},
    CapacityRow{d("1.0"), "102", d("13"), kNone, kFlat},
    CapacityRow{d("1.0"), "103", d("8"), kNone, kFlat},
    CapacityRow{d("1.0"), "C", d("16"), kNone, kFlat},
    CapacityRow{d("1.0"), "A", d("11.5"), kNone, kFlat},
    CapacityRow{d("1.5"), "100", d("16"), kNone, kFlat},
    CapacityRow{d("1.5"), "101", d("13"), kNone, kFlat},
    CapacityRow{d("1.5"), "102", d("16"), kNone, kFlat},
    CapacityRow{d("1.5"), "103", d("10"), kNone, kFlat},
    CapacityRow{d("1.5"), "C", d("20"), kNone, kEngx},
    CapacityRow{d("1.5"), "A", d("14.5"), kNone, kFlat},
    CapacityRow{d("2.5"), "100", d("21"), kNone, kFlat},
    CapacityRow{d("2.5"), "101", d("17"), kNone, kFlat},
    CapacityRow{d("2.5"), "102", d("21"), kNone, kFlat},
    CapacityRow{d("2.5"), "103", d("13.5"), kNone, kFlat},
    CapacityRow{d("2.5"), "C", d("27"), kNone, kForums},
    CapacityRow{d("2.5"), "A", d("20"), kNone, kFlat},
    CapacityRow{d("4"), "100", d("27"), kNone, kForum4},
    CapacityRow{d("4"), "101", d("22"), kNone, kFlat},
    CapacityRow{d("4"), "102", d("27"), kNone, kFlat},
    CapacityRow{d("4"), "103", d("17.5"), kNone, kFlat},
    CapacityRow{d("4"), "C", d("37"), kNone, kFlat},
    CapacityRow{d("4"), "A", d("26"), kNone, kFlat},
    CapacityRow{d("6"), "100", d("34"), kNone, kFlat},
    CapacityRow{d("6"), "101", d("27"), kNone, kFlat},
    CapacityRow{d("6"), "102", d("35"), kNone, kFlat},
    CapacityRow{d("6"), "103", d("23.5"), kNone, kFlat},
    CapacityRow{d("6"), "C", d("47"), kNone, kFlat},
    CapacityRow{d("6"), "A", d("32"), kNone, kFlat},
    CapacityRow{d("10"), "100", d("45"), kNone, kFlat},
    CapacityRow{d("10"), "101", d("36"), kNone, kFlat},
    CapacityRow{d("10"), "102", d("47"), kNone, kFlat},
    CapacityRow{d("10"), "103", d("32"), kNone, kFlat},
    CapacityRow{d("10"), "C", d("64"), kNone, kFlat},
    CapacityRow{d("10"), "A", d("44"), kNone, kFlat},
    CapacityRow{d("16"), "100", d("57"), kNone, kFlat},
    CapacityRow{d("16"), "101", d("46"), kNone, kFlat},
    CapacityRow{d("16"), "102", d("63"), kNone, kFlat},
    CapacityRow{d("16"), "103", d("42.5"), kNone, kFlat},
    CapacityRow{d("16"), "C", d("85"), kNone, kFlat},
    CapacityRow{d("16"), "A", d("57"), kNone, kFlat},
};

constexpr std::array kMulticore{
    CapacityRow{d("1.0"), "A", d("11"), d("10"), kMany},
    CapacityRow{d("1.0"), "B", d("13"), d("11.5"), kMany},
    CapacityRow{d("1.0"), "C", d("15"), d("13.5"), kMany},
    CapacityRow{d("1.0"), "E", d("17"), d("14.5"), kMany},
    CapacityRow{d("1.5"), "A", d("14"), d("13"), kMany},
    CapacityRow{d("1.5"), "B", d("16.5"), d("15"), kMany},
    CapacityRow{d("1.5"), "C", d("19.5"), d("17.5"), kMany},
    CapacityRow{d("1.5"), "E", d("22"), d("18.5"), kMany},
    CapacityRow{d("2.5"), "A", d("18.5"), d("17.5"), kMany},
    CapacityRow{d("2.5"), "B", d("23"), d("20"), kMany},
    CapacityRow{d("2.5"), "C", d("27"), d("24"), kMany},
    CapacityRow{d("2.5"), "E", d("30"), d("25"), kMany},
    CapacityRow{d("4"), "A", d("25"), d("23"), kMany},
    CapacityRow{d("4"), "B", d("30"), d("27"), kMany},
    CapacityRow{d("4"), "C", d("36"), d("32"), kMany},
    CapacityRow{d("4"), "E", d("40"), d("34"), kMany},
    CapacityRow{d("6"), "A", d("32"), d("29"), kMany},
    CapacityRow{d("6"), "B", d("38"), d("34"), kMany},
    CapacityRow{d("6"), "C", d("46"), d("41"), kMany},
    CapacityRow{d("6"), "E", d("51"), d("43"), kMany},
    CapacityRow{d("10"), "A", d("43"), d("39"), kMany},
    CapacityRow{d("10"), "B", d("52"), d("46"), kMany},
    CapacityRow{d("10"), "C", d("63"), d("57"), kMany},
    CapacityRow{d("10"), "E", d("70"), d("60"), kMany},
    CapacityRow{d("16"), "A", d("57"), d("52"), kMany},
    CapacityRow{d("16"), "B", d("69"), d("62"), kMany},
    CapacityRow{d("16"), "C", d("85"), d("76"), kMany},
    CapacityRow{d("16"), "E", d("94"), d("80"), kMany},
};

// 16 mm² by method A, three-phase: 56 A in two transcripts, 59 A in a third; the smaller stands.
constexpr std::array kSingles{
    CapacityRow{d("1.0"), "A", d("11"), d("10.5"), kSingle},
    CapacityRow{d("1.0"), "B", d("13.5"), d("12"), kSingle},
    CapacityRow{d("1.0"), "C", d("15.5"), d("14"), kSingle},
    CapacityRow{d("1.5"), "A", d("14.5"), d("13.5"), kSingle},
    CapacityRow{d("1.5"), "B", d("17.5"), d("15.5"), kSingle},
    CapacityRow{d("1.5"), "C", d("20"), d("18"), kSingle},
    CapacityRow{d("2.5"), "A", d("20"), d("18"), kSingle},
    CapacityRow{d("2.5"), "B", d("24"), d("21"), kSingle},
    CapacityRow{d("2.5"), "C", d("27"), d("25"), kSingle},
    CapacityRow{d("4"), "A", d("26"), d("24"), kSingle},
    CapacityRow{d("4"), "B", d("32"), d("28"), kSingle},
    CapacityRow{d("4"), "C", d("37"), d("33"), kSingle},
    CapacityRow{d("6"), "A", d("34"), d("31"), kSingle},
    CapacityRow{d("6"), "B", d("41"), d("36"), kSingle},
    CapacityRow{d("6"), "C", d("47"), d("43"), kSingle},
    CapacityRow{d("10"), "A", d("46"), d("42"), kSingle},
    CapacityRow{d("10"), "B", d("57"), d("50"), kSingle},
    CapacityRow{d("10"), "C", d("65"), d("59"), kSingle},
    CapacityRow{d("16"), "A", d("61"), d("56"), kSingle},
    CapacityRow{d("16"), "B", d("76"), d("68"), kSingle},
    CapacityRow{d("16"), "C", d("87"), d("79"), kSingle},
};

// Printed only as far as a cable may be used: PVC to 60 °C.
constexpr std::array kAmbient{
    AmbientRow{25, d("1.03"), d("1.02")}, AmbientRow{30, d("1.00"), d("1.00")},
    AmbientRow{35, d("0.94"), d("0.96")}, AmbientRow{40, d("0.87"), d("0.91")},
    AmbientRow{45, d("0.79"), d("0.87")}, AmbientRow{50, d("0.71"), d("0.82")},
    AmbientRow{55, d("0.61"), d("0.76")}, AmbientRow{60, d("0.50"), d("0.71")},
    AmbientRow{65, kNone, d("0.65")},     AmbientRow{70, kNone, d("0.58")},
    AmbientRow{75, kNone, d("0.50")},     AmbientRow{80, kNone, d("0.41")},
};

constexpr std::array kThermal{
    ThermalInsulationRow{50, d("0.88")},  ThermalInsulationRow{100, d("0.78")},
    ThermalInsulationRow{200, d("0.63")}, ThermalInsulationRow{400, d("0.51")},
    ThermalInsulationRow{500, d("0.50")},
};

constexpr std::array kDrops{
    DropRow{d("1.0"), d("44"), d("38"), true, kFlat},
    DropRow{d("1.5"), d("29"), d("25"), true, kFlat},
    DropRow{d("2.5"), d("18"), d("15"), true,
            published("trade voltage-drop example (18 mV/A/m); unnamed lesson")},
    DropRow{d("4"), d("11"), d("9.5"), true, kFlat},
    DropRow{d("6"), d("7.3"), d("6.4"), true, kFlat},
    DropRow{d("10"), d("4.4"), d("3.8"), true,
            published("Linsley, Basic Electrical Installation Work, "
                      "zdroje.elektrika.cz/book/basic-electrical-installation-work p313")},
    DropRow{d("16"), d("2.8"), d("2.4"), true, kFlat},
    DropRow{d("25"), d("1.75"), kNone, false, kMemory4d2b},
    DropRow{d("35"), d("1.25"), kNone, false, kMemory4d2b},
    DropRow{d("50"), d("0.93"), kNone, false, kMemory4d2b},
};

}  // namespace

std::span<const CapacityRow> twin_earth_capacity_rows() {
  return kTwinEarth;
}
std::span<const CapacityRow> multicore_capacity_rows() {
  return kMulticore;
}
std::span<const CapacityRow> singles_capacity_rows() {
  return kSingles;
}
std::span<const AmbientRow> ambient_rows() {
  return kAmbient;
}
std::span<const ThermalInsulationRow> thermal_insulation_rows() {
  return kThermal;
}
std::span<const DropRow> drop_rows() {
  return kDrops;
}

}  // namespace ohmleaf::limits
