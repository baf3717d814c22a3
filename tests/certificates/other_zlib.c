/* Stands in for another version of the compression library: it packs the same bytes otherwise.
 * Preloaded by tests/certificates/run. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <zlib.h>

int deflateInit_(z_streamp stream, int level, const char* version, int size) {
  int (*library)(z_streamp, int, const char*, int) =
      (int (*)(z_streamp, int, const char*, int))dlsym(RTLD_NEXT, "deflateInit_");
  (void)level;
  return library(stream, 1, version, size);
}
