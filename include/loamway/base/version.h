// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_VERSION_H
#define LOAMWAY_BASE_VERSION_H

#include <string_view>

namespace loamway {

/// "0.1.0", as the build file has it.
[[nodiscard]] std::string_view program_version();

}  // namespace loamway

#endif
