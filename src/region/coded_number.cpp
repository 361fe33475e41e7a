// SPDX-License-Identifier: Apache-2.0
#include "coded_number.h"

namespace loamway {

void append_number(std::vector<std::uint8_t>& out, std::int64_t value) {
    auto bits = static_cast<std::uint64_t>(value) << 1;
    if (value < 0)
        bits = ~bits;
    while (bits >= 0x80) {
        out.push_back(static_cast<std::uint8_t>(bits | 0x80));
        bits >>= 7;
    }
    out.push_back(static_cast<std::uint8_t>(bits));
}

bool read_number(std::span<const std::uint8_t> bytes, std::size_t& at, std::int64_t& value) {
    // The largest difference, twice 180 degrees of longitude, needs 33 bits after zigzag coding.
    constexpr int max_number_bytes = 5;
    std::uint64_t bits = 0;
    for (int i = 0; i < max_number_bytes && at < bytes.size(); ++i) {
        const std::uint8_t byte = bytes[at++];
        bits |= static_cast<std::uint64_t>(byte & 0x7f) << (7 * i);
        if ((byte & 0x80) == 0) {
            if (byte == 0 && i > 0)
                return false;
            value = static_cast<std::int64_t>(bits >> 1);
            if ((bits & 1) != 0)
                value = ~value;
            return true;
        }
    }
    return false;
}

}  // namespace loamway
