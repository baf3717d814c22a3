#pragma once
#include <optional>
#include <string>
#include <vector>

#include "app/workspace.h"
#include "checks/finding.h"
#include "cli/style.h"

// `check --plot`: each circuit's readings against their limits, and the time–current picture of
// its device with the measured loop's fault current on it. The numbers are the report's own; every
// text can be shown as it stands.

namespace ohmleaf::cli {

/// One reading as a bar: how much of its limit it uses.
struct PlotBar {
  std::string what, reading, limit;
  checks::Verdict verdict = checks::Verdict::pass;
  int used_permille = 0;  ///< 1000: at the limit
};

/// From this current on the device surely disconnects within this time, as its table has it.
struct PlotStep {
  Decimal amps, seconds;
  std::string words;  ///< "160 A within 0.4 s"
};
/// An upright line: a fault current and what it comes from.
struct PlotCurrent {
  Decimal amps;
  std::string words;  ///< "0.46 Ω measured: 475 A"
};

struct PlotCircuit {
  std::string title;  ///< "CU1 3 · Workshop and hall socket-outlets"
  std::string file;   ///< of its picture in a folder, without ".svg"
  checks::Verdict verdict = checks::Verdict::pass;
  std::vector<PlotBar> bars;
  std::string device;                             ///< as on its label; empty: no picture of it
  std::vector<PlotStep> device_steps, rcd_steps;  ///< slowest first
  std::optional<PlotCurrent> measured, limit;
  std::optional<Decimal> within;  ///< the circuit's disconnection time, in s
  std::string why;                ///< the limit's derivation, in the report's own words
};

std::vector<PlotCircuit> plot_of(const app::Workspace& workspace, const checks::Report& report);

/// Pictures in text, at most `width` columns; ASCII alone unless `unicode`.
std::string plot_text(const std::vector<PlotCircuit>& circuits, const Style& style, int width,
                      bool unicode);
/// One picture of these circuits, one below the other.
std::string plot_svg(const std::vector<PlotCircuit>& circuits);

}  // namespace ohmleaf::cli
