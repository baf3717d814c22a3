#include <doctest/doctest.h>

#include "base/toml_pack.h"

namespace ohmleaf {
namespace {

constexpr const char* kText =
    "# a form\nformat = 1\n\"a b\" = \"Ω and \\u2264\"\nx = -1.10\nd = 2026-11-26\n"
    "[page]\nm = [1, [2, \"\"], {y = true}]\n[[block]]\nt = 10:11:12\n[[block]]\nz = 1979-05-27T07:32:00Z\n";

void alike(const TomlNode& a, const TomlNode& b) {
  CAPTURE(a.key);
  CHECK(a.kind == b.kind);
  CHECK(a.key == b.key);
  CHECK(a.key_span == b.key_span);
  CHECK(a.span == b.span);
  CHECK(a.text == b.text);
  CHECK(a.mended == b.mended);
  REQUIRE(a.children.size() == b.children.size());
  for (std::size_t i = 0; i < a.children.size(); ++i) alike(a.children[i], b.children[i]);
}

TomlNode parsed(Sources& sources, SourceId id) {
  Diagnostics out;
  auto root = parse_toml(sources, id, out);
  REQUIRE(root);
  return std::move(*root);
}

}  // namespace

TEST_CASE("a packed tree is the same tree again, and is taken for the text that it is said to be of") {
  Sources sources;
  const SourceId id = sources.add("a.toml", kText);
  const TomlNode root = parsed(sources, id);
  const std::string packed = pack_toml(root);
  const auto again = unpack_toml(packed, id);
  REQUIRE(again);
  alike(root, *again);
  CHECK(packed.size() < std::string_view(kText).size() * 2);

  // Of another text, to see that it is the tree that counts, and that its places are in this source.
  const SourceId other = sources.add("b.toml", "not even TOML", packed);
  const TomlNode known = parsed(sources, other);
  CHECK(known.find("x")->text == "-1.10");
  CHECK(known.find("x")->span.source == other);
}

TEST_CASE("bytes that are no packed tree give none") {
  Sources sources;
  const std::string packed = pack_toml(parsed(sources, sources.add("a.toml", kText)));
  for (std::size_t size = 0; size < packed.size(); ++size)
    CHECK_FALSE(unpack_toml(std::string_view(packed).substr(0, size), 1));
  CHECK_FALSE(unpack_toml(packed + "x", 1));
  for (std::size_t at = 0; at < packed.size(); ++at)
    for (int bit = 0; bit < 8; ++bit) {
      std::string broken = packed;
      broken[at] = static_cast<char>(broken[at] ^ (1 << bit));
      (void)unpack_toml(broken, 1);  // whatever it gives, under the sanitizers
    }
  // More depth than a file may have.
  std::string deep;
  for (int i = 0; i < 100; ++i) deep += std::string("\1\0\0\0\0\0\0\1", 8);
  CHECK_FALSE(unpack_toml(deep + std::string("\1\0\0\0\0\0\0\0", 8), 1));
  // The parser is asked where a tree is none.
  const SourceId id = sources.add("c.toml", "x = 1", "no tree");
  CHECK(parsed(sources, id).find("x")->text == "1");
}

}  // namespace ohmleaf
