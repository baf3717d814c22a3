#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "base/toml_pack.h"
#include "places.h"
#include "shipped/shipped.h"

namespace ohmleaf {
namespace {

bool same(const TomlNode& a, const TomlNode& b) {
  if (a.kind != b.kind || a.key != b.key || a.key_span != b.key_span || a.span != b.span ||
      a.text != b.text || a.mended != b.mended || a.children.size() != b.children.size())
    return false;
  for (std::size_t i = 0; i < a.children.size(); ++i)
    if (!same(a.children[i], b.children[i])) return false;
  return true;
}

}  // namespace

TEST_CASE("every form, theme and words file that is shipped is known as the tree that it parses to") {
  std::size_t files = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(source_root()) / "forms")) {
    if (entry.path().extension() != ".toml") continue;
    CAPTURE(entry.path().string());
    ++files;
    std::ifstream in(entry.path(), std::ios::binary);
    const std::string text(std::istreambuf_iterator<char>(in), {});
    Sources sources;
    Diagnostics out;
    const SourceId id = sources.add("form.toml", text);
    const auto parsed = parse_toml(sources, id, out);
    REQUIRE(parsed);
    const auto known = unpack_toml(shipped::tree(text), id);
    REQUIRE(known);
    CHECK(same(*parsed, *known));
    // The control: one byte more, or another, and it is the installer's own.
    CHECK(shipped::tree(text + "\n").empty());
    std::string other = text;
    other[other.size() / 2] ^= 1;
    CHECK(shipped::tree(other).empty());
    CHECK_FALSE(same(*parsed, parsed->children.front()));
  }
  CHECK(files == shipped::count());
  CHECK(files >= 13);
}

}  // namespace ohmleaf
