#include "limits/zs_tables.h"

#include <array>

#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

// 17th edition: Locke 2008, Appendix 3. Printed figures, not arithmetic: C 63 A stands as 0.36
// and D 100 A as 0.11, where rounding 230 V ÷ Ia would give 0.37 and 0.12. 3 A is made as B only.
constexpr std::array kBreakers{
    BreakerRow{3, d("15.33"), kNone, kNone},
    BreakerRow{6, d("7.67"), d("3.83"), d("1.92")},
    BreakerRow{10, d("4.60"), d("2.30"), d("1.15")},
    BreakerRow{16, d("2.87"), d("1.44"), d("0.72")},
    BreakerRow{20, d("2.30"), d("1.15"), d("0.57")},
    BreakerRow{25, d("1.84"), d("0.92"), d("0.46")},
    BreakerRow{32, d("1.44"), d("0.72"), d("0.36")},
    BreakerRow{40, d("1.15"), d("0.57"), d("0.29")},
    BreakerRow{50, d("0.92"), d("0.46"), d("0.23")},
    BreakerRow{63, d("0.73"), d("0.36"), d("0.18")},
    BreakerRow{80, d("0.57"), d("0.29"), d("0.14")},
    BreakerRow{100, d("0.46"), d("0.23"), d("0.11")},
    BreakerRow{125, d("0.37"), d("0.18"), d("0.09")},
};

constexpr Origin kPrinted18th{Provenance::published, cite::kFuse18th};
constexpr Origin kNot18th{Provenance::computed, {}};

// BS 88-2 gG (in 2008 BS 88-2.2 and BS 88-6). 100 A at 5 s from the third amendment on: 0.42 as
// printed, 0.44 by the 2011 figure × 0.95; the smaller stands.
constexpr std::array kBs882{
    FuseRow{2, d("0.4"), kNone, kNone, d("33.1"), kPrinted18th},
    FuseRow{2, d("5"), kNone, kNone, d("44.0"), kPrinted18th},
    FuseRow{4, d("0.4"), kNone, kNone, d("15.6"), kPrinted18th},
    FuseRow{4, d("5"), kNone, kNone, d("21.0"), kPrinted18th},
    FuseRow{6, d("0.4"), d("8.52"), d("6.568"), d("7.80"), kPrinted18th},
    FuseRow{6, d("5"), d("13.5"), d("10.24"), d("12.0"), kPrinted18th},
    FuseRow{10, d("0.4"), d("5.11"), d("3.912"), d("4.65"), kPrinted18th},
    FuseRow{10, d("5"), d("7.42"), d("5.752"), d("6.80"), kPrinted18th},
    FuseRow{16, d("0.4"), d("2.70"), d("2.048"), d("2.43"), kPrinted18th},
    FuseRow{16, d("5"), d("4.18"), d("3.344"), d("4.00"), kPrinted18th},
    FuseRow{20, d("0.4"), d("1.77"), d("1.416"), d("1.68"), kPrinted18th},
    FuseRow{20, d("5"), d("2.91"), d("2.36"), d("2.80"), kPrinted18th},
    FuseRow{25, d("0.4"), d("1.44"), d("1.08"), d("1.29"), kPrinted18th},
    FuseRow{25, d("5"), d("2.3"), d("1.84"), d("2.20"), kPrinted18th},
    FuseRow{32, d("0.4"), d("1.04"), d("0.832"), d("0.99"), kPrinted18th},
    FuseRow{32, d("5"), d("1.84"), d("1.472"), d("1.70"), kPrinted18th},
    FuseRow{40, d("0.4"), kNone, kNone, d("0.75"), kPrinted18th},
    FuseRow{40, d("5"), d("1.35"), d("1.08"), d("1.30"), kPrinted18th},
    FuseRow{50, d("0.4"), kNone, kNone, d("0.57"), kPrinted18th},
    FuseRow{50, d("5"), d("1.04"), d("0.832"), d("0.99"), kPrinted18th},
    FuseRow{63, d("0.4"), kNone, kNone, d("0.44"), kPrinted18th},
    FuseRow{63, d("5"), d("0.82"), d("0.656"), d("0.78"), kPrinted18th},
    FuseRow{80, d("5"), d("0.57"), d("0.456"), d("0.55"), kPrinted18th},
    FuseRow{100, d("5"), d("0.42"), d("0.368"), d("0.42"), kPrinted18th},
    FuseRow{125, d("5"), d("0.33"), d("0.272"), d("0.32"), kPrinted18th},
    FuseRow{160, d("5"), d("0.25"), d("0.224"), d("0.27"), kPrinted18th},
    FuseRow{200, d("5"), d("0.19"), d("0.152"), d("0.18"), kPrinted18th},
};

// BS 88-3 system C: no figures before the first amendment (2011).
constexpr std::array kBs883{
    FuseRow{5, d("0.4"), kNone, d("8.36"), d("9.93"), kPrinted18th},
    FuseRow{5, d("5"), kNone, d("12.264"), d("14.6"), kPrinted18th},
    FuseRow{16, d("0.4"), kNone, d("1.936"), d("2.30"), kPrinted18th},
    FuseRow{16, d("5"), kNone, d("3.288"), d("3.90"), kPrinted18th},
    FuseRow{20, d("0.4"), kNone, d("1.632"), d("1.93"), kPrinted18th},
    FuseRow{20, d("5"), kNone, d("2.704"), d("3.20"), kPrinted18th},
    FuseRow{32, d("0.4"), kNone, d("0.768"), d("0.91"), kPrinted18th},
    FuseRow{32, d("5"), kNone, d("1.312"), d("1.60"), kPrinted18th},
    FuseRow{45, d("0.4"), kNone, kNone, d("0.57"), kPrinted18th},
    FuseRow{45, d("5"), kNone, d("0.832"), d("1.00"), kPrinted18th},
    FuseRow{63, d("0.4"), kNone, kNone, d("0.36"), kPrinted18th},
    FuseRow{63, d("5"), kNone, d("0.576"), d("0.68"), kPrinted18th},
    FuseRow{80, d("5"), kNone, d("0.424"), d("0.51"), kPrinted18th},
    FuseRow{100, d("5"), kNone, d("0.32"), d("0.38"),
            Origin{Provenance::published, cite::kBs883C100}},
};

// BS 3036 semi-enclosed (rewirable).
constexpr std::array kBs3036{
    FuseRow{5, d("0.4"), d("9.58"), d("7.664"), d("9.10"), kPrinted18th},
    FuseRow{5, d("5"), d("17.7"), d("14.16"), d("16.8"), kPrinted18th},
    FuseRow{15, d("0.4"), d("2.55"), d("2.04"), d("2.43"), kPrinted18th},
    FuseRow{15, d("5"), d("5.35"), d("4.28"), d("5.08"), kPrinted18th},
    FuseRow{20, d("0.4"), d("1.77"), d("1.416"), d("1.68"), kPrinted18th},
    FuseRow{20, d("5"), d("3.83"), d("3.064"), d("3.64"), kPrinted18th},
    FuseRow{30, d("0.4"), d("1.09"), d("0.872"), d("1.04"), kPrinted18th},
    FuseRow{30, d("5"), d("2.64"), d("2.112"), d("2.51"), kPrinted18th},
    FuseRow{45, d("0.4"), kNone, kNone, d("0.56"), kPrinted18th},
    FuseRow{45, d("5"), d("1.59"), d("1.272"), d("1.51"), kPrinted18th},
    FuseRow{60, d("0.4"), kNone, kNone, d("0.40"), kPrinted18th},
    FuseRow{60, d("5"), d("1.12"), d("0.896"), d("1.07"), kPrinted18th},
    FuseRow{100, d("5"), d("0.53"), d("0.424"), d("0.51"), kPrinted18th},
};

// BS 1362, in plugs and connection units.
constexpr std::array kBs1362{
    FuseRow{3, d("0.4"), d("16.4"), d("13.12"), d("15.6"), kPrinted18th},
    FuseRow{3, d("5"), d("23.2"), d("18.56"), d("22.0"), kPrinted18th},
    FuseRow{13, d("0.4"), d("2.42"), d("1.936"), d("2.30"), kPrinted18th},
    FuseRow{13, d("5"), d("3.83"), d("3.064"), d("3.64"), kPrinted18th},
};

// BS 1361, withdrawn 1 March 2010 and not tabulated after the 2008 edition.
constexpr std::array kBs1361{
    FuseRow{5, d("0.4"), d("10.45"), kNone, kNone, kNot18th},
    FuseRow{5, d("5"), d("16.4"), kNone, kNone, kNot18th},
    FuseRow{15, d("0.4"), d("3.28"), kNone, kNone, kNot18th},
    FuseRow{15, d("5"), d("5.0"), kNone, kNone, kNot18th},
    FuseRow{20, d("0.4"), d("1.7"), kNone, kNone, kNot18th},
    FuseRow{20, d("5"), d("2.8"), kNone, kNone, kNot18th},
    FuseRow{30, d("0.4"), d("1.15"), kNone, kNone, kNot18th},
    FuseRow{30, d("5"), d("1.84"), kNone, kNone, kNot18th},
    FuseRow{45, d("5"), d("0.96"), kNone, kNone, kNot18th},
    FuseRow{60, d("5"), d("0.7"), kNone, kNone, kNot18th},
    FuseRow{80, d("5"), d("0.5"), kNone, kNone, kNot18th},
    FuseRow{100, d("5"), d("0.36"), kNone, kNone, kNot18th},
};

}  // namespace

std::span<const BreakerRow> breaker_rows() {
  return kBreakers;
}

const BreakerRow* breaker_row(const Decimal& rating) {
  for (const BreakerRow& row : kBreakers)
    if (Decimal::integer(row.rating) == rating) return &row;
  return nullptr;
}

Decimal printed_17th(const BreakerRow& row, Curve curve) {
  switch (curve) {
    case Curve::b:
      return row.b;
    case Curve::c:
      return row.c;
    case Curve::d:
      return row.d;
    case Curve::none:
      break;
  }
  return kNone;
}

std::span<const FuseRow> fuse_rows(DeviceStandard standard) {
  switch (standard) {
    case DeviceStandard::bs88_2:
      return kBs882;
    case DeviceStandard::bs88_3:
      return kBs883;
    case DeviceStandard::bs1361:
      return kBs1361;
    case DeviceStandard::bs3036:
      return kBs3036;
    case DeviceStandard::bs1362:
      return kBs1362;
    default:
      return {};
  }
}

}  // namespace ohmleaf::limits
