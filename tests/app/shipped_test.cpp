#include <doctest/doctest.h>
#include <libdeflate.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "base/digest.h"
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

/// By libdeflate's other half.
std::string inflated(std::string_view packed, std::size_t size) {
  std::string out(size, '\0');
  libdeflate_decompressor* reader = libdeflate_alloc_decompressor();
  REQUIRE(reader != nullptr);
  CHECK(libdeflate_zlib_decompress(reader, packed.data(), packed.size(), out.data(), size,
                                   nullptr) == LIBDEFLATE_SUCCESS);
  libdeflate_free_decompressor(reader);
  return out;
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
    const auto made = shipped::find(text);
    REQUIRE(made);
    CHECK(made->sha256_hex == sha256_hex(text));
    CHECK(made->md5 == md5_raw(text));
    CHECK(inflated(made->deflated, text.size()) == text);
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
