#include "checks/slip.h"

#include <fmt/format.h>

#include <utility>

namespace ohmleaf::checks {
namespace {

constexpr std::size_t kMostNamed = 2;

using Values = std::vector<Decimal>;
using Agrees = std::function<bool(const Values&)>;

Values values_of(const std::vector<Figure>& figures) {
  Values out;
  for (const Figure& f : figures) out.push_back(f.value);
  return out;
}

void try_shifts(const std::vector<Figure>& figures, const Agrees& agrees, int size,
                std::vector<std::string>& out) {
  const Values as_written = values_of(figures);
  for (std::size_t i = 0; i < figures.size(); ++i) {
    for (const int places : {size, -size}) {
      Values tried = as_written;
      tried[i] = shifted(tried[i], places);
      if (tried[i] == as_written[i] || !agrees(tried)) continue;
      out.push_back(fmt::format("{} entered as {} for {}?", tried[i].str(), figures[i].text,
                                figures[i].name));
    }
  }
}

void try_swaps(const std::vector<Figure>& figures, const Agrees& agrees,
               std::vector<std::string>& out) {
  for (std::size_t i = 0; i < figures.size(); ++i) {
    for (std::size_t j = i + 1; j < figures.size(); ++j) {
      Values tried = values_of(figures);
      std::swap(tried[i], tried[j]);
      if (agrees(tried))
        out.push_back(fmt::format("{} and {} swapped?", figures[i].name, figures[j].name));
    }
  }
}

}  // namespace

Decimal shifted(const Decimal& value, int places) {
  if (value.is_void()) return value;
  const int scale = value.scale() + places;
  if (scale >= 0) return Decimal(value.mantissa(), scale);
  Decimal out(value.mantissa(), 0);
  for (int i = scale; i < 0; ++i) out = out * Decimal::integer(10);
  return out;
}

std::vector<std::string> single_slips(const std::vector<Figure>& figures, const Agrees& agrees) {
  std::vector<std::string> out;
  try_shifts(figures, agrees, 1, out);
  try_swaps(figures, agrees, out);
  if (out.empty()) try_shifts(figures, agrees, 3, out);
  if (out.size() > kMostNamed) out.resize(kMostNamed);
  return out;
}

std::string slip_tail(const std::vector<std::string>& slips) {
  std::string out;
  for (const std::string& s : slips) out += (out.empty() ? "; " : " ") + s;
  return out;
}

}  // namespace ohmleaf::checks
