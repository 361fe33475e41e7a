// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REGION_CODED_NUMBER_H
#define LOAMWAY_SRC_REGION_CODED_NUMBER_H

// Signed numbers of shapes and height profiles: zigzag coded (0, -1, 1, -2 ... become 0, 1, 2, 3 ...), then
// seven bits a byte, low bits first, the top bit set on all but the last byte.

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace loamway {

void append_number(std::vector<std::uint8_t>& out, std::int64_t value);

/// Reads the number at `at` and moves on behind it. False, with `value` untouched, when the bytes end inside
/// it or it is written longer than needed: equal numbers are equal bytes.
[[nodiscard]] bool read_number(std::span<const std::uint8_t> bytes, std::size_t& at, std::int64_t& value);

}  // namespace loamway

#endif
