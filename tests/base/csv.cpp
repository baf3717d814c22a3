#include "base/csv.h"

#include <doctest/doctest.h>

#include <random>

#include "base/text.h"

namespace ohmleaf {
namespace {

struct Read {
  Sources sources;
  Diagnostics out;
  std::optional<std::vector<CsvRow>> rows;

  /// Cells parted by "|", rows by line feeds.
  std::string all() const {
    std::string text;
    for (const CsvRow& row : rows.value_or(std::vector<CsvRow>{})) {
      for (std::size_t i = 0; i < row.size(); ++i) text += (i > 0 ? "|" : "") + row[i].text;
      text += "\n";
    }
    return text;
  }
  std::string said() const {
    if (out.empty()) return "";
    const Diagnostic& d = out.all().front();
    CHECK(d.span.end <= sources.get(1).text().size());
    const LineColumn at = sources.get(1).line_column(d.span.begin);
    return std::to_string(at.line) + ":" + std::to_string(at.column) + " " + d.id;
  }
};

Read read(const std::string& text, char delimiter = ',') {
  Read r;
  const SourceId id = r.sources.add("x.csv", text);
  r.rows = parse_csv(r.sources, id, delimiter, r.out);
  return r;
}

}  // namespace

// The rules of RFC 4180, section 2, by their numbers there; their texts are its own examples.
TEST_CASE("comma-separated values as RFC 4180 has them") {
  CHECK(read("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n").all() == "aaa|bbb|ccc\nzzz|yyy|xxx\n");       // 1
  CHECK(read("aaa,bbb,ccc\r\nzzz,yyy,xxx").all() == "aaa|bbb|ccc\nzzz|yyy|xxx\n");           // 2
  CHECK(read("aaa,bbb,\r\n").all() == "aaa|bbb|\n");                                         // 4
  CHECK(read("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx").all() == "aaa|bbb|ccc\nzzz|yyy|xxx\n");  // 5
  CHECK(read("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx").all() ==
        "aaa|b\r\nbb|ccc\nzzz|yyy|xxx\n");                                                   // 6
  CHECK(read("\"aaa\",\"b\"\"bb\",\"ccc\"").all() == "aaa|b\"bb|ccc\n");                     // 7
}

TEST_CASE("and as programs write them") {
  CHECK(read("\xEF\xBB\xBF" "a;b\n1;2\n", ';').all() == "a|b\n1|2\n");
  CHECK(read("a\tb\r1\t2\r", '\t').all() == "a|b\n1|2\n");
  CHECK(read("a,b\n\n , \n1,2\n").all() == "a|b\n1|2\n");
  CHECK(read("a , \"b\" ,c\n").all() == "a |b|c\n");
  CHECK(read("5\" pipe,b\n").all() == "5\" pipe|b\n");
  CHECK(read("").all() == "");
}

TEST_CASE("each cell knows its place") {
  const Read r = read("ref,Zs\n3, \"0,46\"\n");
  REQUIRE(r.rows);
  CHECK(r.sources.slice((*r.rows)[1][1].span) == " \"0,46\"");
  CHECK((*r.rows)[1][1].text == "0,46");
}

TEST_CASE("what is no such file is refused at its place") {
  CHECK(read("a,b\n1,\"2\n").said() == "2:3 csv-quotation");
  CHECK(read("a,b\n\"1\"x,2\n").said() == "2:1 csv-quotation");
  CHECK(read("a,b\n\xFF\xFE,2\n").said() == "2:1 not-utf8");
  CHECK(read(std::string("a\0b\n", 4)).said() == "1:2 not-utf8");
  CHECK(read(std::string(kCsvMaxBytes + 1, 'a')).said() == "1:1 file-too-large");
  CHECK(read(std::string(kCsvMaxCells, ',')).said() == "1:401 csv-too-large");
  std::string rows;
  for (std::size_t i = 0; i <= kCsvMaxRows; ++i) rows += "a\n";
  CHECK(read(rows).said() == "20001:1 csv-too-large");
}

TEST_CASE("a row that is written is read again as it was") {
  std::mt19937 random(11);
  const std::string letters = "ab,;\"\r\n\t 0.4>=+-@Ω";
  for (int i = 0; i < 500; ++i) {
    std::vector<std::string> cells{"x"};  // a row of empty cells is left out
    for (std::size_t n = random() % 5; n > 0; --n) {
      std::string cell;
      for (std::size_t k = random() % 6; k > 0; --k) cell += letters[random() % (letters.size() - 2)];
      cells.push_back(cell);
    }
    const std::string text = csv_row(cells);
    CAPTURE(text);
    const Read r = read(text);
    REQUIRE(r.rows);
    REQUIRE(r.rows->size() == 1);
    REQUIRE(r.rows->front().size() == cells.size());
    for (std::size_t k = 0; k < cells.size(); ++k)
      CHECK(r.rows->front()[k].text == (begins_formula(cells[k]) ? "'" : "") + cells[k]);
  }
}

TEST_CASE("no cell that is written begins a formula; a plain number stays one") {
  for (const char* formula :
       {"=1+1", "+44 1632 960001", "-", "-0.3 \u03a9", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "-1-1",
        "+", "--1", "-1.", "-.5", "-1.2.3", "\uFF1D1", "\uFF0B1", "\uFF0D1", "\uFF20a"}) {
    CAPTURE(formula);
    CHECK(begins_formula(formula));
    const std::string row = csv_row({formula});
    CHECK((row.starts_with("'") || row.starts_with("\"'")));
  }
  CHECK(csv_row({"a,b", "=a,b"}) == "\"a,b\",\"'=a,b\"\r\n");
  for (const char* plain : {"", "0.46", "-0.3", "+5", "-12", ">999", "<0.01", "'=1", "a=b", " 3"}) {
    CAPTURE(plain);
    CHECK_FALSE(begins_formula(plain));
    CHECK(csv_row({plain}) == std::string(plain) + "\r\n");
  }
}

TEST_CASE("hostile texts end, with rows or with a message") {
  std::mt19937 random(12);
  const std::string sound = "ref;\"Zs (Ω)\";L-E\r\n3;\"0,46\";>999\r\n\"6\";0,84;\"200\"\r\n";
  for (int i = 0; i < 3000; ++i) {
    std::string text = sound;
    for (std::size_t n = 1 + random() % 4; n > 0; --n) {
      const std::size_t at = random() % text.size();
      switch (random() % 3) {
        case 0: text[at] = static_cast<char>(random() % 256); break;
        case 1: text.insert(at, 1, ";\"\r\n,"[random() % 5]); break;
        default: text.erase(at, 1 + random() % 8);
      }
      if (text.empty()) text = "\"";
    }
    const Read r = read(text, ';');
    CAPTURE(text);
    CHECK(r.rows.has_value() == r.out.ok());
  }
}

}  // namespace ohmleaf
