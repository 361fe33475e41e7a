// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REGION_CHECK_H
#define LOAMWAY_SRC_REGION_CHECK_H

// Does a region hold together? After these checks no code that follows an index, a range, an enum or a shape
// of the view can leave its arrays, wherever the view came from.

#include <optional>
#include <string>

#include "loamway/region/region.h"

namespace loamway {

/// What is wrong first, as a phrase: "arc 7 leads to node 99, which its edge 3 does not"; nothing when whole.
using Fault = std::optional<std::string>;

/// Every index, range, enum and shape. Linear in the size of the view.
[[nodiscard]] Fault structure_fault(const RegionView& v);

/// Counts that 32-bit indices cannot address. Looks at sizes only.
[[nodiscard]] Fault size_fault(const RegionView& v);

// The pieces of structure_fault, in the order in which they build on each other.
[[nodiscard]] Fault strings_fault(const RegionView& v);
[[nodiscard]] Fault tag_sets_fault(const RegionView& v);
[[nodiscard]] Fault nodes_fault(const RegionView& v);
[[nodiscard]] Fault edges_fault(const RegionView& v);
[[nodiscard]] Fault arcs_fault(const RegionView& v);
[[nodiscard]] Fault shapes_fault(const RegionView& v);
[[nodiscard]] Fault node_tags_fault(const RegionView& v);
[[nodiscard]] Fault restrictions_fault(const RegionView& v);
[[nodiscard]] Fault stop_places_fault(const RegionView& v);
[[nodiscard]] Fault places_fault(const RegionView& v);
[[nodiscard]] Fault background_fault(const RegionView& v);
[[nodiscard]] Fault grid_fault(const RegionView& v);
[[nodiscard]] Fault hierarchy_fault(const RegionView& v);
[[nodiscard]] Fault heights_fault(const RegionView& v);

/// A list of `groups` ranges given by their starts and one last end: starts at 0, never falls, ends at `end`.
[[nodiscard]] Fault ranges_fault(std::string_view name, std::span<const std::uint32_t> first,
                                 std::size_t groups, std::size_t end);

/// Half-way round the Earth, in decimetres: no road is longer, and sums of lengths stay far from overflow.
constexpr std::uint32_t max_edge_dm = 200'000'000;

}  // namespace loamway

#endif
