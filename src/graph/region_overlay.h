// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_GRAPH_REGION_OVERLAY_H
#define LOAMWAY_SRC_GRAPH_REGION_OVERLAY_H

// Arrays of a region that are copied when they are first changed.

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/region/region.h"

namespace loamway {

class RegionOverlay {
public:
    using Tags = std::vector<std::pair<std::string, std::string>>;

    explicit RegionOverlay(const RegionView& base) : m_base(base) {}

    /// The region with what has changed so far; valid until the next change and as long as this lives.
    [[nodiscard]] RegionView view() const;

    [[nodiscard]] EdgeRecord& edge(EdgeId e) { return copied(m_edges, m_base.edges)[e.index()]; }
    [[nodiscard]] std::vector<StopPlaceRecord>& stop_places() { return copied(m_stops, m_base.stop_places); }
    [[nodiscard]] std::uint32_t string(std::string_view text);
    [[nodiscard]] Tags tags(std::uint32_t tag_set) const;
    /// Tags in the order of their keys, as the builder stores them.
    [[nodiscard]] std::uint32_t tag_set(Tags tags);
    /// The node must have tags already.
    void set_node_tags(NodeId n, std::uint32_t tag_set);
    [[nodiscard]] std::uint32_t node_tag_set(NodeId n) const;

private:
    template <class T>
    static std::vector<T>& copied(std::optional<std::vector<T>>& copy, std::span<const T> base) {
        if (!copy)
            copy.emplace(base.begin(), base.end());
        return *copy;
    }

    RegionView m_base;
    std::optional<std::vector<EdgeRecord>> m_edges;
    std::optional<std::vector<NodeTagRecord>> m_node_tags;
    std::optional<std::vector<StopPlaceRecord>> m_stops;
    std::optional<std::vector<std::uint32_t>> m_set_first, m_set_strings, m_string_first;
    std::optional<std::vector<char>> m_string_bytes;
    std::map<std::string, std::uint32_t, std::less<>> m_strings;  // those added
    std::map<Tags, std::uint32_t> m_sets;                         // those added
};

}  // namespace loamway

#endif
