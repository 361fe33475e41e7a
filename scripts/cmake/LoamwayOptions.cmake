# SPDX-License-Identifier: Apache-2.0
# Build options and the compiler flags every target shares, as one interface target.
option(LOAMWAY_TESTS "Build the tests" ON)
option(LOAMWAY_BENCH "Build the benchmarks" OFF)
option(LOAMWAY_FUZZ "Build the fuzz targets (needs clang)" OFF)
option(LOAMWAY_DEVELOPER "Warnings are errors" OFF)
set(LOAMWAY_SANITIZE "" CACHE STRING "Sanitizers, for example address,undefined or thread")

if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE Release CACHE STRING "" FORCE)
endif()
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_RUNTIME_OUTPUT_DIRECTORY ${CMAKE_BINARY_DIR})
find_program(CCACHE ccache)
if(CCACHE AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${CCACHE})
endif()

add_library(loamway_flags INTERFACE)
target_compile_features(loamway_flags INTERFACE cxx_std_20)
# No contraction of a*b+c: printed figures must agree across machines.
target_compile_options(loamway_flags INTERFACE -ffp-contract=off -Wall -Wextra -Wpedantic
                       -Wconversion -Wshadow -Wnon-virtual-dtor)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  # g++ 12 warns wrongly about overlapping copies when texts are joined, and about std::optional and
  # std::variant that it believes unset.
  target_compile_options(loamway_flags INTERFACE -Wno-restrict -Wno-maybe-uninitialized)
endif()
if(LOAMWAY_DEVELOPER)
  target_compile_options(loamway_flags INTERFACE -Werror)
endif()
if(LOAMWAY_SANITIZE)
  target_compile_options(loamway_flags INTERFACE -fsanitize=${LOAMWAY_SANITIZE}
                         -fno-sanitize-recover=all -fno-omit-frame-pointer -g1)
  target_link_options(loamway_flags INTERFACE -fsanitize=${LOAMWAY_SANITIZE})
endif()
