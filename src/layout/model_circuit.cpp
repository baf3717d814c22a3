#include <algorithm>
#include <array>
#include <functional>
#include <type_traits>
#include <utility>

#include "base/text.h"
#include "layout/model_rows.h"
#include "limits/conductor.h"

namespace ohmleaf::layout::model {
namespace {

using record::Circuit;

struct CircuitAt {
  const Circuit& circuit;
  int index;
  std::size_t at() const { return static_cast<std::size_t>(index); }
};
using R = Row<CircuitAt>;

template <class M>
View cell(const CircuitAt& c, const Context& x, std::string_view path, const M& member) {
  return cell_view(x, c.index, path, cell_value(member));
}

std::string cable_words(const record::Cable& cable) {
  std::string out;
  if (cable.line) out = cable.line->str();
  if (cable.cpc) out += (out.empty() ? "cpc " : "\u00A0/\u00A0") + cable.cpc->str();
  if (!out.empty()) out += " mm²";
  if (cable.kind) out += (out.empty() ? "" : " ") + *cable.kind;
  return out;
}

std::string rcd_words(const Circuit& c, const Context& x) {
  if (c.rcd) return c.rcd->words();
  if (!c.device || !c.device->rcd) {
    const auto& upstream = x.job.supply.rcd;
    return upstream ? upstream->words() + ", at the origin" : std::string();
  }
  const limits::Rcd& r = *c.device->rcd;
  std::string out = r.idn.with_unit();
  if (r.type) out += " type " + std::string(limits::name(*r.type));
  if (r.delayed) out += ", time-delayed";
  return out;
}

View type_view(const Circuit& c) {
  return c.type ? View::of_text(std::string(words(*c.type)), {}, c.type.span) : View{};
}

std::string device_standard(const limits::Device& d) {
  return std::string(limits::name(d.standard));
}
std::string device_rating(const limits::Device& d) {
  return d.rating.str();
}
std::string device_breaking(const limits::Device& d) {
  return d.breaking ? d.breaking->str() : std::string();
}

template <class Get>
View device_view(const Circuit& c, Get get, const char* unit = "") {
  if (!c.device) return {};
  const std::string text = std::invoke(get, *c.device);
  return text.empty() ? View{} : View::of_text(text, unit, c.device.span);
}

template <class Q, class Set>
View split(const CircuitAt& c, const Context& x, const char* path,
           const record::Split<Q, Set>& member) {
  return split_view(x, c.index, path, member);
}

View r1r2_cell(const CircuitAt& c, const Context& x) {
  return split_view(x, c.index, "dead.R1R2", c.circuit.dead.r1r2, expected_r1r2(c.circuit));
}

View zs_means(const Circuit& c) {
  if (!c.live.zs) return {};
  return View::of_text(std::string(words(c.live.zs_by.value_or(record::Means::measured))));
}

View worst(const CircuitAt& c, const Context& x) {
  checks::Verdict out = x.found.worst_of(c.index);
  for (const checks::Finding* f : x.found.of(c.index))  // blocks nothing, and is no less a fail
    if (f->observation) out = std::max(out, f->verdict);
  return View::of_text(std::string(checks::name(out)));
}

bool wired(const CircuitAt& c, record::CircuitType type) {
  return c.circuit.type && *c.circuit.type == type;
}

// Each row's value, as an expression of the circuit `c` and the context `x`.
#define GET(expression) \
  [](const CircuitAt& c, [[maybe_unused]] const Context& x) -> View { return expression; }
#define UNIT(member) unit_of<std::remove_cvref_t<decltype(std::declval<Circuit>().member)>>
#define CELL(path, member) GET(cell(c, x, path, c.circuit.member)), table_of<cell_members>, UNIT(member)
#define SPLIT(path, member, Set) \
  GET(split(c, x, path, c.circuit.member)), table_of<split_members<record::Set>>, UNIT(member)
#define QUANTITY(member) GET(quantity_view(c.circuit.member)), nullptr, UNIT(member)

const std::array kRows{
    R{"ref", Type::own, "the circuit's reference at its board", GET(text_view(c.circuit.ref))},
    R{"place", Type::own, "board and reference", GET(text_view(circuit_place(x.job, c.at())))},
    R{"board", Type::own, "the board that feeds it", GET(text_view(c.circuit.board))},
    R{"name", Type::own, "what the circuit is called", GET(text_view(c.circuit.name))},
    R{"type", Type::text, "ring final, radial, spur, distribution", GET(type_view(c.circuit))},
    R{"ring", Type::flag, "it is a ring final circuit",
      GET(View::of_flag(wired(c, record::CircuitType::ring_final)))},
    R{"new", Type::flag, "a new circuit", GET(flag_view(c.circuit.is_new))},
    R{"phase", Type::own, "the phase it stands on", GET(text_view(c.circuit.phase))},
    R{"feeds", Type::texts, "what it feeds", GET(texts_view(c.circuit.feeds))},
    R{"places", Type::texts, "where it runs", GET(texts_view(c.circuit.places))},
    R{"load", Type::text, "design current", QUANTITY(load)},
    R{"device", Type::text, "the device that protects it, in words",
      GET(device_view(c.circuit, &limits::Device::words))},
    R{"device_standard", Type::text, "the standard of the device",
      GET(device_view(c.circuit, device_standard))},
    R{"rating", Type::text, "rated current of the device",
      GET(device_view(c.circuit, device_rating, "A")), nullptr, "A"},
    R{"breaking", Type::text, "rated short-circuit capacity",
      GET(device_view(c.circuit, device_breaking, "kA")), nullptr, "kA"},
    R{"rcd", Type::text, "its additional protection, in words",
      GET(text_view(rcd_words(c.circuit, x)))},
    R{"cable", Type::text, "line and protective conductor, kind of cable",
      GET(text_view(cable_words(c.circuit.cable)))},
    R{"line_size", Type::text, "line conductor", QUANTITY(cable.line)},
    R{"cpc_size", Type::text, "protective conductor", QUANTITY(cable.cpc)},
    R{"length", Type::text, "length of the cable", QUANTITY(cable.length)},
    R{"method", Type::own, "reference method of installation",
      GET(text_view(c.circuit.cable.method))},
    R{"verdict", Type::text, "the worst verdict of the circuit", worst},
    R{"r1", Type::group, "ring, line end to end", CELL("dead.r1", dead.r1)},
    R{"rn", Type::group, "ring, neutral end to end", CELL("dead.rn", dead.rn)},
    R{"r2", Type::group, "ring, protective conductor end to end", CELL("dead.r2", dead.r2)},
    R{"R1R2", Type::group, "highest R1+R2", GET(r1r2_cell(c, x)), table_of<split_members<record::EachLine>>},
    R{"R2", Type::group, "R2 by the wandering lead", CELL("dead.R2", dead.r2_only)},
    R{"ring_crossed", Type::group, "cross-connection steps done at every point",
      CELL("dead.ring_crossed", dead.ring_crossed)},
    R{"insulation_volts", Type::text, "test voltage of the insulation test",
      QUANTITY(dead.insulation.volts)},
    R{"insulation_live", Type::group, "insulation, live to live",
      SPLIT("dead.insulation.live_live", dead.insulation.live_live, EachPair)},
    R{"insulation_earth", Type::group, "insulation, live to earth",
      SPLIT("dead.insulation.live_earth", dead.insulation.live_earth, EachLive)},
    R{"polarity_dead", Type::group, "polarity, dead", CELL("dead.polarity", dead.polarity)},
    R{"polarity", Type::group, "polarity, live", CELL("live.polarity", live.polarity)},
    R{"phase_sequence", Type::group, "the three phases follow in the right turn",
      CELL("live.phase_sequence", live.phase_sequence)},
    R{"zs", Type::group, "earth fault loop impedance", SPLIT("live.zs", live.zs, EachLine)},
    R{"zs_by", Type::text, "measured or calculated", GET(zs_means(c.circuit))},
    R{"pfc", Type::group, "prospective fault current at the board",
      SPLIT("live.pfc", live.pfc, EachCurrent)},
    R{"rcd_ms", Type::group, "RCD, time at IΔn", CELL("live.rcd.trip_ms", live.rcd.trip_ms)},
    R{"rcd_x5_ms", Type::group, "RCD, time at 5 IΔn",
      CELL("live.rcd.trip_x5_ms", live.rcd.trip_x5_ms)},
    R{"test_button", Type::group, "RCD test button",
      CELL("live.rcd.test_button", live.rcd.test_button)},
    R{"afdd_button", Type::group, "arc-fault test button",
      CELL("live.afdd_button", live.afdd_button)},
    R{"functional", Type::group, "functional tests", CELL("live.functional", live.functional)},
    R{"disconnection", Type::group, "the time within which it must disconnect",
      GET(cell_view(x, c.index, "disconnection_time", {})), table_of<cell_members>},
    R{"tests_dead", Type::list, "the dead tests to do, in safe order",
      GET(tests_view(x, c.index, false)), table_of<test_members>},
    R{"tests_live", Type::list, "the live tests to do, in safe order",
      GET(tests_view(x, c.index, true)), table_of<test_members>},
    R{"accessories", Type::list, "what was fitted on the circuit",
      GET(accessories_view(x, c.index)), table_of<accessory_members>},
    R{"evidence", Type::list, "every judged cell with its limit, derivation and source",
      GET(evidence_view(x, c.index)), table_of<finding_members>},
};
#undef SPLIT
#undef QUANTITY
#undef CELL
#undef UNIT
#undef GET

class CircuitsLater : public View::Later {
 public:
  CircuitsLater(std::vector<int> chosen, std::shared_ptr<const Context> context)
      : chosen_(std::move(chosen)), context_(std::move(context)) {}
  std::size_t count() const override { return chosen_.size(); }
  std::string_view name(std::size_t) const override { return {}; }
  View make(std::size_t i) const override {
    const auto at = static_cast<std::size_t>(chosen_[i]);
    return View::group(std::make_shared<RowsLater<CircuitAt>>(
        kRows, CircuitAt{context_->job.circuits[at], chosen_[i]}, *context_));
  }

 private:
  std::vector<int> chosen_;
  std::shared_ptr<const Context> context_;
};

}  // namespace

bool by_line(const Circuit& c) {
  const record::Insulation& i = c.dead.insulation;
  return c.live.zs.divided() || c.live.pfc.divided() || c.dead.r1r2.divided() ||
         i.live_live.divided() || i.live_earth.divided();
}

bool three_phase(const Circuit& c) {
  return (c.phase && *c.phase == "three-phase") || by_line(c);
}

std::string expected_r1r2(const Circuit& c) {
  const auto& cable = c.cable;
  if (!cable.line || !cable.length) return {};
  const auto cpc = cable.cpc ? std::optional<SquareMm>(*cable.cpc) : std::nullopt;
  const auto value =
      limits::expected_r1r2(*cable.line, cpc, *cable.length, Celsius(Decimal::integer(20)));
  return value ? value->value.with_unit() : std::string();
}

std::string_view words(record::CircuitType type) {
  switch (type) {
    case record::CircuitType::ring_final:
      return "ring final";
    case record::CircuitType::radial:
      return "radial";
    case record::CircuitType::spur:
      return "spur";
    case record::CircuitType::distribution:
      return "distribution";
  }
  return {};
}

std::string circuit_place(const record::Job& job, std::size_t circuit) {
  if (circuit >= job.circuits.size()) return {};
  const Circuit& c = job.circuits[circuit];
  const std::string ref = c.ref.value_or("");
  return c.board ? *c.board + "\u00A0/\u00A0" + ref : ref;
}

View circuits_view(const Context& x, Which which) {
  std::vector<int> chosen;
  for (std::size_t i = 0; i < x.job.circuits.size(); ++i)
    if (which == Which::every || by_line(x.job.circuits[i])) chosen.push_back(static_cast<int>(i));
  return View::list(std::make_shared<CircuitsLater>(std::move(chosen), x.shared_from_this()));
}

std::vector<Shape> circuit_members() {
  return shapes_from<CircuitAt>(kRows);
}

}  // namespace ohmleaf::layout::model
