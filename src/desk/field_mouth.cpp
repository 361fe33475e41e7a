// SPDX-License-Identifier: Apache-2.0
#include "field_mouth.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string_view>
#include <vector>

namespace loamway {

namespace {

constexpr double farthest_m = 300;
// How many metres of distance a better kind of road makes up for.
constexpr double end_of_track_m = 60, small_road_m = 60, larger_road_m = 200;
constexpr double e7_per_metre = 1e7 / 111'320;

struct Box {
    double south, north, west, east;
    double widening;  // so many degrees of longitude are as long as one of latitude
    /// Whether a road of that length between two points may come into it: none of its points lies farther
    /// from the nearer end than half its length.
    [[nodiscard]] bool may_meet(GeoPoint a, GeoPoint b, std::uint32_t length_dm) const {
        const double reach = length_dm / 20.0 * e7_per_metre, across = reach * widening;
        return std::max(a.lat_e7, b.lat_e7) + reach >= south &&
               std::min(a.lat_e7, b.lat_e7) - reach <= north &&
               std::max(a.lon_e7, b.lon_e7) + across >= west && std::min(a.lon_e7, b.lon_e7) - across <= east;
    }
};

Box box_around(std::span<const GeoPoint> outline) {
    const double far = std::numeric_limits<double>::infinity();
    Box b{far, -far, far, -far, 1 / std::max(0.05, std::cos(outline.front().lat() * std::numbers::pi / 180))};
    const double up = farthest_m * e7_per_metre, across = up * b.widening;
    for (const GeoPoint& p : outline) {
        b.south = std::min(b.south, p.lat_e7 - up);
        b.north = std::max(b.north, p.lat_e7 + up);
        b.west = std::min(b.west, p.lon_e7 - across);
        b.east = std::max(b.east, p.lon_e7 + across);
    }
    return b;
}

// By the even-odd rule, in degrees: fields are small.
bool inside(std::span<const GeoPoint> outline, GeoPoint p) {
    bool in = false;
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
        const GeoPoint &a = outline[i], &b = outline[j];
        if ((a.lat_e7 > p.lat_e7) == (b.lat_e7 > p.lat_e7))
            continue;
        const double at = static_cast<double>(p.lat_e7 - a.lat_e7) / (b.lat_e7 - a.lat_e7);
        in = in != (p.lon_e7 < a.lon_e7 + at * (b.lon_e7 - a.lon_e7));
    }
    return in;
}

double metres_from(std::span<const GeoPoint> outline, GeoPoint p) {
    return inside(outline, p) ? 0.0 : project(p, outline).distance.metres();
}

std::string_view tag(const RegionView& region, std::uint32_t set, std::string_view key) {
    for (std::uint32_t i = region.tag_set_first[set]; i + 1 < region.tag_set_first[set + 1]; i += 2)
        if (region.string(region.tag_set_strings[i]) == key)
            return region.string(region.tag_set_strings[i + 1]);
    return {};
}

enum class Road { track, small, larger, none };

Road road_of(std::string_view highway) {
    if (highway == "track")
        return Road::track;
    if (highway == "service" || highway == "unclassified" || highway == "residential" ||
        highway == "living_street")
        return Road::small;
    if (highway == "tertiary" || highway == "secondary" || highway == "primary")
        return Road::larger;
    return Road::none;
}

}  // namespace

std::optional<FieldMouth> likeliest_mouth(const RegionView& region, std::span<const GeoPoint> outline) {
    if (outline.size() < 3)
        return std::nullopt;
    const Box box = box_around(outline);
    // A closed ring, however the file has it.
    std::vector<GeoPoint> ring(outline.begin(), outline.end());
    if (ring.front() != ring.back())
        ring.push_back(ring.front());
    std::optional<FieldMouth> best;
    double least = std::numeric_limits<double>::max();
    const auto offer = [&](GeoPoint p, std::string_view what, double handicap) {
        const double metres = metres_from(ring, p);
        if (metres > farthest_m || metres + handicap >= least)
            return;
        least = metres + handicap;
        best = FieldMouth{p, std::string(what), metres};
    };
    for (std::size_t e = 0; e < region.edge_count(); ++e) {
        const EdgeRecord& edge = region.edges[e];
        if (!box.may_meet(region.node_point(NodeId{edge.tail}), region.node_point(NodeId{edge.head}),
                          edge.length_dm))
            continue;
        const Road road = road_of(tag(region, edge.tag_set, "highway"));
        if (road == Road::none)
            continue;
        if (road == Road::track)
            for (const std::uint32_t n : {edge.tail, edge.head})
                if (region.arc_first[n + 1] - region.arc_first[n] == 1)
                    offer(region.node_point(NodeId{n}), "the end of a track", 0);
        const double handicap = road == Road::track   ? end_of_track_m
                                : road == Road::small ? end_of_track_m + small_road_m
                                                      : end_of_track_m + larger_road_m;
        const std::string_view what = road == Road::track   ? "a track"
                                      : road == Road::small ? "a small road"
                                                            : "a larger road";
        // The point of the road nearest to the field's corners, and the road's own points nearest to the
        // field.
        const std::vector<GeoPoint> line = region.edge_points(EdgeId{e});
        for (const GeoPoint& corner : ring)
            offer(project(corner, line).point, what, handicap);
        for (const GeoPoint& p : line)
            offer(p, what, handicap);
    }
    return best;
}

}  // namespace loamway
