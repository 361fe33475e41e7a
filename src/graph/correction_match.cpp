// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/correction_match.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <unordered_map>

#include "edge_grid.h"
#include "stop_reach.h"

namespace loamway {

namespace {

const Length beside_road = Length::from_metres(15);
constexpr double along_deg = 30;
constexpr double least_share_on_roads = 0.8;
constexpr double half = 0.5;
// Covered by this much, a piece of road is closed; less is a line that overshoots a junction.
const Length more_than_overshoot = Length::from_metres(20);
// Lines are looked at in pieces of at most this length.
const Length sample = Length::from_metres(5);

/// Angle between two lines without direction, 0..90 degrees.
double angle_between(double bearing_a, double bearing_b) {
    const double turn = std::abs(turn_deg(bearing_a, bearing_b));
    return std::min(turn, 180 - turn);
}

/// A difference of longitudes, the short way round.
std::int64_t short_way(std::int64_t lon_e7) {
    while (lon_e7 > full_turn / 2)
        lon_e7 -= full_turn;
    while (lon_e7 < -full_turn / 2)
        lon_e7 += full_turn;
    return lon_e7;
}

/// How much of each road a line covers.
class LineMatcher {
public:
    explicit LineMatcher(const RegionView& region) : m_region(region), m_grid(region) {}

    void cover(const std::vector<GeoPoint>& line) {
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
            const Length length = distance(line[i], line[i + 1]);
            if (length <= Length())
                continue;
            const auto pieces = static_cast<std::size_t>(std::ceil(length / sample));
            const double bearing = bearing_deg(line[i], line[i + 1]);
            for (std::size_t k = 0; k < pieces; ++k) {
                const double at = (static_cast<double>(k) + half) / static_cast<double>(pieces);
                cover_piece(interpolate(line[i], line[i + 1], at), bearing,
                            length / static_cast<double>(pieces));
            }
        }
    }
    [[nodiscard]] const std::map<EdgeId, Length>& covered() const { return m_covered; }
    [[nodiscard]] Length on_roads() const { return m_on_roads; }

private:
    struct Road {
        std::vector<GeoPoint> line;
        std::vector<double> bearings;  // of its segments
        // Bounds; longitudes go on across the date line.
        std::int64_t south = 0, north = 0, west = 0, east = 0;
    };

    const Road& road(EdgeId e) {
        const auto [at, added] = m_roads.try_emplace(e.value());
        Road& r = at->second;
        if (!added)
            return r;
        r.line = m_region.edge_points(e);
        r.south = r.north = r.line.front().lat_e7;
        std::int64_t lon = r.west = r.east = r.line.front().lon_e7;
        for (std::size_t i = 0; i < r.line.size(); ++i) {
            const GeoPoint p = r.line[i];
            lon += short_way(p.lon_e7 - lon);
            r.south = std::min<std::int64_t>(r.south, p.lat_e7);
            r.north = std::max<std::int64_t>(r.north, p.lat_e7);
            r.west = std::min(r.west, lon);
            r.east = std::max(r.east, lon);
            if (i > 0)
                r.bearings.push_back(bearing_deg(r.line[i - 1], p));
        }
        return r;
    }

    static bool may_reach(const Road& r, GeoPoint p) {
        // A degree of latitude is at least 110.5 km; one of longitude shrinks with the cosine.
        const double dlat = beside_road.metres() / 110500.0 * 1e7;
        const double dlon = dlat / std::max(1e-4, std::cos(p.lat() * 0.017453292519943295));
        const auto lat = static_cast<double>(p.lat_e7);
        if (lat < static_cast<double>(r.south) - dlat || lat > static_cast<double>(r.north) + dlat)
            return false;
        const std::int64_t lon = r.west + short_way(p.lon_e7 - r.west);
        const auto is_along = [&](std::int64_t at) {
            return static_cast<double>(at) >= static_cast<double>(r.west) - dlon &&
                   static_cast<double>(at) <= static_cast<double>(r.east) + dlon;
        };
        return is_along(lon) || is_along(lon + full_turn);
    }

    void cover_piece(GeoPoint p, double bearing, Length length) {
        EdgeId best;
        Length nearest = beside_road;
        const auto look_at = [&](EdgeId e) {
            const Road& r = road(e);
            if (!may_reach(r, p))
                return;
            for (std::size_t i = 0; i + 1 < r.line.size(); ++i) {
                if (angle_between(r.bearings[i], bearing) > along_deg)
                    continue;
                const Length d = project(p, r.line[i], r.line[i + 1]).distance;
                if (d < nearest || (d == nearest && e < best)) {
                    nearest = d;
                    best = e;
                }
            }
        };
        m_grid.in_reach(p, beside_road, look_at);
        if (best.is_none())
            return;
        m_covered[best] += length;
        m_on_roads += length;
    }

    const RegionView& m_region;
    EdgeGrid m_grid;
    std::unordered_map<std::uint32_t, Road> m_roads;
    std::map<EdgeId, Length> m_covered;
    Length m_on_roads;
};

GeoPoint middle_of(const std::vector<GeoPoint>& line) {
    Length left = polyline_length(line) * half;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Length piece = distance(line[i], line[i + 1]);
        if (left <= piece && piece > Length())
            return interpolate(line[i], line[i + 1], left / piece);
        left -= piece;
    }
    return line.back();
}

std::optional<NearestEdge> nearest_road(const RegionView& region, GeoPoint p, double limit_m) {
    return nearest_edge(region, p, limit_m, [](EdgeId) { return true; });
}

/// "the nearest road is 48 m away".
std::string nearest_words(const std::optional<Length>& nearest) {
    if (!nearest)
        return "the region has no road";
    return *nearest < Length::from_km(1) ? fmt::format("the nearest road is {:.0f} m away", nearest->metres())
                                         : fmt::format("the nearest road is {:.1f} km away", nearest->km());
}

void no_match(const RegionView& region, const Correction& c, std::string what, CorrectionMatch& m) {
    m.state = CorrectionMatch::State::no_match;
    const auto nearest = nearest_road(region, middle_of(c.line), std::numeric_limits<double>::infinity());
    if (nearest)
        m.nearest = nearest->at.distance;
    m.why = fmt::format("{}; {}", what, nearest_words(m.nearest));
}

void match_line(const RegionView& region, const Correction& c, CorrectionMatch& m) {
    LineMatcher matcher(region);
    matcher.cover(c.line);
    m.length = polyline_length(c.line);
    m.on_roads = matcher.on_roads();
    if (m.on_roads < m.length * least_share_on_roads) {
        no_match(region, c,
                 fmt::format("{:.0f} of its {:.0f} m run along a road within {:.0f} m", m.on_roads.metres(),
                             m.length.metres(), beside_road.metres()),
                 m);
        return;
    }
    const bool stops_machines = c.kind != CorrectionKind::surface;
    EdgeId most;
    Length most_covered;
    for (const auto& [edge, covered] : matcher.covered()) {
        const Length whole = Length::from_decimetres(region.edges[edge.index()].length_dm);
        if (covered >= whole * half || (stops_machines && covered >= more_than_overshoot))
            m.edges.push_back(edge);
        if (covered > most_covered) {
            most = edge;
            most_covered = covered;
        }
    }
    if (m.edges.empty() && stops_machines)
        m.edges.push_back(most);
    if (m.edges.empty()) {
        m.state = CorrectionMatch::State::no_effect;
        m.why = fmt::format(
            "it covers less than half of each piece of road it lies on ({:.0f} of {:.0f} m at most): "
            "draw it from junction to junction",
            most_covered.metres(), region.edges[most.index()].length_dm / 10.0);
    }
}

/// A gate that is mapped as a point of the road; such points are nodes of the graph.
std::optional<NodeId> mapped_gate(const RegionView& region, GeoPoint p) {
    std::optional<NodeId> best;
    Length nearest = beside_road;
    for (const NodeTagRecord& r : region.node_tags) {
        const GeoPoint at = region.node_point(NodeId{r.node});
        if (std::abs(std::int64_t{at.lat_e7} - p.lat_e7) > 2000)
            continue;  // 22 m: the exact distance is dear
        if (const Length d = distance(at, p); d <= nearest && has_key(region, r.tag_set, "barrier")) {
            nearest = d;
            best = NodeId{r.node};
        }
    }
    return best;
}

void match_point(const RegionView& region, const Correction& c, CorrectionMatch& m) {
    const GeoPoint p = c.line.front();
    if (c.kind == CorrectionKind::gate)
        if (const auto gate = mapped_gate(region, p)) {
            m.nodes.push_back(*gate);
            return;
        }
    const auto nearest = nearest_road(region, p, beside_road.metres());
    if (!nearest) {
        no_match(region, c, fmt::format("no road lies within {:.0f} m", beside_road.metres()), m);
        return;
    }
    m.edges.push_back(nearest->edge);
}

void match_place(const RegionView& region, const Correction& c, CorrectionMatch& m) {
    const GeoPoint p = c.line.front();
    EdgeGrid(region).in_reach(p, beside_place, [&](EdgeId e) {
        if (project(p, region.edge_points(e)).distance <= beside_place)
            m.edges.push_back(e);
    });
    std::sort(m.edges.begin(), m.edges.end());
    m.edges.erase(std::unique(m.edges.begin(), m.edges.end()), m.edges.end());
    if (m.edges.empty())
        no_match(region, c, fmt::format("no road lies within {:.0f} m", beside_place.metres()), m);
}

void match_no_stop(const RegionView& region, const Correction& c, CorrectionMatch& m) {
    for (std::uint32_t i = 0; i < region.stop_places.size(); ++i)
        if (takes_away(region, c, region.stop_places[i]))
            m.stop_places.push_back(i);
    if (!m.stop_places.empty())
        return;
    m.state = CorrectionMatch::State::no_effect;
    m.why = fmt::format("the region has no stop place within {:.0f} m", beside_place.metres());
}

}  // namespace

CorrectionMatch match_correction(const RegionView& region, const Correction& c) {
    CorrectionMatch m;
    switch (c.kind) {
        case CorrectionKind::surface:
        case CorrectionKind::closed:
        case CorrectionKind::limit:
        case CorrectionKind::gate:
            c.is_point() ? match_point(region, c, m) : match_line(region, c, m);
            break;
        case CorrectionKind::stop:
        case CorrectionKind::loading:
        case CorrectionKind::entrance:
            match_place(region, c, m);
            break;
        case CorrectionKind::no_stop:
            match_no_stop(region, c, m);
            break;
    }
    return m;
}

}  // namespace loamway
