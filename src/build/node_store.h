// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_NODE_STORE_H
#define LOAMWAY_SRC_BUILD_NODE_STORE_H

// Node ids and positions in two ascending arrays: 16 bytes a node, found by binary search.

#include <cstdint>
#include <span>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

/// Finds ids in an ascending list, which must not change meanwhile: a table leads to the few among which an
/// id can be. Several threads may ask at once.
class AscendingIds {
public:
    explicit AscendingIds(std::span<const std::int64_t> ids);
    static constexpr std::uint32_t none = 0xffffffff;
    /// Index of the id, or none. An id that follows the one found last, `before`, is found at once, as many
    /// do along a way.
    [[nodiscard]] std::uint32_t find(std::int64_t id, std::uint32_t before = none) const {
        const std::size_t next = std::size_t{before} + 1;
        return next < m_ids.size() && m_ids[next] == id ? static_cast<std::uint32_t>(next) : look_up(id);
    }

private:
    [[nodiscard]] std::uint32_t look_up(std::int64_t id) const;
    [[nodiscard]] std::size_t slot_of(std::int64_t id) const {
        return static_cast<std::size_t>((static_cast<std::uint64_t>(id) - m_lowest) >> m_shift);
    }

    std::span<const std::int64_t> m_ids;
    std::uint64_t m_lowest = 0;
    unsigned m_shift = 0;
    std::vector<std::uint32_t> m_first;  // of each slot, and the end
};

class NodeStore {
public:
    /// Room for so many; memory that is not written to costs nothing.
    void reserve(std::size_t count);
    void add(std::int64_t id, GeoPoint point) { add(std::span(&id, 1), std::span(&point, 1)); }
    void add(std::span<const std::int64_t> ids, std::span<const GeoPoint> points);
    /// Sorts when the file was not sorted; of nodes given twice the later one stays. Returns how many went.
    std::int64_t finish();
    /// Whether the id was there at the last finish().
    [[nodiscard]] bool had(std::int64_t id) const;
    /// Leaves only the nodes that `refs` name and adds those that are missing, without a point. Gives what
    /// RawMap wants beside each other; the store is empty afterwards. Returns how many ids are missing.
    std::int64_t move_needed(std::span<const std::int64_t> refs, std::vector<std::int64_t>& ids,
                             std::vector<GeoPoint>& points, std::vector<bool>& found) {
        std::vector<std::uint32_t> ref_nodes;
        return move_needed(refs, ids, points, found, ref_nodes);
    }
    /// The same, and where each of `refs` is among `ids`.
    std::int64_t move_needed(std::span<const std::int64_t> refs, std::vector<std::int64_t>& ids,
                             std::vector<GeoPoint>& points, std::vector<bool>& found,
                             std::vector<std::uint32_t>& ref_nodes);

private:
    void look_up(std::span<const std::int64_t> refs, std::vector<std::uint32_t>& ref_nodes) const;
    std::size_t keep(const class NeededNodes& needed);

    std::vector<std::int64_t> m_ids;
    std::vector<GeoPoint> m_points;
    bool m_ascending = true;
    std::size_t m_finished = 0;  // so many are in order for good, unless others come between them
};

}  // namespace loamway

#endif
