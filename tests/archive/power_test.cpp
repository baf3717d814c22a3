#include <doctest/doctest.h>
#include <signal.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <random>

#include "archive/faults.h"

using namespace sample;
using faults::Bench;
using faults::Scenario;
using tracer::Act;
using tracer::Fault;

// Needs root and a loop device: not in every run, but with `--no-skip` (tests/long/archive_proof).

namespace {

/// A disk image with an ext4 file system, mounted while the object lives.
class Disk {
 public:
  Disk(const stdfs::path& image, const stdfs::path& at, const std::string& options) : at_(at) {
    stdfs::create_directories(at);
    mounted_ = shell("mount -o loop," + options + " " + image.string() + " " + at.string());
  }
  Disk(const Disk&) = delete;
  Disk& operator=(const Disk&) = delete;
  ~Disk() {
    if (mounted_) shell("umount " + at_.string());
  }
  bool mounted() const { return mounted_; }

 private:
  stdfs::path at_;
  bool mounted_ = false;
};

/// Cuts the power of a scenario's command at one of its calls: the image is copied as it stands,
/// with whatever had reached it, and the copy is mounted and looked at.
class PowerBench {
 public:
  explicit PowerBench(std::string options) : options_(std::move(options)) {}

  /// What is wrong after a cut ahead of the nth call; nothing to cut at: `happened` stays false.
  std::string cut(const Scenario& scenario, int nth, bool& happened) {
    return examined(scenario, Fault{Act::cut, -1, nth, false, 0}, happened);
  }
  /// The control: every fsync only says that it was done, and the power goes after the end.
  std::string lied_to(const Scenario& scenario) {
    bool happened = false;
    return examined(scenario, Fault{Act::lie, SYS_fsync, 1, true, 0}, happened);
  }

 private:
  stdfs::path image(const Scenario& scenario) {
    const stdfs::path model = folder_.path() / (std::to_string(scenario.name.size()) +
                                                scenario.name.substr(0, 4) + ".img");
    if (!stdfs::exists(model)) {
      spill(model, "");
      stdfs::resize_file(model, 12u << 20);
      REQUIRE(shell("mkfs.ext4 -q -b 1024 -J size=1 " + model.string()));
      const Disk disk(model, mount_, options_);
      REQUIRE(disk.mounted());
      stdfs::create_directory(mount_ / "place");
      scenario.prepare(mount_ / "place/archive");
      ::sync();
    }
    return model;
  }

  std::string examined(const Scenario& scenario, const Fault& fault, bool& happened) {
    const stdfs::path image_now = folder_.path() / "now.img", cut = folder_.path() / "cut.img";
    stdfs::copy_file(image(scenario), image_now, stdfs::copy_options::overwrite_existing);
    faults::Hurt hurt;
    {
      const Disk disk(image_now, mount_, options_);
      REQUIRE(disk.mounted());
      if (scenario.lately) {
        faults::looked_just_now(mount_ / "place/archive");
        ::sync();
      }
      const auto look = [&] {
        stdfs::copy_file(image_now, cut, stdfs::copy_options::overwrite_existing);
      };
      hurt = Bench::hurt(scenario, mount_ / "place/archive", fault, {}, look);
      happened = hurt.run.injected > 0;
      if (fault.act != Act::cut || !happened) look();
    }
    const Disk disk(cut, mount_, options_);
    if (!disk.mounted()) return "the copy cannot be mounted";
    return faults::examine(scenario, mount_ / "place/archive", hurt.answer);
  }

  Folder folder_;
  stdfs::path mount_ = folder_.path() / "mount";
  std::string options_;
};

/// The system writes back what it likes in its own time: asked for late, so that only what was
/// brought to the disk is there.
const std::vector<std::string> kOptions{"commit=300", "commit=300,data=writeback,noauto_da_alloc"};

}  // namespace

TEST_CASE("archive: a power cut at any call leaves nothing lost and nothing halved" *
          doctest::skip()) {
  if (::geteuid() != 0) {
    row("power cuts on ext4", 0, "not tried: mounting needs root");
    FAIL("power cuts need root");
  }
  std::mt19937 random(seed());
  int cuts = 0, wrong = 0, lost = 0, lies = 0;
  Bench memory;
  for (const std::string& options : kOptions) {
    PowerBench bench(options);
    for (const Scenario& s : faults::scenarios()) {
      const std::size_t calls = memory.calls(s).size();
      const std::size_t each = few(2, 10);
      // Evenly over the command, and once after its last call.
      for (std::size_t n = 0; n <= each; ++n) {
        const std::size_t step = calls / each;
        const std::size_t at = n == each ? calls + 1 : n * step + 1 + random() % step;
        bool happened = false;
        const std::string what = bench.cut(s, static_cast<int>(at), happened);
        CAPTURE(s.name);
        CAPTURE(options);
        CAPTURE(at);
        CHECK(what == "");
        ++cuts;
        wrong += what.empty() ? 0 : 1;
      }
      if (s.due == "done") continue;  // an index or a recovery may be lost, and is made again
      ++lies;
      lost += bench.lied_to(s).empty() ? 0 : 1;
    }
  }
  row("power cuts on ext4", cuts, std::to_string(wrong) + " wrong");
  row("power cuts: control, an fsync that lies", lies, std::to_string(lost) + " caught");
  CHECK(cuts >= runs(40, 100));
  CHECK(lost > 0);
}

TEST_CASE("archive: a disk that is full at any size leaves nothing lost and nothing halved" *
          doctest::skip()) {
  const Folder folder;
  const stdfs::path place = folder.path() / "full";
  stdfs::create_directory(place);
  Bench memory;
  int full = 0, tried = 0, caught = 0;
  const auto at_size = [&](const Scenario& s, int kib, bool& was_full) {
    REQUIRE(shell("mount -t tmpfs -o size=" + std::to_string(kib) + "k none " + place.string()));
    std::string wrong = "unfit";
    std::error_code small;
    stdfs::copy(memory.fresh(s).parent_path(), place, stdfs::copy_options::recursive, small);
    if (!small) {
      const faults::Hurt hurt = Bench::hurt(s, place / "archive", std::nullopt);
      was_full = !hurt.answer || hurt.answer->said.empty();
      shell("mount -o remount,size=8m " + place.string());
      wrong = faults::examine(s, place / "archive", hurt.answer);
    }
    shell("umount " + place.string());
    return wrong;
  };
  for (const Scenario& s : faults::scenarios()) {
    for (int kib = 8; kib < 420; kib += runs(64, 6)) {
      bool was_full = false;
      const std::string wrong = at_size(s, kib, was_full);
      if (!was_full) continue;
      CAPTURE(s.name);
      CAPTURE(kib);
      CHECK(wrong == "");
      ++full;
    }
  }
  for (int kib = 8; kib < 420; kib += 8) {
    bool was_full = false;
    const std::string wrong = at_size(faults::careless(), kib, was_full);
    if (wrong == "unfit") continue;
    ++tried;
    caught += wrong.empty() ? 0 : 1;
  }
  row("a full disk", full, "0 wrong where no failure is shown");
  row("a full disk: control, a careless writer", tried, std::to_string(caught) + " caught");
  CHECK(full >= runs(5, 100));
  CHECK(caught > 0);
}
