# SPDX-License-Identifier: Apache-2.0
# A part is one library: include/loamway/P, src/P, tests/P. Parts and what they use are read from
# scripts/parts.txt, so that the drawing of the house and the build cannot disagree.

# Third-party targets a part links privately.
set(LOAMWAY_LINK_base fmt::fmt date::date-tz loamway_geographic Threads::Threads)
set(LOAMWAY_LINK_text fmt::fmt nlohmann_json::nlohmann_json PkgConfig::tomlplusplus)
set(LOAMWAY_LINK_geodata fmt::fmt loamway_gdal_headers ${CMAKE_DL_LIBS})
set(LOAMWAY_LINK_tags fmt::fmt)
set(LOAMWAY_LINK_profile fmt::fmt)
set(LOAMWAY_LINK_order fmt::fmt loamway_metis)
set(LOAMWAY_LINK_region fmt::fmt PkgConfig::xxhash)
set(LOAMWAY_LINK_build fmt::fmt loamway_osmium loamway_deflate)
set(LOAMWAY_LINK_graph fmt::fmt Boost::headers)
set(LOAMWAY_LINK_search fmt::fmt)
set(LOAMWAY_LINK_belt fmt::fmt Eigen3::Eigen)
set(LOAMWAY_LINK_costs fmt::fmt)
set(LOAMWAY_LINK_plan fmt::fmt)
set(LOAMWAY_LINK_report fmt::fmt PkgConfig::pangocairo PkgConfig::qrencode)
set(LOAMWAY_LINK_exchange fmt::fmt PkgConfig::pugixml)
set(LOAMWAY_LINK_desk fmt::fmt)
set(LOAMWAY_LINK_cli fmt::fmt CLI11::CLI11)

# What only a part's tests link: GDAL writes rasters and reads our tracks back, order fills in what build would, build reads maps
# the generator makes.
set(LOAMWAY_TEST_LINK_geodata GDAL::GDAL)
set(LOAMWAY_TEST_LINK_region loamway_order)
set(LOAMWAY_TEST_LINK_search loamway_build loamway_profile loamway_tags loamway_order)
set(LOAMWAY_TEST_LINK_exchange GDAL::GDAL)
set(LOAMWAY_TEST_LINK_build loamway_demo_map)

function(loamway_read_parts out_names)
  set(file ${CMAKE_CURRENT_SOURCE_DIR}/scripts/parts.txt)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${file})
  file(STRINGS ${file} lines REGEX "^[a-z]")
  set(names)
  foreach(line IN LISTS lines)
    string(REGEX MATCH "^[a-z]+" name "${line}")
    string(REGEX REPLACE "^[a-z]+ *:([^|]*).*$" "\\1" uses "${line}")
    string(STRIP "${uses}" uses)
    string(REPLACE " " ";" uses "${uses}")
    list(APPEND names ${name})
    set(LOAMWAY_USES_${name} ${uses} PARENT_SCOPE)
  endforeach()
  set(${out_names} ${names} PARENT_SCOPE)
endfunction()

function(loamway_part name)
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/src/${name}/*.cpp)
  file(GLOB headers CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/include/loamway/${name}/*.h)
  list(FILTER sources EXCLUDE REGEX "/main\\.cpp$")
  if(name STREQUAL base)
    # One file knows the version, so that a new one does not compile everything again.
    set_source_files_properties(${CMAKE_CURRENT_SOURCE_DIR}/src/base/version.cpp
                                PROPERTIES COMPILE_DEFINITIONS "LOAMWAY_VERSION=\"${PROJECT_VERSION}\"")
  endif()
  if(NOT sources)
    add_library(loamway_${name} INTERFACE)
    return()
  endif()
  add_library(loamway_${name} STATIC ${sources})
  target_sources(loamway_${name} PUBLIC FILE_SET HEADERS BASE_DIRS ${CMAKE_CURRENT_SOURCE_DIR}/include
                                                          FILES ${headers})
  target_compile_features(loamway_${name} PUBLIC cxx_std_20)
  set_target_properties(loamway_${name} PROPERTIES VERIFY_INTERFACE_HEADER_SETS ON)
  target_include_directories(loamway_${name} PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/src/${name})
  list(TRANSFORM LOAMWAY_USES_${name} PREPEND loamway_ OUTPUT_VARIABLE uses)
  target_link_libraries(loamway_${name} PUBLIC ${uses} PRIVATE loamway_flags ${LOAMWAY_LINK_${name}})
  if(name STREQUAL graph)
    # The one public header that shows a library: RoadGraph as a model of the Boost.Graph concepts.
    target_link_libraries(loamway_${name} PUBLIC Boost::headers)
  endif()
endfunction()

macro(loamway_all_parts)
  loamway_read_parts(LOAMWAY_PARTS)
  foreach(part IN LISTS LOAMWAY_PARTS)
    loamway_part(${part})
  endforeach()
  add_executable(loamway src/cli/main.cpp)
  target_link_libraries(loamway PRIVATE loamway_cli loamway_flags)
endmacro()

# One test program per part; tests/P may also use what tests/support offers.
macro(loamway_all_tests)
  find_package(GTest REQUIRED)
  include(GoogleTest)
  add_subdirectory(tests)
endmacro()
