#pragma once
#include <algorithm>
#include <initializer_list>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "checks/by_circuit.h"
#include "layout/model_wanted.h"

// How the record behind a page is described: one table of rows for each group gives both the
// value and its shape, so what a form may bind and what it then meets cannot drift apart.

namespace ohmleaf::layout::model {

using record::Shape;
using record::table_of;
using record::View;

/// A source of limits, named once however many rest on it.
struct LimitSource {
  std::string text, provenance;
  bool memory = false;
};

/// Whoever makes a view of it later holds it meanwhile.
struct Context : std::enable_shared_from_this<Context> {
  Context(const record::Job& of, const record::Installer& by, const checks::Report& says,
          const IssueFacts& issue, const Wanted& forms)
      : job(of), installer(by), report(says), facts(issue), found(says), wanted(forms), cells(found) {}

  const record::Job& job;
  const record::Installer& installer;
  const checks::Report& report;
  const IssueFacts& facts;
  const checks::ByCircuit found;  ///< the report's findings
  const Wanted wanted;
  const checks::ByCell cells;     ///< the same, circuit by circuit
  /// What the limits rest on, worked out when it is first asked for.
  mutable std::optional<std::vector<LimitSource>> sources;
};

/// `own`, `own_texts`: in the installer's or the client's own words, which are never translated.
enum class Type { text, own, flag, date, group, list, texts, own_texts };

template <class T>
struct Row {
  std::string_view name;
  Type type = Type::text;
  std::string_view help;
  View (*get)(const T&, const Context&) = nullptr;
  record::ShapeMembers::Table members = nullptr;  ///< of a group or a list's element
  std::string_view unit = {};
};

/// The unit of a field of the record, by its type: empty for what is not measured.
template <class T>
inline constexpr std::string_view unit_of = {};
template <class Q>
requires requires {
  Q::unit::symbol;
}
inline constexpr std::string_view unit_of<record::Field<Q>> = Q::unit::symbol;
template <class Q>
inline constexpr std::string_view unit_of<record::Measured<Q>> = Q::unit::symbol;
template <class Q, class Set>
inline constexpr std::string_view unit_of<record::Split<Q, Set>> = Q::unit::symbol;

Shape leaf_shape(std::string_view name, Type type, std::string_view help);

template <class T>
View view_from(std::span<const Row<T>> rows, const T& value, const Context& context) {
  View out = View::group();
  out.members.reserve(rows.size());
  for (const Row<T>& row : rows)
    out.members.push_back({std::string(row.name), row.get(value, context)});
  return out;
}

/// The members of a group, each made when a form asks for it.
template <class T>
class RowsLater : public View::Later {
 public:
  RowsLater(std::span<const Row<T>> rows, const T& value, const Context& context)
      : rows_(rows), value_(value), context_(context.shared_from_this()) {}
  std::size_t count() const override { return rows_.size(); }
  std::string_view name(std::size_t i) const override { return rows_[i].name; }
  /// Many columns ask, and calls of `name` would take longer than all else.
  std::size_t index(std::string_view name) const override {
    const auto it = std::find_if(rows_.begin(), rows_.end(),
                                 [&](const Row<T>& row) { return row.name == name; });
    return static_cast<std::size_t>(it - rows_.begin());
  }
  View make(std::size_t i) const override { return rows_[i].get(value_, *context_); }

 private:
  std::span<const Row<T>> rows_;
  T value_;
  std::shared_ptr<const Context> context_;
};

template <class T>
std::vector<Shape> shapes_from(std::span<const Row<T>> rows) {
  std::vector<Shape> out;
  out.reserve(rows.size());
  for (const Row<T>& row : rows) {
    out.push_back(leaf_shape(row.name, row.type, row.help));
    if (row.members) out.back().members = row.members;
    out.back().unit = row.unit;
  }
  return out;
}

// Values as views. Absent ones are of kind none.
View text_view(const record::Text& text);
View text_view(const std::string& text);
View flag_view(const record::Flag& flag);
View date_view(const record::Field<Date>& date);
View date_view(const record::Field<DateTime>& when);
View texts_view(const record::Texts& texts);
/// A flag is "yes" or "no" where it is shown as a cell.
struct CellValue {
  std::string text, unit, note;
  Span span;
};
CellValue cell_value(const record::Flag& flag);

template <class Q>
View quantity_view(const record::Field<Q>& field) {
  if (!field) return {};
  return View::of_text(field->str(), std::string(Q::unit::symbol), field.span);
}

/// "1.3 kA" as "1.3": the unit is printed beside the value.
std::string without_unit(const std::string& text, std::string_view unit);

template <class Q>
CellValue cell_value(const record::Measured<Q>& field) {
  CellValue out;
  out.unit = std::string(Q::unit::symbol);
  out.span = field.span;
  if (!field) return out;
  switch (field->kind) {
    case ReadingKind::limitation:
      out.text = "LIM";
      break;
    case ReadingKind::not_applicable:
      out.text = "N/A";
      break;
    default:
      out.text = without_unit(field->text, out.unit);
      break;
  }
  if (!field->is_number()) out.unit.clear();
  out.note = field->reason;
  return out;
}

/// One printed cell: the value and what the checks say of it. A group without members where there
/// is neither.
View cell_view(const Context& context, int circuit, std::string_view path, const CellValue& value,
               const std::string& expected = {});
std::vector<Shape> cell_members();

/// A reading that may be given conductor by conductor: the whole's cell holds a cell for each.
template <class Q, class Set>
View split_view(const Context& context, int circuit, const std::string& path,
                const record::Split<Q, Set>& split, const std::string& expected = {}) {
  View out = cell_view(context, circuit, path, cell_value(split), expected);
  for (std::size_t i = 0; i < split.parts.size(); ++i) {
    const std::string name(Set::names[i]);
    View part = cell_view(context, circuit, path + "." + name, cell_value(split.parts[i]));
    if (part.present()) out.members.push_back({name, std::move(part)});
  }
  return out;
}
std::vector<Shape> split_members(std::span<const std::string_view> names, std::string_view help);
template <class Set>
std::vector<Shape> split_members() {
  return split_members(Set::names, Set::help);
}

bool by_line(const record::Circuit& circuit);      ///< its readings are given line by line
bool three_phase(const record::Circuit& circuit);  ///< it says so, or its readings do

// The groups, each in a file of its own kind.
enum class Which { every, by_line };
View circuits_view(const Context& context, Which which);
std::vector<Shape> circuit_members();
View supply_view(const Context& context);
std::vector<Shape> supply_members();
View bonding_view(const Context& context);
std::vector<Shape> bonding_members();
View isolation_view(const Context& context);
std::vector<Shape> isolation_members();
View accessories_view(const Context& context, int circuit);  ///< -1: those of all circuits
std::vector<Shape> accessory_members();
View controls_view(const Context& context);
std::vector<Shape> control_members();
View network_view(const Context& context);
std::vector<Shape> network_members();
View handover_view(const Context& context);
std::vector<Shape> handover_members();
View instruments_view(const Context& context);
std::vector<Shape> instrument_members();
View inspection_view(const Context& context, bool all);
std::vector<Shape> inspection_members();
/// Of these verdicts, in turn.
View findings_view(const Context& context, std::initializer_list<checks::Verdict> verdicts);
std::vector<Shape> finding_members();
View evidence_view(const Context& context, int circuit);
View tests_view(const Context& context, int circuit, bool live);
std::vector<Shape> test_members();
View basis_view(const Context& context);
std::vector<Shape> basis_members();
View departures_view(const Context& context);
std::vector<Shape> departure_members();
View limitations_view(const Context& context);
std::vector<Shape> limitation_members();
View observations_view(const Context& context);
std::vector<Shape> observation_members();
View dangers_view(const Context& context);
std::vector<Shape> danger_members();
View report_view(const Context& context);
std::vector<Shape> report_members();
View signers_view(const Context& context);
std::vector<Shape> signers_members();
View extra_view(const Context& context);
std::vector<Shape> extra_members();
View extras_view(const Context& context);
std::vector<Shape> extras_members();
/// The name behind a person's key; a name that is no key as it stands.
View person_view(const Context& context, const record::Text& key);
View counts_view(const Context& context);
std::vector<Shape> count_members();

/// The name of an instrument in words: kind, make, model.
std::string instrument_words(const record::Instrument& instrument);
/// "CU1 / 3": board where there are several boards, and the circuit's reference.
/// R1+R2 to expect from the cable's length, with its unit; empty where it is not known.
std::string expected_r1r2(const record::Circuit& circuit);
std::string circuit_place(const record::Job& job, std::size_t circuit);
/// The circuits' word for how a point is connected.
std::string_view words(record::Connection connection);
std::string_view words(record::Means means);
std::string_view words(record::CircuitType type);
std::string_view words(record::LoadKind kind);

}  // namespace ohmleaf::layout::model
