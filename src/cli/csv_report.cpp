#include "cli/csv_report.h"

#include <algorithm>

#include "base/csv.h"
#include "base/text.h"

namespace ohmleaf::cli {
namespace {

std::string scalar(const Json& value) {
  if (const std::string* text = value.as_string()) return *text;
  if (value.is_null()) return {};
  if (const Json::Array* all = value.as_array()) {
    std::vector<std::string> parts;
    for (const Json& one : *all)
      if (one.as_object() == nullptr) parts.push_back(scalar(one));
    return join(parts, "; ");
  }
  return value.dump(-1);
}

using Cells = std::vector<std::pair<std::string, std::string>>;

void flatten(const Json& object, const std::string& before, Cells& out) {
  for (const auto& [name, value] : *object.as_object())
    if (value.as_object() != nullptr)
      flatten(value, before + name + ".", out);
    else
      out.emplace_back(before + name, scalar(value));
}

}  // namespace

std::string csv_of(const Json& list) {
  std::vector<Cells> rows;
  std::vector<std::string> columns;
  for (const Json& one : *list.as_array()) {
    Cells cells;
    flatten(one, "", cells);
    for (const auto& [name, text] : cells)
      if (std::find(columns.begin(), columns.end(), name) == columns.end()) columns.push_back(name);
    rows.push_back(std::move(cells));
  }
  std::string out = columns.empty() ? std::string() : csv_row(columns);
  for (const Cells& cells : rows) {
    std::vector<std::string> row(columns.size());
    for (const auto& [name, text] : cells)
      row[static_cast<std::size_t>(std::find(columns.begin(), columns.end(), name) -
                                   columns.begin())] = text;
    out += csv_row(row);
  }
  return out;
}

}  // namespace ohmleaf::cli
