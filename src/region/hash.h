// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REGION_HASH_H
#define LOAMWAY_SRC_REGION_HASH_H

// XXH3, the one hash of region files: against damage, not against forgery.

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>

namespace loamway {

[[nodiscard]] std::uint64_t hash64(std::span<const std::byte> bytes);
/// Of the bytes followed by zeros up to the next section boundary.
[[nodiscard]] std::uint64_t hash64_padded(std::span<const std::byte> bytes);
/// In canonical (big-endian) form.
[[nodiscard]] std::array<std::uint8_t, 16> hash128(std::span<const std::byte> bytes);
[[nodiscard]] std::string to_hex(std::span<const std::uint8_t> bytes);

}  // namespace loamway

#endif
