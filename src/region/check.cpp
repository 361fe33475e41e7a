// SPDX-License-Identifier: Apache-2.0
#include "check.h"

#include <fmt/format.h>

#include <limits>

namespace loamway {

Fault structure_fault(const RegionView& v) {
    for (const auto check : {size_fault, strings_fault, tag_sets_fault, nodes_fault, edges_fault, arcs_fault,
                             shapes_fault, node_tags_fault, restrictions_fault, stop_places_fault,
                             places_fault, background_fault, grid_fault, hierarchy_fault, heights_fault})
        if (Fault fault = check(v))
            return fault;
    return std::nullopt;
}

Fault size_fault(const RegionView& v) {
    // The largest number of an index type means "none".
    constexpr std::size_t most = std::numeric_limits<std::uint32_t>::max() - 1;
    struct Count {
        std::string_view what;
        std::size_t count;
    };
    for (const auto& [what, count] :
         {Count{"nodes", v.node_lat.size()}, Count{"arcs", v.arcs.size()}, Count{"edges", v.edges.size()},
          Count{"tag sets", v.tag_set_first.size()}, Count{"tags", v.tag_set_strings.size()},
          Count{"strings", v.string_first.size()}, Count{"bytes of strings", v.string_bytes.size()},
          Count{"bytes of shapes", v.shapes.size()}, Count{"turn restrictions", v.restrictions.size()},
          Count{"edges of turn restrictions", v.restriction_edges.size()},
          Count{"stop places", v.stop_places.size()}, Count{"places", v.places.size()},
          Count{"background items", v.background.size()},
          Count{"background numbers", v.background_points.size()},
          Count{"edges in grid cells", v.grid_edges.size()},
          Count{"arcs of the node hierarchy", v.up_head.size()}, Count{"bytes of heights", v.heights.size()}})
        if (count > most)
            return fmt::format("{} {}, {} at most", count, what, most);
    return std::nullopt;
}

Fault ranges_fault(std::string_view name, std::span<const std::uint32_t> first, std::size_t groups,
                   std::size_t end) {
    if (first.size() != groups + 1)
        return fmt::format("{} has {} entries instead of {}", name, first.size(), groups + 1);
    if (first.front() != 0)
        return fmt::format("{} starts at {} instead of 0", name, first.front());
    for (std::size_t i = 0; i < groups; ++i)
        if (first[i + 1] < first[i])
            return fmt::format("{} falls from {} to {} at entry {}", name, first[i], first[i + 1], i + 1);
    if (first.back() != end)
        return fmt::format("{} ends at {} instead of {}", name, first.back(), end);
    return std::nullopt;
}

}  // namespace loamway
