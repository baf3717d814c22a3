#include "limits/conductor_tables.h"

#include <array>

namespace ohmleaf::limits {
namespace {

// Maxima in Ω/km at 20 °C. From 185 mm² the figures are those of class 2 (class 1 has 0.101 and
// 0.0775 for 185 and 240 mm²).
constexpr std::array kPlain{
    ResistanceRow{d("0.5"), d("36")},     ResistanceRow{d("0.75"), d("24.5")},
    ResistanceRow{d("1.0"), d("18.1")},   ResistanceRow{d("1.5"), d("12.1")},
    ResistanceRow{d("2.5"), d("7.41")},   ResistanceRow{d("4"), d("4.61")},
    ResistanceRow{d("6"), d("3.08")},     ResistanceRow{d("10"), d("1.83")},
    ResistanceRow{d("16"), d("1.15")},    ResistanceRow{d("25"), d("0.727")},
    ResistanceRow{d("35"), d("0.524")},   ResistanceRow{d("50"), d("0.387")},
    ResistanceRow{d("70"), d("0.268")},   ResistanceRow{d("95"), d("0.193")},
    ResistanceRow{d("120"), d("0.153")},  ResistanceRow{d("150"), d("0.124")},
    ResistanceRow{d("185"), d("0.0991")}, ResistanceRow{d("240"), d("0.0754")},
    ResistanceRow{d("300"), d("0.0601")},
};
constexpr std::array kTinned{
    ResistanceRow{d("1.0"), d("18.2")}, ResistanceRow{d("1.5"), d("12.2")},
    ResistanceRow{d("2.5"), d("7.56")}, ResistanceRow{d("4"), d("4.7")},
    ResistanceRow{d("6"), d("3.11")},   ResistanceRow{d("10"), d("1.84")},
    ResistanceRow{d("16"), d("1.16")},  ResistanceRow{d("25"), d("0.734")},
    ResistanceRow{d("35"), d("0.529")}, ResistanceRow{d("50"), d("0.391")},
};
constexpr std::array kFlexible{
    ResistanceRow{d("1.0"), d("19.5")}, ResistanceRow{d("1.5"), d("13.3")},
    ResistanceRow{d("2.5"), d("7.98")}, ResistanceRow{d("4"), d("4.95")},
    ResistanceRow{d("6"), d("3.3")},    ResistanceRow{d("10"), d("1.91")},
    ResistanceRow{d("16"), d("1.21")},  ResistanceRow{d("25"), d("0.78")},
    ResistanceRow{d("35"), d("0.554")}, ResistanceRow{d("50"), d("0.386")},
};
constexpr std::array kFlexibleTinned{
    ResistanceRow{d("1.0"), d("20")},   ResistanceRow{d("1.5"), d("13.7")},
    ResistanceRow{d("2.5"), d("8.21")}, ResistanceRow{d("4"), d("5.09")},
    ResistanceRow{d("6"), d("3.39")},   ResistanceRow{d("10"), d("1.95")},
    ResistanceRow{d("16"), d("1.24")},  ResistanceRow{d("25"), d("0.795")},
    ResistanceRow{d("35"), d("0.565")}, ResistanceRow{d("50"), d("0.393")},
};

}  // namespace

std::span<const ResistanceRow> resistance_rows(ConductorClass conductor) {
  switch (conductor) {
    case ConductorClass::solid_or_stranded:
      return kPlain;
    case ConductorClass::stranded_tinned:
      return kTinned;
    case ConductorClass::flexible:
      return kFlexible;
    case ConductorClass::flexible_tinned:
      return kFlexibleTinned;
  }
  return {};
}

}  // namespace ohmleaf::limits
