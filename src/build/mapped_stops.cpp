// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <optional>

#include "edge_line.h"
#include "loamway/tags/surface.h"
#include "map_areas.h"
#include "road_segments.h"
#include "stop_candidates.h"

namespace loamway {

namespace {

constexpr double reach_m = 30.0;
constexpr double sample_step_m = 20.0;
constexpr double most_samples = 400.0;  // of one area
constexpr double beside_from_m = 1.0;   // nearer than this a place has no side of the road
constexpr double tightest_bend_m = 60.0;

struct KindOfStop {
    StopPlaceKind kind;
    std::uint32_t flags;
    bool on_farm;
};

/// The best thing a place is, when it is several.
KindOfStop kind_of_stop(std::uint32_t features) {
    if ((features & map_feature::rest_area) != 0)
        return {StopPlaceKind::rest_area, 0, false};
    if ((features & map_feature::services) != 0)
        return {StopPlaceKind::services, 0, false};
    if ((features & map_feature::lay_by) != 0)
        return {StopPlaceKind::lay_by, 0, false};
    if ((features & map_feature::parking) != 0)
        return {StopPlaceKind::parking, 0, false};
    if ((features & map_feature::farmyard) != 0)
        return {StopPlaceKind::yard, stop_flag::ask_permission, true};
    if ((features & map_feature::industrial) != 0)
        return {StopPlaceKind::yard, stop_flag::ask_permission, false};
    return {StopPlaceKind::passing_place, stop_flag::short_stop, false};
}

bool is_for_everybody(const TagView& tags) {
    const auto access = tags.get("access");
    return !access || *access == "yes" || *access == "permissive" || *access == "public" ||
           *access == "designated";
}

class MappedStops {
public:
    MappedStops(const Assembly& a, const RoadSegments& roads, RoadFactsTable& facts,
                std::vector<StandingPlace>& out)
        : m_a(a), m_roads(roads), m_facts(facts), m_out(out) {}

    void begin_place(std::int64_t id, std::uint32_t features, std::uint32_t tags) {
        const TagView view = m_a.tags(tags);
        const KindOfStop kind = kind_of_stop(features);
        m_place = StandingPlace();
        m_place.kind = kind.kind;
        m_place.flags = kind.flags | (is_for_everybody(view) ? 0 : stop_flag::ask_permission);
        m_place.on_farm = kind.on_farm;
        m_place.osm_id = id;
        m_place.group = m_out.empty() ? 0 : m_out.back().group + 1;
        for (const auto& [key, value] : m_a.map.tags.get(tags))
            if (m_a.map.strings.get(key) == "name")
                m_place.name = value;
        m_ground_tagged = view.has("surface");
        if (m_ground_tagged && is_soft(read_surface({{"surface", view.get("surface").value_or("")}}, false)))
            m_place.flags |= stop_flag::soft_ground;
    }

    void add_spot(GeoPoint stand) {
        const auto foot = nearest_road(stand);
        if (!foot)
            return;
        StandingPlace c = m_place;
        const RoadFacts facts = m_facts.of_edge(foot->edge);
        const EdgeRecord& edge = m_a.out.edges[foot->edge];
        const EdgeLine line(m_a, foot->edge);
        c.stand = stand;
        c.edge = foot->edge;
        c.to_road_m = static_cast<float>(foot->distance_m);
        const double along = line.at(*foot);
        c.offset_dm = std::min(static_cast<std::uint32_t>(std::llround(along * 10.0)), edge.length_dm);
        c.road = interpolate(line.vertex(foot->segment), line.vertex(foot->segment + 1), foot->fraction);
        c.flags |=
            side_flag(stand, line.vertex(foot->segment), line.vertex(foot->segment + 1), foot->distance_m);
        const bool in_the_road = c.kind == StopPlaceKind::passing_place || c.kind == StopPlaceKind::lay_by;
        if (in_the_road && !m_ground_tagged && edge.odds.likeliest() != SurfaceClass::hard)
            c.flags |= stop_flag::soft_ground;
        c.side_road = facts.side_way;
        // Who stands on the shoulder of a road with a cycle lane stands on the lane.
        c.wide_road = facts.wide && !facts.cycle_lane;
        const EdgeSlope slope(m_a, foot->edge);
        const bool steep = facts.steep || slope.steepest_pct(along) > steepest_pct;
        c.bars = (facts.fast ? stop_bar::fast_road : 0) | (facts.open() ? 0 : stop_bar::closed) |
                 (facts.structure ? stop_bar::structure : 0) | (steep ? stop_bar::steep : 0) |
                 (line.bend_radius(along) < tightest_bend_m ? stop_bar::bend : 0) |
                 (slope.is_crest(along) ? stop_bar::crest : 0) |
                 (c.kind == StopPlaceKind::passing_place && facts.cycle_lane ? stop_bar::cycle_lane : 0);
        m_out.push_back(c);
    }

    /// Spots along the rim of an area or along a line.
    void add_spots_along(std::span<const GeoPoint> points) {
        double rim = 0.0;
        for (std::size_t i = 1; i < points.size(); ++i)
            rim += LocalPlane(points[i]).distance(points[i - 1], points[i]);
        const double step = std::max(sample_step_m, rim / most_samples);
        for (std::size_t i = 1; i < points.size(); ++i) {
            const double side = LocalPlane(points[i]).distance(points[i - 1], points[i]);
            const int pieces = std::max(1, static_cast<int>(std::ceil(side / step)));
            for (int k = 0; k < pieces; ++k)
                add_spot(interpolate(points[i - 1], points[i], static_cast<double>(k) / pieces));
        }
    }

private:
    static bool is_soft(const SurfaceReading& r) { return r.known && r.likeliest != SurfaceClass::hard; }

    /// Through roads first, as that is where the machine comes by; then side ways; then, only to say why the
    /// place is left out, roads where it cannot be used.
    [[nodiscard]] std::optional<RoadFoot> nearest_road(GeoPoint p) {
        const auto usable = [this](std::uint32_t e) {
            return !m_facts.of_edge(e).fast && m_facts.of_edge(e).open();
        };
        const auto through = [&](std::uint32_t e) { return usable(e) && !m_facts.of_edge(e).side_way; };
        auto foot = m_roads.nearest(p, reach_m, through);
        if (!foot)
            foot = m_roads.nearest(p, reach_m, usable);
        if (!foot)
            foot = m_roads.nearest(p, reach_m, [](std::uint32_t) { return true; });
        return foot;
    }

    static std::uint32_t side_flag(GeoPoint p, GeoPoint a, GeoPoint b, double distance_m) {
        if (distance_m < beside_from_m)
            return 0;
        const LocalPlane plane(p);
        const double cross = (static_cast<double>(b.lon_e7) - a.lon_e7) * plane.east *
                                 (static_cast<double>(p.lat_e7) - a.lat_e7) * plane.north -
                             (static_cast<double>(b.lat_e7) - a.lat_e7) * plane.north *
                                 (static_cast<double>(p.lon_e7) - a.lon_e7) * plane.east;
        return cross < 0.0 ? stop_flag::right_forward : stop_flag::left_forward;
    }

    const Assembly& m_a;
    const RoadSegments& m_roads;
    RoadFactsTable& m_facts;
    std::vector<StandingPlace>& m_out;
    StandingPlace m_place;
    bool m_ground_tagged = false;
};

}  // namespace

void add_mapped_stops(const Assembly& a, const MapAreas& areas, const RoadSegments& roads,
                      RoadFactsTable& facts, std::vector<StandingPlace>& candidates) {
    MappedStops stops(a, roads, facts, candidates);
    for (const RawMap::Node& n : a.map.tagged_nodes) {
        const std::uint32_t features = features_of(a.tags(n.tags)) & map_feature::stop_place;
        if (features == 0)
            continue;
        stops.begin_place(-n.id, features, n.tags);
        stops.add_spot(n.point);
    }
    areas.for_each(map_feature::stop_place, [&](const MapShape& shape) {
        if (!shape.is_outer)
            return;
        stops.begin_place(shape.id, shape.features, shape.tags);
        const std::vector<GeoPoint> points = areas.points(shape);
        stops.add_spots_along(points);
        if (!shape.closed && !points.empty())
            stops.add_spot(points.back());
    });
}

}  // namespace loamway
