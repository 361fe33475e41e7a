# SPDX-License-Identifier: Apache-2.0
# Third-party libraries as imported targets. Each part links only what it owns (see scripts/parts.txt).
find_package(PkgConfig REQUIRED)
find_package(Threads REQUIRED)
find_package(ZLIB REQUIRED)
find_package(BZip2 REQUIRED)
find_package(EXPAT REQUIRED)
find_package(fmt REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(CLI11 REQUIRED)
find_package(Eigen3 3.3 REQUIRED NO_MODULE)
find_package(GDAL REQUIRED)
find_package(Boost 1.74 REQUIRED)
pkg_check_modules(xxhash REQUIRED IMPORTED_TARGET libxxhash)
pkg_check_modules(tomlplusplus REQUIRED IMPORTED_TARGET tomlplusplus)
pkg_check_modules(pugixml REQUIRED IMPORTED_TARGET pugixml)
pkg_check_modules(pangocairo REQUIRED IMPORTED_TARGET pangocairo)
pkg_check_modules(qrencode REQUIRED IMPORTED_TARGET libqrencode)
find_package(date REQUIRED)

# The name a linked program would ask for, to load the library by.
function(loamway_soname out file)
  execute_process(COMMAND ${CMAKE_READELF} -d ${file} OUTPUT_VARIABLE dynamic COMMAND_ERROR_IS_FATAL ANY)
  if(NOT dynamic MATCHES "soname: \\[([^]]+)\\]")
    message(FATAL_ERROR "${file} has no soname to load it by")
  endif()
  set(${out} ${CMAKE_MATCH_1} PARENT_SCOPE)
endfunction()

# GDAL is compiled against and loaded when a command first needs it; tests link it.
get_target_property(gdal_file GDAL::GDAL IMPORTED_LOCATION)
if(NOT gdal_file)
  get_target_property(gdal_file GDAL::GDAL IMPORTED_LOCATION_NONE)
endif()
if(NOT gdal_file)
  find_library(gdal_file NAMES gdal REQUIRED)
endif()
loamway_soname(gdal_soname ${gdal_file})
add_library(loamway_gdal_headers INTERFACE)
target_compile_definitions(loamway_gdal_headers INTERFACE LOAMWAY_GDAL_SONAME="${gdal_soname}")
target_include_directories(loamway_gdal_headers SYSTEM INTERFACE
                           $<TARGET_PROPERTY:GDAL::GDAL,INTERFACE_INCLUDE_DIRECTORIES>)

# The client of the queue is loaded the same way: with what it brings it costs a start some 2 ms.
find_path(NATS_INCLUDE nats/nats.h REQUIRED)
find_library(NATS_LIBRARY NAMES nats REQUIRED)
loamway_soname(nats_soname ${NATS_LIBRARY})
add_library(loamway_nats_headers INTERFACE)
target_compile_definitions(loamway_nats_headers INTERFACE LOAMWAY_NATS_SONAME="${nats_soname}")
target_include_directories(loamway_nats_headers SYSTEM INTERFACE ${NATS_INCLUDE})

# GeographicLib is linked by name: its Debian package ships no target that works from every CMake release.
find_path(GEOGRAPHIC_INCLUDE GeographicLib/Geodesic.hpp REQUIRED)
find_library(GEOGRAPHIC_LIBRARY NAMES GeographicLib Geographic REQUIRED)
add_library(loamway_geographic INTERFACE)
target_include_directories(loamway_geographic SYSTEM INTERFACE ${GEOGRAPHIC_INCLUDE})
target_link_libraries(loamway_geographic INTERFACE ${GEOGRAPHIC_LIBRARY})

find_path(METIS_INCLUDE metis.h REQUIRED)
find_library(METIS_LIBRARY NAMES metis REQUIRED)
add_library(loamway_metis INTERFACE)
target_include_directories(loamway_metis SYSTEM INTERFACE ${METIS_INCLUDE})
target_link_libraries(loamway_metis INTERFACE ${METIS_LIBRARY})

find_path(OSMIUM_INCLUDE osmium/version.hpp REQUIRED)
add_library(loamway_osmium INTERFACE)
target_include_directories(loamway_osmium SYSTEM INTERFACE ${OSMIUM_INCLUDE})
target_link_libraries(loamway_osmium INTERFACE Threads::Threads ZLIB::ZLIB BZip2::BZip2 EXPAT::EXPAT)

find_path(DEFLATE_INCLUDE libdeflate.h REQUIRED)
find_library(DEFLATE_LIBRARY NAMES deflate REQUIRED)
add_library(loamway_deflate INTERFACE)
target_include_directories(loamway_deflate SYSTEM INTERFACE ${DEFLATE_INCLUDE})
target_link_libraries(loamway_deflate INTERFACE ${DEFLATE_LIBRARY})

# SOCI's core loads the SQLite or PostgreSQL backend when a ledger is opened: a plan without one does not pay for them.
find_path(SOCI_INCLUDE soci/soci.h REQUIRED)
find_library(SOCI_LIBRARY NAMES soci_core REQUIRED)
add_library(loamway_soci INTERFACE)
target_include_directories(loamway_soci SYSTEM INTERFACE ${SOCI_INCLUDE} ${SOCI_INCLUDE}/soci)
target_link_libraries(loamway_soci INTERFACE ${SOCI_LIBRARY})
