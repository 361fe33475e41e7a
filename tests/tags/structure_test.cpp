// SPDX-License-Identifier: Apache-2.0
// Barriers, bridges, fords, crossings and turn restrictions.

#include <gtest/gtest.h>

#include "loamway/tags/structure.h"
#include "support/tag_samples.h"

namespace loamway {
namespace {

std::string_view barrier(const TagView& tags, const VehicleView& vehicle = test::sample_machine()) {
    return name_of(read_barrier(tags, vehicle).state);
}

TEST(Barrier, Kinds) {
    for (const char* value : {"lift_gate", "swing_gate", "hampshire_gate"})
        EXPECT_EQ(barrier({{"barrier", value}}), "pass_check") << value;
    for (const char* value : {"block", "cycle_barrier", "stile", "log", "debris", "sump_buster", "bus_trap"})
        EXPECT_EQ(barrier({{"barrier", value}}), "block") << value;
    EXPECT_EQ(barrier({{"barrier", "cattle_grid"}}), "check_weight");
    EXPECT_EQ(barrier({{"barrier", "entrance"}}), "pass");
    EXPECT_EQ(barrier({{"barrier", "no"}}), "pass");
    EXPECT_EQ(barrier({{"barrier", ""}}), "check");
    EXPECT_EQ(barrier({{"highway", "crossing"}}), "pass");
    EXPECT_EQ(barrier({}), "pass");
}

TEST(Barrier, AccessAtTheBarrier) {
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"access", "yes"}}), "pass");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"access", "yes"}, {"locked", "yes"}}), "check");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"access", "no"}}), "block");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"access", "no"}, {"agricultural", "yes"}}), "pass");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"access", "no"}, {"agricultural", "yes"}}, test::sample_truck()),
              "block");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"access:conditional", "yes @ (08:00-18:00)"}}), "check");
    EXPECT_EQ(barrier({{"barrier", "entrance"}, {"motor_vehicle", "no"}}), "block");
    EXPECT_EQ(barrier({{"barrier", "bollard"}, {"agricultural", "yes"}}), "block_check");
    EXPECT_EQ(barrier({{"barrier", "bollard"}, {"bollard", "rising"}}), "block_check");
}

TEST(Barrier, LimitsAtTheBarrier) {
    EXPECT_EQ(barrier({{"barrier", "cattle_grid"}, {"maxweight", "26"}}), "pass");
    const BarrierReading heavy =
        read_barrier({{"barrier", "cattle_grid"}, {"maxweight", "12"}}, test::sample_machine());
    EXPECT_EQ(heavy.state, BarrierReading::State::block);
    EXPECT_EQ(heavy.flags, std::vector<std::string>{"weight"});
    EXPECT_EQ(barrier({{"barrier", "cattle_grid"}, {"maxweight", "strong"}}), "check_weight");
    EXPECT_EQ(barrier({{"barrier", "height_restrictor"}, {"maxheight", "4.2"}}, VehicleView()),
              "check_height");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"maxwidth", "wide"}}), "check");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"maxwidth", "3.5"}}), "pass_check");
    EXPECT_EQ(barrier({{"barrier", "entrance"}, {"maxwidth:physical", "2.5"}}), "block");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"maxheight:backward", "3"}}), "block");
    // Fitting the width does not answer how high the restrictor is.
    EXPECT_EQ(barrier({{"barrier", "height_restrictor"}, {"maxwidth", "5"}}), "check_height");
}

TEST(Barrier, OpeningOfAGate) {
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"width", "4"}}), "pass_check");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"width", "3"}}), "check");
    EXPECT_EQ(barrier({{"barrier", "gate"}, {"width", "?"}}), "check");
}

TEST(Barrier, Passage) {
    using State = BarrierReading::State;
    const auto passage = [](State s) { return BarrierReading{s, {}}.passage(); };
    EXPECT_EQ(passage(State::pass), Passage::allow);
    for (const State s : {State::pass_check, State::check, State::check_height, State::check_weight})
        EXPECT_EQ(passage(s), Passage::check);
    EXPECT_EQ(passage(State::block), Passage::deny);
    EXPECT_EQ(passage(State::block_check), Passage::deny);
}

TEST(Structure, BridgesTunnelsFordsCrossings) {
    EXPECT_TRUE(is_bridge({{"bridge", "viaduct"}}));
    EXPECT_FALSE(is_bridge({{"bridge", "no"}}));
    EXPECT_FALSE(is_bridge({}));
    EXPECT_TRUE(is_tunnel({{"tunnel", "yes"}}));
    EXPECT_TRUE(is_tunnel({{"covered", "yes"}}));
    EXPECT_FALSE(is_tunnel({{"tunnel", "culvert"}}));
    EXPECT_TRUE(is_ford({{"ford", "yes"}}));
    EXPECT_TRUE(is_ford({{"ford", "stepping_stones"}}));
    EXPECT_FALSE(is_ford({{"ford", "no"}}));
    EXPECT_TRUE(is_level_crossing({{"railway", "level_crossing"}}));
    EXPECT_FALSE(is_level_crossing({{"railway", "crossing"}}));
}

TEST(Structure, NodesThatMatter) {
    for (const Tag& tag :
         {Tag{"barrier", "gate"}, Tag{"ford", "yes"}, Tag{"railway", "level_crossing"}, Tag{"maxheight", "3"},
          Tag{"maxweight:conditional", "7 @ wet"}, Tag{"maxwidth:physical", "2.8"}})
        EXPECT_TRUE(is_node_that_matters(TagView{tag})) << tag.key;
    for (const Tag& tag : {Tag{"barrier", "no"}, Tag{"ford", "no"}, Tag{"highway", "crossing"},
                           Tag{"highway", "traffic_calming"}, Tag{"access", "no"}, Tag{"maxspeed", "30"},
                           Tag{"railway", "crossing"}, Tag{"name", "X"}})
        EXPECT_FALSE(is_node_that_matters(TagView{tag})) << tag.key;
}

RestrictionReading restriction(const TagView& tags, const VehicleView& vehicle = test::sample_machine()) {
    return read_restriction(tags, vehicle, test::sample_moment());
}

TEST(Restriction, Kinds) {
    for (const char* kind : {"no_left_turn", "no_entry", "no_exit", "no_u_turn"}) {
        const RestrictionReading r = restriction({{"type", "restriction"}, {"restriction", kind}});
        EXPECT_TRUE(r.applies) << kind;
        EXPECT_FALSE(r.only) << kind;
        EXPECT_FALSE(r.check) << kind;
        EXPECT_EQ(r.kind, kind);
    }
    EXPECT_TRUE(restriction({{"type", "restriction"}, {"restriction", "only_straight_on"}}).only);
    EXPECT_FALSE(restriction({{"type", "restriction"}, {"restriction", "give_way"}}).applies);
    EXPECT_FALSE(restriction({{"type", "restriction"}}).applies);
    EXPECT_FALSE(restriction({{"type", "route"}, {"restriction", "no_left_turn"}}).applies);
}

TEST(Restriction, VehicleClasses) {
    const TagView hgv{{"type", "restriction"}, {"restriction:hgv", "no_left_turn"}};
    EXPECT_FALSE(restriction(hgv).applies);
    EXPECT_TRUE(restriction(hgv, test::sample_truck()).applies);
    const TagView farm{{"type", "restriction"}, {"restriction:agricultural", "no_left_turn"}};
    EXPECT_TRUE(restriction(farm).applies);
    EXPECT_FALSE(restriction(farm, test::sample_machine_not_agricultural()).applies);
    EXPECT_FALSE(restriction(farm, test::sample_truck()).applies);
    const TagView bus{{"type", "restriction"}, {"restriction:bus", "no_left_turn"}};
    EXPECT_FALSE(restriction(bus).applies);
    const TagView old_style{{"type", "restriction:hgv"}, {"restriction", "no_left_turn"}};
    EXPECT_FALSE(restriction(old_style).applies);
    EXPECT_TRUE(restriction(old_style, test::sample_truck()).applies);
}

TEST(Restriction, Except) {
    const TagView tags{
        {"type", "restriction"}, {"restriction", "no_left_turn"}, {"except", "psv;agricultural"}};
    EXPECT_FALSE(restriction(tags).applies);
    EXPECT_TRUE(restriction(tags, test::sample_truck()).applies);
    EXPECT_TRUE(is_excepted("vehicle", test::sample_truck()));
    EXPECT_FALSE(is_excepted("", test::sample_machine_not_agricultural()));
    EXPECT_FALSE(is_excepted(";;", test::sample_machine_not_agricultural()));
}

TEST(Restriction, AtAnHour) {
    const auto at_hours = [](const char* hours) {
        return restriction({{"type", "restriction"}, {"restriction:conditional", hours}});
    };
    EXPECT_TRUE(at_hours("no_left_turn @ (Mo-Fr 07:00-09:00)").applies);
    EXPECT_FALSE(at_hours("no_left_turn @ (16:00-18:00)").applies);
    const RestrictionReading unsure = at_hours("only_left_turn @ (school days)");
    EXPECT_TRUE(unsure.applies);  // what may hold is taken to hold
    EXPECT_TRUE(unsure.check);
    EXPECT_TRUE(unsure.only);
    EXPECT_EQ(unsure.kind, "only_left_turn");
    EXPECT_FALSE(at_hours("gibberish @ (school days)").applies);
    EXPECT_TRUE(restriction({{"restriction", "no_left_turn"}, {"hour_on", "07:00"}}).check);
}

}  // namespace
}  // namespace loamway
