# ohmleaf_layer(NAME USES a b c LINKS x y)
#
# Each layer is a static library of the sources in src/NAME. Its headers are reached as
# "NAME/header.h" through a folder of its own (a link to src/NAME), and a layer sees only the
# folders of the layers it USES: including a higher layer does not compile.
#
# What nearly every source includes from outside is precompiled once, which halves the time to build;
# except under a compiler launcher such as ccache, which keeps whole results. Out of a precompiled
# header g++ 12 warns, where it optimises, of bounds inside std::string that are not overstepped (GCC
# bug 105651) and that it keeps to itself otherwise: it is not asked then; clang is, in the twins.
if(CMAKE_CXX_COMPILER_LAUNCHER)
  option(OHMLEAF_PRECOMPILE "Precompile the headers of libraries" OFF)
else()
  option(OHMLEAF_PRECOMPILE "Precompile the headers of libraries" ON)
endif()
#
# With OHMLEAF_TWINS each layer is built a second time, as ohmleaf_NAME_sanitized, by clang++; all but
# cli, which reads nothing from outside that the others have not read, unless it says ALL.
set(ohmleaf_twins "")
if(OHMLEAF_TWINS)
  find_program(clang_found NAMES clang++-14 REQUIRED)
  set(ohmleaf_twins _sanitized)
endif()
function(ohmleaf_twin target)  # has clang++ build and link it
  set(launcher ${PROJECT_SOURCE_DIR}/cmake/clang_instead)
  set_target_properties(${target} PROPERTIES CXX_LINKER_LAUNCHER ${launcher})
  list(APPEND launcher ${CMAKE_CXX_COMPILER_LAUNCHER})
  set_target_properties(${target} PROPERTIES CXX_COMPILER_LAUNCHER "${launcher}")
endfunction()
if(OHMLEAF_PRECOMPILE AND CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  target_compile_options(ohmleaf_flags INTERFACE -Wno-array-bounds -Wno-stringop-overflow
                         -Wno-stringop-overread)
endif()
set(ohmleaf_precompiled <algorithm> <array> <cstdint> <functional> <map> <memory> <optional> <set>
    <string> <string_view> <tuple> <utility> <variant> <vector> <fmt/format.h>)

function(ohmleaf_layer name)
  cmake_parse_arguments(L "" "" "USES;LINKS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/${name}/*.cpp)
  if(NOT sources)  # a layer that has only headers so far
    file(WRITE ${CMAKE_BINARY_DIR}/empty_${name}.cpp "")
    set(sources ${CMAKE_BINARY_DIR}/empty_${name}.cpp)
  endif()
  set(view ${CMAKE_BINARY_DIR}/layers/${name})
  file(MAKE_DIRECTORY ${view})
  file(CREATE_LINK ${CMAKE_CURRENT_SOURCE_DIR}/${name} ${view}/${name} SYMBOLIC)
  foreach(twin "" ${ohmleaf_twins})
    if(twin AND name STREQUAL "cli" AND NOT OHMLEAF_TWINS STREQUAL "ALL")
      continue()
    endif()
    set(library ohmleaf_${name}${twin})
    add_library(${library} STATIC ${sources})
    if(twin)
      ohmleaf_twin(${library})
    endif()
    target_include_directories(${library} PUBLIC ${view})
    target_link_libraries(${library} PUBLIC ohmleaf_flags${twin} PRIVATE ${L_LINKS})
    foreach(used ${L_USES})
      target_link_libraries(${library} PRIVATE ohmleaf_${used}${twin})
    endforeach()
    if(OHMLEAF_PRECOMPILE)
      if(name STREQUAL "base")
        target_precompile_headers(${library} PRIVATE ${ohmleaf_precompiled})
      else()
        target_precompile_headers(${library} REUSE_FROM ohmleaf_base${twin})
      endif()
    endif()
  endforeach()
endfunction()
