#include <doctest/doctest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <functional>
#include <random>

// jpeglib.h needs stdio before it.
#include <jpeglib.h>

#include "app/images.h"
#include "app/picture_kinds.h"
#include "places.h"

// What a picture may cost, measured from outside: each file of the matrix is loaded by a process of
// its own, and the system says what that process and its own child used.

using namespace ohmleaf;
using pictures::Picture;
namespace fs = std::filesystem;

/// There only where the layers are sanitized, which takes many times the memory and the time.
extern "C" void __asan_init() __attribute__((weak));

namespace {

struct File {
  std::string name, bytes;
};

struct Cost {
  double seconds = 0, megabytes = 0;
  int code = -1;  ///< 0: loaded, 1: refused
};

/// Runs `work` in a process of its own; what that and its children used at most.
Cost cost_of(const std::function<int()>& work) {
  const pid_t child = ::fork();
  if (child == 0) ::_exit(work());
  int status = 0;
  rusage used{};
  REQUIRE(::wait4(child, &status, 0, &used) == child);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6;
  };
  return {seconds(used.ru_utime) + seconds(used.ru_stime),
          static_cast<double>(used.ru_maxrss) / 1024, WIFEXITED(status) ? WEXITSTATUS(status) : -1};
}

/// A grey JPEG in as many passes as the standard allows, each of which goes over the whole picture:
/// a short file that takes long.
std::string many_passes(int side) {
  constexpr int kMostBits = 10;  // as the library has it
  std::vector<jpeg_scan_info> passes{{1, {0}, 0, 0, 0, 0}};
  for (int k = 1; k < 64; ++k)
    for (int bit = kMostBits; bit >= 0; --bit)
      passes.push_back({1, {0}, k, k, bit == kMostBits ? 0 : bit + 1, bit});
  jpeg_compress_struct jpeg{};
  jpeg_error_mgr errors{};
  jpeg.err = jpeg_std_error(&errors);
  jpeg_create_compress(&jpeg);
  unsigned char* memory = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&jpeg, &memory, &size);
  jpeg.image_width = jpeg.image_height = static_cast<JDIMENSION>(side);
  jpeg.input_components = 1;
  jpeg.in_color_space = JCS_GRAYSCALE;
  jpeg_set_defaults(&jpeg);
  jpeg.scan_info = passes.data();
  jpeg.num_scans = static_cast<int>(passes.size());
  jpeg_start_compress(&jpeg, TRUE);
  std::vector<JSAMPLE> row(static_cast<std::size_t>(side), 128);
  for (int y = 0; y < side; ++y) {
    JSAMPROW at = row.data();
    jpeg_write_scanlines(&jpeg, &at, 1);
  }
  jpeg_finish_compress(&jpeg);
  std::string out(reinterpret_cast<const char*>(memory), size);
  jpeg_destroy_compress(&jpeg);
  std::free(memory);
  return out;
}

/// As large as a picture may be, in every colour and half transparent.
std::string largest_png() {
  layout::Image image;
  image.width = image.height = 2000;
  image.pixels.resize(3 * 4'000'000);
  image.alpha.resize(4'000'000);
  for (std::size_t i = 0; i < image.pixels.size(); ++i)
    image.pixels[i] = static_cast<char>(i / 6000 + i % 3);
  for (std::size_t i = 0; i < image.alpha.size(); ++i) image.alpha[i] = static_cast<char>(i / 2000);
  return app::encode_png(image);
}

/// The whole matrix: every kind whole, cut at each seam and with bits flipped, what other programs
/// stumble over, and what is as costly as it can be.
std::vector<File> every_file() {
  std::vector<File> out;
  std::mt19937 random(3);
  for (const auto& kinds : {pictures::every_png(), pictures::every_jpeg()})
    for (const Picture& p : kinds) {
      out.push_back({p.name, p.bytes});
      for (const std::size_t seam : p.seams)
        for (const std::size_t at : {seam, seam + 5})
          if (at < p.bytes.size()) out.push_back({p.name + ", cut", p.bytes.substr(0, at)});
      for (int i = 0; i < 8; ++i) {
        File bent{p.name + ", a bit flipped", p.bytes};
        char& byte = bent.bytes[random() % bent.bytes.size()];
        byte = static_cast<char>(byte ^ (1 << random() % 8));
        out.push_back(std::move(bent));
      }
    }
  for (const char* folder : {"/tests/data/images", "/tests/data/hostile"})
    for (const auto& entry : fs::directory_iterator(source_root() + std::string(folder))) {
      std::ifstream in(entry.path(), std::ios::binary);
      out.push_back({entry.path().filename(), {std::istreambuf_iterator<char>(in), {}}});
    }
  out.push_back({"CMYK", pictures::cmyk_jpeg()});
  out.push_back(
      {"polyglot", pictures::every_png()[6].bytes + "PK\x05\x06" + std::string(18, '\0')});
  out.push_back({"as large as may be", largest_png()});
  out.push_back({"many passes", many_passes(900)});
  out.push_back({"many passes, twice as many of them", many_passes(900) + many_passes(900)});
  return out;
}

}  // namespace

TEST_CASE("no picture of the matrix costs more than two seconds or 256 MB") {
  const fs::path folder =
      fs::temp_directory_path() / ("ohmleaf-cost-" + std::to_string(std::random_device{}()));
  fs::create_directories(folder);
  const auto files = every_file();
  CHECK(files.size() >= 400);
  Cost most;
  int loaded = 0, refused = 0;
  for (const File& file : files) {
    CAPTURE(file.name);
    std::ofstream(folder / "p", std::ios::binary) << file.bytes;
    const Cost cost = cost_of([&folder] {
      record::Text path;
      path.value = "p";
      Diagnostics out;
      const bool good = app::load_image(folder, path, out).has_value();
      return good ? 0 : out.trouble() == Trouble::input ? 1 : 2;
    });
    CHECK((cost.code == 0 || cost.code == 1));
    ++(cost.code == 0 ? loaded : refused);
    most.seconds = std::max(most.seconds, cost.seconds);
    most.megabytes = std::max(most.megabytes, cost.megabytes);
  }
  fs::remove_all(folder);
  MESSAGE(files.size() << " pictures: " << loaded << " right, " << refused << " refused; at most "
                       << most.seconds << " s, " << most.megabytes << " MB");
  CHECK(loaded >= 52);
  if (&__asan_init != nullptr) return;
  CHECK(most.seconds < 2);
  CHECK(most.megabytes < 256);
}

TEST_CASE("control: what is measured of a process is what it and its child used") {
  const Cost idle = cost_of([] { return 0; });
  const Cost busy = cost_of([] {
    return WEXITSTATUS([] {
      const pid_t child = ::fork();
      if (child == 0) {
        std::vector<char> much(std::size_t{300} << 20, 'x');
        const std::clock_t begun = std::clock();
        while (std::clock() - begun < CLOCKS_PER_SEC / 5) much[much.size() / 2]++;
        ::_exit(much[7] == 'x' ? 7 : 8);
      }
      int status = 0;
      ::waitpid(child, &status, 0);
      return status;
    }());
  });
  CHECK(busy.code == 7);
  CHECK(busy.megabytes > 256);
  CHECK(busy.seconds > 0.15);
  CHECK(busy.seconds > idle.seconds);
}
