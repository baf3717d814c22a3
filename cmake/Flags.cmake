# One interface target carries every compiler flag, so that no layer builds differently.
add_library(ohmleaf_flags INTERFACE)
set(warnings -Wall -Wextra -Wpedantic)
if(OHMLEAF_WERROR)
  list(APPEND warnings -Werror)
endif()
target_compile_options(ohmleaf_flags INTERFACE ${warnings} -fstack-protector-strong)
# Two false alarms of g++ 12: "const char* + std::string" seen as overlapping memory (GCC bug
# 105651), and the inactive members of a moved std::variant as uninitialised (GCC bug 80635).
# clang-tidy's analyser and valgrind look for the real ones.
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  target_compile_options(ohmleaf_flags INTERFACE -Wno-restrict -Wno-maybe-uninitialized)
endif()
# Without what the address sanitizer sees anyway (a null pointer used) and what code with next to no
# inheritance has no use for: that took a third of the time to build.
set(sanitizers -fsanitize=address,undefined -fno-sanitize=null,object-size,vptr
    -fno-sanitize-recover=all -fno-omit-frame-pointer)
# A second one is for the layers' sanitized twins, where OHMLEAF_TWINS asks for them. A report names the
# function in every build; its lines cost a tenth of the time to build, and are the twins preset's.
add_library(ohmleaf_flags_sanitized INTERFACE)
set(lines -g0)
if(OHMLEAF_TWINS STREQUAL "ALL")
  set(lines -g1)
endif()
target_compile_options(ohmleaf_flags_sanitized INTERFACE
  ${warnings} ${sanitizers} -fsanitize=fuzzer-no-link -O1 ${lines} -U_FORTIFY_SOURCE)
target_link_options(ohmleaf_flags_sanitized INTERFACE -fsanitize=address,undefined)
if(OHMLEAF_SANITIZE STREQUAL "thread")
  target_compile_options(ohmleaf_flags INTERFACE -fsanitize=thread -fno-omit-frame-pointer)
  target_link_options(ohmleaf_flags INTERFACE -fsanitize=thread)
elseif(OHMLEAF_SANITIZE)
  target_compile_options(ohmleaf_flags INTERFACE ${sanitizers})
  target_link_options(ohmleaf_flags INTERFACE -fsanitize=address,undefined)
elseif(NOT CMAKE_BUILD_TYPE STREQUAL "Debug")
  target_compile_definitions(ohmleaf_flags INTERFACE _FORTIFY_SOURCE=2)
endif()
# -O2, not CMake's -O3: the same speed here, half the time to build, and g++ 12 invents fewer warnings.
string(REPLACE "-O3" "-O2" CMAKE_CXX_FLAGS_RELEASE "${CMAKE_CXX_FLAGS_RELEASE}")
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
target_link_options(ohmleaf_flags INTERFACE -Wl,-z,relro,-z,now)
# The 7,000 places that a moved program has to mend at its start, in 3 KB instead of 160.
if(NOT OHMLEAF_SANITIZE)
  include(CheckLinkerFlag)
  check_linker_flag(CXX -Wl,-z,pack-relative-relocs OHMLEAF_PACKED_RELOCATIONS)
  if(OHMLEAF_PACKED_RELOCATIONS)
    target_link_options(ohmleaf_flags INTERFACE -Wl,-z,pack-relative-relocs)
  endif()
endif()
