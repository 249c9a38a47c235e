# What `cmake --install` puts where, the package for find_package(tunesheaf), and the Debian package.
# Two components: runtime (program, styles, manual page, completions) and development (headers, libraries).
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

# The manual page and the completions come from the program's own table of commands.
set(shell_dir ${CMAKE_BINARY_DIR}/shell)
set(shell_files ${shell_dir}/tunesheaf.1 ${shell_dir}/tunesheaf.bash ${shell_dir}/_tunesheaf ${shell_dir}/tunesheaf.fish)
add_custom_command(
  OUTPUT ${shell_files}
  COMMAND ${CMAKE_COMMAND} -E make_directory ${shell_dir}
  COMMAND tunesheaf shell man -o ${shell_dir}/tunesheaf.1
  COMMAND tunesheaf shell bash -o ${shell_dir}/tunesheaf.bash
  COMMAND tunesheaf shell zsh -o ${shell_dir}/_tunesheaf
  COMMAND tunesheaf shell fish -o ${shell_dir}/tunesheaf.fish
  DEPENDS tunesheaf
  VERBATIM)
add_custom_target(shell_files ALL DEPENDS ${shell_files})

install(TARGETS tunesheaf RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT runtime)
install(DIRECTORY styles/ DESTINATION ${CMAKE_INSTALL_DATADIR}/tunesheaf/styles COMPONENT runtime)
install(FILES ${shell_dir}/tunesheaf.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT runtime)
install(FILES ${shell_dir}/tunesheaf.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME tunesheaf
        COMPONENT runtime)
install(FILES ${shell_dir}/_tunesheaf DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions COMPONENT runtime)
install(FILES ${shell_dir}/tunesheaf.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT runtime)
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT runtime)
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright COMPONENT runtime)

get_property(module_targets GLOBAL PROPERTY TUNESHEAF_MODULES)
install(TARGETS ${module_targets} EXPORT tunesheaf ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR}/tunesheaf COMPONENT development)
install(DIRECTORY include/tunesheaf DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT development)
set(config_dir ${CMAKE_INSTALL_LIBDIR}/cmake/tunesheaf)
install(EXPORT tunesheaf NAMESPACE tunesheaf:: FILE tunesheafTargets.cmake DESTINATION ${config_dir} COMPONENT development)
configure_package_config_file(src/app/tunesheafConfig.cmake.in ${CMAKE_BINARY_DIR}/tunesheafConfig.cmake
                              INSTALL_DESTINATION ${config_dir})
write_basic_package_version_file(${CMAKE_BINARY_DIR}/tunesheafConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_BINARY_DIR}/tunesheafConfig.cmake ${CMAKE_BINARY_DIR}/tunesheafConfigVersion.cmake
        DESTINATION ${config_dir} COMPONENT development)

# The fonts' packages stand in fonts/families.txt: "family | package | …"; required ones are needed, the others advised.
file(STRINGS fonts/families.txt families REGEX "^[^#].*[|]")
foreach(family ${families})
  string(REGEX REPLACE "^[^|]*[|] *([^ |]*).*" "\\1" package "${family}")
  if(family MATCHES "[|] required [|]")
    list(APPEND needed_fonts ${package})
  else()
    list(APPEND advised_fonts ${package})
  endif()
endforeach()
list(REMOVE_DUPLICATES needed_fonts)
list(REMOVE_DUPLICATES advised_fonts)
list(REMOVE_ITEM advised_fonts ${needed_fonts})
list(JOIN needed_fonts ", " needed_fonts)
list(JOIN advised_fonts ", " advised_fonts)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME tunesheaf)
set(CPACK_PACKAGE_VENDOR "Tunesheaf")
set(CPACK_PACKAGE_CONTACT "Tunesheaf <tunesheaf@example.org>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "lesson sheets from song files")
set(CPACK_PACKAGE_DESCRIPTION
    "Reads a song from one text file, says where the file disagrees with itself,\nand prints handouts and charts with staves, tab, chord boxes and drums.")
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_ALL runtime)
set(CPACK_DEBIAN_RUNTIME_PACKAGE_NAME tunesheaf)
set(CPACK_DEBIAN_RUNTIME_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_RUNTIME_PACKAGE_SECTION text)
set(CPACK_DEBIAN_RUNTIME_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_RUNTIME_PACKAGE_DEPENDS "${needed_fonts}")
set(CPACK_DEBIAN_RUNTIME_PACKAGE_RECOMMENDS "${advised_fonts}, hyphen-en-us")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
include(CPack)
