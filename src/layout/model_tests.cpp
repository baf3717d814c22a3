#include <array>

#include "layout/model_rows.h"

// The site sheet: what is to be tested on a circuit, in safe order, each with its limit.

namespace ohmleaf::layout::model {
namespace {

struct Step {
  std::string_view name, unit, cell;
  bool live;
  bool (*asked)(const record::Circuit&);
  std::span<const std::string_view> parts = {};  ///< read one by one on three phases
};

bool always(const record::Circuit&) {
  return true;
}
bool ring(const record::Circuit& c) {
  return c.type && *c.type == record::CircuitType::ring_final;
}
bool has_rcd(const record::Circuit& c) {
  return c.rcd || (c.device && c.device->rcd);
}
bool has_afdd(const record::Circuit& c) {
  return c.device && c.device->afdd.value_or(false);
}

constexpr std::array kSteps{
    Step{"r1, line end to end", "Ω", "dead.r1", false, ring},
    Step{"rn, neutral end to end", "Ω", "dead.rn", false, ring},
    Step{"r2, protective conductor end to end", "Ω", "dead.r2", false, ring},
    Step{"Cross-connection steps at every point", "", "dead.ring_crossed", false, ring},
    Step{"R1+R2, highest at any point", "Ω", "dead.R1R2", false, always, record::EachLine::names},
    Step{"Insulation, live to live", "MΩ", "dead.insulation.live_live", false, always,
         record::EachPair::names},
    Step{"Insulation, live to earth", "MΩ", "dead.insulation.live_earth", false, always,
         record::EachLive::names},
    Step{"Polarity, dead", "", "dead.polarity", false, always},
    Step{"Polarity, live", "", "live.polarity", true, always},
    Step{"Phase sequence", "", "live.phase_sequence", true, three_phase},
    Step{"Zs", "Ω", "live.zs", true, always, record::EachLine::names},
    Step{"Prospective fault current at the board", "kA", "live.pfc", true, always,
         record::EachCurrent::names},
    Step{"RCD, time at IΔn", "ms", "live.rcd.trip_ms", true, has_rcd},
    Step{"RCD, test button", "", "live.rcd.test_button", true, has_rcd},
    Step{"Arc-fault device, test button", "", "live.afdd_button", true, has_afdd},
    Step{"Functional tests", "", "live.functional", true, always},
};

struct Test {
  const Step* step;
  std::string name, limit, expected;
};

/// "L1-L2" as it is printed, with a dash that does not break.
std::string part_words(std::string_view part) {
  std::string out(part);
  if (const auto dash = out.find('-'); dash == 2) out.replace(dash, 1, "–");
  return out;
}

std::string limit_of(const Context& x, int circuit, const std::string& cell) {
  const checks::Finding* f = checks::worst(x.cells.at(circuit, cell));
  return f ? f->limit : std::string();
}

const std::array kTest{
    Row<Test>{"name", Type::text, "the test",
              [](const Test& t, const Context&) { return View::of_text(t.name); }},
    Row<Test>{"unit", Type::text, "unit of the reading",
              [](const Test& t, const Context&) { return text_view(std::string(t.step->unit)); }},
    Row<Test>{"limit", Type::text, "the limit it must keep",
              [](const Test& t, const Context&) { return text_view(t.limit); }},
    Row<Test>{"expected", Type::text, "the value to expect",
              [](const Test& t, const Context&) { return text_view(t.expected); }},
    Row<Test>{"measured", Type::flag, "a value is read, not only confirmed",
              [](const Test& t, const Context&) { return View::of_flag(!t.step->unit.empty()); }},
};

}  // namespace

View tests_view(const Context& x, int circuit, bool live) {
  View out = View::list();
  const record::Circuit& c = x.job.circuits[static_cast<std::size_t>(circuit)];
  for (const Step& step : kSteps) {
    if (step.live != live || !step.asked(c)) continue;
    const std::string cell(step.cell);
    Test test{&step, std::string(step.name), limit_of(x, circuit, cell), {}};
    if (step.cell == "dead.R1R2") test.expected = expected_r1r2(c);
    if (step.parts.empty() || !three_phase(c)) {
      out.items.push_back(view_from<Test>(kTest, test, x));
      continue;
    }
    for (const std::string_view part : step.parts) {
      Test one = test;
      one.name += ", " + part_words(part);
      const std::string limit = limit_of(x, circuit, cell + "." + std::string(part));
      if (!limit.empty()) one.limit = limit;
      out.items.push_back(view_from<Test>(kTest, one, x));
    }
  }
  return out;
}

std::vector<Shape> test_members() {
  return shapes_from<Test>(kTest);
}

}  // namespace ohmleaf::layout::model
