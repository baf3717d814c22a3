/* Stands in for another version of the compression library: it packs the same bytes otherwise.
 * Preloaded by tests/certificates/run. The program opens the library late, so that it is none of
 * those that come "next". */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <libdeflate.h>

struct libdeflate_compressor* libdeflate_alloc_compressor(int level) {
  struct libdeflate_compressor* (*library)(int) =
      (struct libdeflate_compressor * (*)(int)) dlsym(
          dlopen("libdeflate.so.0", RTLD_LAZY | RTLD_NOLOAD), "libdeflate_alloc_compressor");
  (void)level;
  return library(9);
}
