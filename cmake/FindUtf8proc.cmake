# utf8proc ships no CMake config on Debian 12.
find_path(Utf8proc_INCLUDE_DIR utf8proc.h)
find_library(Utf8proc_LIBRARY NAMES libutf8proc.a utf8proc)  # small, and every command needs it
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(Utf8proc REQUIRED_VARS Utf8proc_LIBRARY Utf8proc_INCLUDE_DIR)
if(Utf8proc_FOUND AND NOT TARGET Utf8proc::Utf8proc)
  add_library(Utf8proc::Utf8proc UNKNOWN IMPORTED)
  set_target_properties(Utf8proc::Utf8proc PROPERTIES
    IMPORTED_LOCATION ${Utf8proc_LIBRARY} INTERFACE_INCLUDE_DIRECTORIES ${Utf8proc_INCLUDE_DIR})
endif()
mark_as_advanced(Utf8proc_INCLUDE_DIR Utf8proc_LIBRARY)
