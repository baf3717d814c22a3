#include <fmt/format.h>

#include <array>

#include "base/text.h"
#include "record/csv_readings.h"
#include "record/job_tables.h"
#include "record/read.h"

// [csv.NAME]: how a CSV file of the installer's own is read.

namespace ohmleaf::record {
namespace {

constexpr auto yes = Required::yes;
constexpr auto no = Required::no;

constexpr std::array<std::string_view, 2> kDecimals{".", ","};

constexpr bool is_delimiter(std::string_view text) {
  return text.size() == 1 && text != "\"" && text != "." && text != "\n" && text != "\r";
}

/// Every key of a circuit that a cell can fill, for suggestions.
void collect(const Shape& shape, const std::string& path, std::vector<std::string>& out) {
  for (const Shape& m : shape.members) {
    const std::string below = path.empty() ? m.name : path + "." + m.name;
    if (csv_cell_shape(below) != nullptr) out.push_back(below);
    if (m.written != Written::tables) collect(m, below, out);
  }
}

std::vector<std::string> cell_keys() {
  std::vector<std::string> out;
  collect(*job_shape().find("circuit"), "", out);
  return out;
}

void read_column(Reader& in, const TomlNode& node, const std::string& key,
                 std::vector<CsvColumn>& out) {
  if (csv_cell_shape(key) == nullptr) {
    const auto known = cell_keys();
    Diagnostic& d = in.error("unknown-key", node.key_span,
                             fmt::format("a circuit has no reading \"{}\"", visible(key)));
    if (const auto near = nearest(key, {known.begin(), known.end()}))
      d.hints.push_back(fmt::format("Did you mean \"{}\"?", *near));
    d.hints.push_back("The readings are those below [circuit.dead] and [circuit.live] of a job.");
    return;
  }
  static constexpr Rule rule{};
  const auto heading = read_text(in, {node, node.key, rule});
  if (heading && !heading->empty()) out.push_back({key, *heading, node.span});
}

void read_columns(Reader& in, const TomlNode& table, const std::string& path,
                  std::vector<CsvColumn>& out) {
  for (const TomlNode& child : table.children) {
    if (child.mended || in.flooded()) continue;
    const std::string below = path.empty() ? child.key : path + "." + child.key;
    if (child.is_table())
      read_columns(in, child, below, out);
    else
      read_column(in, child, below, out);
  }
}

}  // namespace

/// "dead.R1R2" = "R1+R2", or the same as tables: dead = { R1R2 = "R1+R2" }.
template <>
struct Codec<std::vector<CsvColumn>> {
  static void read(Reader& in, const Value& value, std::vector<CsvColumn>& out) {
    if (value.node.is_table())
      read_columns(in, value.node, "", out);
    else
      in.wrong_type(value, "a table", "Write [csv.NAME.columns] above its lines.");
  }
  static View view(const std::vector<CsvColumn>&) { return View(); }
  static void shape(Shape& s, const Rule&) {
    s.kind = View::Kind::group;
    s.type = "table";
    s.written = Written::any_table;
  }
};

template <>
std::span<const Key<CsvMapping>> keys<CsvMapping>() {
  using M = CsvMapping;
  static constexpr std::array table{
      key<&M::delimiter>("delimiter", no,
                         "what stands between two cells; found out where left out",
                         {.accepts = is_delimiter,
                          .form = "one character such as \";\" or \",\" or \"\\t\"",
                          .pattern = "^[^\".\\n\\r]$"}),
      key<&M::decimal>("decimal", no, "decimal point or comma; a point where left out",
                       {.words = kDecimals}),
      key<&M::circuit>("circuit", yes, "heading of the column with the circuit's reference"),
      key<&M::board>("board", no, "heading of the column with the name of the board"),
      key<&M::worst>("worst", no,
                     "of several rows for one circuit the worst reading counts; an error where left "
                     "out"),
      key<&M::columns>("columns", yes,
                       "the key of a circuit for each column that counts: \"live.zs\" = \"Zs (Ω)\""),
      key<&M::words>("words", no,
                     "what a word in a cell stands for, such as OL = \">999\"; what stands for \"\" "
                     "is passed over"),
  };
  return table;
}

}  // namespace ohmleaf::record
