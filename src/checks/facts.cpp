#include "checks/facts.h"

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::checks {
namespace {

/// `word` in lower case, wherever it stands in `text` and however written there.
bool contains(std::string_view text, std::string_view word) {
  const auto alike = [](char c, char lower) {
    return (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c) == lower;
  };
  return std::search(text.begin(), text.end(), word.begin(), word.end(), alike) != text.end();
}

bool class_contains(const record::Installer& installer, const record::Circuit& circuit,
                    std::string_view word) {
  return std::any_of(circuit.accessories.begin(), circuit.accessories.end(), [&](const auto& a) {
    const record::CatalogueItem* item = item_of(installer, a.item);
    return item && contains(class_of(*item), word);
  });
}

}  // namespace

bool is_tt(const record::Job& job) {
  return job.supply.earthing && *job.supply.earthing == limits::Earthing::tt;
}

Volts u0(const record::Job& job) {
  return Volts(job.supply.voltage.value_or(Decimal::integer(230)));
}

bool is_three_phase(const record::Job& job) {
  return job.supply.phases && *job.supply.phases == Decimal::integer(3);
}

bool is_three_phase(const record::Circuit& circuit) {
  return circuit.phase && *circuit.phase == "three-phase";
}

bool is_dwelling(const record::Job& job) {
  return job.dwelling.value_or(true);
}

std::vector<RcdInPath> rcds_of(const record::Job& job, const record::Circuit& circuit) {
  std::vector<RcdInPath> out;
  const auto take = [&](const record::Field<limits::Device>& field, std::string_view where,
                        bool shared) {
    if (field && field->rcd) out.push_back({&*field->rcd, field.span, where, shared});
  };
  take(circuit.device, "the circuit's own device", false);
  take(circuit.rcd, "the circuit's RCD", false);
  take(job.supply.rcd, "the RCD at the origin", true);
  return out;
}

std::optional<RcdInPath> most_sensitive(const std::vector<RcdInPath>& rcds) {
  std::optional<RcdInPath> best;
  for (const RcdInPath& r : rcds)
    if (!r.rcd->idn.is_void() && (!best || r.rcd->idn < best->rcd->idn)) best = r;
  return best;
}

bool gives_additional_protection(const limits::Rcd& rcd) {
  return !rcd.delayed && rcd.idn <= Milliamps(Decimal::integer(30));
}

bool mentions(const record::Texts& texts, std::string_view word) {
  return std::any_of(texts.begin(), texts.end(),
                     [&](const record::Text& t) { return t && contains(*t, word); });
}

bool serves_socket_outlets(const record::Installer& installer, const record::Circuit& circuit) {
  if (mentions(circuit.feeds, "socket")) return true;
  if (circuit.type && *circuit.type == record::CircuitType::ring_final) return true;
  return class_contains(installer, circuit, "socket");
}

bool serves_lighting(const record::Circuit& circuit) {
  return mentions(circuit.feeds, "light") || mentions(circuit.feeds, "luminaire") ||
         mentions(circuit.feeds, "lamp");
}

bool serves_bathroom(const record::Circuit& circuit) {
  return mentions(circuit.places, "bath") || mentions(circuit.places, "shower");
}

bool serves_outdoors(const record::Circuit& circuit) {
  return mentions(circuit.places, "outdoor") || mentions(circuit.places, "outside") ||
         mentions(circuit.places, "garden");
}

bool has_concealed_cable(const record::Circuit& circuit) {
  return mentions(circuit.places, "concealed");
}

Use use_of(const record::Installer& installer, const record::Circuit& circuit) {
  using limits::CircuitUse;
  if (circuit.type && *circuit.type == record::CircuitType::distribution)
    return {CircuitUse::distribution, true};
  if (serves_socket_outlets(installer, circuit))
    return {CircuitUse::final_with_socket_outlets, true};
  // Nothing is said of what it feeds: the wider scope (up to 63 A) is the safe assumption.
  if (circuit.feeds.empty()) return {CircuitUse::final_with_socket_outlets, false};
  return {CircuitUse::final_fixed_equipment, true};
}

std::optional<limits::Limit<Seconds>> disconnection_time(const record::Job& job,
                                                         const record::Installer& installer,
                                                         const record::Circuit& circuit,
                                                         limits::Edition edition) {
  if (!circuit.device) return std::nullopt;
  const limits::Earthing earthing = job.supply.earthing.value_or(limits::Earthing::tn_s);
  return limits::max_disconnection_time(earthing, use_of(installer, circuit).use,
                                        circuit.device->rating, u0(job), edition);
}

Span home(Span group, const record::Circuit& circuit) {
  return group.valid() ? group : circuit.span;
}

const record::CatalogueItem* item_of(const record::Installer& installer, const record::Text& key) {
  return key ? installer.item(*key) : nullptr;
}

std::string class_of(const record::CatalogueItem& item) {
  return item.kind.empty() ? item.item_class.value_or("other") : item.kind;
}

std::string point_name(const record::Installer& installer, const record::Text& item,
                       const record::Text& where) {
  const record::CatalogueItem* known = item_of(installer, item);
  std::string out = known && known->name ? *known->name : item.value_or("accessory");
  if (where) out += ", " + *where;
  return out;
}

bool has_electronics(const record::Installer& installer, const record::Circuit& circuit) {
  return std::any_of(circuit.accessories.begin(), circuit.accessories.end(), [&](const auto& a) {
    const record::CatalogueItem* item = item_of(installer, a.item);
    return item && item->electronics.value_or(false);
  });
}

bool has_radio(const record::Job& job, const record::Installer& installer) {
  const auto radio = [&](const record::Text& key) {
    const record::CatalogueItem* item = item_of(installer, key);
    return item && item->radio.value_or(false);
  };
  if (!job.controls.empty()) return true;
  return std::any_of(job.circuits.begin(), job.circuits.end(), [&](const record::Circuit& c) {
    return std::any_of(c.accessories.begin(), c.accessories.end(),
                       [&](const record::Accessory& a) { return radio(a.item); });
  });
}

std::vector<const record::Instrument*> instruments_used(const record::Job& job,
                                                        const record::Installer& installer) {
  std::vector<const record::Instrument*> out;
  const auto take = [&](const record::Instrument* i) {
    if (i && std::find(out.begin(), out.end(), i) == out.end()) out.push_back(i);
  };
  const auto take_key = [&](const record::Text& key) {
    if (key) take(installer.instrument(*key));
  };
  if (job.instruments.empty()) {
    for (const auto& i : installer.instruments) take(&i);
  } else {
    for (const auto& key : job.instruments) take_key(key);
  }
  take_key(job.isolation.proving_unit);
  take_key(job.isolation.indicator);
  for (const auto& c : job.circuits) {
    take_key(c.dead.instrument);
    take_key(c.live.instrument);
  }
  return out;
}

const record::Instrument* instrument_of(const record::Job& job, const record::Installer& installer,
                                        const record::Text& key) {
  if (key) return installer.instrument(*key);
  const auto multifunction = [](const record::Instrument* i) {
    return i && i->kind && contains(*i->kind, "multifunction");
  };
  if (job.instruments.empty()) {
    for (const auto& i : installer.instruments)
      if (multifunction(&i)) return &i;
  }
  for (const auto& k : job.instruments) {
    const record::Instrument* i = k ? installer.instrument(*k) : nullptr;
    if (multifunction(i)) return i;
  }
  return nullptr;
}

}  // namespace ohmleaf::checks
