// SPDX-License-Identifier: Apache-2.0
// Surface classes and their odds. The figures are assumptions of this project (see src/tags/surface.cpp).

#include <gtest/gtest.h>

#include <algorithm>

#include "loamway/tags/surface.h"

namespace loamway {
namespace {

bool flagged(const SurfaceReading& reading, std::string_view flag) {
    return std::find(reading.flags.begin(), reading.flags.end(), flag) != reading.flags.end();
}

SurfaceReading of_surface(const char* value) {
    return read_surface({{"highway", "unclassified"}, {"surface", value}}, false);
}

TEST(Surface, EveryValueOfTheTable) {
    for (const char* v : {"paved", "asphalt", "chipseal", "concrete", "concrete:plates", "concrete:lanes",
                          "metal", "metal_grid", "wood", "rubber", "paving_stones", "sett", "cobblestone",
                          "unhewn_cobblestone", "brick", "bricks", "grass_paver"})
        EXPECT_EQ(of_surface(v).odds, (SurfaceOdds{200, 0, 0})) << v;
    for (const char* v : {"compacted", "fine_gravel", "gravel", "pebblestone", "unpaved", "rock", "stone",
                          "shells", "woodchips", "crushed"})
        EXPECT_EQ(of_surface(v).odds, (SurfaceOdds{0, 200, 0})) << v;
    for (const char* v :
         {"ground", "dirt", "earth", "soil", "grass", "clay", "sand", "mud", "snow", "ice", "salt"})
        EXPECT_EQ(of_surface(v).odds, (SurfaceOdds{0, 0, 200})) << v;
}

TEST(Surface, OneRecognisedValueIsKnown) {
    EXPECT_TRUE(of_surface("asphalt").known);
    EXPECT_TRUE(of_surface(" Asphalt ").known);
    EXPECT_EQ(of_surface("asphalt").reason, "surface asphalt: paved");
    EXPECT_FALSE(of_surface("asphalt;gravel").known);
    EXPECT_FALSE(of_surface("gravle").known);
    EXPECT_FALSE(read_surface({{"highway", "track"}, {"tracktype", "grade1"}}, false).known);
    EXPECT_FALSE(read_surface({{"highway", "motorway"}}, false).known);
    EXPECT_TRUE(read_surface({{"highway", "track"}, {"surface", "wood"}, {"bridge", "yes"}}, false).known);
}

TEST(Surface, Flags) {
    for (const char* v : {"sett", "grass_paver", "concrete:lanes"})
        EXPECT_TRUE(flagged(of_surface(v), "blocks")) << v;
    for (const char* v : {"metal", "wood", "metal_grid"})
        EXPECT_TRUE(flagged(of_surface(v), "deck")) << v;
    for (const char* v : {"sand", "mud"})
        EXPECT_TRUE(flagged(of_surface(v), "soft")) << v;
    for (const char* v : {"snow", "ice", "salt"})
        EXPECT_TRUE(flagged(of_surface(v), "seasonal")) << v;
    EXPECT_TRUE(of_surface("asphalt").flags.empty());
}

TEST(Surface, Lists) {
    const SurfaceReading mixed = of_surface("asphalt;gravel");
    EXPECT_EQ(mixed.odds, (SurfaceOdds{120, 80, 0}));
    EXPECT_EQ(mixed.reason, "surface asphalt;gravel: assumed paved (60 %)");
    const SurfaceReading soft = of_surface("gravel;ground");
    EXPECT_EQ(soft.likeliest, SurfaceClass::gravel);  // gravel when equal
    EXPECT_NEAR(soft.p_hard, 0.03, 1e-12);
    EXPECT_EQ(soft.odds, (SurfaceOdds{6, 97, 97}));
    EXPECT_NEAR(of_surface("asphalt;concrete").p_hard, 0.97, 1e-12);
    EXPECT_TRUE(flagged(of_surface("asphalt;gravle"), "surface_value_unknown:gravle"));
    EXPECT_NEAR(of_surface("asphalt;gravle").p_hard, 0.97, 1e-12);
    EXPECT_EQ(of_surface("gravle;grvel").source, "default");
    EXPECT_EQ(of_surface(";").source, "default");
}

TEST(Surface, AnUnknownSpellingFallsThrough) {
    const SurfaceReading reading =
        read_surface({{"highway", "track"}, {"surface", "gravle"}, {"tracktype", "grade4"}}, false);
    EXPECT_EQ(reading.source, "tracktype");
    EXPECT_TRUE(flagged(reading, "surface_value_unknown:gravle"));
}

SurfaceReading grade(const char* value) {
    return read_surface({{"highway", "track"}, {"tracktype", value}}, false);
}

TEST(Surface, Tracktypes) {
    EXPECT_EQ(grade("grade1").odds, (SurfaceOdds{150, 45, 5}));
    EXPECT_EQ(grade("grade2").odds, (SurfaceOdds{20, 171, 9}));
    EXPECT_EQ(grade("grade3").likeliest, SurfaceClass::gravel);
    EXPECT_EQ(grade("grade4").likeliest, SurfaceClass::earth);
    EXPECT_EQ(grade("grade5").odds, (SurfaceOdds{4, 10, 186}));
    EXPECT_EQ(grade("grade2").reason, "tracktype grade2: assumed gravel (86 %)");
    EXPECT_EQ(grade("grade2;grade4").likeliest, SurfaceClass::earth);
    EXPECT_TRUE(flagged(grade("grade2;grade4"), "mixed"));
    for (const char* unknown : {"grade6", "grade0", "grade", "2", "grade22", ""}) {
        EXPECT_EQ(grade(unknown).source, "default") << unknown;
        EXPECT_TRUE(flagged(grade(unknown), std::string("tracktype_value_unknown:") + unknown));
    }
}

TEST(Surface, ClassDefaults) {
    const auto p = [](const char* highway, bool built_up) {
        return read_surface({{"highway", highway}}, built_up).p_hard;
    };
    EXPECT_DOUBLE_EQ(p("trunk", false), 0.985);
    EXPECT_DOUBLE_EQ(p("primary_link", false), 0.97);
    EXPECT_DOUBLE_EQ(p("tertiary", true), 0.96);
    EXPECT_DOUBLE_EQ(p("track", true), 0.25);
    EXPECT_DOUBLE_EQ(p("path", false), 0.03);
    EXPECT_DOUBLE_EQ(p("something", false), 0.45);
    EXPECT_DOUBLE_EQ(read_surface({}, false).p_hard, 0.45);
    for (const auto& [service, expected] :
         {std::pair{"driveway", 0.5}, std::pair{"alley", 0.7}, std::pair{"parking_aisle", 0.85}})
        EXPECT_DOUBLE_EQ(read_surface({{"highway", "service"}, {"service", service}}, false).p_hard,
                         expected);
    EXPECT_EQ(read_surface({{"highway", "path"}}, false).likeliest, SurfaceClass::earth);
    EXPECT_EQ(read_surface({{"highway", "unclassified"}}, true).reason,
              "no surface tag, highway unclassified, built-up: assumed paved (92 %)");
}

TEST(Surface, RegionScalesTheOddsOfDefaultsOnly) {
    EXPECT_NEAR(read_surface({{"highway", "unclassified"}}, false, 0.55).p_hard, 0.5053, 1e-4);
    EXPECT_EQ(read_surface({{"highway", "road"}}, false, 0.55).likeliest, SurfaceClass::gravel);
    EXPECT_DOUBLE_EQ(read_surface({{"highway", "track"}, {"tracktype", "grade1"}}, false, 0.55).p_hard, 0.75);
    EXPECT_DOUBLE_EQ(of_surface("asphalt").p_hard, 0.97);
}

TEST(Surface, Hints) {
    const TagView lit{{"highway", "unclassified"}, {"lit", "yes"}};
    EXPECT_DOUBLE_EQ(read_surface(lit, false).p_hard, 0.92);
    EXPECT_TRUE(flagged(read_surface(lit, false), "lit"));
    EXPECT_FALSE(flagged(read_surface(lit, true), "lit"));
    // Hints that change nothing are not mentioned.
    EXPECT_TRUE(read_surface({{"highway", "motorway"}, {"smoothness", "good"}, {"bridge", "yes"}}, false)
                    .flags.empty());
    EXPECT_DOUBLE_EQ(
        read_surface({{"highway", "track"}, {"tracktype", "grade4"}, {"bridge", "yes"}}, false).p_hard, 0.85);
    EXPECT_DOUBLE_EQ(read_surface({{"highway", "track"}, {"bridge", "no"}}, false).p_hard, 0.12);
}

TEST(Surface, OddsAlwaysAddUpAndAgree) {
    for (const char* highway :
         {"motorway", "tertiary", "unclassified", "service", "track", "road", "path", "x"}) {
        for (int step = 1; step <= 400; ++step) {
            const SurfaceReading r = read_surface({{"highway", highway}}, step % 2 == 0, step / 100.0);
            ASSERT_EQ(r.odds.hard + r.odds.gravel + r.odds.earth, 200);
            ASSERT_EQ(r.likeliest, r.odds.likeliest());
            ASSERT_NEAR(r.odds.hard / 200.0, r.p_hard, 0.0025 + 1e-12);
        }
    }
}

TEST(SurfaceTraits, SayWhatRoadsAreComparedBy) {
    const SurfaceTraits t = surface_traits({{"highway", "tertiary_link"},
                                            {"tracktype", "grade2;grade4"},
                                            {"smoothness", "horrible"},
                                            {"bridge", "yes"}});
    EXPECT_EQ(t.road, "tertiary");
    EXPECT_EQ(t.grade, 4);
    EXPECT_EQ(t.service, "");
    EXPECT_EQ(t.feel, RoadFeel::rough);
    EXPECT_TRUE(t.bridge);
    EXPECT_FALSE(t.named);
    EXPECT_EQ(surface_traits({{"highway", "service"}, {"service", "alley"}}).service, "alley");
    EXPECT_EQ(surface_traits({{"highway", "track"}, {"service", "alley"}}).service, "");
    EXPECT_EQ(surface_traits({{"highway", "track"}, {"smoothness", "good"}}).feel, RoadFeel::smooth);
    EXPECT_TRUE(surface_traits({{"highway", "track"}, {"ref", "K 7"}}).named);
    EXPECT_FALSE(surface_traits({{"highway", "track"}, {"name", ""}}).named);
    EXPECT_EQ(surface_traits({{"tracktype", "grade9"}}).grade, 0);
}

TEST(SurfaceTraits, TheMostSpecificKeySaysWhomARoadIsOpenTo) {
    const auto opening = [](std::initializer_list<Tag> tags) {
        return surface_traits(TagView(tags)).opening;
    };
    EXPECT_EQ(opening({{"highway", "track"}}), RoadOpening::unsaid);
    EXPECT_EQ(opening({{"access", "yes"}}), RoadOpening::open);
    EXPECT_EQ(opening({{"access", "private"}}), RoadOpening::closed);
    EXPECT_EQ(opening({{"access", "forestry"}}), RoadOpening::purpose);
    EXPECT_EQ(opening({{"access", "yes"}, {"motor_vehicle", "no"}}), RoadOpening::closed);
    EXPECT_EQ(opening({{"motor_vehicle", "agricultural; forestry"}}), RoadOpening::purpose);
    EXPECT_EQ(opening({{"access", "agricultural"}, {"motorcar", "yes"}}), RoadOpening::open);
    EXPECT_EQ(opening({{"access", "yes"}, {"motorcar", "no"}}), RoadOpening::open)
        << "says nothing of tractors";
}

}  // namespace
}  // namespace loamway
