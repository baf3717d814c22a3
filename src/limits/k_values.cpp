#include "limits/k_values.h"

#include <array>

#include "base/text.h"
#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

using enum KPlace;
using enum KMetal;
using enum KInsulation;

constexpr Origin kGuide{Provenance::published,
                        "trade pocket guide to k values PG14 p25 (2018); its temperatures from "
                        "memory"};
constexpr Origin kTranscript{Provenance::published,
                             "transcript of BS 7671 Tables 54.2 to 54.7 (electrical blog, public "
                             "repository)"};
// The transcript has the two of bare aluminium the other way round; the formula decides.
constexpr Origin kFormula{Provenance::computed,
                          "k = 148 √ln(1 + (θf − θi) ÷ (228 + θi)), IEC 60364-5-54 "
                          "(mycableengineering.com, calculation of k factor)"};

constexpr KRow row(KPlace place, KMetal metal, KInsulation insulation, int k, int over, int initial,
                   int final, Origin origin = kGuide) {
  const auto some = [](int n) { return n > 0 ? Decimal::integer(n) : kNone; };
  return {place, metal, insulation, some(k), some(over), some(initial), some(final), origin};
}

constexpr std::array kRows{
    row(live, copper, thermoplastic_70, 115, 103, 70, 160),
    row(live, copper, thermoplastic_90, 100, 86, 90, 160),
    row(live, copper, thermosetting_60, 141, 0, 60, 200),
    row(live, copper, thermosetting_90, 143, 0, 90, 250),
    row(live, copper, mineral_covered, 115, 0, 70, 160),
    row(live, copper, mineral_bare, 135, 0, 105, 250),
    row(apart, copper, thermoplastic_70, 143, 133, 30, 160),
    row(apart, copper, thermoplastic_90, 143, 133, 30, 160),
    row(apart, copper, thermosetting_90, 176, 0, 30, 250),
    row(apart, aluminium, thermoplastic_70, 95, 88, 30, 160),
    row(apart, aluminium, thermoplastic_90, 95, 88, 30, 160),
    row(apart, aluminium, thermosetting_90, 116, 0, 30, 250),
    row(apart, steel, thermoplastic_70, 52, 0, 30, 160),
    row(apart, steel, thermoplastic_90, 52, 0, 30, 160),
    row(apart, steel, thermosetting_90, 64, 0, 30, 250),
    row(in_cable, copper, thermoplastic_70, 115, 103, 70, 160),
    row(in_cable, copper, thermoplastic_90, 100, 86, 90, 160),
    row(in_cable, copper, thermosetting_90, 143, 0, 90, 250),
    row(in_cable, aluminium, thermoplastic_70, 76, 0, 70, 160, kTranscript),
    row(in_cable, aluminium, thermoplastic_90, 66, 0, 90, 160, kTranscript),
    row(in_cable, aluminium, thermosetting_90, 94, 0, 90, 250, kTranscript),
    row(sheath, aluminium, thermoplastic_70, 93, 0, 0, 0),
    row(sheath, aluminium, thermoplastic_90, 85, 0, 0, 0),
    row(sheath, aluminium, thermosetting_90, 85, 0, 0, 0),
    row(sheath, steel, thermoplastic_70, 51, 0, 0, 0),
    row(sheath, steel, thermoplastic_90, 46, 0, 0, 0),
    row(sheath, steel, thermosetting_90, 46, 0, 0, 0),
    row(sheath, lead, thermoplastic_70, 26, 0, 0, 0),
    row(sheath, lead, thermoplastic_90, 23, 0, 0, 0),
    row(sheath, lead, thermosetting_90, 23, 0, 0, 0),
    row(conduit, steel, thermoplastic_70, 47, 0, 0, 0),
    row(conduit, steel, thermoplastic_90, 44, 0, 0, 0),
    row(conduit, steel, thermosetting_90, 58, 0, 0, 0),
    row(bare_visible, copper, KInsulation::none, 228, 0, 30, 500, kTranscript),
    row(bare_normal, copper, KInsulation::none, 159, 0, 30, 200, kTranscript),
    row(bare_fire_risk, copper, KInsulation::none, 138, 0, 30, 150, kTranscript),
    row(bare_visible, aluminium, KInsulation::none, 125, 0, 30, 300, kTranscript),
    row(bare_normal, aluminium, KInsulation::none, 105, 0, 30, 200, kFormula),
    row(bare_fire_risk, aluminium, KInsulation::none, 91, 0, 30, 150, kFormula),
    row(bare_visible, steel, KInsulation::none, 82, 0, 30, 500, kTranscript),
    row(bare_normal, steel, KInsulation::none, 58, 0, 30, 200, kTranscript),
    row(bare_fire_risk, steel, KInsulation::none, 50, 0, 30, 150, kTranscript),
};

constexpr std::array kPlaces{live,    apart,        in_cable,    sheath,
                             conduit, bare_visible, bare_normal, bare_fire_risk};
constexpr std::array kMetals{copper, aluminium, steel, lead};
constexpr std::array kInsulations{thermoplastic_70, thermoplastic_90, thermosetting_60,
                                  thermosetting_90, mineral_covered,  mineral_bare,
                                  KInsulation::none};

template <class E, std::size_t N>
std::optional<E> from_name(const std::array<E, N>& all, std::string_view text) {
  for (E e : all)
    if (ascii_lower(name(e)) == ascii_lower(trim(text))) return e;
  return std::nullopt;
}

}  // namespace

std::span<const KRow> k_rows() {
  return kRows;
}

std::string_view k_table(KPlace place) {
  switch (place) {
    case live:
      return "43.1";
    case apart:
      return "54.2";
    case in_cable:
      return "54.3";
    case sheath:
      return "54.4";
    case conduit:
      return "54.5";
    default:
      return "54.6";
  }
}

std::string_view name(KPlace place) {
  switch (place) {
    case live:
      return "live";
    case apart:
      return "apart";
    case in_cable:
      return "in-cable";
    case sheath:
      return "sheath";
    case conduit:
      return "conduit";
    case bare_visible:
      return "bare-visible";
    case bare_normal:
      return "bare-normal";
    case bare_fire_risk:
      return "bare-fire-risk";
  }
  return "?";
}

std::string_view name(KMetal metal) {
  switch (metal) {
    case copper:
      return "copper";
    case aluminium:
      return "aluminium";
    case steel:
      return "steel";
    case lead:
      return "lead";
  }
  return "?";
}

std::string_view name(KInsulation insulation) {
  switch (insulation) {
    case thermoplastic_70:
      return "thermoplastic-70";
    case thermoplastic_90:
      return "thermoplastic-90";
    case thermosetting_60:
      return "thermosetting-60";
    case thermosetting_90:
      return "thermosetting-90";
    case mineral_covered:
      return "mineral-covered";
    case mineral_bare:
      return "mineral-bare";
    case KInsulation::none:
      return "none";
  }
  return "?";
}

std::optional<KPlace> k_place_from_name(std::string_view text) {
  return from_name(kPlaces, text);
}
std::optional<KMetal> k_metal_from_name(std::string_view text) {
  return from_name(kMetals, text);
}
std::optional<KInsulation> k_insulation_from_name(std::string_view text) {
  return from_name(kInsulations, text);
}

std::optional<Factor> k_value(KPlace place, KMetal metal, KInsulation insulation, SquareMm size,
                              std::string* what_exists) {
  std::vector<std::string> others;
  for (const KRow& row : kRows) {
    if (row.place != place) continue;
    others.push_back(std::string(name(row.metal)) + " " + std::string(name(row.insulation)));
    if (row.metal != metal || row.insulation != insulation) continue;
    // Above 300 mm² some rows have a smaller k; where a table gives none, the one there is stands.
    const bool large = size > SquareMm(d("300")) && !row.k_over_300.is_void();
    const Decimal k = large ? row.k_over_300 : row.k;
    std::string words = std::string(name(metal)) + ", " + std::string(name(insulation)) + ", " +
                        std::string(name(place));
    if (large) words += ", above 300 mm²";
    if (!row.initial.is_void())
      words += ", " + row.initial.str() + " °C to " + row.final.str() + " °C";
    return Factor{k,
                  {},
                  k.str(),
                  words + ": k = " + k.str(),
                  "BS 7671 Table " + std::string(k_table(place)) + " (" +
                      std::string(row.origin.source) + ")",
                  row.origin.provenance};
  }
  if (what_exists)
    *what_exists = "table " + std::string(k_table(place)) + " (" + std::string(name(place)) +
                   ") has " + list_words(others);
  return std::nullopt;
}

}  // namespace ohmleaf::limits
