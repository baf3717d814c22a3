#include <malloc.h>
#include <sys/prctl.h>
#include <sys/resource.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>

#include "seal/openssl.h"
#include "seal/secret.h"

namespace ohmleaf::seal {
namespace {

constexpr std::size_t kKeyRoom = std::size_t{256} << 10;  // a key of 4096 bits needs a few KiB
constexpr std::size_t kLeastPiece = 32;

// OpenSSL decodes a private key by way of blocks that it frees as they are: what was freed is wiped.
// The names and lines are what its own debugging would print.
extern "C" {
static void* block(std::size_t size, const char*, int) {
  return std::malloc(size);
}
static void wiped(void* block, const char*, int) {
  if (block == nullptr) return;
  OPENSSL_cleanse(block, ::malloc_usable_size(block));
  std::free(block);
}
static void* other_block(void* old, std::size_t size, const char*, int) {
  void* grown = size > 0 ? std::malloc(size) : nullptr;
  if (size > 0 && grown == nullptr) return nullptr;
  if (old != nullptr && grown != nullptr)
    std::memcpy(grown, old, std::min(::malloc_usable_size(old), size));
  wiped(old, nullptr, 0);
  return grown;
}
}

}  // namespace

bool guard_process(Diagnostics& out) {
  const rlimit none{0, 0};
  const bool kept = ::setrlimit(RLIMIT_CORE, &none) == 0 && ::prctl(PR_SET_DUMPABLE, 0) == 0;
  if (!kept) {
    out.system_error("unguarded",
                     "the system does not let this program keep a key out of core files",
                     {"Nothing was read and nothing was written."});
    return false;
  }
  // Refused once OpenSSL holds a block: after the first time, then.
  CRYPTO_set_mem_functions(block, other_block, wiped);
  // 1 is as wished for, 2 without the lock in memory; it is there already after the first time.
  if (CRYPTO_secure_malloc_initialized() == 0) CRYPTO_secure_malloc_init(kKeyRoom, kLeastPiece);
  return true;
}

}  // namespace ohmleaf::seal
