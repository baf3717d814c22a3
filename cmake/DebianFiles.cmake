# Run by CPack over the files that a package is made of: what Debian wants otherwise than others.
if(NOT CPACK_GENERATOR STREQUAL "DEB")
  return()
endif()
set(usr ${CPACK_TEMPORARY_DIRECTORY}/usr)
set(doc ${usr}/share/doc/ohmleaf)
if(EXISTS ${usr}/share/zsh/site-functions)
  file(RENAME ${usr}/share/zsh/site-functions ${usr}/share/zsh/vendor-completions)
endif()
file(RENAME ${doc}/CHANGELOG.md ${doc}/changelog)
file(GLOB pages ${usr}/share/man/man*/*)
execute_process(COMMAND gzip -9n ${pages} ${doc}/changelog COMMAND_ERROR_IS_FATAL ANY)
file(READ ${doc}/LICENSE license)
file(REMOVE ${doc}/LICENSE)
file(READ ${usr}/share/ohmleaf/fonts/OFL.txt fonts)
file(WRITE ${doc}/copyright "The program, under the Apache License 2.0, which Debian keeps in
/usr/share/common-licenses/Apache-2.0:

Copyright The ohmleaf authors

Libraries that are part of it: their terms are in libraries.txt, beside this file.

The fonts in /usr/share/ohmleaf/fonts, under the SIL Open Font License:

${fonts}")
