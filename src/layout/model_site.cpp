#include <array>
#include <type_traits>
#include <utility>

#include "layout/model_rows.h"

// Supply, earthing and bonding, isolation: what is true of the installation as a whole.

namespace ohmleaf::layout::model {
namespace {

constexpr int kJob = -1;

View device_words(const record::Field<limits::Device>& device) {
  return device ? View::of_text(device->words(), {}, device.span) : View{};
}

View means_view(const record::Field<record::Means>& means, bool shown) {
  if (!shown) return {};
  return means ? View::of_text(std::string(words(*means)), {}, means.span) : View{};
}

View number_view(const record::Field<Decimal>& number, const char* unit, std::int64_t otherwise) {
  if (number) return View::of_text(number->str(), unit, number.span);
  return View::of_text(Decimal::integer(otherwise).str(), unit);
}

template <class Q>
View job_cell(const Context& x, std::string_view path, const record::Measured<Q>& member) {
  return cell_view(x, kJob, path, cell_value(member));
}

View earthing_view(const record::Supply& s) {
  if (!s.earthing) return {};
  return View::of_text(std::string(limits::name(*s.earthing)), {}, s.earthing.span);
}

#define GET(expression)                                                                  \
  []([[maybe_unused]] const record::Job& j, [[maybe_unused]] const Context& x) -> View { \
    return expression;                                                                   \
  }
#define UNIT(member) unit_of<std::remove_cvref_t<decltype(std::declval<record::Job>().member)>>
#define CELL(path, member) GET(job_cell(x, path, j.member)), table_of<cell_members>, UNIT(member)
using R = Row<record::Job>;

const std::array kSupply{
    R{"earthing", Type::text, "earthing arrangement", GET(earthing_view(j.supply))},
    R{"tt", Type::flag, "the installation has its own electrode",
      GET(View::of_flag(j.supply.earthing&&* j.supply.earthing == limits::Earthing::tt))},
    R{"ze", Type::group, "external earth fault loop impedance", CELL("supply.ze", supply.ze)},
    R{"ze_by", Type::text, "how Ze was obtained",
      GET(means_view(j.supply.ze_by, bool(j.supply.ze)))},
    R{"ra", Type::group, "resistance of the earth electrode", CELL("supply.ra", supply.ra)},
    R{"electrode", Type::own, "the earth electrode", GET(text_view(j.supply.electrode))},
    R{"pfc", Type::group, "prospective fault current at the origin",
      GET(split_view(x, kJob, "supply.pfc", j.supply.pfc)), table_of<split_members<record::EachCurrent>>},
    R{"pfc_by", Type::text, "how the fault current was obtained",
      GET(means_view(j.supply.pfc_by, bool(j.supply.pfc)))},
    R{"main_fuse", Type::text, "the distributor's fuse", GET(device_words(j.supply.main_fuse))},
    R{"main_switch", Type::own, "main switch", GET(text_view(j.supply.main_switch))},
    R{"rcd", Type::text, "RCD at the origin", GET(device_words(j.supply.rcd))},
    R{"voltage", Type::text, "nominal voltage to earth",
      GET(number_view(j.supply.voltage, "V", 230)), nullptr, "V"},
    R{"phases", Type::text, "number of phases", GET(number_view(j.supply.phases, "", 1))},
    R{"polarity", Type::flag, "polarity of the supply confirmed",
      GET(flag_view(j.supply.polarity))},
    R{"phase_sequence", Type::flag, "the phases of the supply follow in the right turn",
      GET(flag_view(j.supply.phase_sequence))},
    R{"three_phase", Type::flag, "the supply has three phases",
      GET(View::of_flag(j.supply.phases&&* j.supply.phases == Decimal::integer(3)))},
    R{"reconnected", Type::flag, "earthing conductor reconnected after the test",
      GET(flag_view(j.supply.reconnected))},
    R{"neutral", Type::text, "supply neutral", GET(quantity_view(j.supply.neutral)), nullptr,
      UNIT(supply.neutral)},
    R{"other_sources", Type::texts, "other sources of supply",
      GET(texts_view(j.supply.other_sources))},
};

struct Part {
  std::string name, key;
  const record::Measured<SquareMm>& size;
  const record::Measured<Ohms>& ohms;
  const record::Field<Metres>& length;
};

#undef GET
#define GET(expression)                                                           \
  []([[maybe_unused]] const Part& p, [[maybe_unused]] const Context& x) -> View { \
    return expression;                                                            \
  }

const std::array kPart{
    Row<Part>{"name", Type::text, "what is bonded: water, gas, oil, structure, other",
              GET(View::of_text(p.name))},
    Row<Part>{"size", Type::group, "the bonding conductor",
              GET(job_cell(x, "bonding." + p.key, p.size)), table_of<cell_members>, "mm²"},
    Row<Part>{"ohms", Type::group, "continuity of the bonding conductor",
              GET(job_cell(x, "bonding." + p.key + "_ohms", p.ohms)), table_of<cell_members>, "Ω"},
    Row<Part>{"length", Type::text, "length of the conductor", GET(quantity_view(p.length)),
              nullptr, "m"},
};

View parts_view(const Context& x) {
  const record::Bonding& b = x.job.bonding;
  View out = View::list();
  const std::array parts{
      Part{"water", "water", b.water, b.water_ohms, b.water_length},
      Part{"gas", "gas", b.gas, b.gas_ohms, b.gas_length},
      Part{"oil", "oil", b.oil, b.oil_ohms, b.oil_length},
      Part{"structure", "structure", b.structure, b.structure_ohms, b.structure_length},
      Part{"other", "other", b.other, b.other_ohms, b.other_length}};
  for (const Part& p : parts) {
    View part = view_from<Part>(kPart, p, x);
    if (part.find("size")->present() || part.find("ohms")->present())
      out.items.push_back(std::move(part));
  }
  return out;
}

std::vector<Shape> part_members() {
  return shapes_from<Part>(kPart);
}

View instrument_name(const Context& x, const record::Text& key) {
  if (!key) return {};
  const record::Instrument* i = x.installer.instrument(*key);
  return i ? View::of_text(instrument_words(*i), {}, key.span) : text_view(key);
}

#undef GET
#define GET(expression)                                                                  \
  []([[maybe_unused]] const record::Job& j, [[maybe_unused]] const Context& x) -> View { \
    return expression;                                                                   \
  }

const std::array kBonding{
    R{"earthing_conductor", Type::group, "the earthing conductor",
      CELL("bonding.earthing_conductor", bonding.earthing_conductor)},
    R{"parts", Type::list, "what is bonded, with size and continuity", GET(parts_view(x)),
      table_of<part_members>},
};

const std::array kIsolation{
    R{"point", Type::own, "where the supply was cut off", GET(text_view(j.isolation.point))},
    R{"locked", Type::flag, "locked off", GET(flag_view(j.isolation.locked))},
    R{"notice", Type::flag, "warning notice posted", GET(flag_view(j.isolation.notice))},
    R{"proved_dead", Type::date, "when it was proved dead",
      GET(date_view(j.isolation.proved_dead))},
    R{"proving_unit", Type::text, "the proving unit",
      GET(instrument_name(x, j.isolation.proving_unit))},
    R{"indicator", Type::text, "the voltage indicator",
      GET(instrument_name(x, j.isolation.indicator))},
    R{"by", Type::own, "who isolated",
      GET(person_view(x, j.isolation.by ? j.isolation.by : j.person))},
};
#undef CELL
#undef UNIT
#undef GET

}  // namespace

std::string_view words(record::Means means) {
  switch (means) {
    case record::Means::measured:
      return "measured";
    case record::Means::calculated:
      return "calculated";
    case record::Means::enquiry:
      return "enquiry";
  }
  return {};
}

View supply_view(const Context& x) {
  return view_from<record::Job>(kSupply, x.job, x);
}
std::vector<Shape> supply_members() {
  return shapes_from<record::Job>(kSupply);
}
View bonding_view(const Context& x) {
  return view_from<record::Job>(kBonding, x.job, x);
}
std::vector<Shape> bonding_members() {
  return shapes_from<record::Job>(kBonding);
}
View isolation_view(const Context& x) {
  return view_from<record::Job>(kIsolation, x.job, x);
}
std::vector<Shape> isolation_members() {
  return shapes_from<record::Job>(kIsolation);
}

}  // namespace ohmleaf::layout::model
