#include <algorithm>
#include <array>

#include "layout/model_rows.h"

// What was fitted, joined and handed over.

namespace ohmleaf::layout::model {
namespace {

struct Fitted {
  const record::Accessory& accessory;
  int circuit;
  int index;  ///< within the circuit
};

const record::CatalogueItem* item_of(const Context& x, const record::Text& key) {
  return key ? x.installer.item(*key) : nullptr;
}

View item_name(const Context& x, const record::Text& key) {
  const record::CatalogueItem* item = item_of(x, key);
  if (item && item->name) return View::of_text(*item->name, {}, key.span);
  return text_view(key);
}

View item_make(const Context& x, const record::Text& key) {
  const record::CatalogueItem* item = item_of(x, key);
  if (!item) return {};
  std::string out = item->maker.value_or("");
  if (item->model) out += (out.empty() ? "" : " ") + *item->model;
  return text_view(out);
}

View connection_view(const record::Accessory& a) {
  if (!a.connection) return {};
  return View::of_text(std::string(words(*a.connection)), {}, a.connection.span);
}

std::string load_words(const record::Accessory& a) {
  std::string out;
  if (a.load_w) out = a.load_w->with_unit();
  if (a.load_kind) out += (out.empty() ? "" : " ") + std::string(words(*a.load_kind));
  return out;
}

std::string accessory_path(int index) {
  return "accessory[" + std::to_string(index) + "].";
}

/// The worst that the checks say of one accessory.
View worst(const Fitted& f, const Context& x) {
  using checks::Verdict;
  const std::string path = accessory_path(f.index);
  Verdict out = Verdict::not_applicable;
  for (const checks::Finding* finding : x.found.of(f.circuit))
    if (finding->cell.starts_with(path)) out = std::max(out, finding->verdict);
  return View::of_text(std::string(checks::name(out)));
}

View cell(const Fitted& f, const Context& x, const char* key, const CellValue& value) {
  const std::string path = accessory_path(f.index) + key;
  return cell_view(x, f.circuit, path, value);
}

template <class Q>
CellValue plain_value(const record::Field<Q>& field) {
  CellValue out;
  out.span = field.span;
  if (!field) return out;
  out.text = field->str();
  out.unit = std::string(Q::unit::symbol);
  return out;
}

#define GET(expression)                                                             \
  []([[maybe_unused]] const Fitted& f, [[maybe_unused]] const Context& x) -> View { \
    return expression;                                                              \
  }
using A = Row<Fitted>;

const std::array kAccessory{
    A{"circuit", Type::own, "board and reference of its circuit",
      GET(text_view(circuit_place(x.job, static_cast<std::size_t>(f.circuit))))},
    A{"name", Type::own, "what it is, as in the catalogue", GET(item_name(x, f.accessory.item))},
    A{"make", Type::own, "maker and model", GET(item_make(x, f.accessory.item))},
    A{"where", Type::own, "where it was fitted", GET(text_view(f.accessory.where))},
    A{"connection", Type::text, "how it is connected", GET(connection_view(f.accessory))},
    A{"box", Type::group, "depth of its box",
      GET(cell(f, x, "box_mm", plain_value(f.accessory.box_mm))), table_of<cell_members>, "mm"},
    A{"load", Type::text, "what it switches or dims", GET(text_view(load_words(f.accessory)))},
    A{"load_w", Type::group, "load in watts, against the maker's range",
      GET(cell(f, x, "load_w", plain_value(f.accessory.load_w))), table_of<cell_members>, "W"},
    A{"neutral", Type::flag, "a neutral of the circuit is at the point",
      GET(flag_view(f.accessory.neutral))},
    A{"earthed", Type::flag, "a protective conductor is at the point",
      GET(flag_view(f.accessory.earthed))},
    A{"bypass", Type::flag, "by-pass load fitted at the luminaire",
      GET(flag_view(f.accessory.bypass))},
    A{"fuse", Type::text, "fuse of a connection unit", GET(quantity_view(f.accessory.fuse)),
      nullptr, "A"},
    A{"joined", Type::flag, "joined to the radio network", GET(flag_view(f.accessory.joined))},
    A{"tested", Type::flag, "function tested", GET(flag_view(f.accessory.function_tested))},
    A{"verdict", Type::text, "the worst verdict of its checks", GET(worst(f, x))},
    A{"serial", Type::own, "serial number", GET(text_view(f.accessory.serial))},
    A{"note", Type::own, "a note", GET(text_view(f.accessory.note))},
};
#undef GET

#define GET(expression)                                                                      \
  []([[maybe_unused]] const record::Control& c, [[maybe_unused]] const Context& x) -> View { \
    return expression;                                                                       \
  }
using C = Row<record::Control>;

const std::array kControl{
    C{"name", Type::own, "what it is", GET(item_name(x, c.item))},
    C{"make", Type::own, "maker and model", GET(item_make(x, c.item))},
    C{"where", Type::own, "where it is", GET(text_view(c.where))},
    C{"controls", Type::own_texts, "what it works", GET(texts_view(c.controls))},
    C{"joined", Type::flag, "joined to the radio network", GET(flag_view(c.joined))},
    C{"tested", Type::flag, "function tested", GET(flag_view(c.function_tested))},
    C{"battery", Type::own, "the battery it takes", GET(text_view(c.battery))},
    C{"serial", Type::own, "serial number", GET(text_view(c.serial))},
};
#undef GET

#define GET(expression) \
  [](const record::Job& j, [[maybe_unused]] const Context& x) -> View { return expression; }
using R = Row<record::Job>;

/// Whether the part of the certificate about it has anything to say.
bool anything(const record::Job& j) {
  const auto fitted = [](const record::Circuit& c) { return !c.accessories.empty(); };
  return std::any_of(j.circuits.begin(), j.circuits.end(), fitted) || !j.controls.empty() ||
         j.handover.span.valid() || j.network.span.valid();
}

const std::array kNetwork{
    R{"hub", Type::own, "where the hub stands", GET(text_view(j.network.hub))},
    R{"opened", Type::flag, "opened for joining", GET(flag_view(j.network.opened))},
    R{"closed", Type::flag, "closed again at the end", GET(flag_view(j.network.closed))},
    R{"tried", Type::flag, "tried from every control", GET(flag_view(j.network.tried))},
    R{"accounts_with_client", Type::flag, "the client holds the accounts",
      GET(flag_view(j.network.accounts_with_client))},
    R{"used", Type::flag, "there is a radio network in this job",
      GET(View::of_flag(j.network.hub || j.network.opened || j.network.closed))},
};

const std::array kHandover{
    R{"any", Type::flag, "something was fitted, joined or handed over",
      GET(View::of_flag(anything(j)))},
    R{"instructions_left", Type::flag, "the makers' instructions were left",
      GET(flag_view(j.handover.instructions_left))},
    R{"batteries_left", Type::flag, "spare batteries were left",
      GET(flag_view(j.handover.batteries_left))},
    R{"shown", Type::flag, "the client was shown how to use what was fitted",
      GET(flag_view(j.handover.shown))},
    R{"rcd_explained", Type::flag, "the RCD's test button was explained",
      GET(flag_view(j.handover.rcd_explained))},
};
#undef GET

}  // namespace

std::string_view words(record::Connection connection) {
  switch (connection) {
    case record::Connection::in_ring:
      return "in the ring";
    case record::Connection::unfused_spur:
      return "unfused spur";
    case record::Connection::fused_spur:
      return "fused spur";
    case record::Connection::radial:
      return "radial";
    case record::Connection::switched_line:
      return "switched line";
    case record::Connection::none:
      return "none";
  }
  return {};
}

std::string_view words(record::LoadKind kind) {
  switch (kind) {
    case record::LoadKind::led:
      return "LED";
    case record::LoadKind::compact_fluorescent:
      return "compact fluorescent";
    case record::LoadKind::halogen:
      return "halogen";
    case record::LoadKind::incandescent:
      return "incandescent";
    case record::LoadKind::motor:
      return "motor";
    case record::LoadKind::resistive:
      return "resistive";
    case record::LoadKind::other:
      return "other";
  }
  return {};
}

View accessories_view(const Context& x, int circuit) {
  View out = View::list();
  for (std::size_t c = 0; c < x.job.circuits.size(); ++c) {
    if (circuit >= 0 && static_cast<std::size_t>(circuit) != c) continue;
    const auto& fitted = x.job.circuits[c].accessories;
    for (std::size_t i = 0; i < fitted.size(); ++i) {
      const Fitted f{fitted[i], static_cast<int>(c), static_cast<int>(i)};
      out.items.push_back(view_from<Fitted>(kAccessory, f, x));
    }
  }
  return out;
}
std::vector<Shape> accessory_members() {
  return shapes_from<Fitted>(kAccessory);
}

View controls_view(const Context& x) {
  View out = View::list();
  for (const record::Control& c : x.job.controls)
    out.items.push_back(view_from<record::Control>(kControl, c, x));
  return out;
}
std::vector<Shape> control_members() {
  return shapes_from<record::Control>(kControl);
}

View network_view(const Context& x) {
  return view_from<record::Job>(kNetwork, x.job, x);
}
std::vector<Shape> network_members() {
  return shapes_from<record::Job>(kNetwork);
}
View handover_view(const Context& x) {
  return view_from<record::Job>(kHandover, x.job, x);
}
std::vector<Shape> handover_members() {
  return shapes_from<record::Job>(kHandover);
}

}  // namespace ohmleaf::layout::model
