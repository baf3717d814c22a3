#include <fmt/format.h>

#include "base/text.h"
#include "cli/limits_answer.h"
#include "limits/rows.h"

// `limits --table` and `limits --provenance`.

namespace ohmleaf::cli {
namespace {

using namespace limits;

std::string value_of(const Row& row) {
  return row.unit.empty() ? row.value : row.value + " " + row.unit;
}

std::string title_of(std::string_view table) {
  for (const TableInfo& t : tables())
    if (t.name == table) return std::string(t.title);
  return std::string(table);
}

Json row_json(const Row& row) {
  Json j = Json::object();
  j.set("table", row.table).set("item", row.item).set("value", row.value).set("unit", row.unit);
  j.set("note", row.note).set("source", row.source).set("provenance", name(row.provenance));
  return j;
}

Json rows_json(const std::vector<Row>& rows) {
  Json list = Json::array();
  for (const Row& row : rows) list.push(row_json(row));
  return list;
}

std::string table_text(std::string_view table, Edition edition, const Style& style, int width) {
  const std::vector<Row> rows = table_rows(table, edition);
  std::string text = style(Tone::strong, title_of(table)) + "\n";
  SourceMarks marks;
  int column = 0;
  for (const Row& row : rows)
    column = std::max(column, static_cast<int>(code_point_count(row.item)));
  column = std::min(column, width / 2);
  for (const Row& row : rows) {
    std::string rest = visible(value_of(row)) + " " + marks.mark(row.provenance, row.source);
    if (row.provenance == Provenance::memory) rest += " from memory";
    if (!row.note.empty()) rest += " (" + visible(row.note) + ")";
    const std::string indent(static_cast<std::size_t>(column) + 4, ' ');
    if (static_cast<int>(code_point_count(row.item)) > column) {
      text +=
          wrapped(visible(row.item), "  ", "    ", width) + wrapped(rest, indent, indent, width);
    } else {
      text += wrapped(rest, "  " + padded(visible(row.item), column) + "  ", indent, width);
    }
  }
  return text + style(Tone::quiet, marks.text(width));
}

}  // namespace

std::string tables_text(const std::vector<std::string>& names, Edition edition, const Style& style,
                        int width) {
  std::string text;
  for (const std::string& table : names) text += table_text(table, edition, style, width) + "\n";
  return text + style(Tone::quiet, "edition " + std::string(name(edition))) + "\n";
}

Json tables_json(const std::vector<std::string>& names, Edition edition) {
  Json list = Json::array();
  for (const std::string& table : names) {
    Json one = Json::object();
    one.set("name", table).set("title", title_of(table));
    one.set("rows", rows_json(table_rows(table, edition)));
    list.push(std::move(one));
  }
  Json j = Json::object();
  j.set("format", 1).set("edition", name(edition)).set("tables", std::move(list));
  return j;
}

std::string table_list_text(int width) {
  std::string text = "Tables, each shown by `ohmleaf limits --table NAME`:\n";
  for (const TableInfo& t : tables())
    text += wrapped(t.title, "  " + padded(t.name, 23), std::string(25, ' '), width);
  return text;
}

Json table_list_json() {
  Json list = Json::array();
  for (const TableInfo& t : tables()) {
    Json one = Json::object();
    one.set("name", t.name).set("title", t.title);
    list.push(std::move(one));
  }
  Json j = Json::object();
  j.set("format", 1).set("tables", std::move(list));
  return j;
}

std::string provenance_text(Edition edition, const Style& style, int width) {
  const std::vector<Row> rows = all_rows(edition);
  std::string text = style(Tone::strong, "From memory, not read in print") + "\n";
  std::string table;
  for (const Row& row : rows) {
    if (row.provenance != Provenance::memory) continue;
    if (row.table != table) {
      table = row.table;
      text += "  " + table + "\n";
    }
    const bool counted = row.item.find_first_not_of("0123456789") == std::string::npos;
    text += wrapped(visible(counted ? row.value : row.item + ": " + value_of(row)), "    ",
                    "      ", width);
  }
  text += "\n";
  for (const Share& share : shares(rows)) {
    const std::size_t thousandths = rows.empty() ? 0 : share.count * 1000 / rows.size();
    text += fmt::format("{} {:>4} of {} ({}.{} %)\n", padded(name(share.provenance), 16),
                        share.count, rows.size(), thousandths / 10, thousandths % 10);
  }
  return text + style(Tone::quiet, "edition " + std::string(name(edition))) + "\n";
}

Json provenance_json(Edition edition) {
  const std::vector<Row> rows = all_rows(edition);
  Json counts = Json::array();
  for (const Share& share : shares(rows)) {
    Json one = Json::object();
    one.set("provenance", name(share.provenance)).set("rows", share.count);
    // In thousandths, cut off: a count of rows needs no fraction of a figure.
    one.set("permille", rows.empty() ? std::size_t{0} : share.count * 1000 / rows.size());
    counts.push(std::move(one));
  }
  std::vector<Row> memory;
  for (const Row& row : rows)
    if (row.provenance == Provenance::memory) memory.push_back(row);
  Json j = Json::object();
  j.set("format", 1).set("edition", name(edition)).set("rows", rows.size());
  j.set("shares", std::move(counts)).set("memory", rows_json(memory));
  return j;
}

}  // namespace ohmleaf::cli
