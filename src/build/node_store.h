// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_NODE_STORE_H
#define LOAMWAY_SRC_BUILD_NODE_STORE_H

// Node ids and positions in two ascending arrays: 16 bytes a node, found by binary search.

#include <cstdint>
#include <span>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

/// Finds ids in an ascending list. Ids looked up one after another mostly lie close together, so each search
/// starts where the last one ended and widens from there.
class AscendingIds {
public:
    explicit AscendingIds(std::span<const std::int64_t> ids) : m_ids(ids) {}
    static constexpr std::uint32_t none = 0xffffffff;
    /// Index of the id, or none.
    [[nodiscard]] std::uint32_t find(std::int64_t id);

private:
    std::span<const std::int64_t> m_ids;
    std::size_t m_last = 0;
};

class NodeStore {
public:
    void add(std::int64_t id, GeoPoint point);
    /// Sorts when the file was not sorted; of nodes given twice the later one stays. Returns how many went.
    std::int64_t finish();
    /// Leaves only the nodes that `refs` name and adds those that are missing, without a point. Gives what
    /// RawMap wants beside each other; the store is empty afterwards. Returns how many ids are missing.
    std::int64_t move_needed(std::span<const std::int64_t> refs, std::vector<std::int64_t>& ids,
                             std::vector<GeoPoint>& points, std::vector<bool>& found);

private:
    std::vector<std::int64_t> m_ids;
    std::vector<GeoPoint> m_points;
    bool m_ascending = true;
};

}  // namespace loamway

#endif
