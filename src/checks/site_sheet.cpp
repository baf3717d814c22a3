#include "checks/site_sheet.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <tuple>

#include "checks/order_of_work.h"

namespace ohmleaf::checks {
namespace {

/// Cells that begin with `cell` stand under this heading of the sheet, in the table of this name.
struct Section {
  std::string_view cell, heading, table;
};
constexpr std::string_view kLook = "1 · Look, then isolate", kSupply = "2 · Supply and earthing",
                           kCircuits = "3 · Circuits", kLeaving = "4 · Before leaving";
constexpr std::string_view kDead = "Dead, isolated and locked off",
                           kLive = "Live, only when every dead test is there and passes",
                           kAccessories = "Accessories";
constexpr std::array kSections{
    Section{"isolation", kLook, {}},
    Section{"supply.earthing", kLook, {}},
    Section{"supply.main", kLook, {}},
    Section{"supply.other_sources", kLook, {}},
    Section{"supply", kSupply, {}},
    Section{"bonding", kSupply, {}},
    Section{"dead.insulation.reconnected", kLeaving, {}},
    Section{"dead", kCircuits, kDead},
    Section{"live", kCircuits, kLive},
    Section{"accessory", kCircuits, kAccessories},
    Section{"device", kCircuits, {}},
    Section{"rcd", kCircuits, {}},
    Section{"cable", kCircuits, {}},
    Section{"network", kLeaving, {}},
    Section{"control", kLeaving, {}},
    Section{"handover", kLeaving, {}},
};

}  // namespace

std::string site_sheet_place(const Finding& finding) {
  const auto it = std::find_if(kSections.begin(), kSections.end(), [&](const Section& s) {
    return std::string_view(finding.cell).starts_with(s.cell);
  });
  if (it == kSections.end()) return {};
  std::string out(it->heading);
  if (!it->table.empty()) out += " (" + std::string(it->table) + ")";
  return out;
}

std::vector<const Finding*> missing_in_order(const Report& report) {
  std::vector<const Finding*> out;
  for (const Finding& f : report.findings)
    if (f.verdict == Verdict::missing) out.push_back(&f);
  const auto key = [](const Finding& f) {
    return std::tuple(step_of(f), f.circuit, place_in_step(f));
  };
  std::stable_sort(out.begin(), out.end(),
                   [&](const Finding* a, const Finding* b) { return key(*a) < key(*b); });
  return out;
}

}  // namespace ohmleaf::checks
