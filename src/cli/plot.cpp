#include "cli/plot.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "checks/facts.h"
#include "limits/protection.h"

namespace ohmleaf::cli {
namespace {

using checks::Finding;
using checks::Verdict;

/// One bar for each cell that was compared with a limit, in the order of testing; of several
/// findings for a cell the one that its printed cell shows.
std::vector<PlotBar> bars_of(const checks::Report& report, int circuit) {
  std::vector<const Finding*> shown;
  for (const Finding& f : report.findings) {
    if (f.circuit != circuit || !f.used_permille || f.reading.empty() || f.limit.empty()) continue;
    const auto same = [&](const Finding* other) { return other->cell == f.cell; };
    if (std::none_of(shown.begin(), shown.end(), same)) shown.push_back(&f);
  }
  std::stable_sort(shown.begin(), shown.end(), [](const Finding* a, const Finding* b) {
    return a->stage != b->stage ? a->stage < b->stage : a->cell < b->cell;
  });
  std::vector<PlotBar> out;
  for (const Finding* f : shown)
    out.push_back({visible(f->subject), visible(f->reading), visible(f->limit), f->verdict,
                   *f->used_permille});
  return out;
}

/// The current that flows through a loop, by the voltage that the limits of Zs rest on.
Decimal current_through(const Decimal& ohms, limits::Edition edition) {
  return Decimal::divide(limits::zs_voltage(edition).decimal(), ohms, 0, Round::half_up);
}

/// What the tables give; what rests on memory or stands in no table is not drawn.
std::vector<PlotStep> steps_of(const limits::Device& device, limits::Edition edition) {
  std::vector<PlotStep> out;
  for (const char* time : {"5", "1", "0.4", "0.2", "0.1"}) {
    const Decimal seconds = *Decimal::parse(time);
    const auto zs = limits::max_zs(device, Seconds(seconds), edition);
    if (!zs || zs->value.is_void() || zs->provenance == limits::Provenance::memory) continue;
    const auto exact = Decimal::parse(zs->exact);
    const Decimal amps =
        current_through(exact && !exact->is_zero() ? *exact : zs->value.decimal(), edition);
    if (amps.is_void() || amps.is_zero()) continue;
    out.push_back({amps, seconds, fmt::format("{} A: within {} s", amps.str(), time)});
  }
  // The same current for two times: the shorter says it all.
  for (std::size_t i = 1; i < out.size();)
    if (out[i - 1].amps == out[i].amps)
      out.erase(out.begin() + static_cast<std::ptrdiff_t>(i) - 1);
    else
      ++i;
  return out;
}

std::vector<PlotStep> rcd_steps_of(const limits::Rcd& rcd, limits::Edition edition) {
  std::vector<PlotStep> out;
  const bool additional = checks::gives_additional_protection(rcd);
  for (const int multiple : {1, 5}) {
    const auto time = limits::rcd_time(rcd, Decimal::integer(multiple), additional, edition);
    if (!time || time->value.is_void() || time->provenance == limits::Provenance::memory) continue;
    const Decimal ms = time->upper ? time->upper->decimal() : time->value.decimal();
    const Decimal amps = rcd.idn.decimal() * Decimal::integer(multiple) * Decimal(1, 3);
    const Decimal seconds = ms * Decimal(1, 3);
    out.push_back({amps, seconds,
                   fmt::format("{} mA: within {} ms",
                               (rcd.idn.decimal() * Decimal::integer(multiple)).short_str(),
                               ms.short_str())});
  }
  return out;
}

std::optional<PlotCurrent> current_of(const Decimal& ohms, std::string_view what,
                                      limits::Edition edition) {
  if (ohms.is_void() || ohms.is_zero()) return std::nullopt;
  const Decimal amps = current_through(ohms, edition);
  if (amps.is_void() || amps.is_zero()) return std::nullopt;
  return PlotCurrent{amps, fmt::format("{} Ω {}: {} A", ohms.str(), what, amps.str())};
}

std::string safe_name(std::string_view text) {
  std::string out;
  for (const char c : ascii_lower(text)) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (plain)
      out += c;
    else if (!out.empty() && out.back() != '-')
      out += '-';
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out.empty() ? "circuit" : out;
}

void add_device(PlotCircuit& plot, const app::Workspace& w, const record::Circuit& c,
                limits::Edition edition) {
  if (!c.device) return;
  plot.device = visible(c.device->words());
  const auto time = checks::disconnection_time(w.job, w.installer, c, edition);
  if (time) plot.within = time->value.decimal();
  plot.device_steps = steps_of(*c.device, edition);
  if (const auto rcd = checks::most_sensitive(checks::rcds_of(w.job, c)))
    plot.rcd_steps = rcd_steps_of(*rcd->rcd, edition);
  if (c.live.zs && c.live.zs->kind == ReadingKind::value)
    plot.measured = current_of(c.live.zs->value.decimal(), "measured", edition);
  if (!time || checks::is_tt(w.job)) return;  // on TT the loop's limit is the RCD's
  const auto zs = limits::max_zs(*c.device, time->value, edition);
  if (!zs || zs->value.is_void()) return;
  plot.limit = current_of(zs->value.decimal(), "is the limit", edition);
  // Printed figures are rounded: the current is that of the figure behind it.
  if (const auto exact = Decimal::parse(zs->exact); plot.limit && exact && !exact->is_zero()) {
    plot.limit->amps = current_through(*exact, edition);
    plot.limit->words = zs->value.with_unit() + " is the limit: " + plot.limit->amps.str() + " A";
  }
  plot.why = zs->derivation;
}

}  // namespace

std::vector<PlotCircuit> plot_of(const app::Workspace& w, const checks::Report& report) {
  std::vector<PlotCircuit> out;
  PlotCircuit supply;
  supply.title = "Supply, earthing and bonding";
  supply.file = "supply";
  supply.verdict = report.worst_of(-1);
  supply.bars = bars_of(report, -1);
  if (!supply.bars.empty()) out.push_back(std::move(supply));
  for (std::size_t i = 0; i < w.job.circuits.size(); ++i) {
    const record::Circuit& c = w.job.circuits[i];
    PlotCircuit plot;
    const std::string place = (c.board ? *c.board + " " : std::string()) + c.ref.value_or("");
    plot.title = visible(place + " · " + c.name.value_or(""));
    plot.file = std::to_string(i + 1) + "-" + safe_name(place);
    plot.verdict = report.worst_of(static_cast<int>(i));
    plot.bars = bars_of(report, static_cast<int>(i));
    add_device(plot, w, c, report.edition);
    out.push_back(std::move(plot));
  }
  return out;
}

}  // namespace ohmleaf::cli
