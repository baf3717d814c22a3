#include "base/late.h"

#include <dlfcn.h>

#include <string>

#include "base/files.h"
#include "base/text.h"
#include "base/version.h"

namespace ohmleaf {

const void* open_late(const char* name) {
  const auto folder = program_folder();
  const auto file = folder.parent_path() / "lib" / "ohmleaf" / (std::string(name) + ".so");
  const auto missing = [&](const std::string& why) {
    return Missing("a part of the program cannot be used: " + why);
  };
  // Without /proc the folder is not known: what lies in the one that we stand in is anybody's.
  if (!folder.is_absolute()) throw missing("/proc/self/exe does not say where the program is");
  void* module = ::dlopen(file.c_str(), RTLD_NOW | RTLD_LOCAL);
  if (module == nullptr) {
    const char* why = ::dlerror();  // it names the file
    throw missing(why != nullptr ? why : file.string());
  }
  const auto find = [&]<class F>(F*& function, const char* symbol) {
    function = reinterpret_cast<F*>(::dlsym(module, symbol));
    return function != nullptr;
  };
  const char* (*version)() = nullptr;
  const void* (*door)() = nullptr;
  if (!find(version, "ohmleaf_version") || !find(door, "ohmleaf_door") || version() != program_version())
    throw missing(file.string() + " is of another version");
  return door();
}

}  // namespace ohmleaf
