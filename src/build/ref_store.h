// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_REF_STORE_H
#define LOAMWAY_SRC_BUILD_REF_STORE_H

// Node references of ways while a file is read: differences as variable-length numbers, two or three bytes
// each instead of eight. Most ways of a file are thrown away again before anybody looks at them.

#include <cstdint>
#include <span>
#include <vector>

namespace loamway {

class RefStore {
public:
    /// Returns where the list starts; with its length that is what read() wants.
    std::uint32_t add(std::span<const std::int64_t> refs);
    /// Appends a list that was added before.
    void read(std::uint32_t start, std::uint32_t count, std::vector<std::int64_t>& out) const;

private:
    std::vector<std::uint8_t> m_bytes;
};

}  // namespace loamway

#endif
