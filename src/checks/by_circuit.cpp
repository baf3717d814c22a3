#include "checks/by_circuit.h"

#include <algorithm>

namespace ohmleaf::checks {

ByCircuit::ByCircuit(const Report& report) {
  int last = -1;
  for (const Finding& f : report.findings) last = std::max(last, f.circuit);
  circuits_.resize(static_cast<std::size_t>(last + 2));
  for (const Finding& f : report.findings)
    if (f.circuit >= -1) circuits_[static_cast<std::size_t>(f.circuit + 1)].push_back(&f);
}

std::span<const Finding* const> ByCircuit::of(int circuit) const {
  const auto place = static_cast<std::size_t>(circuit + 1);
  if (circuit < -1 || place >= circuits_.size()) return {};
  return circuits_[place];
}

const Finding* ByCircuit::at(int circuit, std::string_view cell) const {
  const Finding* worst = nullptr;
  for (const Finding* f : of(circuit))
    if (f->cell == cell && (!worst || f->verdict > worst->verdict)) worst = f;
  return worst;
}

Verdict ByCircuit::worst_of(int circuit) const {
  Verdict worst = Verdict::not_applicable;
  for (const Finding* f : of(circuit)) worst = std::max(worst, weight(*f));
  return worst;
}

}  // namespace ohmleaf::checks
