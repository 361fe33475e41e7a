// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/version.h"

namespace loamway {

std::string_view program_version() {
    return LOAMWAY_VERSION;  // defined for this file by scripts/cmake/LoamwayParts.cmake
}

}  // namespace loamway
