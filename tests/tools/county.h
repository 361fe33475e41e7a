// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_TOOLS_COUNTY_H
#define LOAMWAY_TESTS_TOOLS_COUNTY_H

// The invented county of the demo region: a prairie grid of gravel roads, a few paved ones, a river with few
// bridges, a railway, a motorway in one corner, three towns, farms and fields. It lies in the open ocean, so
// that nobody takes it for a real place. The same seed gives the same map on every machine.

#include <cstdint>
#include <string>
#include <vector>

#include "draft.h"
#include "random.h"

namespace loamway {

constexpr double mile = 1609.344;
/// Sections (square miles) from west to east and from south to north.
constexpr int county_columns = 22;
constexpr int county_rows = 18;

struct DraftMember {
    char type;  // 'n': a VertexId, 'w': a LineId
    std::uint32_t id;
    std::string role;
};
struct DraftRelation {
    std::vector<DraftMember> members;
    TagList tags;
};

/// A point for the places file; kind is empty or "stop".
struct NamedPoint {
    std::string name;
    std::string kind;
    Spot spot;
};

/// Ground on which nothing else may be put.
struct TakenGround {
    Spot low;
    Spot high;
};

struct County {
    explicit County(std::uint64_t seed);

    /// The crossing of section lines i (from the west) and j (from the south).
    [[nodiscard]] Spot corner(int i, int j) const;
    [[nodiscard]] Random random(std::string_view stream) const { return {seed, stream}; }

    std::uint64_t seed;
    Draft draft;
    LineId river = 0;
    std::vector<DraftRelation> relations;
    std::vector<NamedPoint> places;
    std::vector<TakenGround> taken;
    std::vector<Spot> yards;  // middles of farmyards
};

/// The spot of a position on Earth.
[[nodiscard]] Spot county_spot(double lat, double lon);

/// Draws the whole county.
[[nodiscard]] County draw_county(std::uint64_t seed);
/// Writes it as a map file (.osm.pbf, .osm, .opl by name).
void write_county(const County& county, const std::string& path);
/// The named points as GeoJSON text.
[[nodiscard]] std::string county_places(const County& county);

}  // namespace loamway

#endif
