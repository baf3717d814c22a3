#include "limits/grouping.h"

#include <array>

#include "base/text.h"
#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

using enum Arrangement;

constexpr std::array kRows{
    GroupingRow{bunched, 1, d("1.00")},  GroupingRow{bunched, 2, d("0.80")},
    GroupingRow{bunched, 3, d("0.70")},  GroupingRow{bunched, 4, d("0.65")},
    GroupingRow{bunched, 5, d("0.60")},  GroupingRow{bunched, 6, d("0.57")},
    GroupingRow{bunched, 7, d("0.54")},  GroupingRow{bunched, 8, d("0.52")},
    GroupingRow{bunched, 9, d("0.50")},  GroupingRow{bunched, 12, d("0.45")},
    GroupingRow{bunched, 16, d("0.41")}, GroupingRow{bunched, 20, d("0.38")},
    GroupingRow{wall, 1, d("1.00")},     GroupingRow{wall, 2, d("0.85")},
    GroupingRow{wall, 3, d("0.79")},     GroupingRow{wall, 4, d("0.75")},
    GroupingRow{wall, 5, d("0.73")},     GroupingRow{wall, 6, d("0.72")},
    GroupingRow{wall, 7, d("0.72")},     GroupingRow{wall, 8, d("0.71")},
    GroupingRow{wall, 9, d("0.70")},     GroupingRow{wall, 12, d("0.70")},
    GroupingRow{wall, 16, d("0.70")},    GroupingRow{wall, 20, d("0.70")},
    GroupingRow{tray, 1, d("1.00")},     GroupingRow{tray, 2, d("0.88")},
    GroupingRow{tray, 3, d("0.82")},     GroupingRow{tray, 4, d("0.77")},
    GroupingRow{tray, 5, d("0.75")},     GroupingRow{tray, 6, d("0.73")},
    GroupingRow{tray, 7, d("0.73")},     GroupingRow{tray, 8, d("0.72")},
    GroupingRow{tray, 9, d("0.72")},     GroupingRow{tray, 12, d("0.72")},
    GroupingRow{tray, 16, d("0.72")},    GroupingRow{tray, 20, d("0.72")},
    GroupingRow{ladder, 1, d("1.00")},   GroupingRow{ladder, 2, d("0.87")},
    GroupingRow{ladder, 3, d("0.82")},   GroupingRow{ladder, 4, d("0.80")},
    GroupingRow{ladder, 5, d("0.80")},   GroupingRow{ladder, 6, d("0.79")},
    GroupingRow{ladder, 7, d("0.79")},   GroupingRow{ladder, 8, d("0.78")},
    GroupingRow{ladder, 9, d("0.78")},   GroupingRow{ladder, 12, d("0.78")},
    GroupingRow{ladder, 16, d("0.78")},  GroupingRow{ladder, 20, d("0.78")},
};

constexpr std::array kAll{bunched, wall, tray, ladder};

}  // namespace

std::string_view name(Arrangement arrangement) {
  switch (arrangement) {
    case bunched:
      return "bunched";
    case wall:
      return "wall";
    case tray:
      return "tray";
    case ladder:
      return "ladder";
  }
  return "?";
}

std::optional<Arrangement> arrangement_from_name(std::string_view text) {
  for (Arrangement a : kAll)
    if (ascii_lower(trim(text)) == name(a)) return a;
  return std::nullopt;
}

std::string_view words(Arrangement arrangement) {
  switch (arrangement) {
    case bunched:
      return "bunched in air, on a surface, embedded or enclosed";
    case wall:
      return "a single layer on a wall or floor";
    case tray:
      return "a single layer on a perforated tray";
    case ladder:
      return "a single layer on a ladder or cleats";
  }
  return "?";
}

std::span<const GroupingRow> grouping_rows() {
  return kRows;
}

std::optional<Factor> grouping_factor(Arrangement arrangement, int circuits,
                                      std::string* what_exists) {
  for (const GroupingRow& row : kRows) {
    if (row.arrangement != arrangement || circuits < 1 || circuits > row.circuits) continue;
    std::string how = std::to_string(circuits) + (circuits == 1 ? " circuit" : " circuits");
    if (row.circuits != circuits) how += " (tabulated for " + std::to_string(row.circuits) + ")";
    return Factor{row.factor,
                  {},
                  row.factor.str(),
                  "grouping, " + std::string(words(arrangement)) + ", cables touching, " + how +
                      ": " + row.factor.str(),
                  std::string(cite::kTable4c1),
                  Provenance::published};
  }
  if (what_exists)
    *what_exists =
        "factors for 1 to 9, 12, 16 and 20 circuits; between two of them the next "
        "higher number counts";
  return std::nullopt;
}

std::string_view methods_of(Arrangement arrangement) {
  return arrangement == bunched ? "A to F" : arrangement == wall ? "C" : "E and F";
}

bool goes_with(Arrangement arrangement, std::string_view method) {
  const std::string one = ascii_lower(trim(method));
  if (one.size() != 1) return false;
  switch (arrangement) {
    case bunched:
      return one[0] >= 'a' && one[0] <= 'f';
    case wall:
      return one == "c";
    case tray:
    case ladder:
      return one == "e" || one == "f";
  }
  return false;
}

}  // namespace ohmleaf::limits
