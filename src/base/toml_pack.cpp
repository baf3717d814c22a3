#include "base/toml_pack.h"

#include <cstdint>

// A node: its kind, then its key and its text as length and bytes, the places of key and value, and
// its children as their number and the nodes themselves. Numbers are of seven bits a byte, the lowest
// first; places are written as differences, which are small.

namespace ohmleaf {
namespace {

// Which places there are, beside the kind.
constexpr unsigned kHasKey = 0x40, kHasPlace = 0x80, kKinds = 0x3F;

void put(std::string& out, std::uint32_t number) {
  while (number >= 0x80) {
    out += static_cast<char>((number & 0x7F) | 0x80);
    number >>= 7;
  }
  out += static_cast<char>(number);
}

void put(std::string& out, std::string_view text) {
  put(out, static_cast<std::uint32_t>(text.size()));
  out += text;
}

void put(std::string& out, Span span) {
  put(out, span.begin);
  put(out, span.end - span.begin);
}

void put(std::string& out, const TomlNode& node) {
  out += static_cast<char>(static_cast<unsigned>(node.kind) | (node.key_span.valid() ? kHasKey : 0u) |
                           (node.span.valid() ? kHasPlace : 0u));
  put(out, node.key);
  put(out, node.key_span);
  put(out, node.span);
  put(out, node.text);
  put(out, static_cast<std::uint32_t>(node.children.size()));
  for (const TomlNode& child : node.children) put(out, child);
}

class Unpacker {
 public:
  Unpacker(std::string_view bytes, SourceId source) : rest_(bytes), source_(source) {}

  bool node(TomlNode& to, int depth) {
    if (rest_.empty() || depth > kTomlMaxDepth) return false;
    const auto head = static_cast<unsigned char>(rest_.front());
    if ((head & kKinds) > static_cast<unsigned>(TomlKind::date_time)) return false;
    rest_.remove_prefix(1);
    to.kind = static_cast<TomlKind>(head & kKinds);
    std::uint32_t count = 0;
    if (!text(to.key) || !span(to.key_span) || !span(to.span) || !text(to.text) || !number(count) ||
        count > rest_.size())
      return false;
    if ((head & kHasKey) == 0) to.key_span = {};
    if ((head & kHasPlace) == 0) to.span = {};
    to.children.resize(count);
    for (TomlNode& child : to.children)
      if (!node(child, depth + 1)) return false;
    return true;
  }
  bool done() const { return rest_.empty(); }

 private:
  bool number(std::uint32_t& to) {
    std::uint64_t value = 0;
    for (int shift = 0; shift < 35; shift += 7) {
      if (rest_.empty()) return false;
      const auto byte = static_cast<unsigned char>(rest_.front());
      rest_.remove_prefix(1);
      value |= static_cast<std::uint64_t>(byte & 0x7F) << shift;
      if ((byte & 0x80) != 0) continue;
      to = static_cast<std::uint32_t>(value);
      return value <= UINT32_MAX;
    }
    return false;
  }

  bool text(std::string& to) {
    std::uint32_t size = 0;
    if (!number(size) || size > rest_.size()) return false;
    to.assign(rest_.substr(0, size));
    rest_.remove_prefix(size);
    return true;
  }

  bool span(Span& to) {
    std::uint32_t begin = 0, size = 0;
    if (!number(begin) || !number(size) || size > UINT32_MAX - begin) return false;
    to = {source_, begin, begin + size};
    return true;
  }

  std::string_view rest_;
  SourceId source_;
};

}  // namespace

std::string pack_toml(const TomlNode& root) {
  std::string out;
  put(out, root);
  return out;
}

std::optional<TomlNode> unpack_toml(std::string_view packed, SourceId source) {
  Unpacker from(packed, source);
  TomlNode root;
  if (!from.node(root, 0) || !from.done()) return std::nullopt;
  return root;
}

}  // namespace ohmleaf
