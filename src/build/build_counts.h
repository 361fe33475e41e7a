// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_BUILD_COUNTS_H
#define LOAMWAY_SRC_BUILD_BUILD_COUNTS_H

// What a build met and could not use, by name, in the order of first mention.

#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/region/region.h"

namespace loamway {

class BuildCounts {
public:
    BuildCounts() = default;
    explicit BuildCounts(std::vector<BuildCount> counts) : m_counts(std::move(counts)) {}
    /// Nothing is noted for a count of 0.
    void add(std::string_view what, std::int64_t count = 1) {
        if (count == 0)
            return;
        for (BuildCount& c : m_counts)
            if (c.what == what) {
                c.count += count;
                return;
            }
        m_counts.push_back({std::string(what), count});
    }
    [[nodiscard]] std::vector<BuildCount> take() { return std::move(m_counts); }

private:
    std::vector<BuildCount> m_counts;
};

}  // namespace loamway

#endif
