#include "base/source.h"

#include <doctest/doctest.h>

#include "base/diagnostic.h"

namespace ohmleaf {

TEST_CASE("lines and columns count characters, spans count bytes") {
  const SourceText t("x", "aΩb\n\n€\r\nlast");
  CHECK(t.line_count() == 4);
  CHECK(t.line(1) == "aΩb");
  CHECK(t.line(2) == "");
  CHECK(t.line(3) == "€");
  CHECK(t.line(4) == "last");
  CHECK(t.line(5) == "");
  CHECK(t.line(0) == "");
  CHECK(t.line_column(3).line == 1);
  CHECK(t.line_column(3).column == 3);  // the b behind the two bytes of Ω
  CHECK(t.line_column(1000).line == 4);
  for (std::uint32_t line = 1; line <= 4; ++line)
    for (std::uint32_t column = 1; column <= 2; ++column) {
      const std::uint32_t byte = t.byte_at(line, column);
      if (line == 2 && column > 1) continue;  // past the end of an empty line
      CHECK(t.line_column(byte).line == line);
      CHECK(t.line_column(byte).column == column);
    }
  CHECK(t.byte_at(1, 99) == 4);
  CHECK(t.byte_at(99, 1) == t.text().size());
}

TEST_CASE("a byte order mark has no column") {
  const SourceText t("x",
                     "\xEF\xBB\xBF"
                     "ab\nc");
  CHECK(t.line(1) == "ab");
  CHECK(t.byte_at(1, 1) == 3);
  CHECK(t.line_column(0).line == 1);
  CHECK(t.line_column(0).column == 1);
  CHECK(t.line_column(4).column == 2);
  CHECK(t.line_column(6).line == 2);
}

TEST_CASE("slices outside of a text are empty") {
  Sources s;
  const SourceId id = s.add("x", "abc");
  CHECK(id == 1);
  CHECK(s.slice({id, 1, 2}) == "b");
  CHECK(s.slice({id, 1, 99}) == "bc");
  CHECK(s.slice({id, 9, 10}) == "");
  CHECK(s.slice({id, 2, 1}) == "");
  CHECK(s.slice({}) == "");
  CHECK(s.slice({7, 0, 1}) == "");
}

TEST_CASE("messages sort by source and place, and remember the worst trouble") {
  Diagnostics d;
  CHECK(d.ok());
  d.warning("w", {1, 9, 9}, "late");
  CHECK(d.ok());
  d.error("b", {2, 0, 0}, "second file");
  d.error("c", {1, 5, 5}, "one");
  d.error("d", {1, 5, 5}, "two");
  d.sort();
  CHECK(d.all()[0].message == "one");
  CHECK(d.all()[1].message == "two");
  CHECK(d.all()[2].message == "late");
  CHECK(d.all()[3].message == "second file");
  CHECK(d.trouble() == Trouble::input);
  d.system_error("s", "disk");
  CHECK(d.trouble() == Trouble::system);
}

}  // namespace ohmleaf
