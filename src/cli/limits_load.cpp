#include "base/text.h"
#include "cli/limits_answer.h"
#include "limits/cable_load.h"
#include "limits/grouping.h"
#include "limits/installation.h"
#include "limits/k_values.h"
#include "limits/table.h"

// `limits drop`, `capacity`, `adiabatic`, `k`: the load side and the heat of a fault.

namespace ohmleaf::cli {

using namespace limits;

namespace {

const std::vector<CableKind> kCables{CableKind::twin_earth, CableKind::multicore,
                                     CableKind::singles};
const std::vector<KPlace> kPlaces{KPlace::live,        KPlace::apart,         KPlace::in_cable,
                                  KPlace::sheath,      KPlace::conduit,       KPlace::bare_visible,
                                  KPlace::bare_normal, KPlace::bare_fire_risk};
const std::vector<KMetal> kMetals{KMetal::copper, KMetal::aluminium, KMetal::steel, KMetal::lead};
const std::vector<KInsulation> kInsulations{KInsulation::thermoplastic_70,
                                            KInsulation::thermoplastic_90,
                                            KInsulation::thermosetting_60,
                                            KInsulation::thermosetting_90,
                                            KInsulation::mineral_covered,
                                            KInsulation::mineral_bare,
                                            KInsulation::none};

const std::vector<Arrangement> kArrangements{Arrangement::bunched, Arrangement::wall,
                                             Arrangement::tray, Arrangement::ladder};

/// "1" or "3"; single phase where nothing is said.
std::optional<Phases> phases_of(const LimitQuestion& q) {
  const auto n = q.number("phases", d("1"), false, 1000);
  if (!n) return std::nullopt;
  if (*n == d("1")) return Phases::single;
  if (*n == d("3")) return Phases::three;
  q.wrong("unknown-phases", "--phases is " + n->str() + ", and a circuit has one phase or three",
          "Write --phases 1 or --phases 3.");
  return std::nullopt;
}

std::string_view words(Phases phases) {
  return phases == Phases::three ? ", three-phase" : "";
}

std::optional<CableKind> cable_of(const LimitQuestion& q) {
  return q.choice<CableKind>("cable", "kind of cable", cable_from_name, kCables,
                             CableKind::twin_earth);
}

/// k as a number, or from place, metal and insulation.
std::optional<Factor> k_of(const LimitQuestion& q) {
  if (q.has("k")) {
    const auto k = q.number("k", std::nullopt, false, 1000);
    if (!k) return std::nullopt;
    return Factor{*k, {}, k->str(), "k = " + k->str() + " as given", "as given", Provenance::maker};
  }
  const auto place = q.choice<KPlace>("place", "place of a conductor", k_place_from_name, kPlaces,
                                      KPlace::in_cable);
  const auto metal = q.choice<KMetal>("metal", "metal", k_metal_from_name, kMetals, KMetal::copper);
  const auto insulation = q.choice<KInsulation>("insulation", "insulation", k_insulation_from_name,
                                                kInsulations, KInsulation::thermoplastic_70);
  const auto size = q.number("size", d("1"), false, 2000);
  if (!place || !metal || !insulation || !size) return std::nullopt;
  std::string exists;
  const auto k = k_value(*place, *metal, *insulation, SquareMm(*size), &exists);
  if (!k)
    q.wrong("not-tabulated",
            "there is no k for " + std::string(name(*metal)) + ", " +
                std::string(name(*insulation)) + ", " + std::string(name(*place)),
            "What exists: " + exists + ".");
  return k;
}

void capacity_missing(const LimitQuestion& q, CableKind cable, const Decimal& size,
                      const std::string& method, Phases phases) {
  std::string exists;
  (void)capacity(cable, SquareMm(size), method, phases, &exists);
  q.wrong("not-tabulated",
          "there is no capacity for " + std::string(name(cable)) + " of " + size.short_str() +
              " mm² by reference method \"" + visible(method) + "\"" + std::string(words(phases)),
          "What exists: " + exists + ".");
}

/// The grouping factor by the number of circuits, or as the installer gives it.
std::optional<Factor> grouping_of(const LimitQuestion& q, const std::string& method,
                                  LimitAnswer& a) {
  const auto given = q.maybe_number("grouping", false, 1);
  const auto n = q.maybe_number("circuits", false, 1000);
  const auto how = q.choice<Arrangement>("arrangement", "arrangement", arrangement_from_name,
                                         kArrangements, Arrangement::bunched);
  if (!q.ok()) return std::nullopt;
  if (given)
    return Factor{*given,
                  {},
                  given->str(),
                  "grouping: " + given->str() + " as given",
                  "grouping as given",
                  Provenance::maker};
  if (!n || !how) {
    if (!n && q.has("arrangement"))
      q.wrong("missing-option", "--arrangement needs the number of circuits (--circuits)",
              "Give both, for example --circuits 3 --arrangement wall.");
    return std::nullopt;
  }
  std::string exists;
  const Decimal whole = n->rounded(0, Round::down);
  const int circuits = whole == *n ? static_cast<int>(whole.mantissa()) : 0;
  const auto factor = grouping_factor(*how, circuits, &exists);
  if (!factor) {
    q.wrong("not-tabulated", "there is no grouping factor for " + n->str() + " circuits",
            "What exists: " + exists + "; or take one from elsewhere, such as --grouping 0.35.");
    return std::nullopt;
  }
  const bool insulated = method.size() > 1;
  if (goes_with(*how, method) || circuits == 1) return factor;
  if (!insulated || *how != Arrangement::bunched) {
    q.wrong("wrong-arrangement",
            "factors for \"" + std::string(name(*how)) + "\" do not go with reference method " +
                visible(method),
            "They go with reference methods " + std::string(methods_of(*how)) +
                "; bunched goes with A to F.");
    return std::nullopt;
  }
  a.notes.emplace_back("The grouping table names reference methods A to F; for method " +
                       visible(method) + " its factor is guidance.");
  return factor;
}

/// The factors that were asked for; an error leaves fewer and is reported.
std::vector<Factor> factors_of(const LimitQuestion& q, const std::string& method, LimitAnswer& a) {
  std::vector<Factor> out;
  if (q.has("ambient")) {
    std::string exists;
    if (const auto t = q.temperature("ambient", 30)) {
      const auto f = ambient_factor(CableInsulation::thermoplastic_70, Celsius(*t), &exists);
      if (f) out.push_back(*f);
      if (!f)
        q.wrong("not-tabulated", "there is no ambient factor for " + t->str() + " °C",
                "What exists: " + exists + ".");
    }
  }
  if (const auto mm = q.maybe_number("insulated", false, 100000))
    if (const auto f = thermal_insulation_factor(Millimetres(*mm))) out.push_back(*f);
  if (const auto g = grouping_of(q, method, a)) out.push_back(*g);
  if (q.flag("bs3036")) out.push_back(semi_enclosed_factor());
  return out;
}

}  // namespace

void answer_drop(const LimitQuestion& q, LimitAnswer& a) {
  const auto cable = cable_of(q);
  const auto phases = phases_of(q);
  const auto size = q.number("size"), length = q.number("length", std::nullopt, false, 100000);
  const auto current = q.number("current", std::nullopt, false, 10000);
  if (!q.ok() || !cable || !phases || !size || !length || !current) return;
  const auto per = drop_per_amp_metre(*cable, SquareMm(*size), *phases);
  if (!per)
    return q.wrong("not-tabulated",
                   "there is no volt drop for " + std::string(name(*cable)) + " of " + size->str() +
                       " mm²" + std::string(words(*phases)),
                   "What exists: 1, 1.5, 2.5, 4, 6, 10 and 16 mm², and for multicore 25, 35 and 50 "
                   "mm² as well; on three phases multicore and singles (--cable multicore).");
  const auto drop = volt_drop_by(*per, Metres(*length), Amps(*current));
  if (!drop)
    return q.wrong("too-large", "the figures are larger than can be worked out exactly",
                   "Give the length in metres and the current in amperes.");
  a.add("volt drop" + std::string(words(*phases)) + ", " + std::string(name(*cable)) + " " +
            size->short_str() + " mm², " + length->str() + " m, " + current->str() + " A",
        *drop);
  a.add("per ampere and metre", *per);
  const auto lighting = max_volt_drop(true, q.edition(), *phases);
  const auto other = max_volt_drop(false, q.edition(), *phases);
  a.add("volt drop, lighting", lighting);
  a.add("volt drop, other uses", other);
  a.notes.emplace_back(
      drop->value <= lighting.value ? "Within the limit for lighting and for other uses."
      : drop->value <= other.value  ? "Above the limit for lighting, within that for other uses."
                                    : "Above both limits.");
  if (*phases == Phases::three)
    a.notes.emplace_back("Line to line, with the three phases loaded alike.");
}

void answer_capacity(const LimitQuestion& q, LimitAnswer& a) {
  const auto cable = cable_of(q);
  const auto phases = phases_of(q);
  const auto size = q.number("size");
  const auto ib = q.maybe_number("ib", true, 10000), in = q.maybe_number("in", false, 10000);
  if (!q.ok() || !cable || !phases || !size) return;
  const std::string method = q.text("method", *cable == CableKind::singles ? "B" : "C");
  const auto tabulated = capacity(*cable, SquareMm(*size), method, *phases);
  if (!tabulated) return capacity_missing(q, *cable, *size, method, *phases);
  const std::vector<Factor> factors = factors_of(q, method, a);
  if (!q.ok()) return;
  a.add("tabulated capacity It" + std::string(words(*phases)), *tabulated);
  for (const Factor& f : factors) a.add("factor", f);
  const Derived<Amps> iz = corrected_capacity(*tabulated, factors);
  if (!factors.empty()) a.add("capacity as installed Iz", iz);
  if (ib.has_value() != in.has_value())
    return q.wrong("missing-option", "--ib and --in belong together",
                   "Give the design current and the rated current, for example --ib 16 --in 20.");
  if (!ib || !in) return;
  const Coordination c = coordinate(Amps(*ib), Amps(*in), iz);
  a.say("Ib ≤ In ≤ Iz", c.holds() ? "holds" : "does not hold", c.derivation, c.source,
        c.provenance);
}

void answer_adiabatic(const LimitQuestion& q, LimitAnswer& a) {
  const auto current = q.number("current", std::nullopt, false, 1000000);
  const auto time = q.maybe_number("time", false, 1000);
  const auto size = q.maybe_number("size", false, 2000);
  const auto k = k_of(q);
  if (!q.ok() || !current || !k) return;
  if (!time && !size)
    return q.wrong("missing-option", "--time or --size is missing",
                   "Give the time for the smallest size (--time 0.4), or the size for the longest "
                   "time (--size 1.5).");
  if (!q.has("k")) a.add("k", *k);
  if (time)
    a.add("smallest section for " + current->str() + " A in " + time->str() + " s",
          adiabatic_size(Amps(*current), Seconds(*time), k->value));
  if (size)
    a.add("longest time for " + current->str() + " A in " + size->str() + " mm²",
          adiabatic_time(Amps(*current), SquareMm(*size), k->value));
}

void answer_k(const LimitQuestion& q, LimitAnswer& a) {
  if (const auto k = k_of(q)) a.add("k", *k);
}

}  // namespace ohmleaf::cli
