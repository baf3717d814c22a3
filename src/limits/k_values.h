#pragma once
#include <optional>
#include <span>

#include "limits/fact.h"
#include "limits/table.h"

// k of the adiabatic equation, by conductor and insulation.

namespace ohmleaf::limits {

enum class KPlace {
  live,            ///< live conductors, table 43.1
  apart,           ///< protective conductor not in a cable and not bunched, table 54.2
  in_cable,        ///< protective conductor in a cable or bunched, table 54.3
  sheath,          ///< sheath or armour of a cable, table 54.4
  conduit,         ///< conduit, ducting, trunking, table 54.5
  bare_visible,    ///< bare conductor, visible and in restricted areas, table 54.6
  bare_normal,     ///< bare conductor, normal conditions
  bare_fire_risk,  ///< bare conductor, fire risk
};
enum class KMetal { copper, aluminium, steel, lead };
enum class KInsulation {
  thermoplastic_70,
  thermoplastic_90,
  thermosetting_60,
  thermosetting_90,
  mineral_covered,  ///< mineral insulated, thermoplastic covered
  mineral_bare,
  none,  ///< bare conductors
};

struct KRow {
  KPlace place;
  KMetal metal;
  KInsulation insulation;
  Decimal k;
  Decimal k_over_300;      ///< above 300 mm²; kNone where the table gives none
  Decimal initial, final;  ///< °C, from memory; kNone where not given
  Origin origin;
};
std::span<const KRow> k_rows();

/// "54.3", the table of the wiring rules that a place belongs to.
std::string_view k_table(KPlace place);
std::string_view name(KPlace place);
std::string_view name(KMetal metal);
std::string_view name(KInsulation insulation);
std::optional<KPlace> k_place_from_name(std::string_view text);
std::optional<KMetal> k_metal_from_name(std::string_view text);
std::optional<KInsulation> k_insulation_from_name(std::string_view text);

/// k in A·√s/mm². Nothing where no row exists; `what_exists` then names those of the place.
std::optional<Factor> k_value(KPlace place, KMetal metal, KInsulation insulation, SquareMm size,
                              std::string* what_exists = nullptr);

}  // namespace ohmleaf::limits
