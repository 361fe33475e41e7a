# SPDX-License-Identifier: Apache-2.0
# The page that `loamway serve` hands out: its packages come by `npm ci`, its files are made by src/web/page/build.mjs and
# embedded. Nothing is written into the source folder. LOAMWAY_PAGE=OFF builds without npm; the server then has no page.
option(LOAMWAY_PAGE "Embed the page (needs Node.js and npm)" ON)

# Packages of FOLDER (package.json, package-lock.json, .npmrc) installed below the build folder once per lock file.
function(loamway_npm_packages folder where stamp)
  find_program(NPM npm REQUIRED)
  file(MAKE_DIRECTORY ${where})
  set(inputs ${folder}/package.json ${folder}/package-lock.json ${folder}/.npmrc)
  add_custom_command(
    OUTPUT ${stamp}
    COMMAND ${CMAKE_COMMAND} -E copy ${inputs} ${where}
    COMMAND ${NPM} ci --ignore-scripts --no-audit --no-fund --loglevel=error
    COMMAND ${CMAKE_COMMAND} -E touch ${stamp}
    DEPENDS ${inputs}
    WORKING_DIRECTORY ${where}
    COMMENT "Packages of ${folder}"
    VERBATIM)
endfunction()

function(loamway_page target)
  if(NOT LOAMWAY_PAGE)
    target_sources(${target} PRIVATE ${PROJECT_SOURCE_DIR}/src/web/no_page.cpp)
    return()
  endif()
  find_program(NODE NAMES node nodejs REQUIRED)
  set(source ${PROJECT_SOURCE_DIR}/src/web/page)
  set(packages ${CMAKE_BINARY_DIR}/page/packages)
  set(made ${CMAKE_BINARY_DIR}/page/files/page_files.cpp)
  file(GLOB_RECURSE inputs CONFIGURE_DEPENDS ${source}/src/* ${source}/*.mjs)
  loamway_npm_packages(${source} ${packages} ${packages}.stamp)
  add_custom_command(
    OUTPUT ${made}
    COMMAND ${CMAKE_COMMAND} -E copy ${source}/build.mjs ${packages}/build.mjs
    COMMAND ${NODE} ${packages}/build.mjs ${source} ${packages} ${CMAKE_BINARY_DIR}/page/files
    DEPENDS ${inputs} ${packages}.stamp
    COMMENT "The page"
    VERBATIM)
  target_sources(${target} PRIVATE ${made})
endfunction()
