// SPDX-License-Identifier: Apache-2.0
#include "ref_store.h"

#include <limits>

#include "loamway/base/error.h"

namespace loamway {

std::uint32_t RefStore::add(std::span<const std::int64_t> refs) {
    constexpr std::size_t longest_number = 10;
    const std::size_t start = m_bytes.size();
    if (start + refs.size() * longest_number >= std::numeric_limits<std::uint32_t>::max())
        throw Error(ErrorKind::limit, "the extract's ways have too many nodes",
                    "cut it into smaller extracts");
    std::uint64_t before = 0;
    for (const std::int64_t ref : refs) {
        // Differences wrap around, so that any two ids have one.
        const std::uint64_t difference = static_cast<std::uint64_t>(ref) - before;
        std::uint64_t bits = difference << 1 ^ (0 - (difference >> 63));
        for (; bits >= 0x80; bits >>= 7)
            m_bytes.push_back(static_cast<std::uint8_t>(bits | 0x80));
        m_bytes.push_back(static_cast<std::uint8_t>(bits));
        before = static_cast<std::uint64_t>(ref);
    }
    return static_cast<std::uint32_t>(start);
}

void RefStore::read(std::uint32_t start, std::uint32_t count, std::vector<std::int64_t>& out) const {
    const std::uint8_t* at = m_bytes.data() + start;
    std::uint64_t before = 0;
    for (std::uint32_t i = 0; i < count; ++i) {
        std::uint64_t bits = 0;
        for (int shift = 0;; shift += 7) {
            const std::uint8_t byte = *at++;
            bits |= std::uint64_t{byte & 0x7fu} << shift;
            if ((byte & 0x80) == 0)
                break;
        }
        before += bits >> 1 ^ (0 - (bits & 1));
        out.push_back(static_cast<std::int64_t>(before));
    }
}

}  // namespace loamway
