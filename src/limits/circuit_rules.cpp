#include "limits/circuit_rules.h"

#include <array>

namespace ohmleaf::limits {
namespace {

constexpr Origin kRing{Provenance::published,
                       "BS 7671 433.1.5 / 433.1.204 (engx.theiet.org 30677; diynot.com wiki)"};
constexpr Origin kScaddan{Provenance::published,
                          "Scaddan, Electrical Installation Work (fliphtml5 p289)"};
constexpr Origin kBeiw{Provenance::published, "BEIW p313"};
constexpr Origin kSummary{Provenance::published,
                          "standard circuits A2 and A3 (IEE wiring regulations, basic summary, "
                          "scribd.com/document/431807920)"};

constexpr std::array kRadials{
    RadialAreaRow{20, d("2.5"), 20, kScaddan},
    RadialAreaRow{20, d("2.5"), 50, kSummary},
    RadialAreaRow{32, d("4"), 50, kScaddan},
    RadialAreaRow{32, d("4"), 75, kSummary},
};

template <class Q>
Limit<Q> rule(Sense sense, Q value, std::string derivation, const Origin& origin, Edition edition) {
  Limit<Q> out;
  out.sense = sense;
  out.value = value;
  out.exact = value.str();
  out.derivation = std::move(derivation);
  out.source = origin.source;
  out.provenance = origin.provenance;
  out.edition = edition;
  return out;
}

Factor area(int m2, std::string derivation, std::string source) {
  return {Decimal::integer(m2), "m²", std::to_string(m2), std::move(derivation), std::move(source),
          Provenance::published};
}

}  // namespace

std::span<const RadialAreaRow> radial_area_rows() {
  return kRadials;
}

Limit<Amps> ring_max_rating(Edition edition) {
  return rule(Sense::at_most, Amps(d("32")),
              "a ring final circuit is protected by a device of 30 or 32 A", kRing, edition);
}

Limit<SquareMm> ring_min_size(bool mineral_insulated, Edition edition) {
  return mineral_insulated
             ? rule(
                   Sense::at_least, SquareMm(d("1.5")),
                   "line and neutral of a ring in mineral insulated cable: at least 1.5 mm² copper",
                   kRing, edition)
             : rule(Sense::at_least, SquareMm(d("2.5")),
                    "line and neutral of a ring: at least 2.5 mm² copper", kRing, edition);
}

Limit<Amps> ring_min_capacity(Edition edition) {
  return rule(
      Sense::at_least, Amps(d("20")),
      "the cable of a ring carries at least 20 A, and no part of it is likely to carry more "
      "for long periods",
      kRing, edition);
}

Limit<Amps> fused_spur_max_rating(Edition edition) {
  return rule(Sense::at_most, Amps(d("13")), "the fuse of a fused spur: at most 13 A (guidance)",
              kScaddan, edition);
}

std::vector<std::string> spur_faults(const Spur& spur) {
  std::vector<std::string> out;
  if (spur.outlets < 1) out.emplace_back("a spur feeds at least one accessory");
  if (!spur.fused) {
    if (spur.outlets > 1)
      out.push_back("an unfused spur feeds one single or one twin accessory, not " +
                    std::to_string(spur.outlets));
    if (spur.size && !(*spur.size >= SquareMm(d("2.5"))))
      out.push_back("an unfused spur is wired in at least 2.5 mm², not " + spur.size->with_unit());
    return out;
  }
  if (spur.fuse && !(*spur.fuse > Amps(d("0")) && *spur.fuse <= Amps(d("13"))))
    out.push_back("the fuse of a connection unit is at most 13 A, not " + spur.fuse->with_unit());
  return out;
}

std::optional<Factor> radial_floor_area(Amps rating, SquareMm size, std::string* what_exists) {
  // The first class of rating that holds it; there the smallest area of those listed.
  const RadialAreaRow* smallest = nullptr;
  std::string others;
  for (const RadialAreaRow& row : kRadials) {
    if (!(rating > Amps(d("0"))) || rating > Amps(Decimal::integer(row.rating))) continue;
    if (smallest && smallest->rating != row.rating) break;
    if (!(size >= SquareMm(row.size))) break;
    if (smallest && row.square_metres > smallest->square_metres) {
      others = "; another list, " + std::string(row.origin.source) + ", has " +
               std::to_string(row.square_metres) + " m²: the smaller stands";
      continue;
    }
    smallest = &row;
  }
  if (smallest)
    return area(smallest->square_metres,
                "radial circuit up to " + std::to_string(smallest->rating) + " A in " +
                    smallest->size.str() + " mm²: " + std::to_string(smallest->square_metres) +
                    " m² (guidance)" + others,
                std::string(smallest->origin.source));
  if (what_exists)
    *what_exists = "radial circuits are listed for 20 A in 2.5 mm² and for 30 or 32 A in 4 mm²";
  return std::nullopt;
}

Factor ring_floor_area() {
  return area(100, "ring final circuit in a dwelling: 100 m² (guidance)",
              std::string(kBeiw.source));
}

}  // namespace ohmleaf::limits
