// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_READ_EXTRACT_H
#define LOAMWAY_SRC_BUILD_READ_EXTRACT_H

#include <span>
#include <string>

#include "loamway/build/build.h"
#include "osm_file.h"

namespace loamway {

/// read_extracts() with a choice of the reader for PBF files, so that the two can be compared.
[[nodiscard]] RawMap read_extracts(std::span<const std::string> paths, const Progress& progress,
                                   PbfReader pbf);

}  // namespace loamway

#endif
