# install.cmake - what is installed where, and the Debian package.
include(CMakePackageConfigHelpers)

install(TARGETS halfturn halfturn-report EXPORT halfturn-targets
        ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR}
        INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
# The report's own names have no prefix. In the archive that is installed, in the
# place of the one just named, all that its header does not declare is local.
set(closed ${CMAKE_BINARY_DIR}/closed)
add_custom_command(OUTPUT ${closed}/libhalfturn-report.a
  COMMAND ${CMAKE_COMMAND} -E rm -rf ${closed}
  COMMAND ${CMAKE_COMMAND} -E make_directory ${closed}
  COMMAND ${CMAKE_C_COMPILER} -r -nostdlib -o ${closed}/report.o
          $<TARGET_OBJECTS:halfturn-report>
  COMMAND ${CMAKE_OBJCOPY} --localize-hidden ${closed}/report.o
  COMMAND ${CMAKE_AR} qcs ${closed}/libhalfturn-report.a ${closed}/report.o
  DEPENDS halfturn-report $<TARGET_OBJECTS:halfturn-report>
  COMMAND_EXPAND_LISTS VERBATIM)
add_custom_target(closed-report ALL DEPENDS ${closed}/libhalfturn-report.a)
# A file of the same second would count as installed already.
install(CODE "file(REMOVE \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/\
${CMAKE_INSTALL_LIBDIR}/libhalfturn-report.a\")")
install(FILES ${closed}/libhalfturn-report.a
        DESTINATION ${CMAKE_INSTALL_LIBDIR})

install(DIRECTORY include/halfturn DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}
        FILES_MATCHING PATTERN "*.h")
install(EXPORT halfturn-targets NAMESPACE halfturn::
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/halfturn)

configure_package_config_file(src/packaging/halfturn-config.cmake.in
  ${CMAKE_BINARY_DIR}/halfturn-config.cmake
  INSTALL_DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/halfturn)
write_basic_package_version_file(
  ${CMAKE_BINARY_DIR}/halfturn-config-version.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_BINARY_DIR}/halfturn-config.cmake
              ${CMAKE_BINARY_DIR}/halfturn-config-version.cmake
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/halfturn)

foreach(library halfturn halfturn-report)
  configure_file(src/packaging/${library}.pc.in ${library}.pc @ONLY)
  install(FILES ${CMAKE_BINARY_DIR}/${library}.pc
          DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
endforeach()

# The completion is written by the program itself, from its option table.
add_custom_command(TARGET halfturn-program POST_BUILD
  COMMAND halfturn-program --bash-completion
          > ${CMAKE_BINARY_DIR}/halfturn.bash-completion VERBATIM)
install(FILES ${CMAKE_BINARY_DIR}/halfturn.bash-completion RENAME halfturn
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)

# So are the manual pages, of every command and of the sheet.
find_program(SCDOC scdoc)
if(SCDOC)
  set(manuals ${CMAKE_BINARY_DIR}/man)
  add_custom_command(OUTPUT ${manuals}/written
    COMMAND ${CMAKE_COMMAND} -E rm -rf ${manuals}
    COMMAND ${CMAKE_SOURCE_DIR}/src/packaging/manuals
            $<TARGET_FILE:halfturn-program> ${SCDOC} ${manuals}
    COMMAND ${CMAKE_COMMAND} -E touch ${manuals}/written
    DEPENDS halfturn-program src/packaging/manuals VERBATIM)
  add_custom_target(manuals ALL DEPENDS ${manuals}/written)
  install(DIRECTORY ${manuals}/man1 ${manuals}/man5
          DESTINATION ${CMAKE_INSTALL_MANDIR})
else()
  message(STATUS "scdoc is not installed: no man pages")
endif()

install(FILES src/angles/limits.yaml src/causes/catalogue.yaml
        DESTINATION ${CMAKE_INSTALL_DATADIR}/halfturn)
install(FILES samples/van/case.yaml samples/van/drive.flac
              samples/van/speed.csv
        DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples/van)
install(FILES samples/angles-only.yaml samples/four-by-four.yaml
              samples/wedges.yaml samples/wedges-in.yaml
        DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples)
install(FILES src/packaging/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME halfturn)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT "Halfturn maintainers <maintainers@halfturn.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY ${PROJECT_DESCRIPTION})
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SUGGESTS
    "libfftw3-dev, libyaml-dev, libjansson-dev, liblapacke-dev, libpng-dev, \
libpango1.0-dev, libcairo2-dev, libqpdf-dev")
# The measuring sheet is laid out for this font; without any there is none.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-dejavu-core")
include(CPack)
