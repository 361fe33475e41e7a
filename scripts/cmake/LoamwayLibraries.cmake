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
find_package(GDAL REQUIRED)
find_package(Boost 1.74 REQUIRED)
pkg_check_modules(xxhash REQUIRED IMPORTED_TARGET libxxhash)
pkg_check_modules(tomlplusplus REQUIRED IMPORTED_TARGET tomlplusplus)
pkg_check_modules(pugixml REQUIRED IMPORTED_TARGET pugixml)
find_package(date REQUIRED)

# GeographicLib is linked by name: its Debian package ships no target that works from every CMake release.
find_path(GEOGRAPHIC_INCLUDE GeographicLib/Geodesic.hpp REQUIRED)
find_library(GEOGRAPHIC_LIBRARY NAMES GeographicLib Geographic REQUIRED)
add_library(loamway_geographic INTERFACE)
target_include_directories(loamway_geographic SYSTEM INTERFACE ${GEOGRAPHIC_INCLUDE})
target_link_libraries(loamway_geographic INTERFACE ${GEOGRAPHIC_LIBRARY})

find_path(OSMIUM_INCLUDE osmium/version.hpp REQUIRED)
add_library(loamway_osmium INTERFACE)
target_include_directories(loamway_osmium SYSTEM INTERFACE ${OSMIUM_INCLUDE})
target_link_libraries(loamway_osmium INTERFACE Threads::Threads ZLIB::ZLIB BZip2::BZip2 EXPAT::EXPAT)
