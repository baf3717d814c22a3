#include <array>

#include "app/picture_kinds.h"

namespace pictures {
namespace {

struct Kind {
  int color = 0, depth = 8;
  bool interlaced = false, transparent = false;
};

void put32(std::string& out, std::uint32_t n) {
  for (int shift = 24; shift >= 0; shift -= 8) out += static_cast<char>(n >> shift & 0xFF);
}

/// Annex D of the standard.
std::uint32_t crc(std::string_view bytes) {
  std::uint32_t c = 0xFFFFFFFFu;
  for (const unsigned char b : bytes) {
    c ^= b;
    for (int i = 0; i < 8; ++i) c = (c & 1) != 0 ? 0xEDB88320u ^ (c >> 1) : c >> 1;
  }
  return c ^ 0xFFFFFFFFu;
}

constexpr int kWidth = 9, kHeight = 7;  // no multiple of 8: every pass of Adam7 has a ragged edge

int channels(int color) {
  return color == 2 ? 3 : color == 4 ? 2 : color == 6 ? 4 : 1;
}

/// The sample of a channel at a pixel: different everywhere, the same on every machine.
std::uint32_t sample(const Kind& kind, int x, int y, int channel) {
  const auto n = static_cast<std::uint32_t>(x * 7919 + y * 104729 + channel * 1299709 + 12345);
  return (n * 2654435761u >> 8) & ((1u << kind.depth) - 1);
}

/// The pixel that tRNS makes invisible.
constexpr int kClearX = 4, kClearY = 3;

std::string row_of(const Kind& kind, int y, int x0, int step, int count) {
  std::string out;
  unsigned bits = 0, held = 0;
  for (int i = 0; i < count; ++i)
    for (int c = 0; c < channels(kind.color); ++c) {
      const std::uint32_t v = sample(kind, x0 + i * step, y, c);
      bits = bits << kind.depth | v;
      held += static_cast<unsigned>(kind.depth);
      while (held >= 8) {
        out += static_cast<char>(bits >> (held - 8) & 0xFF);
        held -= 8;
      }
    }
  if (held > 0) out += static_cast<char>(bits << (8 - held) & 0xFF);
  return out;
}

int paeth(int a, int b, int c) {
  const int p = a + b - c, pa = std::abs(p - a), pb = std::abs(p - b), pc = std::abs(p - c);
  if (pa <= pb && pa <= pc) return a;
  return pb <= pc ? b : c;
}

/// Clause 9: each row of another filter.
std::string filtered(const std::vector<std::string>& rows, std::size_t pixel_bytes) {
  std::string out;
  std::string above;
  for (std::size_t y = 0; y < rows.size(); ++y) {
    const std::string& row = rows[y];
    above.resize(row.size(), '\0');
    const int type = static_cast<int>(y % 5);
    out += static_cast<char>(type);
    for (std::size_t i = 0; i < row.size(); ++i) {
      const auto at = [](const std::string& s, std::size_t k) {
        return static_cast<int>(static_cast<unsigned char>(s[k]));
      };
      const int a = i >= pixel_bytes ? at(row, i - pixel_bytes) : 0, b = at(above, i),
                c = i >= pixel_bytes ? at(above, i - pixel_bytes) : 0;
      const std::array<int, 5> guess{0, a, b, (a + b) / 2, paeth(a, b, c)};
      out += static_cast<char>(at(row, i) - guess[static_cast<std::size_t>(type)]);
    }
    above = row;
  }
  return out;
}

std::string image_data(const Kind& kind) {
  const std::size_t pixel_bytes =
      static_cast<std::size_t>(std::max(1, kind.depth * channels(kind.color) / 8));
  struct Pass {
    int x, y, dx, dy;
  };
  // Clause 8: the seven passes of Adam7.
  const std::vector<Pass> passes =
      kind.interlaced ? std::vector<Pass>{{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4},
                                          {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}}
                      : std::vector<Pass>{{0, 0, 1, 1}};
  std::string out;
  for (const Pass& p : passes) {
    std::vector<std::string> rows;
    const int count = p.x < kWidth ? (kWidth - p.x + p.dx - 1) / p.dx : 0;
    for (int y = p.y; count > 0 && y < kHeight; y += p.dy)
      rows.push_back(row_of(kind, y, p.x, p.dx, count));
    out += filtered(rows, pixel_bytes);
  }
  return out;
}

/// The palette: entry n is (n, 255 - n, 3n).
std::string palette(const Kind& kind) {
  std::string out;
  for (int n = 0; n < 1 << kind.depth; ++n)
    for (const int v : {n, 255 - n, 3 * n & 0xFF}) out += static_cast<char>(v);
  return out;
}

std::string transparency(const Kind& kind) {
  std::string out;
  if (kind.color == 3) {
    for (int n = 0; n < 1 << kind.depth; ++n) out += static_cast<char>(n % 2 == 0 ? 0x40 : 0xFF);
    return out;
  }
  for (int c = 0; c < channels(kind.color); ++c) {
    const std::uint32_t v = sample(kind, kClearX, kClearY, c);
    out += static_cast<char>(v >> 8);
    out += static_cast<char>(v & 0xFF);
  }
  return out;
}

char to_eight(const Kind& kind, std::uint32_t v) {
  if (kind.depth == 8) return static_cast<char>(v);
  const std::uint32_t top = (1u << kind.depth) - 1;
  return static_cast<char>((v * 255 + top / 2) / top);  // clause 13.12: linear, to the nearest
}

ohmleaf::layout::Image expected(const Kind& kind) {
  ohmleaf::layout::Image out;
  out.width = kWidth;
  out.height = kHeight;
  out.grey = kind.color == 0 || kind.color == 4;
  for (int y = 0; y < kHeight; ++y)
    for (int x = 0; x < kWidth; ++x) {
      if (kind.color == 3) {
        const int n = static_cast<int>(sample(kind, x, y, 0));
        for (const int v : {n, 255 - n, 3 * n & 0xFF}) out.pixels += static_cast<char>(v);
        if (kind.transparent) out.alpha += static_cast<char>(n % 2 == 0 ? 0x40 : 0xFF);
        continue;
      }
      const int colors = out.grey ? 1 : 3;
      bool clear = true;
      for (int c = 0; c < colors; ++c) {
        out.pixels += to_eight(kind, sample(kind, x, y, c));
        clear = clear && sample(kind, x, y, c) == sample(kind, kClearX, kClearY, c);
      }
      if (kind.color >= 4) out.alpha += to_eight(kind, sample(kind, x, y, colors));
      if (kind.transparent) out.alpha += static_cast<char>(clear ? 0 : 0xFF);
    }
  return out;
}

Picture made(const Kind& kind) {
  Picture p;
  p.name = "colour type " + std::to_string(kind.color) + ", " + std::to_string(kind.depth) +
           " bits" + (kind.interlaced ? ", interlaced" : "") + (kind.transparent ? ", tRNS" : "");
  p.expected = expected(kind);
  p.bytes = std::string("\x89PNG\r\n\x1a\n", 8);
  const auto add = [&p](std::string_view type, std::string_view data) {
    p.seams.push_back(p.bytes.size());
    p.bytes += chunk(type, data);
  };
  std::string header;
  put32(header, kWidth);
  put32(header, kHeight);
  for (const int v : {kind.depth, kind.color, 0, 0, kind.interlaced ? 1 : 0})
    header += static_cast<char>(v);
  add("IHDR", header);
  if (kind.color == 3) add("PLTE", palette(kind));
  if (kind.transparent) add("tRNS", transparency(kind));
  const std::string data = stored(image_data(kind));
  add("IDAT", std::string_view(data).substr(0, 11));  // in two pieces, as the standard lets it be
  add("IDAT", std::string_view(data).substr(11));
  add("IEND", "");
  return p;
}

}  // namespace

std::string chunk(std::string_view type, std::string_view data) {
  std::string out;
  put32(out, static_cast<std::uint32_t>(data.size()));
  const std::string body = std::string(type) + std::string(data);
  out += body;
  put32(out, crc(body));
  return out;
}

std::string stored(std::string_view data) {
  std::string out("\x78\x01", 2);
  std::uint32_t a = 1, b = 0;
  for (const unsigned char c : data) {
    a = (a + c) % 65521;
    b = (b + a) % 65521;
  }
  const auto size = static_cast<unsigned>(data.size());
  out += '\x01';
  for (const unsigned v : {size & 0xFF, size >> 8, ~size & 0xFF, ~size >> 8 & 0xFF})
    out += static_cast<char>(v);
  out += data;
  put32(out, b << 16 | a);
  return out;
}

std::vector<Picture> every_png() {
  std::vector<Picture> out;
  const std::vector<std::pair<int, std::vector<int>>> depths{
      {0, {1, 2, 4, 8, 16}}, {2, {8, 16}}, {3, {1, 2, 4, 8}}, {4, {8, 16}}, {6, {8, 16}}};
  for (const auto& [color, each] : depths)
    for (const int depth : each)
      for (const bool interlaced : {false, true})
        out.push_back(made({color, depth, interlaced, false}));
  for (const Kind& kind : {Kind{0, 8}, Kind{0, 16}, Kind{2, 8}, Kind{2, 16}, Kind{3, 1}, Kind{3, 2},
                           Kind{3, 4}, Kind{3, 8}})
    out.push_back(made({kind.color, kind.depth, false, true}));
  return out;
}

}  // namespace pictures
