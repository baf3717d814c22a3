#include <sys/prctl.h>
#include <sys/resource.h>

#include "seal/openssl.h"
#include "seal/secret.h"

namespace ohmleaf::seal {
namespace {

constexpr std::size_t kKeyRoom = std::size_t{256} << 10;  // a key of 4096 bits needs a few KiB
constexpr std::size_t kLeastPiece = 32;

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
  // 1 is as wished for, 2 without the lock in memory; it is there already after the first time.
  if (CRYPTO_secure_malloc_initialized() == 0) CRYPTO_secure_malloc_init(kKeyRoom, kLeastPiece);
  return true;
}

}  // namespace ohmleaf::seal
