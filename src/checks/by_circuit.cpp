#include "checks/by_circuit.h"

#include <algorithm>

namespace ohmleaf::checks {
namespace {

/// The job's findings, of circuit -1, come first.
std::size_t place_of(int circuit) { return static_cast<std::size_t>(circuit) + 1; }

}  // namespace

ByCircuit::ByCircuit(const Report& report) {
  int last = -1;
  for (const Finding& f : report.findings) last = std::max(last, f.circuit);
  circuits_.resize(place_of(last) + 1);
  for (const Finding& f : report.findings) {
    tally_.add(f);
    verdicts_[static_cast<std::size_t>(f.verdict)].push_back(&f);
    if (f.observation) observations_.push_back(&f);
    if (!f.limit.empty()) with_limit_.push_back(&f);
    if (f.circuit >= -1) circuits_[place_of(f.circuit)].push_back(&f);
  }
}

ByCircuit::Found ByCircuit::of(int circuit) const {
  if (circuit < -1 || place_of(circuit) >= circuits_.size()) return {};
  return circuits_[place_of(circuit)];
}

Verdict ByCircuit::worst_of(int circuit) const {
  Verdict worst = Verdict::not_applicable;
  for (const Finding* f : of(circuit)) worst = std::max(worst, weight(*f));
  return worst;
}

void ByCell::turn_to(int circuit) const {
  if (circuit == circuit_) return;
  const ByCircuit::Found found = found_.of(circuit);
  circuit_ = kNone;  // while memory may end
  cells_.assign(found.begin(), found.end());
  std::stable_sort(cells_.begin(), cells_.end(),
                   [](const Finding* a, const Finding* b) { return a->cell < b->cell; });
  circuit_ = circuit;
}

std::vector<const Finding*>::const_iterator ByCell::first_from(int circuit, std::string_view cell) const {
  turn_to(circuit);
  return std::lower_bound(cells_.cbegin(), cells_.cend(), cell,
                          [](const Finding* f, std::string_view wanted) { return f->cell < wanted; });
}

ByCircuit::Found ByCell::at(int circuit, std::string_view cell) const {
  const auto begin = first_from(circuit, cell);
  auto end = begin;
  while (end != cells_.end() && (*end)->cell == cell) ++end;
  return {begin, end};
}

ByCircuit::Found ByCell::below(int circuit, std::string_view cell) const {
  const std::string parts = std::string(cell) + ".";
  const auto begin = first_from(circuit, parts);
  auto end = begin;
  while (end != cells_.end() && (*end)->cell.starts_with(parts)) ++end;
  return {begin, end};
}

const Finding* worst(ByCircuit::Found found) {
  const Finding* worst = nullptr;
  for (const Finding* f : found)
    if (!worst || f->verdict > worst->verdict || (f->verdict == worst->verdict && f < worst)) worst = f;
  return worst;
}

}  // namespace ohmleaf::checks
