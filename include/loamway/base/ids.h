// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_IDS_H
#define LOAMWAY_BASE_IDS_H

// Index types that cannot be mixed up. An id is an index into one of the arrays of an open region; it means
// nothing in another region file.

#include <compare>
#include <cstddef>
#include <cstdint>
#include <limits>

namespace loamway {

template <class Tag>
class Id {
public:
    static constexpr std::uint32_t none_value = std::numeric_limits<std::uint32_t>::max();
    constexpr Id() = default;
    constexpr explicit Id(std::uint32_t value) : m_value(value) {}
    constexpr explicit Id(std::size_t value) : m_value(static_cast<std::uint32_t>(value)) {}
    [[nodiscard]] constexpr std::uint32_t value() const { return m_value; }
    [[nodiscard]] constexpr std::size_t index() const { return m_value; }
    [[nodiscard]] constexpr bool is_none() const { return m_value == none_value; }
    friend constexpr auto operator<=>(const Id&, const Id&) = default;

private:
    std::uint32_t m_value = none_value;
};

using NodeId = Id<struct NodeTag>;            // a graph node (junction, way end, or point that matters)
using EdgeId = Id<struct EdgeTag>;            // an undirected piece of road between two graph nodes
using ArcId = Id<struct ArcTag>;              // one direction of an edge
using TagSetId = Id<struct TagSetTag>;        // a set of OSM tags that many roads share
using StopPlaceId = Id<struct StopPlaceTag>;  // a place where the machine can stand to be lubricated

}  // namespace loamway

#endif
