// The libraries that most commands do without are opened when one of their functions is first
// called: cmake/later.sh makes the way there. libcrypto alone takes longer to load than a job to
// judge. Compiled into the program only, and only where later.sh knows the processor.
#include <dlfcn.h>
#include <unistd.h>

#include <cstring>

extern "C" {
extern const char later_libraries[];  // names, each ending with a zero
extern const char later_functions[];  // number of the library and name, each ending with a zero
extern void* later_table[];
void* later_find(unsigned index);
}

namespace {

const char* skip(const char* texts, unsigned count) {
  for (; count > 0; --count) texts += std::strlen(texts) + 1;
  return texts;
}

void say(const char* text) {
  if (::write(STDERR_FILENO, text, std::strlen(text)) < 0) return;
}

/// What the dynamic loader would do at the start of the program.
[[noreturn]] void fail(const char* library) {
  say("ohmleaf: error: ");
  say(library);
  say(" cannot be opened, or is too old\n  → Install the library again, then run the command "
      "again.\n");
  ::_exit(3);
}

}  // namespace

/// The address of a function, by its place in the table; two threads find the same.
extern "C" void* later_find(unsigned index) {
  const char* entry = later_functions;
  for (unsigned i = 0; i < index; ++i) entry += std::strlen(entry + 1) + 2;
  const char* library = skip(later_libraries, static_cast<unsigned char>(*entry));
  void* handle = ::dlopen(library, RTLD_NOW | RTLD_LOCAL);
  void* found = handle != nullptr ? ::dlsym(handle, entry + 1) : nullptr;
  if (found == nullptr) fail(library);
  later_table[index] = found;
  return found;
}
