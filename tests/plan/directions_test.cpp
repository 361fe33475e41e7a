// SPDX-License-Identifier: Apache-2.0
// Turn by turn: roundabouts are one step, with the exits that can be counted from the seat.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <memory>

#include "loamway/base/file.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::ElementsAre;

// Four roads of 2 km that meet at a roundabout of 40 m, driven anticlockwise: south, east, north, west.
struct Crossing {
    explicit Crossing(const TinyTags& east_tags = {{"highway", "unclassified"}}) {
        constexpr std::array<const char*, 4> names{"South Road", "East Road", "North Road", "West Road"};
        constexpr std::array<double, 4> north{-1, 0, 1, 0}, east{0, 1, 0, -1};
        for (std::size_t i = 0; i < 4; ++i) {
            ring[i] = map.node(53.5 + north[i] * 0.00018, 13.0 + east[i] * 0.0003);
            far[i] = map.node(53.5 + north[i] * 0.018, 13.0 + east[i] * 0.03);
        }
        for (std::size_t i = 0; i < 4; ++i) {
            TinyEdge arm;
            arm.tags = i == 1 ? east_tags : TinyTags{{"highway", "unclassified"}};
            arm.name = names[i];
            (void)map.road(far[i], ring[i], arm);
            TinyEdge piece;
            piece.tags = {{"highway", "unclassified"}, {"junction", "roundabout"}};
            piece.name = "Mill Ring";
            (void)map.road(ring[i], ring[(i + 1) % 4], piece);
        }
    }

    std::vector<std::string> to(std::size_t arm) {
        const Region region = Region::from_data(map.build());
        PlanInputs in;
        in.region = &region;
        in.from = {"Barn", map.point(far[0])};
        in.to = {"Field", map.point(far[arm])};
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.haul = in.mixed = false;
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
        const Plan plan = make_plan(in);
        std::vector<std::string> out;
        if (const Option* o = plan.find_option(plan.verdict.option))
            for (const Instruction& i : o->legs.at(0).directions)
                out.push_back(i.text);
        return out;
    }

    TinyMap map;
    std::array<NodeId, 4> ring, far;
};

TEST(Directions, ARoundaboutIsOneStepWithItsExit) {
    EXPECT_THAT(Crossing().to(1),
                ElementsAre("Start north on South Road", "Roundabout: exit 1 into East Road", "Arrive"));
    EXPECT_THAT(Crossing().to(2),
                ElementsAre("Start north on South Road", "Roundabout: exit 2 into North Road", "Arrive"));
    EXPECT_THAT(Crossing().to(3),
                ElementsAre("Start north on South Road", "Roundabout: exit 3 into West Road", "Arrive"));
}

TEST(Directions, ALaneThatOnlyLeadsInIsNoExit) {
    EXPECT_THAT(Crossing({{"highway", "unclassified"}, {"oneway", "yes"}}).to(2),
                ElementsAre("Start north on South Road", "Roundabout: exit 1 into North Road", "Arrive"));
}

}  // namespace
}  // namespace loamway
