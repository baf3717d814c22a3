#include "base/memory.h"

#include <malloc.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>

namespace ohmleaf {
namespace {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool kOurHeap = false;
#elif defined(__has_feature)
constexpr bool kOurHeap = !__has_feature(address_sanitizer) && !__has_feature(thread_sanitizer);  // NOLINT(misc-redundant-expression)
#else
constexpr bool kOurHeap = true;
#endif

// A larger one is mapped for itself, and given back when it is freed.
constexpr int kLargestOfHeap = 32 << 20;
constexpr int kStep = 1 << 20;  // by which the heap grows
constexpr std::size_t kBlock = std::size_t{31} << 20;
constexpr std::uintptr_t kLargePage = std::uintptr_t{2} << 20;

/// Has the system hand over what lies in `block`. In large pages where it has them for whoever asks;
/// older systems refuse either, and each page comes when it is met.
void fetch(void* block, std::size_t bytes) {
  const auto address = reinterpret_cast<std::uintptr_t>(block);
  const auto between = [&](std::uintptr_t size, int advice) {
    const auto begin = (address + size - 1) / size * size, end = (address + bytes) / size * size;
    if (begin < end) (void)::madvise(reinterpret_cast<void*>(begin), end - begin, advice);
  };
  between(kLargePage, MADV_HUGEPAGE);
  between(static_cast<std::uintptr_t>(::sysconf(_SC_PAGESIZE)), MADV_POPULATE_WRITE);
}

}  // namespace

void keep_memory() {
  ::mallopt(M_MMAP_THRESHOLD, kLargestOfHeap);
  ::mallopt(M_TRIM_THRESHOLD, 2 * kLargestOfHeap);
  ::mallopt(M_TOP_PAD, kStep);
}

void expect_memory(std::size_t bytes) {
  if (!kOurHeap) return;
  keep_memory();
  // Blocks from the end of the heap, which grows for them: freed, they are the heap's free end.
  std::array<void*, kMostExpected / kBlock> blocks{};
  bytes = std::min(bytes, kMostExpected);
  for (void*& block : blocks) {
    const std::size_t size = std::min(bytes, kBlock);
    if (size > 0) block = std::malloc(size);
    if (block == nullptr) break;
    fetch(block, size);
    bytes -= size;
  }
  for (void* block : blocks) std::free(block);
}

}  // namespace ohmleaf
