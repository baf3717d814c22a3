#include "base/heap.h"

#include <malloc.h>
#include <sys/mman.h>
#include <unistd.h>

#include <cstdint>
#include <cstdlib>

namespace ohmleaf {

#if defined(__GLIBC__) && defined(MADV_HUGEPAGE)

namespace {

constexpr std::uintptr_t kLarge = std::uintptr_t{2} << 20;
/// Room only: what is not used takes no memory. A child that decodes a picture may have 256 MiB of
/// addresses (app/images.cpp), this among them.
constexpr int kRoom = 96 << 20;
constexpr int kGrowth = 1 << 20, kKept = 128 << 20, kLargestPiece = 32 << 20;
/// More than is left of the heap's first piece, so that it grows.
constexpr std::size_t kBeyond = 512u << 10;

/// What lies before the first large page stays unused.
void skip_to(std::uintptr_t large) {
  void* volatile here = std::malloc(64);
  const auto at = reinterpret_cast<std::uintptr_t>(here);
  void* volatile unused = at != 0 && at < large ? std::malloc(large - at) : nullptr;
  static_cast<void>(unused);
  std::free(here);
}

}  // namespace

void prepare_heap() {
  mallopt(M_MMAP_THRESHOLD, kLargestPiece);
  mallopt(M_TRIM_THRESHOLD, kKept);
  mallopt(M_TOP_PAD, kRoom);
  const auto before = reinterpret_cast<std::uintptr_t>(::sbrk(0));
  void* volatile grown = std::malloc(kBeyond);  // volatile: or the compiler sees that it is unused
  std::free(grown);
  const auto after = reinterpret_cast<std::uintptr_t>(::sbrk(0));
  mallopt(M_TOP_PAD, kGrowth);
  const std::uintptr_t large = (before + kLarge - 1) / kLarge * kLarge;
  if (after <= large + kLarge) return;  // another allocator
  if (::madvise(reinterpret_cast<void*>(large), after - large, MADV_HUGEPAGE) == 0) skip_to(large);
}

#else

void prepare_heap() {}

#endif

}  // namespace ohmleaf
