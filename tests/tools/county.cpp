// SPDX-License-Identifier: Apache-2.0
#include "county.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "county_stages.h"

namespace loamway {

namespace {

// South-west corner and scale: open North Atlantic, about 900 km from the nearest island. Lengths of a degree
// at 47.2 degrees north on the WGS84 ellipsoid, as constants so that no library's cosine decides the last
// digit.
constexpr std::int32_t south_lat_e7 = 470500000;
constexpr std::int32_t west_lon_e7 = -357300000;
constexpr double metres_per_degree_lat = 111174.7;
constexpr double metres_per_degree_lon = 75771.9;

// Numbers as long as real ones, with gaps, so that readers meet ids beyond 32 bits.
constexpr std::int64_t first_node_id = 11'900'000'001;
constexpr std::int64_t first_way_id = 1'290'000'001;
constexpr std::int64_t first_relation_id = 17'600'001;

std::int32_t lat_e7(Spot s) {
    return south_lat_e7 + static_cast<std::int32_t>(std::lround(s.y / metres_per_degree_lat * 1e7));
}
std::int32_t lon_e7(Spot s) {
    return west_lon_e7 + static_cast<std::int32_t>(std::lround(s.x / metres_per_degree_lon * 1e7));
}
std::int64_t node_id(VertexId v) {
    return first_node_id + std::int64_t{v} * 3;
}
std::int64_t way_id(LineId l) {
    return first_way_id + std::int64_t{l} * 2;
}

std::set<VertexId> used_vertices(const Draft& draft) {
    std::set<VertexId> used;
    for (LineId id = 0; id < draft.line_count(); ++id) {
        used.insert(draft.line(id).path.begin(), draft.line(id).path.end());
    }
    return used;
}

MapBounds bounds_of(const Draft& draft, const std::set<VertexId>& used) {
    MapBounds bounds{900000000, 1800000000, -900000000, -1800000000};
    for (const VertexId v : used) {
        const Spot s = draft.at(v);
        bounds.min_lat_e7 = std::min(bounds.min_lat_e7, lat_e7(s));
        bounds.max_lat_e7 = std::max(bounds.max_lat_e7, lat_e7(s));
        bounds.min_lon_e7 = std::min(bounds.min_lon_e7, lon_e7(s));
        bounds.max_lon_e7 = std::max(bounds.max_lon_e7, lon_e7(s));
    }
    return bounds;
}

/// Degrees with seven decimals, without any locale.
std::string degrees(std::int32_t e7) {
    const std::int64_t magnitude = std::abs(std::int64_t{e7});
    std::string fraction = std::to_string(magnitude % 10'000'000);
    fraction.insert(0, 7 - fraction.size(), '0');
    return (e7 < 0 ? "-" : "") + std::to_string(magnitude / 10'000'000) + "." + fraction;
}

}  // namespace

Spot county_spot(double lat, double lon) {
    return {(lon - west_lon_e7 / 1e7) * metres_per_degree_lon,
            (lat - south_lat_e7 / 1e7) * metres_per_degree_lat};
}

County::County(std::uint64_t seed_of_all) : seed(seed_of_all) {}

Spot County::corner(int i, int j) const {
    Random shift(mix64(seed) + static_cast<std::uint64_t>(i * 1000 + j), "corner");
    return {i * mile + shift.between(-7.0, 7.0), j * mile + shift.between(-7.0, 7.0)};
}

County draw_county(std::uint64_t seed) {
    County county(seed);
    draw_river(county);
    draw_section_roads(county);
    draw_highway(county);
    draw_railway(county);
    county.draft.join_crossings();
    draw_motorway(county);
    cross_river(county);
    draw_towns(county);
    draw_stopping_places(county);
    draw_farms(county);
    draw_tracks(county);
    draw_fields(county);
    draw_barriers(county);
    draw_conditions(county);
    draw_landscape(county);
    finish_roads(county);
    draw_turn_restrictions(county);
    return county;
}

void write_county(const County& county, const std::string& path) {
    const Draft& draft = county.draft;
    const std::set<VertexId> on_lines = used_vertices(draft);
    MapFile file(path, bounds_of(draft, on_lines));
    VertexId next = 0;
    // Tagged vertices without a line are points of their own (places); others without a line are leftovers.
    const auto end = draft.vertex_count();
    for (; next < end; ++next) {
        const TagList* tags = draft.vertex_tags(next);
        if (tags != nullptr || on_lines.contains(next)) {
            const Spot s = draft.at(next);
            file.node(node_id(next), lat_e7(s), lon_e7(s), tags != nullptr ? *tags : TagList{});
        }
    }
    for (LineId id = 0; id < draft.line_count(); ++id) {
        std::vector<std::int64_t> nodes;
        for (const VertexId v : draft.line(id).path) {
            nodes.push_back(node_id(v));
        }
        if (!nodes.empty()) {
            file.way(way_id(id), nodes, draft.line(id).tags);
        }
    }
    std::int64_t relation = first_relation_id;
    for (const DraftRelation& r : county.relations) {
        std::vector<RelationMember> members;
        for (const DraftMember& m : r.members) {
            members.push_back({m.type, m.type == 'n' ? node_id(m.id) : way_id(m.id), m.role});
        }
        file.relation(relation++, members, r.tags);
    }
    file.close();
}

std::string county_places(const County& county) {
    std::string text = "{\n  \"type\": \"FeatureCollection\",\n  \"features\": [\n";
    for (std::size_t k = 0; k < county.places.size(); ++k) {
        const NamedPoint& p = county.places[k];
        const std::string kind = p.kind.empty() ? "" : R"(, "kind": ")" + p.kind + "\"";
        text += R"(    {"type": "Feature", "properties": {"name": ")" + p.name + "\"" + kind +
                R"(}, "geometry": {"type": "Point", "coordinates": [)" + degrees(lon_e7(p.spot)) + ", " +
                degrees(lat_e7(p.spot)) + "]}}" + (k + 1 < county.places.size() ? ",\n" : "\n");
    }
    return text + "  ]\n}\n";
}

}  // namespace loamway
