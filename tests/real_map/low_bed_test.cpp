// SPDX-License-Identifier: Apache-2.0
// Limits of real maps keep the loaded low-bed from where the machine it carries may drive: a street of
// Liechtenstein posted at 18 t, a passage through a building of 3.90 m in Neubrandenburg. Map data ©
// OpenStreetMap contributors, ODbL 1.0 (scripts/fetch_maps). Lifting the limit by a correction lets it in.
#include <gtest/gtest.h>

#include <filesystem>
#include <memory>

#include "loamway/base/file.h"
#include "loamway/build/build.h"
#include "loamway/graph/road_graph.h"
#include "loamway/plan/inputs.h"
#include "support/test_files.h"

namespace loamway {
namespace {

Region region_of(const std::string& map) {
    const std::string extract = std::string(LOAMWAY_MAPS_DIR) + "/" + map;
    if (!std::filesystem::exists(extract))
        throw std::runtime_error(extract + " is missing: run scripts/fetch_maps");
    return Region::from_data(assemble(read_extract(extract, {}), {}, map, {}));
}

// The points of a way of the map that its region holds, from one end to the other.
std::vector<GeoPoint> points_of_way(const Region& region, std::int64_t way) {
    std::vector<GeoPoint> out;
    for (std::size_t e = 0; e < region.view().edge_count(); ++e)
        if (region.view().edge_way[e] == way) {
            const auto piece = region.view().edge_points(EdgeId{e});
            out.insert(out.end(), piece.begin(), piece.end());
        }
    return out;
}

bool passes(const Option& o, GeoPoint p) {
    return std::any_of(o.geometry.begin(), o.geometry.end(),
                       [&](GeoPoint q) { return distance(p, q) < Length::from_metres(25); });
}

bool uses(const Option& o, GeoPoint a, GeoPoint b) {
    for (std::size_t i = 1; i < o.geometry.size(); ++i)
        if (o.geometry[i - 1] == a && o.geometry[i] == b)
            return true;
    return false;
}

struct Move {
    Region region;
    std::int64_t way;
    PlanInputs in;
    GeoPoint middle;

    Move(const std::string& map, std::int64_t way_id) : region(region_of(map)), way(way_id) {
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/small.toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.region = &region;
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
        in.front = false;
        const std::vector<GeoPoint> line = points_of_way(region, way);
        if (line.size() < 2)
            throw std::runtime_error("the region does not hold the way");
        in.from.name = "one end";
        in.to.name = "the other end";
        for (const GeoPoint a : line)
            for (const GeoPoint b : line)
                if (distance(a, b) > distance(in.from.point, in.to.point)) {
                    in.from.point = a;
                    in.to.point = b;
                }
        middle = interpolate(in.from.point, in.to.point, 0.5);
    }
    [[nodiscard]] Option option(const std::string& id) const {
        const Plan plan = make_plan(in);
        for (const Option& o : plan.options)
            if (o.id == id || std::find(o.also.begin(), o.also.end(), id) != o.also.end())
                return o;
        throw std::runtime_error("no option " + id);
    }
    // The same with the limit lifted.
    [[nodiscard]] Option without(const std::string& limit) const {
        Correction lifted;
        lifted.id = "c1";
        lifted.kind = CorrectionKind::limit;
        lifted.value = limit + "=none";
        lifted.line = {middle};
        const CorrectedRegion corrected(region, {lifted}, in.depart);
        EXPECT_EQ(corrected.in_force_count(), 1u);
        Move again = *this;
        again.in.region = &again.region;
        again.in.corrections = &corrected;
        return again.option("haul");
    }
};

TEST(LowBedOnRealMaps, AMassLimitKeepsItOutOfAStreet) {
    const Move move("liechtenstein-2013-08-03.osm.pbf", 406);
    ASSERT_LT(move.in.machine.states.front().mass, Mass::from_tonnes(18));
    const Option driven = move.option("least-time"), hauled = move.option("haul");
    ASSERT_TRUE(driven.feasible);
    ASSERT_TRUE(hauled.feasible) << testing::PrintToString(hauled.why_not);
    EXPECT_TRUE(passes(driven, move.middle));
    // It stands at the street's mouth, within reach of both ends.
    EXPECT_FALSE(passes(hauled, move.middle));
    EXPECT_LT(*hauled.hauled_m, *driven.length_m - 50);
    const Option lifted = move.without("maxweight");
    EXPECT_TRUE(passes(lifted, move.middle));
    EXPECT_NEAR(*lifted.hauled_m, *driven.length_m, 5);
    EXPECT_EQ(lifted.corrections, std::vector<std::string>{"c1"});
}

TEST(LowBedOnRealMaps, ALowPassageLetsTheMachineThroughAndNotTheLowBed) {
    const Move move("neubrandenburg.osm.bz2", 264889768);
    const Option driven = move.option("least-time"), hauled = move.option("haul");
    ASSERT_TRUE(driven.feasible);
    EXPECT_TRUE(passes(driven, move.middle));
    // It waits on roads within reach of the ends that join without the passage.
    ASSERT_TRUE(hauled.feasible) << testing::PrintToString(hauled.why_not);
    EXPECT_FALSE(passes(hauled, move.middle));
    const Option lifted = move.without("maxheight");
    ASSERT_TRUE(lifted.feasible);
    EXPECT_TRUE(passes(lifted, move.middle));
    EXPECT_NEAR(*lifted.hauled_m, *driven.length_m, 5);
}

// Through the country; then somebody notes 3.80 m on the way they both take.
TEST(LowBedOnRealMaps, ALowPlaceSendsItRoundAndTheMachineStraightOn) {
    Move move("liechtenstein-2013-08-03.osm.pbf", 406);
    move.in.from.point = GeoPoint::from_degrees(47.1660, 9.5100);
    move.in.to.point = GeoPoint::from_degrees(47.0680, 9.5030);
    ASSERT_LT(move.in.machine.states.front().height, Length::from_metres(3.7));
    const Option driven = move.option("least-time"), hauled = move.option("haul");
    ASSERT_TRUE(driven.feasible && hauled.feasible);
    Correction low;
    low.id = "c1";
    low.kind = CorrectionKind::limit;
    low.value = "maxheight=3.8";
    // The longest straight of both ways.
    GeoPoint a = hauled.geometry[0], b = a;
    for (std::size_t i = 1; i < hauled.geometry.size(); ++i)
        if (uses(driven, hauled.geometry[i - 1], hauled.geometry[i]) &&
            distance(hauled.geometry[i - 1], hauled.geometry[i]) > distance(a, b)) {
            a = hauled.geometry[i - 1];
            b = hauled.geometry[i];
        }
    low.line = {interpolate(a, b, 0.5)};
    const CorrectedRegion corrected(move.region, {low}, move.in.depart);
    ASSERT_EQ(corrected.in_force_count(), 1u);
    move.in.corrections = &corrected;
    const Option driven_then = move.option("least-time"), hauled_then = move.option("haul");
    EXPECT_EQ(*driven_then.length_m, *driven.length_m);
    EXPECT_TRUE(uses(driven_then, a, b));
    ASSERT_TRUE(hauled_then.feasible);
    EXPECT_FALSE(uses(hauled_then, a, b));
    EXPECT_GT(*hauled_then.cost.total, *hauled.cost.total);
}

}  // namespace
}  // namespace loamway
