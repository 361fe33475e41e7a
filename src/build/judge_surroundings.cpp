// SPDX-License-Identifier: Apache-2.0
// What lies around the candidates. They stand in one grid; then the map is streamed past them, each feature
// once, so that the work grows with the map and not with map times candidates.
#include <algorithm>

#include "cell_grid.h"
#include "loamway/tags/structure.h"
#include "map_areas.h"
#include "stop_candidates.h"

namespace loamway {

namespace {

constexpr double level_crossing_m = 50.0;
constexpr double junction_m = 30.0;
constexpr double building_m = 50.0;
constexpr double power_line_m = 20.0;
constexpr double water_m = 25.0;
constexpr double school_m = 200.0;
constexpr std::int64_t cell_e7 = 30'000;  // about 300 m
constexpr std::int64_t max_cells = 1 << 20;

constexpr std::uint32_t wet_areas = map_feature::water_area | map_feature::wetland | map_feature::protection;

class Surroundings {
public:
    explicit Surroundings(std::vector<StandingPlace>& candidates) : m_candidates(candidates) {
        MapBox bounds;
        for (const StandingPlace& c : candidates) {
            bounds.add(c.stand);
            bounds.add(c.road);
        }
        m_grid.fill(bounds, cell_e7, max_cells, static_cast<std::uint32_t>(candidates.size()),
                    [&](std::uint32_t i, auto visit) {
                        visit(MapBox::of(candidates[i].stand, candidates[i].stand));
                        visit(MapBox::of(candidates[i].road, candidates[i].road));
                    });
    }

    /// Calls mark(candidate) where `point_of(candidate)` lies within `metres` of the segment a-b.
    template <class PointOf, class Mark>
    void near(GeoPoint a, GeoPoint b, double metres, PointOf point_of, Mark mark) {
        const LocalPlane plane(a);
        m_grid.visit(plane.grown(MapBox::of(a, b), metres), [&](std::uint32_t i) {
            StandingPlace& c = m_candidates[i];
            if (plane.distance(point_of(c), a, b) < metres)
                mark(c);
        });
    }

private:
    std::vector<StandingPlace>& m_candidates;
    CellGrid m_grid;
};

GeoPoint stand_of(const StandingPlace& c) {
    return c.stand;
}

GeoPoint road_of(const StandingPlace& c) {
    return c.road;
}

/// Where through roads meet: three ends of roads that are no track or service road, or a roundabout. Where a
/// track or the way into the car park itself leaves, standing beside the road hides nobody.
std::vector<bool> junctions(const Assembly& a, RoadFactsTable& facts) {
    std::vector<std::uint8_t> ends(a.out.node_lat.size(), 0);
    constexpr std::uint8_t enough = 3;
    const auto count = [&](std::uint32_t node, std::uint8_t by) {
        ends[node] = static_cast<std::uint8_t>(std::min<int>(enough, ends[node] + by));
    };
    for (std::uint32_t e = 0; e < a.out.edges.size(); ++e) {
        const RoadFacts f = facts.of_edge(e);
        if (f.side_way && !f.roundabout)
            continue;
        const std::uint8_t by = f.roundabout ? enough : std::uint8_t{1};
        count(a.out.edges[e].tail, by);
        count(a.out.edges[e].head, by);
    }
    std::vector<bool> result(ends.size());
    for (std::size_t n = 0; n < ends.size(); ++n)
        result[n] = ends[n] >= enough;
    return result;
}

void judge_by_roads(const Assembly& a, RoadFactsTable& facts, Surroundings& around) {
    const auto bar_crossing = [](StandingPlace& c) { c.bars |= stop_bar::level_crossing; };
    const auto bar_junction = [](StandingPlace& c) {
        if (c.kind != StopPlaceKind::side_way)
            c.bars |= stop_bar::junction;
    };
    for (const RawMap::Node& n : a.map.tagged_nodes) {
        const TagView tags = a.tags(n.tags);
        if (is_level_crossing(tags)) {
            around.near(n.point, n.point, level_crossing_m, stand_of, bar_crossing);
            around.near(n.point, n.point, level_crossing_m, road_of, bar_crossing);
        }
        if (tags.is("highway", "mini_roundabout"))
            around.near(n.point, n.point, junction_m, road_of, bar_junction);
    }
    const std::vector<bool> is_junction = junctions(a, facts);
    for (std::uint32_t n = 0; n < is_junction.size(); ++n) {
        const GeoPoint p{a.out.node_lat[n], a.out.node_lon[n]};
        if (is_junction[n])
            around.near(p, p, junction_m, road_of, bar_junction);
    }
    for (std::uint32_t e = 0; e < a.out.edges.size(); ++e)
        if (facts.of_edge(e).roundabout)
            for (std::uint32_t i = 1; i < a.pieces[e].ref_count; ++i)
                around.near(a.ref_point(a.pieces[e].ref_first + i - 1),
                            a.ref_point(a.pieces[e].ref_first + i), junction_m, road_of, bar_junction);
}

void judge_by_lines(const MapAreas& areas, Surroundings& around) {
    areas.for_each_side(map_feature::building, [&](const MapShape&, GeoPoint a, GeoPoint b) {
        around.near(a, b, building_m, stand_of, [](StandingPlace& c) {
            if (!c.on_farm)
                c.bars |= stop_bar::building;
        });
    });
    areas.for_each_side(map_feature::power_line, [&](const MapShape&, GeoPoint a, GeoPoint b) {
        around.near(a, b, power_line_m, stand_of, [](StandingPlace& c) { c.bars |= stop_bar::power_line; });
    });
    constexpr std::uint32_t lines = map_feature::river_line | map_feature::stream_line;
    areas.for_each_side(wet_areas | lines, [&](const MapShape& shape, GeoPoint a, GeoPoint b) {
        if ((shape.features & map_feature::under_ground) == 0)
            around.near(a, b, water_m, stand_of, [](StandingPlace& c) { c.bars |= stop_bar::water; });
    });
    areas.for_each_side(map_feature::school, [&](const MapShape&, GeoPoint a, GeoPoint b) {
        around.near(a, b, school_m, stand_of, [](StandingPlace& c) { c.flags |= stop_flag::near_school; });
    });
}

void judge_by_areas(const MapAreas& areas, std::vector<StandingPlace>& candidates) {
    const AreaIndex residential = areas.index(map_feature::residential);
    const AreaIndex wet = areas.index(wet_areas);
    const AreaIndex schools = areas.index(map_feature::school);
    for (StandingPlace& c : candidates) {
        if (!c.on_farm && residential.contains(c.stand))
            c.bars |= stop_bar::residential;
        if (wet.contains(c.stand))
            c.bars |= stop_bar::water;
        if (schools.contains(c.stand))
            c.flags |= stop_flag::near_school;
    }
}

}  // namespace

void judge_surroundings(const Assembly& a, const MapAreas& areas, RoadFactsTable& facts,
                        std::vector<StandingPlace>& candidates) {
    Surroundings around(candidates);
    judge_by_roads(a, facts, around);
    judge_by_lines(areas, around);
    for (const RawMap::Node& n : a.map.tagged_nodes)
        if ((features_of(a.tags(n.tags)) & map_feature::school) != 0)
            around.near(n.point, n.point, school_m, stand_of,
                        [](StandingPlace& c) { c.flags |= stop_flag::near_school; });
    judge_by_areas(areas, candidates);
}

}  // namespace loamway
