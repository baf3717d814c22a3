#include <cstdint>
#include <cstdio>
#include <fstream>
#include <iterator>

#include "base/digest.h"
#include "base/toml_pack.h"
#include "pdf/deflate.h"

// Run while the program is built: pack OUT FILE ... A file that does not parse ends the build.

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  std::ofstream out(argv[1], std::ios::binary);
  ohmleaf::pdf::Deflater deflated;
  for (int i = 2; i < argc; ++i) {
    std::ifstream in(argv[i], std::ios::binary);
    const std::string text(std::istreambuf_iterator<char>(in), {});
    ohmleaf::Sources sources;
    ohmleaf::Diagnostics found;
    const auto root = ohmleaf::parse_toml(sources, sources.add(argv[i], text), found);
    if (!root) {
      for (const ohmleaf::Diagnostic& d : found.all())
        std::fprintf(stderr, "%s: %s\n", argv[i], d.message.c_str());
      return 1;
    }
    const std::string tree = ohmleaf::pack_toml(*root);
    const std::string packed = deflated(text);
    if (packed.empty()) return 1;
    const std::uint32_t sizes[] = {static_cast<std::uint32_t>(text.size()),
                                   static_cast<std::uint32_t>(tree.size()),
                                   static_cast<std::uint32_t>(packed.size())};
    out.write(reinterpret_cast<const char*>(sizes), sizeof sizes);
    out << text << tree << packed << ohmleaf::sha256_hex(text) << ohmleaf::md5_raw(text);
  }
  return out.flush().good() ? 0 : 1;
}
