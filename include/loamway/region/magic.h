// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REGION_MAGIC_H
#define LOAMWAY_REGION_MAGIC_H

#include <array>

namespace loamway {

/// What every region file of every version begins with (FORMAT.md).
constexpr std::array<char, 8> region_magic{'L', 'O', 'A', 'M', 'R', 'G', 'N', '\n'};

}  // namespace loamway

#endif
