#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>

#include "app/images.h"
#include "app/picture_kinds.h"
#include "places.h"

using namespace ohmleaf;
using pictures::Picture;
namespace fs = std::filesystem;

namespace {

using Decoder = std::optional<layout::Image> (*)(std::string_view, std::string&);

struct Count {
  int right = 0, refused = 0, wrong = 0;
  int all() const { return right + refused + wrong; }
};

/// The furthest that a sample lies from where it should be; 999 where it is another picture.
int distance(const layout::Image& a, const layout::Image& b) {
  if (a.width != b.width || a.height != b.height || a.grey != b.grey ||
      a.pixels.size() != b.pixels.size() || a.alpha != b.alpha)
    return 999;
  int worst = 0;
  for (std::size_t i = 0; i < a.pixels.size(); ++i)
    worst = std::max(worst, std::abs(static_cast<int>(static_cast<unsigned char>(a.pixels[i])) -
                                     static_cast<int>(static_cast<unsigned char>(b.pixels[i]))));
  return worst;
}

/// Right, or refused with a reason: nothing else.
void judge(Decoder decode, const std::string& bytes, const Picture& from, int tolerance, Count& n) {
  std::string error;
  const auto image = decode(bytes, error);
  if (!image) {
    ++n.refused;
    CHECK_FALSE(error.empty());
  } else if (distance(*image, from.expected) <= tolerance) {
    ++n.right;
  } else {
    ++n.wrong;
  }
}

void cut_at_each_seam(Decoder decode, const Picture& p, int tolerance, Count& n) {
  for (const std::size_t seam : p.seams)
    for (const std::size_t at : {seam, seam + 5})
      if (at < p.bytes.size()) judge(decode, p.bytes.substr(0, at), p, tolerance, n);
}

std::string flipped(std::string bytes, std::mt19937& random) {
  const auto at = random() % bytes.size();
  bytes[at] = static_cast<char>(bytes[at] ^ (1 << random() % 8));
  return bytes;
}

}  // namespace

TEST_CASE("PNG of all 38 kinds: the pixels of the standard, whole, cut and flipped") {
  const auto kinds = pictures::every_png();
  CHECK(kinds.size() == 38);
  Count cut, flips;
  std::mt19937 random(1);
  for (const Picture& p : kinds) {
    CAPTURE(p.name);
    std::string error;
    const auto image = app::decode_png(p.bytes, error);
    REQUIRE_MESSAGE(image, error);
    CHECK(distance(*image, p.expected) == 0);
    cut_at_each_seam(app::decode_png, p, 0, cut);
    for (int i = 0; i < 8; ++i) judge(app::decode_png, flipped(p.bytes, random), p, 0, flips);
  }
  // A picture that lost its end is never taken; one with a bit flipped only where nothing is lost.
  CHECK(cut.refused == cut.all());
  CHECK(cut.all() >= 300);
  CHECK(flips.wrong == 0);
  CHECK(flips.all() == 304);
}

TEST_CASE("JPEG of each kind: near the pixels that went in, whole; cut, it is refused") {
  Count cut;
  int flips = 0;
  std::mt19937 random(2);
  for (const Picture& p : pictures::every_jpeg()) {
    CAPTURE(p.name);
    std::string error;
    const auto image = app::decode_jpeg(p.bytes, error);
    REQUIRE_MESSAGE(image, error);
    CHECK(distance(*image, p.expected) <= 12);
    cut_at_each_seam(app::decode_jpeg, p, 12, cut);
    // JPEG has no checksum: a flipped bit may change the picture, never its handling.
    for (int i = 0; i < 8; ++i, ++flips) {
      const auto bent = app::decode_jpeg(flipped(p.bytes, random), error);
      if (bent) CHECK(static_cast<long>(bent->width) * bent->height <= app::kMaxPixels);
    }
  }
  CHECK(cut.wrong == 0);
  CHECK(cut.all() >= 100);
  CHECK(flips >= 100);
}

TEST_CASE("what other programs stumble over is right or refused, and says why") {
  const Picture plain = pictures::every_png()[6];
  const std::string signature = plain.bytes.substr(0, 8);
  const std::string header = plain.bytes.substr(8, 25);
  const std::string rest = plain.bytes.substr(33);
  std::string error;

  // A zip file behind the picture, as a polyglot has it, is not looked at.
  const auto tail = app::decode_png(plain.bytes + "PK\x05\x06" + std::string(18, '\0'), error);
  REQUIRE(tail);
  CHECK(distance(*tail, plain.expected) == 0);
  // Text that unpacks to 8 MB and more is not unpacked.
  std::string bomb = std::string("bomb\0\0", 6) + pictures::stored(std::string(60'000, 'x'));
  const std::string text = pictures::chunk("zTXt", bomb);
  std::string many;
  for (int i = 0; i < 200; ++i) many += text;
  Count texts;
  judge(app::decode_png, signature + header + many + rest, plain, 0, texts);
  CHECK(texts.wrong == 0);
  const auto refused = [&error](const std::string& bytes) {
    error.clear();
    return !app::decode_png(bytes, error) && !error.empty();
  };
  CHECK(refused(signature + rest));                                  // no header
  CHECK(refused(signature + header + header + rest));                // two headers
  CHECK(refused(signature + header + pictures::chunk("IEND", "")));  // no picture
  CHECK(refused(signature + header + pictures::chunk("IDAT", "") + pictures::chunk("IEND", "")));
  CHECK(refused(signature + header + pictures::chunk("ABCD", "?") + rest));  // unknown and critical
  for (const char* size :
       {"\0\0\0\0\0\0\0\x07", "\xFF\xFF\xFF\xFF\0\0\0\x07", "\0\x01\0\0\0\x01\0\0"}) {
    const std::string body = std::string(size, 8) + std::string("\x08\x02\0\0\0", 5);
    CHECK(refused(signature + pictures::chunk("IHDR", body) + rest));
  }
  for (const int depth : {0, 3, 5, 7, 32}) {
    const std::string body = std::string("\0\0\0\x09\0\0\0\x07", 8) + static_cast<char>(depth) +
                             std::string("\0\0\0\0", 4);
    CHECK(refused(signature + pictures::chunk("IHDR", body) + rest));
  }
  CHECK_FALSE(app::decode_jpeg(pictures::cmyk_jpeg(), error));
  CHECK(error.find("CMYK") != std::string::npos);
}

TEST_CASE(
    "through the program's door each picture is decoded elsewhere, and a bomb comes to nothing") {
  const fs::path folder =
      fs::temp_directory_path() / ("ohmleaf-pictures-" + std::to_string(std::random_device{}()));
  fs::create_directories(folder);
  const auto load = [&folder](const std::string& bytes, Diagnostics& out) {
    std::ofstream(folder / "p", std::ios::binary)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    record::Text path;
    path.value = "p";
    return app::load_image(folder, path, out);
  };
  for (const auto& kinds : {pictures::every_png(), pictures::every_jpeg()})
    for (const Picture& p : kinds) {
      CAPTURE(p.name);
      Diagnostics out;
      const auto image = load(p.bytes, out);
      REQUIRE(image);
      CHECK(distance(image->pixels, p.expected) <= 12);
    }
  for (const std::string& bytes :
       {std::string(), std::string("GIF89a"), std::string("\x89PNG\r\n\x1a\n", 8),
        std::string("\xFF\xD8\xFF", 3), std::string(5 << 20, 'x')}) {
    Diagnostics out;
    CHECK_FALSE(load(bytes, out));
    REQUIRE(out.all().size() == 1);
    CHECK(out.trouble() == Trouble::input);
    CHECK_FALSE(out.all().front().message.empty());
  }
  fs::remove_all(folder);
}
