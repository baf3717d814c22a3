#include <array>

#include "base/text.h"
#include "limits/limit.h"

namespace ohmleaf::limits {
namespace {

struct EditionRow {
  Edition edition;
  std::string_view name;
  Date from;  ///< first design date that this edition is chosen for
};

// 15 April 2026 and "July 2015" are the project's reference notes; the other dates are from
// memory: 2018 for designs after 31 December 2018, A2 usable from its issue on 28 March 2022.
constexpr std::array<EditionRow, 5> kEditions{{
    {Edition::y2008, "BS 7671:2008", {2008, 7, 1}},
    {Edition::y2015, "BS 7671:2008+A3:2015", {2015, 7, 1}},
    {Edition::y2018, "BS 7671:2018", {2019, 1, 1}},
    {Edition::y2022, "BS 7671:2018+A2:2022", {2022, 3, 28}},
    {Edition::y2026, "BS 7671:2018+A4:2026", {2026, 4, 15}},
}};

std::string squeezed(std::string_view text) {
  std::string out;
  for (char c : ascii_lower(text))
    if (c != ' ') out += c;
  return out;
}

}  // namespace

std::string_view name(Edition edition) {
  for (const auto& row : kEditions)
    if (row.edition == edition) return row.name;
  return "BS 7671";
}

std::optional<Edition> edition_from_name(std::string_view text) {
  const std::string wanted = squeezed(text);
  for (const auto& row : kEditions) {
    const std::string full = squeezed(row.name);
    // "BS 7671:2018+A2:2022", "2018+A2:2022", or the last year alone: "2022".
    if (wanted == full || wanted == full.substr(7) || wanted == full.substr(full.size() - 4))
      return row.edition;
  }
  return std::nullopt;
}

Edition edition_for(Date design_date) {
  Edition found = Edition::y2008;
  for (const auto& row : kEditions)
    if (design_date >= row.from) found = row.edition;
  return found;
}

Date first_design_date(Edition edition) {
  for (const auto& row : kEditions)
    if (row.edition == edition) return row.from;
  return kEditions.front().from;
}

std::string_view name(Provenance provenance) {
  switch (provenance) {
    case Provenance::published:
      return "published";
    case Provenance::computed:
      return "computed";
    case Provenance::memory:
      return "memory";
    case Provenance::common_practice:
      return "common practice";
    case Provenance::maker:
      return "maker";
  }
  return "memory";
}

}  // namespace ohmleaf::limits
