# What every command would load at its start is linked in: the C++ runtime and libfmt, which took half
# of the time in which a small command runs, and with them two small libraries. The program and each
# module of src/late have their own; what passes between them (src/late/*.h) rests on the ABI alone.
# Debian ships no libfmt.a: its source, which the headers hold, is compiled here (src/late/fmt.cpp).
set(own_runtime ON)
if(OHMLEAF_SANITIZE OR NOT CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  set(own_runtime OFF)  # the sanitizers stand between a program and its runtime
endif()
option(OHMLEAF_OWN_RUNTIME "Link the C++ runtime and libfmt into the program, where that is possible" ${own_runtime})

add_library(ohmleaf_runtime INTERFACE)  # for what ships
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
  add_library(ohmleaf_fmt STATIC src/late/fmt.cpp)
  target_include_directories(ohmleaf_fmt SYSTEM PUBLIC ${fmt_headers})
  target_link_libraries(ohmleaf_fmt PRIVATE ohmleaf_flags)
  find_library(Deflate_ARCHIVE libdeflate.a)
  if(Deflate_ARCHIVE)
    set_target_properties(PkgConfig::Deflate PROPERTIES INTERFACE_LINK_LIBRARIES ${Deflate_ARCHIVE})
  endif()
else()
  add_library(ohmleaf_fmt INTERFACE)
  target_link_libraries(ohmleaf_fmt INTERFACE fmt::fmt)
endif()
