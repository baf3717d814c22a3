#include "checks/order_of_work.h"

#include <algorithm>
#include <array>

namespace ohmleaf::checks {
namespace {

struct Place {
  std::string_view cell;  ///< cells that begin so
  Step step;
};
/// In their order within a step too. The first that fits counts.
constexpr std::array kPlaces{
    Place{"supply.earthing", Step::look},
    Place{"supply.main_fuse", Step::look},
    Place{"supply.main_switch", Step::look},
    Place{"supply.other_sources", Step::look},
    Place{"device", Step::look},
    Place{"rcd", Step::look},
    Place{"isolation.point", Step::isolate},
    Place{"isolation.locked", Step::isolate},
    Place{"isolation.indicator", Step::isolate},
    Place{"isolation.proving_unit", Step::isolate},
    Place{"isolation", Step::isolate},
    Place{"bonding", Step::origin},
    Place{"supply.electrode", Step::origin},
    Place{"supply.ze", Step::origin},
    Place{"supply.ra", Step::origin},
    Place{"supply.reconnected", Step::origin},
    Place{"supply", Step::origin},
    Place{"cable", Step::fit},
    Place{"dead.r1", Step::dead},
    Place{"dead.rn", Step::dead},
    Place{"dead.r2", Step::dead},
    Place{"dead.ring_crossed", Step::dead},
    Place{"dead.R1R2", Step::dead},
    Place{"dead.R2", Step::dead},
    Place{"dead.insulation.electronics", Step::dead},
    Place{"dead.insulation.volts", Step::dead},
    Place{"dead.insulation.live_live", Step::dead},
    Place{"dead.insulation.live_earth", Step::dead},
    Place{"dead.insulation.reconnected", Step::dead},
    Place{"dead", Step::dead},
    Place{"inspection", Step::inspect},
    Place{"live.polarity", Step::live},
    Place{"live.phase_sequence", Step::live},
    Place{"live.zs", Step::live},
    Place{"live.pfc", Step::live},
    Place{"live.rcd.trip", Step::live},
    Place{"live.rcd", Step::live},
    Place{"live", Step::live},
};

const Place* find_place(const Finding& finding) {
  const auto it = std::find_if(kPlaces.begin(), kPlaces.end(), [&](const Place& p) {
    return std::string_view(finding.cell).starts_with(p.cell);
  });
  return it == kPlaces.end() ? nullptr : &*it;
}

Step step_of_stage(Stage stage) {
  switch (stage) {
    case Stage::paper:
      return Step::paper;
    case Stage::before:
      return Step::look;
    case Stage::isolation:
      return Step::isolate;
    case Stage::fitting:
      return Step::fit;
    case Stage::dead:
      return Step::dead;
    case Stage::live:
      return Step::live;
    case Stage::setting_up:
      return Step::set_up;
    case Stage::handover:
      return Step::hand_over;
  }
  return Step::paper;
}

bool starts(const Finding& f, std::string_view cell) {
  return std::string_view(f.cell).starts_with(cell);
}

/// Whether this finding forbids to energise.
bool forbids_energising(const Finding& f) {
  const Step step = step_of(f);
  if (step == Step::paper || step >= Step::live || starts(f, "instrument")) return false;
  if (f.verdict == Verdict::fail) return true;
  if (f.verdict != Verdict::missing) return false;
  return step == Step::isolate || step == Step::dead || starts(f, "bonding") ||
         starts(f, "supply.earthing") || starts(f, "supply.reconnected");
}

bool forbids_touching(const Finding& f) {
  return step_of(f) == Step::isolate &&
         (f.verdict == Verdict::fail || f.verdict == Verdict::missing);
}

}  // namespace

std::string_view name(Step step) {
  switch (step) {
    case Step::look:
      return "Look, before anything is touched";
    case Step::isolate:
      return "Isolate, lock off, prove dead";
    case Step::origin:
      return "Supply, earthing and bonding";
    case Step::fit:
      return "Fitting: isolated and locked off";
    case Step::dead:
      return "Dead tests: isolated and locked off";
    case Step::inspect:
      return "Inspection, before energising";
    case Step::live:
      return "Live tests, only when every dead test is there and passes";
    case Step::set_up:
      return "Setting up and trying";
    case Step::hand_over:
      return "Handing over";
    case Step::paper:
      return "Paper";
  }
  return "?";
}

Step step_of(const Finding& finding) {
  if (const Place* place = find_place(finding)) return place->step;
  return step_of_stage(finding.stage);
}

std::size_t place_in_step(const Finding& finding) {
  const Place* place = find_place(finding);
  return place ? static_cast<std::size_t>(place - kPlaces.data()) : kPlaces.size();
}

bool is_energised(Step step) {
  return step == Step::live || step == Step::set_up;
}

const Finding* stop_before(const Report& report, Step step) {
  if (step == Step::look || step == Step::isolate || step == Step::paper || step == Step::hand_over)
    return nullptr;
  const Finding* first = nullptr;
  for (const Finding& f : report.findings) {
    if (!forbids_touching(f) && !(is_energised(step) && forbids_energising(f))) continue;
    const bool worse = first && f.verdict == Verdict::fail && first->verdict != Verdict::fail;
    const bool earlier = first && f.verdict == first->verdict && step_of(f) < step_of(*first);
    if (!first || worse || earlier) first = &f;
  }
  return first;
}

}  // namespace ohmleaf::checks
