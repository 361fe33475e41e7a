// SPDX-License-Identifier: Apache-2.0
// Places to stand, and how the road lies there: bends that run past a junction, crests, slopes, cycle lanes.
#include <gtest/gtest.h>

#include <cmath>

#include "opl_map.h"

namespace loamway::test {
namespace {

constexpr double east_e7 = 132000000.0;
constexpr double e7_a_metre_east = 1e7 / 66358.0;

/// Heights as a function of metres east of the map's middle.
template <class HeightAt>
Elevation hills(HeightAt height_at) {
    return {[height_at](std::span<const GeoPoint> points, std::span<float> metres) {
                for (std::size_t i = 0; i < points.size(); ++i)
                    metres[i] = static_cast<float>(height_at((points[i].lon_e7 - east_e7) / e7_a_metre_east));
            },
            "made up"};
}

/// A straight road of 4 km from west to east, a lay-by in its middle and one 800 m further on.
OplMap road_with_two_lay_bys(const char* tags = "highway=tertiary,surface=asphalt") {
    OplMap map;
    map.way({map.node(-2000, 0), map.node(2000, 0)}, tags);
    map.node(0, -10, "parking=layby,name=Middle");
    map.node(800, -10, "parking=layby,name=East");
    return map;
}

RegionData build_over(const OplMap& map, const Elevation& elevation) {
    return assemble(read_opl(map.text()), {}, "tiny", {}, elevation);
}

std::int64_t left_out(const RegionData& r, std::string_view why) {
    return count_of(r.meta.counts, "stop places left out: " + std::string(why));
}

TEST(StopLie, ACrestHidesWhoStandsThere) {
    // Up by 4 % and down by 4 %, tipping over at the middle; 800 m on the road falls evenly.
    const RegionData r =
        build_over(road_with_two_lay_bys(), hills([](double east) { return 100 - 0.04 * std::abs(east); }));

    EXPECT_EQ(left_out(r, "on a crest"), 1);
    ASSERT_EQ(r.stop_places.size(), 1u);
    EXPECT_EQ(text_of(r, r.stop_places[0].name), "East");
}

TEST(StopLie, AHollowAndAGentleCrestHideNobody) {
    for (const double grade : {0.04, -0.015}) {
        const RegionData r = build_over(road_with_two_lay_bys(),
                                        hills([grade](double east) { return 100 + grade * std::abs(east); }));
        EXPECT_EQ(left_out(r, "on a crest"), 0) << grade;
        EXPECT_EQ(r.stop_places.size(), 2u) << grade;
    }
}

TEST(StopLie, HeightsTellSlopesThatNoTagTells) {
    const RegionData r = build_over(road_with_two_lay_bys(),
                                    hills([](double east) { return east < 400 ? 0 : 0.08 * (east - 400); }));
    EXPECT_EQ(left_out(r, "steeper than 6 %"), 1);
    ASSERT_EQ(r.stop_places.size(), 1u);
    EXPECT_EQ(text_of(r, r.stop_places[0].name), "Middle");
    EXPECT_EQ(build(road_with_two_lay_bys()).stop_places.size(), 2u)
        << "without heights the road counts as flat";
}

TEST(StopLie, ASteepSideWayIsNoPlaceToStand) {
    const auto places = [](const std::optional<Elevation>& elevation) {
        OplMap map;
        const auto mouth = map.node(0, 0), south = map.node(0, -1000), end = map.node(300, 0);
        map.way({south, mouth}, "highway=tertiary,surface=asphalt");
        map.way({mouth, map.node(0, 1000)}, "highway=tertiary,surface=asphalt");
        map.way({mouth, end}, "highway=track,surface=gravel");
        return assemble(read_opl(map.text()), {}, "tiny", {}, elevation).stop_places.size();
    };
    const Elevation steep = hills([](double east) { return 0.09 * east; });
    EXPECT_EQ(places(std::nullopt), 1u);
    EXPECT_EQ(places(steep), 0u);
}

/// A bend of 45 m radius in whose middle a track leaves cuts the road into two edges there.
TEST(StopLie, AJunctionDoesNotEndABend) {
    OplMap map;
    constexpr double radius = 45.0;
    std::vector<std::int64_t> nodes{map.node(-radius, -500)};
    for (int i = 0; i <= 18; ++i) {
        const double angle = 3.14159265 * (1.0 - i / 36.0);
        nodes.push_back(map.node(radius * std::cos(angle), radius * std::sin(angle)));
    }
    nodes.push_back(map.node(500, radius));
    map.way(nodes, "highway=tertiary,surface=asphalt");
    const std::int64_t corner = nodes[10];
    map.way({corner, map.node(-400, 400)}, "highway=track,surface=asphalt");
    const double angle = 3.14159265 * (1.0 - 9.3 / 36.0);
    map.node((radius + 8) * std::cos(angle), (radius + 8) * std::sin(angle), "parking=layby");
    EXPECT_EQ(left_out(build(map), "in a bend of less than 60 m"), 1);
}

TEST(StopLie, NobodyStandsOnACycleLane) {
    const auto on = [](const std::string& tags) {
        OplMap map;
        const auto a = map.node(-500, 0), b = map.node(0, 0, "highway=passing_place"), c = map.node(500, 0);
        map.way({a, b, c}, "highway=unclassified,surface=gravel" + tags);
        return build(map);
    };
    EXPECT_EQ(on("").stop_places.size(), 1u);
    EXPECT_EQ(on(",cycleway=track").stop_places.size(), 1u);
    const RegionData lane = on(",cycleway:right=lane");
    EXPECT_TRUE(lane.stop_places.empty());
    EXPECT_EQ(left_out(lane, "on a cycle lane"), 1);
    const RegionData wide =
        build(road_with_two_lay_bys("highway=tertiary,surface=asphalt,width=8,cycleway=lane"));
    ASSERT_EQ(wide.stop_places.size(), 2u);
    EXPECT_EQ(wide.stop_places[0].score, 5) << "the lane is not there to stand on";
}

}  // namespace
}  // namespace loamway::test
