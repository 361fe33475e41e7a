// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_GEODATA_PLAIN_FILE_H
#define LOAMWAY_SRC_GEODATA_PLAIN_FILE_H

#include <string>

namespace loamway {

/// GDAL opens far more than files: addresses, archives, databases, whole texts given as a name. Only a plain
/// path of a regular file gets to it. Errors: input, not_found, io.
void require_plain_file(const std::string& path);

/// "hills.tif" of "a/hills.tif".
[[nodiscard]] std::string name_of_file(const std::string& path);

}  // namespace loamway

#endif
