#pragma once
#include <doctest/doctest.h>

#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "places.h"
#include "quantity/decimal.h"

// Reads the tab-separated tables under tests/data: a heading row, cells that may stand in double
// quotes (doubled inside).

namespace ohmleaf::test {

struct TsvRow {
  std::string file;
  int line = 0;  ///< of the file, the heading is line 1
  std::map<std::string, std::string> cells;

  const std::string& operator[](const std::string& column) const {
    const auto found = cells.find(column);
    REQUIRE_MESSAGE(found != cells.end(), file, " has no column ", column);
    return found->second;
  }
  bool has(const std::string& column) const { return !(*this)[column].empty(); }
  Decimal number(const std::string& column) const {
    const auto value = Decimal::parse((*this)[column]);
    REQUIRE_MESSAGE(value.has_value(), file, " line ", line, ": ", (*this)[column],
                    " is no number");
    return value.value_or(Decimal::void_value());
  }
  /// "bs3036_zs.tsv:4 (published: …)": named in every check.
  std::string where() const {
    const auto source = cells.find("source");
    return file + ":" + std::to_string(line) +
           (source == cells.end() ? std::string() : " (" + source->second + ")");
  }
};

inline std::vector<std::string> tsv_cells(const std::string& line) {
  std::vector<std::string> out(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '"') {
      if (quoted && i + 1 < line.size() && line[i + 1] == '"') {
        out.back() += line[i++];
      } else {
        quoted = !quoted;
      }
    } else if (line[i] == '\t' && !quoted) {
      out.emplace_back();
    } else if (line[i] != '\r') {
      out.back() += line[i];
    }
  }
  return out;
}

inline std::vector<TsvRow> read_tsv(const std::string& path) {
  std::ifstream in(std::string(test_data()) + "/" + path);
  REQUIRE_MESSAGE(in.good(), "cannot read ", path);
  std::string line;
  std::getline(in, line);
  const std::vector<std::string> heading = tsv_cells(line);
  std::vector<TsvRow> rows;
  for (int number = 2; std::getline(in, line); ++number) {
    const std::vector<std::string> cells = tsv_cells(line);
    REQUIRE_MESSAGE(cells.size() == heading.size(), path, " line ", number);
    TsvRow row;
    row.file = path.substr(path.rfind('/') + 1);
    row.line = number;
    for (std::size_t i = 0; i < heading.size(); ++i) row.cells[heading[i]] = cells[i];
    rows.push_back(std::move(row));
  }
  REQUIRE(!rows.empty());
  return rows;
}

inline Decimal dec(std::string_view text) {
  const auto value = Decimal::parse(text);
  REQUIRE_MESSAGE(value.has_value(), "no number: ", std::string(text));
  return value.value_or(Decimal::void_value());
}

}  // namespace ohmleaf::test
