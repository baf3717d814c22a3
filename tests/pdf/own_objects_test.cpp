#include "pdf/own_objects.h"

#include <doctest/doctest.h>

#include <string>

using ohmleaf::pdf::OwnObjects;

namespace {

/// Two objects and their table, as ISO 32000-1, 7.5.4 and 7.5.5 describe them.
const std::string kFile =
    "%PDF-1.7\n1 0 obj\n<</Type/Catalog/K 3 0 R>>\nendobj\n2 0 obj\n<<>>\nendobj\n"
    "xref\n0 3\n0000000000 65535 f\r\n0000000009 00000 n\r\n0000000050 00000 n\r\n"
    "trailer\n<<\n/Root 1 0 R\n/Size 3\n>>\nstartxref\n70\n%%EOF\n";

}  // namespace

TEST_CASE("objects of ours stand before the table, which counts them") {
  OwnObjects own;
  own.begin(3);
  CHECK(own.empty());
  own.add("<</S/Document>>");
  own.add("<</Nums[]>>");
  REQUIRE(!own.empty());
  std::string file = kFile;
  REQUIRE(own.append_to(file));
  CHECK(file ==
        "%PDF-1.7\n1 0 obj\n<</Type/Catalog/K 3 0 R>>\nendobj\n2 0 obj\n<<>>\nendobj\n"
        "3 0 obj\n<</S/Document>>\nendobj\n4 0 obj\n<</Nums[]>>\nendobj\n"
        "xref\n0 5\n0000000000 65535 f\r\n0000000009 00000 n\r\n0000000050 00000 n\r\n"
        "0000000070 00000 n\r\n0000000101 00000 n\r\n"
        "trailer\n<<\n/Root 1 0 R\n/Size 5\n>>\nstartxref\n128\n%%EOF\n");
  for (const auto& [offset, begin] : {std::pair{70, "3 0 obj"}, {101, "4 0 obj"}, {128, "xref"}})
    CHECK(file.substr(static_cast<std::size_t>(offset)).starts_with(begin));
}

TEST_CASE("a file that is not as the library writes it is left alone") {
  OwnObjects own;
  own.begin(3);
  own.add("<<>>");
  const auto refused = [&](std::string file) {
    const std::string before = file;
    return !own.append_to(file) && file == before;
  };
  const auto with = [](std::string_view from, std::string_view to) {
    std::string file = kFile;
    return file.replace(file.find(from), from.size(), to);
  };
  CHECK(refused(""));
  CHECK(refused(with("startxref", "startxxxx")));
  CHECK(refused(with("startxref\n70", "startxref\n71")));
  CHECK(refused(with("startxref\n70", "startxref\n99999999999999999999")));
  CHECK(refused(with("0 3\n", "0 4\n")));
  CHECK(refused(with("0 3\n", "0 30000\n")));
  CHECK(refused(with("/Size 3", "/Size 4")));
  OwnObjects other;  // the library made one more object than it said
  other.begin(2);
  other.add("<<>>");
  std::string file = kFile;
  CHECK(!other.append_to(file));
  CHECK(file == kFile);
}
