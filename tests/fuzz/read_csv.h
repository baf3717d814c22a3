#pragma once
#include <csv.h>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

// What we write, read by a parser that knows nothing of us: CSV by libcsv, in its strict mode.

namespace fuzz {

using CsvTable = std::vector<std::vector<std::string>>;

inline std::optional<CsvTable> read_csv(std::string_view text) {
  struct State {
    CsvTable rows;
    bool in_row = false;
  } state;
  csv_parser parser;
  if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0) return std::nullopt;
  csv_set_space_func(&parser, [](unsigned char) { return 0; });  // blanks belong to their cell
  const auto cell = [](void* bytes, std::size_t size, void* s) {
    auto& to = *static_cast<State*>(s);
    if (!to.in_row) to.rows.emplace_back();
    to.in_row = true;
    to.rows.back().emplace_back(static_cast<const char*>(bytes), bytes != nullptr ? size : 0);
  };
  const auto row = [](int, void* s) { static_cast<State*>(s)->in_row = false; };
  const bool whole =
      csv_parse(&parser, text.data(), text.size(), cell, row, &state) == text.size() &&
      csv_fini(&parser, cell, row, &state) == 0;
  csv_free(&parser);
  if (!whole) return std::nullopt;
  return std::move(state.rows);
}

}  // namespace fuzz
