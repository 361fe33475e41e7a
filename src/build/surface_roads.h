// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_SURFACE_ROADS_H
#define LOAMWAY_SRC_BUILD_SURFACE_ROADS_H

// The roads as the lessons about surfaces see them: what the tags of each say without its surface, what its
// surface tag says, and which roads meet and continue each other. The unit is the way, because a surface tag
// speaks for a whole way.

#include <array>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "assembly.h"
#include "loamway/base/surface.h"
#include "loamway/tags/surface.h"

namespace loamway {

using SurfaceShares = std::array<double, surface_class_count>;  // of hard, gravel, earth; they add up to 1

/// Roads compare with their like: tracks and paths, service roads, all others.
enum class RoadFamily : std::uint8_t { track = 0, service = 1, road = 2 };
constexpr std::size_t road_family_count = 3;

/// How a way with a known surface lies to another; of several the first kind counts.
enum class SurfaceWitness : std::uint8_t {
    continues = 0,    // straight on, or under the same name; same family
    meets = 1,        // at a junction; same family
    runs_on = 2,      // straight on or under the same name, further along, at most 2 km
    other_ahead = 3,  // straight on or under the same name; another family
    other_meets = 4
};
constexpr std::size_t surface_witness_count = 5;

struct FoundWitness {
    SurfaceWitness kind;
    std::uint32_t way;  // index into RawMap::roads
};

class SurfaceRoads {
public:
    /// After describe_edges(). Ways for which `hidden` holds (by OSM id) are taken as without a surface tag;
    /// for measuring how well lessons work.
    explicit SurfaceRoads(const Assembly& a, const std::function<bool(std::int64_t)>& hidden = {});

    /// What one list of tags says, its surface left aside.
    struct Untold {
        SurfaceTraits traits;
        RoadFamily family = RoadFamily::road;
        std::array<SurfaceOdds, 2> odds;    // by the tags alone, outside and inside built-up areas
        std::optional<SurfaceClass> known;  // what the surface says
        bool said =
            false;  // the tags say more of the surface than lessons could: known, a list, a winter road
    };
    [[nodiscard]] const Untold& untold(std::uint32_t way) const { return m_lists[m_list_of_way[way]]; }
    /// Ways with the same number have the same tags.
    [[nodiscard]] std::uint32_t list_of(std::uint32_t way) const { return m_list_of_way[way]; }
    /// What the tags alone go by: "tracktype grade2".
    [[nodiscard]] std::string because(std::uint32_t way, bool built_up) const;
    /// Whether the way is untold: neither known nor with other words on its surface.
    [[nodiscard]] bool asks(std::uint32_t way) const { return m_hidden[way] || !untold(way).said; }
    [[nodiscard]] std::optional<SurfaceClass> known(std::uint32_t way) const {
        return m_hidden[way] ? std::nullopt : untold(way).known;
    }
    [[nodiscard]] std::size_t way_count() const { return m_hidden.size(); }
    [[nodiscard]] bool any_known() const { return m_any_known; }
    /// Kilometres of a way outside and inside built-up areas.
    [[nodiscard]] std::array<double, 2> km(std::uint32_t way) const;
    [[nodiscard]] std::span<const std::uint32_t> edges(std::uint32_t way) const;
    [[nodiscard]] bool built_up(std::uint32_t edge) const;
    [[nodiscard]] std::uint32_t way_of(std::uint32_t edge) const { return m_a.pieces[edge].way; }

    /// The known way that says most about this one.
    [[nodiscard]] std::optional<FoundWitness> witness(std::uint32_t way) const;

private:
    using End = std::uint32_t;  // edge * 2 + (0: tail, 1: head)
    void read_lists(const std::function<bool(std::int64_t)>& hidden);
    void connect();
    [[nodiscard]] std::uint32_t node(End end) const;
    [[nodiscard]] std::span<const End> ends_at(std::uint32_t node) const;
    [[nodiscard]] bool same_name(End x, End y) const;
    [[nodiscard]] int bend(End from, End to) const;  // degrees off straight on
    [[nodiscard]] std::optional<FoundWitness> witness_at(std::uint32_t way, End end) const;
    [[nodiscard]] std::optional<std::uint32_t> follow(End end) const;

    const Assembly& m_a;
    std::vector<std::uint32_t> m_list_of_way;
    std::vector<Untold> m_lists;
    std::vector<bool> m_hidden;
    bool m_any_known = false;
    std::vector<std::uint32_t> m_way_first, m_way_edges;  // edges of each way
    std::vector<std::uint32_t> m_node_first;
    std::vector<End> m_node_ends;
    std::vector<std::int16_t> m_heading;  // away from the junction, of each end, degrees
};

}  // namespace loamway

#endif
