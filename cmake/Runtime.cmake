# What every command would load at its start is linked in: the C++ runtime and libfmt, which took half
# of the time in which a small command runs, and utf8proc (FindUtf8proc.cmake). The program and each
# module of src/late have their own; but memory, and an exception, which may be thrown in one and caught in
# another, are one for all: the program shows the functions that keep them, to which the modules' own yield
# (src/late/module.map), and libgcc_s, which finds the way to who catches it, is shared.
# Debian ships no libfmt.a: its source, which the headers hold, is compiled here (src/late/fmt.cpp).
set(own_runtime ON)
if(OHMLEAF_SANITIZE OR NOT CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  set(own_runtime OFF)  # the sanitizers stand between a program and its runtime
endif()
option(OHMLEAF_OWN_RUNTIME "Link the C++ runtime and libfmt into the program, where that is possible" ${own_runtime})

add_library(ohmleaf_runtime INTERFACE)        # for what ships
add_library(ohmleaf_runtime_shown INTERFACE)  # and for the program alone
if(OHMLEAF_OWN_RUNTIME)
  set(CMAKE_REQUIRED_LINK_OPTIONS -static-libstdc++ -shared-libgcc)
  include(CheckCXXSourceCompiles)
  check_cxx_source_compiles("#include <string>\nint main(int n, char** v) { throw std::string(v[n - 1]); }"
                            OHMLEAF_STATIC_RUNTIME)
  unset(CMAKE_REQUIRED_LINK_OPTIONS)
  get_target_property(fmt_headers fmt::fmt INTERFACE_INCLUDE_DIRECTORIES)
  try_compile(OHMLEAF_STATIC_FMT SOURCES ${PROJECT_SOURCE_DIR}/cmake/fmt_probe.cpp ${PROJECT_SOURCE_DIR}/src/late/fmt.cpp
              CMAKE_FLAGS -DINCLUDE_DIRECTORIES=${fmt_headers} CXX_STANDARD 20 CXX_STANDARD_REQUIRED ON)
endif()
if(OHMLEAF_STATIC_RUNTIME AND OHMLEAF_STATIC_FMT)
  target_link_options(ohmleaf_runtime INTERFACE -static-libstdc++ -shared-libgcc -Wl,--gc-sections)
  foreach(name allocate_exception free_exception allocate_dependent_exception free_dependent_exception
          get_globals get_globals_fast)
    target_link_options(ohmleaf_runtime_shown INTERFACE -Wl,--export-dynamic-symbol=__cxa_${name})
  endforeach()
  foreach(operator _Zn[wa]* _Zd[la]P*)  # new and delete
    target_link_options(ohmleaf_runtime_shown INTERFACE "-Wl,--export-dynamic-symbol=${operator}")
  endforeach()
  add_library(ohmleaf_fmt STATIC src/late/fmt.cpp)
  target_include_directories(ohmleaf_fmt SYSTEM PUBLIC ${fmt_headers})
  target_link_libraries(ohmleaf_fmt PRIVATE ohmleaf_flags)
else()
  add_library(ohmleaf_fmt INTERFACE)
  target_link_libraries(ohmleaf_fmt INTERFACE fmt::fmt)
endif()
