# SPDX-License-Identifier: Apache-2.0
# What `cmake --install` puts where, and the Debian package (`cpack` in the build folder). Man pages and completions
# are written by the program from its own commands.
include(GNUInstallDirs)

set(made ${CMAKE_BINARY_DIR}/described)
file(MAKE_DIRECTORY ${made}/man)
add_custom_command(
  OUTPUT ${made}/man/loamway.1.gz ${made}/loamway.bash ${made}/_loamway ${made}/loamway.fish
  COMMAND loamway describe --man ${made}/man
  COMMAND sh -c "gzip -9nf ${made}/man/*.1"
  COMMAND loamway describe --completion bash > ${made}/loamway.bash
  COMMAND loamway describe --completion zsh > ${made}/_loamway
  COMMAND loamway describe --completion fish > ${made}/loamway.fish
  DEPENDS loamway
  VERBATIM)
add_custom_target(loamway_described ALL DEPENDS ${made}/man/loamway.1.gz)

install(TARGETS loamway RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(DIRECTORY ${made}/man/ DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${made}/loamway.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME loamway)
install(FILES ${made}/_loamway DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions)
install(FILES ${made}/loamway.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
# Recipes name limits beside them, moves name profiles and places: both trees stay as they are.
install(DIRECTORY regions examples DESTINATION ${CMAKE_INSTALL_DATADIR}/loamway PATTERN pictures EXCLUDE)
install(FILES README.md DEVELOPERS.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES scripts/cmake/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME loamway)
set(CPACK_PACKAGE_CONTACT "Loamway contributors <contributors@loamway.example>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "Moves of rubber-tracked machines by road")
set(CPACK_PACKAGE_DESCRIPTION
    "Works out from an OpenStreetMap extract, the machine and the weather whether to drive a rubber-tracked machine or\n\
have it hauled, along which roads, where to stop and powder the belts, what the move takes out of them and what it\n\
costs; writes stop sheets, tracks, loading plans, budgets and seasons.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE
    WORLD_READ WORLD_EXECUTE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# Opened by name when first needed, so that no plan waits for them: heights and files of map programs, the queue.
# Debian names their packages after the sonames.
string(REGEX REPLACE "\\.so\\.?" "" CPACK_DEBIAN_PACKAGE_RECOMMENDS "${gdal_soname}")
string(REGEX REPLACE "\\.so\\.?" "" CPACK_DEBIAN_PACKAGE_SUGGESTS "${nats_soname}")
string(APPEND CPACK_DEBIAN_PACKAGE_SUGGESTS ", libsoci-postgresql4.0")
# The store behind SOCI is opened by name as well, and every ledger needs it.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "tzdata, fonts-dejavu-core, libsoci-sqlite3-4.0")
include(CPack)
