# What the program says of itself, made by the program once it is built, from the same definitions
# as its options and its tables of keys: the manual, the completions, the schemas for editors.
set(share ${CMAKE_BINARY_DIR}/share)
set(shells ${share}/bash-completion/completions ${share}/zsh/site-functions
           ${share}/fish/vendor_completions.d)
file(MAKE_DIRECTORY ${shells} ${share}/man ${share}/ohmleaf/schema)
set(schemas "")
foreach(file job installer form theme)
  list(APPEND schemas COMMAND ohmleaf schema ${file} > ${share}/ohmleaf/schema/${file}.schema.json)
endforeach()
add_custom_command(OUTPUT ${CMAKE_BINARY_DIR}/made.stamp
  COMMAND ${CMAKE_COMMAND} -E rm -rf ${share}/man
  COMMAND ohmleaf manual --to ${share}/man
  COMMAND ohmleaf completion bash > ${share}/bash-completion/completions/ohmleaf
  COMMAND ohmleaf completion zsh > ${share}/zsh/site-functions/_ohmleaf
  COMMAND ohmleaf completion fish > ${share}/fish/vendor_completions.d/ohmleaf.fish
  ${schemas}
  COMMAND ${CMAKE_COMMAND} -E touch ${CMAKE_BINARY_DIR}/made.stamp
  DEPENDS ohmleaf COMMENT "Manual, completions, schemas")
add_custom_target(made ALL DEPENDS ${CMAKE_BINARY_DIR}/made.stamp)

install(DIRECTORY ${share}/man/ DESTINATION ${CMAKE_INSTALL_MANDIR})
install(DIRECTORY ${share}/bash-completion ${share}/zsh ${share}/fish
        DESTINATION ${CMAKE_INSTALL_DATADIR})
install(DIRECTORY ${share}/ohmleaf/schema DESTINATION ${CMAKE_INSTALL_DATADIR}/ohmleaf)
