// SPDX-License-Identifier: Apache-2.0
// Who may drive: chains of keys, class defaults, directions, hours, and what belongs in the graph.

#include <gtest/gtest.h>

#include "loamway/tags/access.h"
#include "support/tag_samples.h"

namespace loamway {
namespace {

AccessReading forward(const TagView& tags, const VehicleView& vehicle = test::sample_machine()) {
    return read_access(tags, vehicle, Direction::forward, test::sample_moment());
}
AccessReading backward(const TagView& tags, const VehicleView& vehicle = test::sample_machine()) {
    return read_access(tags, vehicle, Direction::backward, test::sample_moment());
}

void expect(const AccessReading& reading, Passage passage, std::string_view reason, bool ends_only = false) {
    EXPECT_EQ(name_of(reading.passage), name_of(passage)) << reading.reason;
    EXPECT_EQ(reading.reason, reason);
    EXPECT_EQ(reading.ends_only, ends_only) << reading.reason;
}

const VehicleView other = test::sample_machine_not_agricultural();
const VehicleView truck = test::sample_truck();

TEST(Access, GeneralPermissionDoesNotLiftAMotorroad) {
    const TagView road{{"highway", "trunk"}, {"motorroad", "yes"}, {"motor_vehicle", "yes"}};
    expect(forward(road), Passage::deny, "motorroad=no");
    expect(forward(road, truck), Passage::allow, "motor_vehicle=yes");
    expect(forward({{"highway", "motorway"}, {"motor_vehicle", "yes"}}), Passage::deny,
           "default:motorway=no");
    const TagView opened{{"highway", "trunk"}, {"motorroad", "yes"}, {"agricultural", "yes"}};
    expect(forward(opened, other), Passage::deny, "motorroad=no");
    expect(forward({{"highway", "motorway_link"}}), Passage::deny, "default:motorway_link=no");
}

TEST(Access, MostSpecificKeyWins) {
    const TagView road{{"highway", "track"}, {"access", "no"}, {"agricultural", "yes"}};
    expect(forward(road, other), Passage::deny, "access=no");
    expect(forward(road, truck), Passage::deny, "access=no");
    expect(forward({{"highway", "primary"}, {"vehicle", "no"}, {"motor_vehicle", "yes"}}), Passage::allow,
           "motor_vehicle=yes");
    expect(forward({{"highway", "primary"}, {"access", "no"}, {"hgv", "designated"}}, truck), Passage::allow,
           "hgv=designated");
}

TEST(Access, DirectionBeatsPlain) {
    const TagView road{{"highway", "tertiary"}, {"vehicle:backward", "no"}};
    expect(forward(road), Passage::allow, "default:tertiary=yes");
    expect(backward(road), Passage::deny, "vehicle:backward=no");
    const TagView lifted{{"highway", "tertiary"}, {"vehicle", "no"}, {"vehicle:forward", "yes"}};
    expect(forward(lifted), Passage::allow, "vehicle:forward=yes");
    expect(backward(lifted), Passage::deny, "vehicle=no");
}

TEST(Access, EndsOnly) {
    for (const char* value : {"destination", "private", "customers", "delivery", "permit"})
        expect(forward({{"highway", "residential"}, {"access", value}}), Passage::check,
               std::string("access=") + value, true);
    expect(forward({{"highway", "residential"}, {"access", "discouraged"}}), Passage::check,
           "access=discouraged", false);
    expect(forward({{"highway", "residential"}, {"access", "gibberish"}}), Passage::check,
           "access=gibberish");
}

TEST(Access, Purposes) {
    for (const char* value : {"agricultural", "forestry", "agricultural;forestry"}) {
        const TagView road{{"highway", "unclassified"}, {"motor_vehicle", value}};
        const std::string reason = std::string("motor_vehicle=") + value;
        expect(forward(road), Passage::check, reason, false);
        expect(forward(road, other), Passage::check, reason, true);
        expect(forward(road, truck), Passage::check, reason, true);
    }
}

TEST(Access, ListsOfValues) {
    expect(forward({{"highway", "service"}, {"access", "private;customers"}}), Passage::check,
           "access=private;customers", true);
    expect(forward({{"highway", "service"}, {"access", "yes;no"}}), Passage::check, "access=yes;no");
    expect(forward({{"highway", "service"}, {"access", "yes;designated"}}), Passage::allow,
           "access=yes;designated");
    expect(forward({{"highway", "service"}, {"access", ""}}), Passage::check, "access=");
}

TEST(Access, TracksAreAQuestionOfGroundForTheTruck) {
    expect(forward({{"highway", "track"}}), Passage::allow, "default:track=yes");
    expect(forward({{"highway", "track"}}, truck), Passage::check, "default:track=check", true);
    expect(forward({{"highway", "track"}, {"access", "yes"}}, truck), Passage::check, "default:track=check",
           true);
    expect(forward({{"highway", "track"}, {"hgv", "yes"}}, truck), Passage::allow, "hgv=yes");
    expect(forward({{"highway", "track"}, {"access", "no"}}, truck), Passage::deny, "access=no");
}

TEST(Access, ServiceRoads) {
    expect(forward({{"highway", "service"}, {"service", "driveway"}}), Passage::check, "service=driveway",
           true);
    expect(forward({{"highway", "service"}, {"service", "parking_aisle"}}), Passage::check,
           "service=parking_aisle", true);
    expect(forward({{"highway", "service"}, {"service", "alley"}}), Passage::allow, "default:service=yes");
    expect(forward({{"highway", "service"}, {"service", "driveway"}, {"access", "yes"}}), Passage::allow,
           "access=yes");
    expect(forward({{"highway", "living_street"}}), Passage::allow, "default:living_street=yes");
}

TEST(Access, PathsNeedMotorVehicleOrMoreSpecific) {
    for (const char* path : {"path", "footway", "cycleway", "bridleway", "pedestrian", "busway"}) {
        const std::string closed = std::string("default:") + path + "=no";
        expect(forward({{"highway", path}}), Passage::deny, closed);
        expect(forward({{"highway", path}, {"vehicle", "yes"}}), Passage::deny, closed);
        expect(forward({{"highway", path}, {"agricultural", "yes"}}), Passage::allow, "agricultural=yes");
        expect(forward({{"highway", path}, {"agricultural", "yes"}}, truck), Passage::deny, closed);
        expect(forward({{"highway", path}, {"hgv", "destination"}}, truck), Passage::check, "hgv=destination",
               true);
    }
    expect(forward({{"highway", "steps"}, {"motor_vehicle", "yes"}}), Passage::deny, "default:steps=no");
}

TEST(Access, NotARoadYetOrAtAll) {
    for (const char* value : {"construction", "proposed"})
        expect(forward({{"highway", value}, {"access", "yes"}}), Passage::deny,
               std::string("highway=") + value);
    expect(forward({{"route", "ferry"}, {"motor_vehicle", "yes"}}), Passage::deny, "route=ferry");
    EXPECT_EQ(forward({{"waterway", "river"}}).passage, Passage::deny);
    EXPECT_EQ(forward({}).passage, Passage::deny);
}

TEST(Access, WrongWay) {
    const TagView road{{"highway", "residential"}, {"oneway", "yes"}};
    expect(forward(road), Passage::allow, "default:residential=yes");
    expect(backward(road), Passage::deny, "oneway=yes");
    expect(forward({{"highway", "residential"}, {"oneway", "-1"}}), Passage::deny, "oneway=-1");
    expect(backward({{"highway", "tertiary"}, {"junction", "roundabout"}}), Passage::deny,
           "oneway=yes by junction=roundabout");
    expect(backward({{"highway", "tertiary"}, {"junction", "circular"}}), Passage::allow,
           "default:tertiary=yes");
    expect(backward({{"highway", "motorway_link"}}, truck), Passage::allow, "default:motorway_link=yes");
    expect(forward({{"highway", "residential"}, {"oneway", "reversible"}}), Passage::check,
           "oneway=reversible");
    expect(forward({{"highway", "residential"}, {"oneway", "perhaps"}}), Passage::check, "oneway=perhaps");
    const TagView lifted{{"highway", "residential"}, {"oneway", "yes"}, {"oneway:agricultural", "no"}};
    expect(backward(lifted), Passage::allow, "default:residential=yes");
    expect(backward(lifted, truck), Passage::deny, "oneway=yes");
    expect(backward(lifted, other), Passage::deny, "oneway=yes");
}

TEST(Access, OnewayAtAnHour) {
    const TagView road{{"highway", "residential"}, {"oneway:conditional", "yes @ (Mo-Fr 07:00-09:00)"}};
    expect(backward(road), Passage::deny, "oneway:conditional=yes");
    EXPECT_EQ(read_oneway(road, truck), OneWay::time_dependent);
    Moment noon = test::sample_moment();
    noon.time->hour = 12;
    EXPECT_EQ(read_access(road, truck, Direction::backward, noon).passage, Passage::allow);
    EXPECT_EQ(read_access(road, truck, Direction::backward, Moment()).passage, Passage::check);
}

TEST(Access, MinimumSpeed) {
    expect(forward({{"highway", "trunk"}, {"minspeed", "60"}}), Passage::deny, "minspeed=60");
    expect(forward({{"highway", "trunk"}, {"minspeed", "60"}}, truck), Passage::allow, "default:trunk=yes");
    expect(forward({{"highway", "trunk"}, {"minspeed", "40"}}), Passage::allow, "default:trunk=yes");
    expect(forward({{"highway", "trunk"}, {"minspeed", "fast"}}), Passage::check, "minspeed=fast");
    VehicleView unknown_speed;
    expect(forward({{"highway", "trunk"}, {"minspeed", "20"}}, unknown_speed), Passage::check, "minspeed=20");
}

TEST(Access, AtAnHour) {
    const TagView road{{"highway", "primary"}, {"hgv:conditional", "no @ (Mo-Fr 07:00-09:00)"}};
    expect(forward(road, truck), Passage::deny, "hgv:conditional=no");
    expect(forward(road), Passage::allow, "default:primary=yes");
    const AccessReading unsure = read_access(road, truck, Direction::forward, Moment());
    expect(unsure, Passage::check, "verify:no @ Mo-Fr 07:00-09:00");
    EXPECT_EQ(unsure.flags, std::vector<std::string>{"verify:no @ Mo-Fr 07:00-09:00"});
}

TEST(Access, DirectionAndHour) {
    const TagView road{{"highway", "primary"}, {"motor_vehicle:backward:conditional", "no @ (07:00-09:00)"}};
    expect(backward(road), Passage::deny, "motor_vehicle:backward:conditional=no");
    expect(forward(road), Passage::allow, "default:primary=yes");
}

TEST(Access, BusinessAtTheEndOfTheRoad) {
    const TagView road{{"highway", "primary"}, {"hgv", "no"}, {"hgv:conditional", "yes @ destination"}};
    expect(forward(road, truck), Passage::check, "hgv:conditional=yes", true);
    // Any other condition that cannot be read leaves a ban a ban.
    expect(forward({{"highway", "primary"}, {"hgv", "no"}, {"hgv:conditional", "yes @ (full moon)"}}, truck),
           Passage::deny, "hgv=no");
    // It opens what the tag closed, not what the class closes.
    expect(forward({{"highway", "motorway"}, {"access", "no"}, {"access:conditional", "yes @ delivery"}}),
           Passage::deny, "default:motorway=no");
}

TEST(Access, BanOnHeavyTrafficIsAHintForTheMachine) {
    const AccessReading reading = forward({{"highway", "residential"}, {"hgv", "no"}});
    EXPECT_EQ(reading.flags, std::vector<std::string>{"look:hgv=no"});
    EXPECT_EQ(reading.passage, Passage::allow);
}

TEST(Access, WinterRoads) {
    expect(forward({{"highway", "track"}, {"winter_road", "yes"}}), Passage::check, "winter_road=yes");
    expect(forward({{"highway", "track"}, {"ice_road", "yes"}}), Passage::check, "ice_road=yes");
}

TEST(Access, ReasonsCarryNoControlCharacters) {
    EXPECT_EQ(forward({{"highway", "primary"}, {"access", "x\x1b[2Jy"}}).reason.find('\x1b'),
              std::string::npos);
}

TEST(Drivable, Classes) {
    for (const char* road : {"motorway", "trunk_link", "primary", "unclassified", "residential", "service",
                             "track", "road", "living_street"})
        EXPECT_TRUE(is_drivable({{"highway", road}})) << road;
    for (const char* none :
         {"path", "footway", "steps", "construction", "proposed", "platform", "raceway", "gibberish", ""})
        EXPECT_FALSE(is_drivable({{"highway", none}})) << none;
    EXPECT_FALSE(is_drivable({}));
    EXPECT_FALSE(is_drivable({{"route", "ferry"}, {"motor_vehicle", "yes"}}));
    EXPECT_FALSE(is_drivable({{"highway", "primary"}, {"route", "ferry"}}));
}

TEST(Drivable, OneVehicleInOneDirectionAtOneHourIsEnough) {
    EXPECT_FALSE(is_drivable({{"highway", "track"}, {"access", "no"}}));
    EXPECT_FALSE(is_drivable({{"highway", "track"}, {"motor_vehicle", "no"}}));
    EXPECT_TRUE(is_drivable({{"highway", "track"}, {"motor_vehicle", "private"}}));
    EXPECT_TRUE(is_drivable({{"highway", "track"}, {"access", "no"}, {"agricultural", "yes"}}));
    EXPECT_TRUE(is_drivable({{"highway", "track"}, {"access", "no"}, {"hgv", "delivery"}}));
    EXPECT_TRUE(
        is_drivable({{"highway", "service"}, {"access", "no"}, {"access:conditional", "yes @ (Su)"}}));
    EXPECT_TRUE(is_drivable({{"highway", "service"}, {"access", "no"}, {"vehicle:backward", "yes"}}));
    EXPECT_TRUE(is_drivable({{"highway", "service"}, {"access:forward", "no"}}));
    EXPECT_TRUE(is_drivable({{"highway", "service"}, {"agricultural", "no"}}));
    EXPECT_TRUE(is_drivable({{"highway", "path"}, {"motor_vehicle", "agricultural"}}));
    EXPECT_TRUE(is_drivable({{"highway", "path"}, {"motor_vehicle:conditional", "yes @ (Sep)"}}));
    EXPECT_FALSE(is_drivable({{"highway", "path"}, {"access", "yes"}}));
    EXPECT_FALSE(is_drivable({{"highway", "path"}, {"motor_vehicle", "no"}}));
    EXPECT_FALSE(is_drivable({{"highway", "steps"}, {"motor_vehicle", "yes"}}));
}

}  // namespace
}  // namespace loamway
