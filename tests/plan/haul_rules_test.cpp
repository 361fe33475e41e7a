// SPDX-License-Identifier: Apache-2.0
// What part haul knows, seen in a plan: limits of the driven machine and of the loaded low-bed, what stands
// in the way of loading, and where the low-bed can still turn round before something it has to look at.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loamway/base/file.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

std::string shipped(const std::string& file) {
    return std::string(LOAMWAY_SOURCE_DIR) + "/" + file;
}

/// Barn to field along 20 km of gravel in pieces of 5 km; a bridge in the third, which may say how much room
/// is under something over it; a side road after the first.
struct Move {
    explicit Move(const std::string& maxheight = {}, bool bridge_at_the_end = false) {
        TinyMap map;
        const double step = 5000.0 / 66200.0;
        std::vector<NodeId> nodes;
        for (int i = 0; i <= 4; ++i)
            nodes.push_back(map.node(53.5, 13.0 + i * step));
        TinyEdge e;
        e.odds = {0, 200, 0};
        e.length_dm = 50000;
        for (int i = 0; i < 4; ++i) {
            e.tags = {{"highway", "unclassified"}};
            if (i == 2 && !maxheight.empty())
                e.tags.push_back({"maxheight", maxheight});
            e.flags = i == 2 || (bridge_at_the_end && i == 3) ? edge_flag::bridge : 0;
            (void)map.road(nodes[static_cast<std::size_t>(i)], nodes[static_cast<std::size_t>(i) + 1], e);
        }
        e.tags = {{"highway", "unclassified"}};
        (void)map.road(nodes[1], map.node(53.55, 13.0 + step), e);
        region = std::make_unique<Region>(Region::from_data(map.build()));
        in.region = region.get();
        in.from = {"Barn", map.point(nodes.front())};
        in.to = {"Field", map.point(nodes.back())};
        in.machine = machine("medium");
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
    }
    static Machine machine(const std::string& name) {
        const std::string file = shipped("examples/profiles/" + name + ".toml");
        return read_machine(parse_toml(read_text_file(file), file), file);
    }
    void give_low_bed() {
        const std::string file = shipped("examples/profiles/low-bed.toml");
        in.low_bed = read_low_bed(parse_toml(read_text_file(file), file), file);
    }
    [[nodiscard]] Option option(const std::string& id) const {
        const Plan plan = make_plan(in);
        const Option* o = plan.find_option(id);
        if (o == nullptr)
            throw std::runtime_error("no option " + id);
        return *o;
    }
    std::unique_ptr<Region> region;
    PlanInputs in;
};
std::vector<std::string> texts(const Option& o) {
    std::vector<std::string> out;
    for (const Flag& f : o.flags)
        out.push_back(f.text);
    return out;
}

TEST(HaulRules, limits_of_the_region_stand_beside_machine_and_low_bed) {
    Move m;
    EXPECT_THAT(texts(m.option("haul")), Not(Contains(HasSubstr("limit 2.55 m"))));
    const std::string file = shipped("regions/limits/generic.toml");
    m.in.limits = read_limits_table(parse_toml(read_text_file(file), file), file);
    EXPECT_THAT(texts(m.option("least-cost")), Contains(AllOf(HasSubstr("machine width 2.75 m, limit 2.55 m"),
                                                              HasSubstr("the local code decides"))));
    EXPECT_THAT(texts(m.option("haul")), Contains(HasSubstr("loaded low-bed height 4.31 m, limit 4.00 m")));
}

// A permit was priced for every load, however small.
TEST(HaulRules, a_permit_is_priced_over_a_limit_or_where_none_is_known) {
    Move m;
    const double permit = m.in.rates.permit.units();
    const Option unknown = m.option("haul");
    EXPECT_EQ(*unknown.cost.permit, permit);
    EXPECT_THAT(texts(unknown), Contains(HasSubstr("is priced: no table of limits is known")));
    const std::string file = shipped("regions/limits/generic.toml");
    m.in.limits = read_limits_table(parse_toml(read_text_file(file), file), file);
    const Option over = m.option("haul");
    EXPECT_EQ(*over.cost.permit, permit);
    EXPECT_THAT(texts(over), Contains(HasSubstr("is priced: the loaded low-bed is over a limit")));
    for (WorkingState& s : m.in.machine.states) {
        s.width = Length::from_metres(2.35);
        s.height = Length::from_metres(2.60);
        s.length = Length::from_metres(5);
        s.mass = Mass::from_kg(7000);
        s.axles = {Mass::from_kg(7000)};
    }
    m.in.machine.belts.gauge = Length::from_metres(1.7);
    const Option within = m.option("haul");
    EXPECT_EQ(*within.cost.permit, 0) << ::testing::PrintToString(texts(within));
    EXPECT_NEAR(*within.cost.total, *over.cost.total - permit, 0.01);
    EXPECT_THAT(texts(within),
                Contains(HasSubstr("no permit is priced: nothing of the loaded low-bed is over")));
    AlsoMoves header;
    header.name = "header";
    header.how = AlsoMoves::How::same_deck;
    header.mass = Mass::from_kg(1000);
    m.in.also_moves.push_back(header);
    EXPECT_EQ(*m.option("haul").cost.permit, permit);
}

// The load stands 4.31 m high: 4.40 m leaves less than the 0.10 m for bounce, 4.42 m does not.
TEST(HaulRules, the_load_needs_room_for_bounce) {
    EXPECT_TRUE(Move("4.42").option("haul").feasible);
    EXPECT_THAT(Move("4.40").option("haul").why_not, Contains(HasSubstr("no way for the loaded low-bed")));
}

TEST(HaulRules, what_has_to_be_looked_at_says_the_last_place_to_turn_round) {
    const Option o = Move().option("haul");
    for (const Flag& f : o.flags)
        if (f.kind == "bridge") {
            EXPECT_NEAR(f.at_m.value(), 10000, 1);
            EXPECT_NEAR(f.last_turn_round_m.value(), 5000, 1);
            return;
        }
    FAIL() << "no flag for the bridge";
}

// Whoever drives looks for each of them.
TEST(HaulRules, findings_of_one_kind_say_where_each_is) {
    const Option o = Move({}, true).option("haul");
    std::vector<std::string> bridges;
    for (const Flag& f : o.flags)
        if (f.kind == "bridge")
            bridges.push_back(f.text);
    EXPECT_THAT(bridges, ::testing::ElementsAre(::testing::EndsWith(" (2 times: again km 15.0)")));
}

TEST(HaulRules, a_low_bed_that_will_not_do_is_no_option_once_it_was_described) {
    Move m;
    m.give_low_bed();
    EXPECT_TRUE(m.option("haul").feasible);
    m.in.low_bed.outriggers.per_side = 0;
    EXPECT_FALSE(m.option("haul").feasible);
    EXPECT_THAT(m.option("haul").why_not, Contains(HasSubstr("has no outriggers")));
    // Nobody described it: take another one, but the option stands.
    m.in.low_bed.assumed = true;
    EXPECT_TRUE(m.option("haul").feasible);
    EXPECT_THAT(texts(m.option("haul")), Contains(HasSubstr("the assumed low-bed will not do: ")));
}

TEST(HaulRules, wet_boards_count) {
    Move m;
    m.give_low_bed();
    m.in.low_bed.ramp.length = Length::from_metres(3.6);
    m.in.machine.states.front().front_clearance = m.in.machine.states.front().rear_clearance =
        Length::from_metres(1);
    EXPECT_THAT(m.option("haul").why_not, IsEmpty());
    m.in.conditions.ground = Ground::wet;
    EXPECT_THAT(m.option("haul").why_not, Contains(HasSubstr("wet or powdered")));
}

}  // namespace
}  // namespace loamway
