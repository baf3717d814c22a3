#include "limits/capacity_tables.h"

#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

constexpr Origin kMemory4d5{Provenance::memory, cite::k4d5Memory};
constexpr Origin kMemory4d2a{Provenance::memory, cite::k4d2aMemory};
constexpr Origin kMemory4d1a{Provenance::memory, cite::k4d1aMemory};
constexpr Origin kMemoryDrop{Provenance::memory, cite::k4d5Memory};
constexpr Origin kMemory4d2b{Provenance::memory, cite::k4d2bMemory};

constexpr Origin published(std::string_view source) {
  return {Provenance::published, source};
}

constexpr std::array kTwinEarth{
    CapacityRow{d("1.0"), "100", d("13"), kMemory4d5},
    CapacityRow{d("1.0"), "101", d("10.5"), kMemory4d5},
    CapacityRow{d("1.0"), "102", d("13"), kMemory4d5},
    CapacityRow{d("1.0"), "103", d("8"), kMemory4d5},
    CapacityRow{d("1.0"), "C", d("16"), kMemory4d5},
    CapacityRow{d("1.0"), "A", d("11.5"), kMemory4d5},
    CapacityRow{d("1.5"), "100", d("16"), kMemory4d5},
    CapacityRow{d("1.5"), "101", d("13"), kMemory4d5},
    CapacityRow{d("1.5"), "102", d("16"), kMemory4d5},
    CapacityRow{d("1.5"), "103", d("10"), kMemory4d5},
    CapacityRow{d("1.5"), "C", d("20"),
                published("BS 7671 Table 4D5 (engx.theiet.org 30677 (20 A))")},
    CapacityRow{d("1.5"), "A", d("14.5"), kMemory4d5},
    CapacityRow{d("2.5"), "100", d("21"), kMemory4d5},
    CapacityRow{d("2.5"), "101", d("17"), kMemory4d5},
    CapacityRow{d("2.5"), "102", d("21"), kMemory4d5},
    CapacityRow{d("2.5"), "103", d("13.5"), kMemory4d5},
    CapacityRow{d("2.5"), "C", d("27"),
                published("BS 7671 Table 4D5 (diynot.com 201157; diybanter.com/7274 (27 A))")},
    CapacityRow{d("2.5"), "A", d("20"), kMemory4d5},
    CapacityRow{d("4"), "100", d("27"), published("BS 7671 Table 4D5 (diynot.com 201157 (27 A))")},
    CapacityRow{d("4"), "101", d("22"), kMemory4d5},
    CapacityRow{d("4"), "102", d("27"), kMemory4d5},
    CapacityRow{d("4"), "103", d("17.5"), kMemory4d5},
    CapacityRow{d("4"), "C", d("37"), kMemory4d5},
    CapacityRow{d("4"), "A", d("26"), kMemory4d5},
    CapacityRow{d("6"), "100", d("34"), kMemory4d5},
    CapacityRow{d("6"), "101", d("27"), kMemory4d5},
    CapacityRow{d("6"), "102", d("35"), kMemory4d5},
    CapacityRow{d("6"), "103", d("23.5"), kMemory4d5},
    CapacityRow{d("6"), "C", d("47"), kMemory4d5},
    CapacityRow{d("6"), "A", d("32"), kMemory4d5},
    CapacityRow{d("10"), "100", d("45"), kMemory4d5},
    CapacityRow{d("10"), "101", d("36"), kMemory4d5},
    CapacityRow{d("10"), "102", d("47"), kMemory4d5},
    CapacityRow{d("10"), "103", d("32"), kMemory4d5},
    CapacityRow{d("10"), "C", d("64"), kMemory4d5},
    CapacityRow{d("10"), "A", d("44"), kMemory4d5},
    CapacityRow{d("16"), "100", d("57"), kMemory4d5},
    CapacityRow{d("16"), "101", d("46"), kMemory4d5},
    CapacityRow{d("16"), "102", d("63"), kMemory4d5},
    CapacityRow{d("16"), "103", d("42.5"), kMemory4d5},
    CapacityRow{d("16"), "C", d("85"), kMemory4d5},
    CapacityRow{d("16"), "A", d("57"), kMemory4d5},
};

constexpr std::array kMulticore{
    CapacityRow{d("1.0"), "A", d("11"), kMemory4d2a},
    CapacityRow{d("1.0"), "B", d("13"), kMemory4d2a},
    CapacityRow{d("1.0"), "C", d("15"), kMemory4d2a},
    CapacityRow{d("1.0"), "E", d("17"), kMemory4d2a},
    CapacityRow{d("1.5"), "A", d("14"), kMemory4d2a},
    CapacityRow{d("1.5"), "B", d("16.5"), kMemory4d2a},
    CapacityRow{d("1.5"), "C", d("19.5"), kMemory4d2a},
    CapacityRow{d("1.5"), "E", d("22"), kMemory4d2a},
    CapacityRow{d("2.5"), "A", d("18.5"), kMemory4d2a},
    CapacityRow{d("2.5"), "B", d("23"), kMemory4d2a},
    CapacityRow{d("2.5"), "C", d("27"), kMemory4d2a},
    CapacityRow{d("2.5"), "E", d("30"), kMemory4d2a},
    CapacityRow{d("4"), "A", d("25"), kMemory4d2a},
    CapacityRow{d("4"), "B", d("30"), kMemory4d2a},
    CapacityRow{d("4"), "C", d("36"), kMemory4d2a},
    CapacityRow{d("4"), "E", d("40"), kMemory4d2a},
    CapacityRow{d("6"), "A", d("32"), kMemory4d2a},
    CapacityRow{d("6"), "B", d("38"), kMemory4d2a},
    CapacityRow{d("6"), "C", d("46"), kMemory4d2a},
    CapacityRow{d("6"), "E", d("51"), kMemory4d2a},
    CapacityRow{d("10"), "A", d("43"), kMemory4d2a},
    CapacityRow{d("10"), "B", d("52"), kMemory4d2a},
    CapacityRow{d("10"), "C", d("63"), kMemory4d2a},
    CapacityRow{d("10"), "E", d("70"), kMemory4d2a},
    CapacityRow{d("16"), "A", d("57"), kMemory4d2a},
    CapacityRow{d("16"), "B", d("69"), kMemory4d2a},
    CapacityRow{d("16"), "C", d("85"), kMemory4d2a},
    CapacityRow{d("16"), "E", d("94"), kMemory4d2a},
};

constexpr std::array kSingles{
    CapacityRow{d("1.0"), "A", d("11"), kMemory4d1a},
    CapacityRow{d("1.0"), "B", d("13.5"), kMemory4d1a},
    CapacityRow{d("1.0"), "C", d("15.5"), kMemory4d1a},
    CapacityRow{d("1.5"), "A", d("14.5"), kMemory4d1a},
    CapacityRow{d("1.5"), "B", d("17.5"), kMemory4d1a},
    CapacityRow{d("1.5"), "C", d("20"), kMemory4d1a},
    CapacityRow{d("2.5"), "A", d("20"), kMemory4d1a},
    CapacityRow{d("2.5"), "B", d("24"), kMemory4d1a},
    CapacityRow{d("2.5"), "C", d("27"), kMemory4d1a},
    CapacityRow{d("4"), "A", d("26"), kMemory4d1a},
    CapacityRow{d("4"), "B", d("32"), kMemory4d1a},
    CapacityRow{d("4"), "C", d("37"), kMemory4d1a},
    CapacityRow{d("6"), "A", d("34"), kMemory4d1a},
    CapacityRow{d("6"), "B", d("41"), kMemory4d1a},
    CapacityRow{d("6"), "C", d("47"), kMemory4d1a},
    CapacityRow{d("10"), "A", d("46"), kMemory4d1a},
    CapacityRow{d("10"), "B", d("57"), kMemory4d1a},
    CapacityRow{d("10"), "C", d("65"), kMemory4d1a},
    CapacityRow{d("16"), "A", d("61"), kMemory4d1a},
    CapacityRow{d("16"), "B", d("76"), kMemory4d1a},
    CapacityRow{d("16"), "C", d("87"), kMemory4d1a},
};

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
    DropRow{d("1.0"), d("44"), true, kMemoryDrop},
    DropRow{d("1.5"), d("29"), true, kMemoryDrop},
    DropRow{d("2.5"), d("18"), true,
            published("trade voltage-drop example (18 mV/A/m); unnamed lesson")},
    DropRow{d("4"), d("11"), true, kMemoryDrop},
    DropRow{d("6"), d("7.3"), true, kMemoryDrop},
    DropRow{d("10"), d("4.4"), true,
            published("Linsley, Basic Electrical Installation Work, "
                      "zdroje.elektrika.cz/book/basic-electrical-installation-work p313")},
    DropRow{d("16"), d("2.8"), true, kMemoryDrop},
    DropRow{d("25"), d("1.75"), false, kMemory4d2b},
    DropRow{d("35"), d("1.25"), false, kMemory4d2b},
    DropRow{d("50"), d("0.93"), false, kMemory4d2b},
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
