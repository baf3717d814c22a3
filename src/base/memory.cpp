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

// A larger one is mapped for itself, and given back when it is freed.
constexpr int kLargestOfHeap = 32 << 20;
constexpr int kStep = 1 << 20;  // by which the heap grows
constexpr std::size_t kBlock = std::size_t{29} << 20;
constexpr std::uintptr_t kLargePage = std::uintptr_t{2} << 20;
constexpr std::size_t kFewLarge = std::size_t{12} << 20;
constexpr int kCollapse = 25;  // MADV_COLLAPSE of Linux 6.1, which not every C library names

std::uintptr_t begin_of(std::uintptr_t address, std::uintptr_t page) { return address / page * page; }

/// Has the heap go on where a large page begins: one that begins before the heap cannot be taken. What
/// is left out is addresses, not memory.
void begin_large_page() {
  static const bool once [[maybe_unused]] = [] {
    const auto end = reinterpret_cast<std::uintptr_t>(::sbrk(0));
    (void)::sbrk(static_cast<std::intptr_t>(kLargePage - end % kLargePage));  // refused: as it was
    return true;
  }();
}

/// Has the system hand over what lies in `block`: as large pages where they are few, which takes a quarter
/// of the time, but for an end that takes little of the last. One in which the heap has written already,
/// when it grew, is made of small ones. Many large ones would have to come from far: a virtual machine that
/// gives free memory back to its host (page reporting) waits for each. Older systems refuse some of it:
/// then each page comes when it is met.
void fetch(void* block, std::size_t bytes) {
  const auto ask = [](std::uintptr_t begin, std::uintptr_t end, int advice) {
    if (begin < end) (void)::madvise(reinterpret_cast<void*>(begin), end - begin, advice);
  };
  const auto begin = reinterpret_cast<std::uintptr_t>(block), end = begin + bytes;
  const auto large = begin_of(begin, kLargePage), large_end = begin_of(end + kLargePage * 3 / 4, kLargePage);
  if (bytes <= kFewLarge) {
    ask(large, large_end, MADV_HUGEPAGE);
    ask(large, large_end, kCollapse);
  }
  const auto page = static_cast<std::uintptr_t>(::sysconf(_SC_PAGESIZE));
  ask(begin_of(begin, page), begin_of(end + page - 1, page), MADV_POPULATE_WRITE);
}

}  // namespace

void keep_memory() {
  ::mallopt(M_MMAP_THRESHOLD, kLargestOfHeap);
  ::mallopt(M_TRIM_THRESHOLD, 2 * kLargestOfHeap);
  ::mallopt(M_TOP_PAD, kStep);
  ::mallopt(M_MXFAST, 0);  // else each large block asked for looks again at all that was freed lately
}

void expect_memory(std::size_t bytes) {
  if (kSanitized) return;
  keep_memory();
  begin_large_page();
  // Blocks from the end of the heap, which grows for them: freed, they are the heap's free end.
  std::array<void*, kMostExpected / kBlock> blocks{};
  bytes = std::min(bytes, kMostExpected);
  for (void*& block : blocks) {
    const std::size_t size = std::min(bytes, kBlock);
    if (size > 0) block = std::malloc(size + kLargePage);
    if (block == nullptr) break;
    fetch(block, size);
    bytes -= size;
  }
  for (void* block : blocks) std::free(block);
}

}  // namespace ohmleaf
