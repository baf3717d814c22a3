#include <array>

#include "limits/conductor.h"
#include "limits/installation.h"
#include "limits/sources.h"
#include "limits/table.h"

namespace ohmleaf::limits {
namespace {

constexpr Decimal kZero = d("0");

/// The first size that is made and is not smaller; the value itself beyond the largest.
SquareMm next_size(const Decimal& least) {
  for (const SquareMm& size : known_sizes())
    if (size.decimal() >= least) return size;
  return SquareMm(least);
}

struct NeutralRow {
  Decimal above, to;  ///< mm² of the supply neutral
  Decimal bonding;    ///< mm² copper
};
// Table 54.8 (protective multiple earthing). The last row has no upper end.
constexpr std::array<NeutralRow, 5> kPme{{{d("0"), d("35"), d("10")},
                                          {d("35"), d("50"), d("16")},
                                          {d("50"), d("95"), d("25")},
                                          {d("95"), d("150"), d("35")},
                                          {d("150"), kNone, d("50")}}};

Limit<SquareMm> at_least(SquareMm value, std::string exact, std::string derivation,
                         std::string_view source, Provenance provenance, Edition edition) {
  Limit<SquareMm> out;
  out.sense = Sense::at_least;
  out.value = value;
  out.exact = std::move(exact);
  out.derivation = std::move(derivation);
  out.source = source;
  out.provenance = provenance;
  out.edition = edition;
  return out;
}

std::optional<Limit<SquareMm>> by_neutral(const std::optional<SquareMm>& neutral, Edition edition) {
  if (!neutral || !(neutral->decimal() > kZero)) return std::nullopt;
  for (const NeutralRow& row : kPme) {
    const bool within = row.to.is_void() || neutral->decimal() <= row.to;
    if (!(neutral->decimal() > row.above) || !within) continue;
    const std::string range = row.to.is_void() ? "above " + row.above.str() + " mm²"
                              : row.above == kZero
                                  ? "up to " + row.to.str() + " mm²"
                                  : "above " + row.above.str() + " up to " + row.to.str() + " mm²";
    return at_least(SquareMm(row.bonding), row.bonding.str(),
                    "protective multiple earthing, supply neutral " + range + " (" +
                        neutral->with_unit() + "): " + row.bonding.str() + " mm² copper",
                    cite::kTable548, Provenance::published, edition);
  }
  return std::nullopt;
}

std::optional<Limit<SquareMm>> by_earthing(const std::optional<SquareMm>& earthing,
                                           Edition edition) {
  if (!earthing || !(earthing->decimal() > kZero)) return std::nullopt;
  const Decimal half = earthing->decimal() * d("0.5");
  if (half.is_void()) return std::nullopt;
  std::string words = "half the earthing conductor: " + earthing->with_unit() +
                      " ÷ 2 = " + half.short_str() + " mm²";
  Decimal least = half;
  if (half < d("6")) {
    least = d("6");
    words += "; at least 6 mm²";
  } else if (half > d("25")) {
    least = d("25");
    words += "; need not exceed 25 mm²";
  }
  const SquareMm made = next_size(least);
  if (made.decimal() != least) words += "; the next size made is " + made.with_unit();
  return at_least(made, half.short_str(), std::move(words), cite::kBonding, Provenance::published,
                  edition);
}

}  // namespace

std::optional<Limit<SquareMm>> min_main_bonding(Earthing earthing,
                                                std::optional<SquareMm> supply_neutral,
                                                std::optional<SquareMm> earthing_conductor,
                                                Edition edition) {
  if (earthing == Earthing::tn_c_s || earthing == Earthing::tn_c)
    return by_neutral(supply_neutral, edition);
  return by_earthing(earthing_conductor, edition);
}

Limit<SquareMm> min_protective_conductor(SquareMm line, Edition edition) {
  const Decimal& s = line.decimal();
  if (!(s > kZero))
    return at_least(SquareMm(kNone), "not tabulated", "the line conductor must be more than 0 mm²",
                    cite::kTable547, Provenance::published, edition);
  if (s <= d("16"))
    return at_least(line, s.str(),
                    "line conductor up to 16 mm²: the same size, " + line.with_unit(),
                    cite::kTable547, Provenance::published, edition);
  if (s <= d("35"))
    return at_least(SquareMm(d("16")), "16", "line conductor above 16 up to 35 mm²: 16 mm²",
                    cite::kTable547, Provenance::published, edition);
  const Decimal half = s * d("0.5");
  const SquareMm made = next_size(half);
  std::string words = "line conductor above 35 mm²: half of it, " + line.with_unit() +
                      " ÷ 2 = " + half.short_str() + " mm²";
  if (made.decimal() != half) words += "; the next size made is " + made.with_unit();
  return at_least(made, half.short_str(), std::move(words), cite::kTable547, Provenance::published,
                  edition);
}

std::optional<Derived<Ohms>> bonding_resistance(SquareMm size, Metres length) {
  auto out = expected_r1r2(size, std::nullopt, length, Celsius(d("20")));
  if (out) out->source = std::string(cite::kBondingLength) + "; " + std::string(cite::kIec60228);
  return out;
}

}  // namespace ohmleaf::limits
