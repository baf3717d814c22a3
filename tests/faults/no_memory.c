/* Loaded before the program (LD_PRELOAD): from main on, the allocation numbered OHMLEAF_FAIL_AT
   fails, and with OHMLEAF_FAIL_ON every one after it. OHMLEAF_COUNT names a file that gets the
   number of allocations that there were. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

extern void* __libc_malloc(size_t);
extern void* __libc_calloc(size_t, size_t);
extern void* __libc_realloc(void*, size_t);
extern void* __libc_memalign(size_t, size_t);

static volatile int counting;
static volatile long count;
static long fail_at = -1;
static int fail_on;

static int fails(void) {
  if (!counting) return 0;
  const long now = __sync_add_and_fetch(&count, 1);
  const int yes = now == fail_at || (fail_on && fail_at > 0 && now > fail_at);
  if (yes) errno = ENOMEM;
  return yes;
}

void* malloc(size_t n) { return fails() ? NULL : __libc_malloc(n); }
void* calloc(size_t n, size_t each) { return fails() ? NULL : __libc_calloc(n, each); }
void* realloc(void* p, size_t n) { return fails() ? NULL : __libc_realloc(p, n); }
void* memalign(size_t a, size_t n) { return fails() ? NULL : __libc_memalign(a, n); }
void* aligned_alloc(size_t a, size_t n) { return fails() ? NULL : __libc_memalign(a, n); }
int posix_memalign(void** p, size_t a, size_t n) {
  if (fails()) return ENOMEM;
  *p = __libc_memalign(a, n);
  return *p != NULL ? 0 : ENOMEM;
}

static void tell(void) {
  counting = 0;
  const char* to = getenv("OHMLEAF_COUNT");
  if (to == NULL) return;
  char text[32];
  const int length = snprintf(text, sizeof text, "%ld\n", count);
  const int fd = open(to, O_WRONLY | O_CREAT | O_TRUNC, 0600);
  if (fd >= 0 && write(fd, text, (size_t)length) == length) close(fd);
}

static int (*real_main)(int, char**, char**);
static int counted_main(int argc, char** argv, char** environment) {
  const char* at = getenv("OHMLEAF_FAIL_AT");
  if (at != NULL) fail_at = strtol(at, NULL, 10);
  fail_on = getenv("OHMLEAF_FAIL_ON") != NULL;
  atexit(tell);
  counting = 1;
  const int code = real_main(argc, argv, environment);
  counting = 0;
  return code;
}

int __libc_start_main(int (*program)(int, char**, char**), int argc, char** argv, void (*init)(void),
                      void (*fini)(void), void (*rtld_fini)(void), void* stack_end) {
  int (*next)(int (*)(int, char**, char**), int, char**, void (*)(void), void (*)(void),
              void (*)(void), void*);
  *(void**)&next = dlsym(RTLD_NEXT, "__libc_start_main");
  real_main = program;
  return next(counted_main, argc, argv, init, fini, rtld_fini, stack_end);
}
