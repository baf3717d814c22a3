// A zip file that came from anywhere.
#include <sys/mman.h>
#include <unistd.h>

#include "archive/package.h"
#include "fuzz/target.h"

using namespace ohmleaf::archive;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const int memory = ::memfd_create("package", MFD_CLOEXEC);
  fuzz::promise(memory >= 0, "a file in memory can be had");
  fuzz::promise(::write(memory, data, size) == static_cast<ssize_t>(size), "it can be written");
  FsError error;
  const auto package = open_zip_package("/proc/self/fd/" + std::to_string(memory), error);
  fuzz::promise(package != nullptr || !error.what.empty(), "a package opens, or there is an error");
  if (package) {
    std::uint64_t total = 0;
    for (const Package::Item& item : package->items()) {
      fuzz::promise(is_package_name(item.name), "a name leads nowhere else");
      total += item.bytes;
      if (total > (32u << 20)) break;
      const auto bytes = package->read(item, error);
      fuzz::promise(!bytes || bytes->size() <= item.bytes, "a file is never larger than it said");
    }
  }
  ::close(memory);
  return 0;
}
