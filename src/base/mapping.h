// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BASE_MAPPING_H
#define LOAMWAY_SRC_BASE_MAPPING_H

// Maps a file read-only, and remembers how it was until nobody holds it any more.

#include <sys/stat.h>

#include <memory>
#include <string>

namespace loamway {

/// All of a regular file that was `info` before it was mapped. io Error.
[[nodiscard]] std::shared_ptr<const void> map_whole(int fd, const std::string& path, const struct stat& info);

}  // namespace loamway

#endif
