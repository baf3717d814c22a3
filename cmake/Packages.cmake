# A .deb and a tarball: `cpack` in the build folder. The tarball can be unpacked anywhere.
set(CPACK_GENERATOR DEB TGZ)
set(CPACK_PACKAGE_NAME ohmleaf)
set(CPACK_PACKAGE_VENDOR ohmleaf)
set(CPACK_PACKAGE_CONTACT "The ohmleaf authors <authors@ohmleaf.example>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "electrical test readings, judged and certified")
set(CPACK_PACKAGE_DESCRIPTION
"Takes an electrician's test readings from a plain text file, works out every
limit from the circuit's own device, cable and earthing, says on site which
readings fail, are missing or cannot be true, issues a certificate as an
archival PDF and keeps it in an open archive.

It never says that an installation is safe: a skilled person decides, by the
local code in force.")
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_STRIP_FILES ON)
set(CPACK_THREADS 2)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# libqpdf is opened by name when a PDF is read: the linker knows nothing of it.
string(REGEX REPLACE "^lib(.*)\\.so\\.([0-9]+)$" "lib\\1\\2" qpdf_package ${OHMLEAF_QPDF_SONAME})
set(CPACK_DEBIAN_PACKAGE_DEPENDS ${qpdf_package})
set(CPACK_PRE_BUILD_SCRIPTS ${PROJECT_SOURCE_DIR}/cmake/DebianFiles.cmake)

# The terms of what stands inside the program, as Debian keeps them: headers, and what Runtime.cmake
# links in. (libstdc++: the GCC Runtime Library Exception.)
string(REGEX MATCH "^[0-9]+" compiler ${CMAKE_CXX_COMPILER_VERSION})
set(inside libcli11-dev libtomlplusplus-dev nlohmann-json3-dev libutf8proc-dev)
if(OHMLEAF_STATIC_FMT)
  list(APPEND inside libfmt-dev libstdc++-${compiler}-dev)
endif()
set(terms "")
foreach(package ${inside})
  set(text "Its terms are in the file copyright of the Debian package of this name.\n")
  if(EXISTS /usr/share/doc/${package}/copyright)  # which a system may leave out, to be smaller
    file(READ /usr/share/doc/${package}/copyright text)
  else()
    message(STATUS "No terms of ${package} in /usr/share/doc: libraries.txt says where they are")
  endif()
  string(APPEND terms "---- ${package}\n\n${text}\n")
endforeach()
file(WRITE ${CMAKE_BINARY_DIR}/libraries.txt
     "Libraries that are part of the program, each under its own terms.\n\n${terms}")

install(FILES README.md CHANGELOG.md LICENSE ${CMAKE_BINARY_DIR}/libraries.txt
        DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY samples/ DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples
        PATTERN "first-certificate" EXCLUDE PATTERN "*.png" EXCLUDE)
include(CPack)
