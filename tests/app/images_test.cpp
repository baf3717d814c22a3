#include <doctest/doctest.h>

#include <filesystem>

#include "app/images.h"
#include "places.h"

using namespace ohmleaf;
namespace fs = std::filesystem;

namespace {

std::optional<app::LoadedImage> load(const std::string& name, Diagnostics& out) {
  record::Text path;
  path.value = name;
  return app::load_image(fs::path(test_data()), path, out);
}

layout::Image pixels(const std::string& name) {
  Diagnostics out;
  auto image = load("images/" + name, out);
  REQUIRE_MESSAGE(image, name << (out.empty() ? "" : ": " + out.all().front().message));
  return image->pixels;
}

}  // namespace

// The pixel values are those that the files were written with, byte for byte (PNG, ISO 15948).
TEST_CASE("PNG of every colour type comes out as 8-bit grey or RGB") {
  CHECK(pixels("rgb8.png").pixels == std::string("\xFF\0\0\0\xFF\0\0\0\xFF\xFF\xFF\xFF", 12));
  const layout::Image rgba = pixels("rgba8.png");
  CHECK(rgba.pixels == std::string("\x0A\x14\x1E\x28\x32\x3C", 6));
  CHECK(rgba.alpha == std::string("\x80\xFF", 2));
  const layout::Image grey = pixels("grey1.png");
  CHECK(grey.grey);
  CHECK(grey.pixels == std::string("\xFF\0\xFF\0\0\0\0\0", 8));
  CHECK(pixels("grey16.png").pixels == "\x80");
  CHECK(pixels("palette2.png").pixels ==
        std::string("\x01\x02\x03\x04\x05\x06\x07\x08\x09\x0A\x0B\x0C", 12));
}

TEST_CASE("JPEG, baseline and progressive: red left, blue right") {
  for (const char* name : {"baseline.jpg", "progressive.jpg"}) {
    CAPTURE(name);
    const layout::Image image = pixels(name);
    REQUIRE(image.width == 16);
    REQUIRE(image.height == 8);
    CHECK(static_cast<unsigned char>(image.pixels[0]) > 200);
    CHECK(static_cast<unsigned char>(image.pixels[15 * 3 + 2]) > 200);
  }
}

TEST_CASE("the camera's orientation is applied: turned clockwise, red stands on top") {
  const layout::Image image = pixels("rotated.jpg");
  REQUIRE(image.width == 8);
  REQUIRE(image.height == 16);
  CHECK(static_cast<unsigned char>(image.pixels[0]) > 200);
  CHECK(static_cast<unsigned char>(image.pixels[(15 * 8) * 3 + 2]) > 200);
}

TEST_CASE("what is damaged, too large or no image is refused, at the place of the path") {
  for (const char* name : {"images/truncated.png", "images/bad-crc.png", "images/huge.png",
                           "images/truncated.jpg", "images/nowhere.png", "limits/README.md",
                           "hostile/3_4.png", "hostile/6_8i.png", "hostile/bad.png"}) {
    CAPTURE(name);
    Diagnostics out;
    const auto image = load(name, out);
    if (image) {  // a file that breaks other loaders may still be a sound image
      CHECK(image->pixels.width > 0);
      continue;
    }
    CHECK(out.trouble() == Trouble::input);
  }
  Diagnostics out;
  CHECK_FALSE(load("images/huge.png", out));
  CHECK(out.all().front().message.find("4 million pixels") != std::string::npos);
  CHECK_FALSE(load("images/bad-crc.png", out));
  CHECK_FALSE(load("images/truncated.png", out));
  CHECK_FALSE(load("images/truncated.jpg", out));
}
