// SPDX-License-Identifier: Apache-2.0
#include "field_mouth.h"

#include <gtest/gtest.h>

#include "support/tiny_region.h"

namespace loamway {
namespace {

// A field of about 670 by 1,110 m.
const std::vector<GeoPoint> field{GeoPoint::from_degrees(53.50, 13.20), GeoPoint::from_degrees(53.50, 13.21),
                                  GeoPoint::from_degrees(53.51, 13.21), GeoPoint::from_degrees(53.51, 13.20)};

struct Country {
    TinyMap map;
    void road(const char* highway, double lat1, double lon1, double lat2, double lon2) {
        map.edge(map.node(lat1, lon1), map.node(lat2, lon2), {{"highway", highway}});
    }
    std::optional<FieldMouth> mouth() {
        const Region region = Region::from_data(map.build());
        return likeliest_mouth(region.view(), field);
    }
};

TEST(FieldMouth, TheEndOfATrackAtItsEdgeComesBeforeANearerRoad) {
    Country c;
    c.road("tertiary", 53.4999, 13.19, 53.4999, 13.22);  // 11 m south of the field, all along it
    c.road("track", 53.505, 13.23, 53.505, 13.2104);     // ends 27 m east of it
    const auto m = c.mouth();
    ASSERT_TRUE(m);
    EXPECT_EQ(m->what, "the end of a track");
    EXPECT_EQ(m->point, GeoPoint::from_degrees(53.505, 13.2104));
    EXPECT_NEAR(m->metres, 26.6, 0.5);  // 0.0004 degrees of longitude at 53.5 N
}

TEST(FieldMouth, ATrackThatEndsInsideIsIt) {
    Country c;
    c.road("track", 53.50, 13.19, 53.504, 13.205);
    c.road("track", 53.5101, 13.19, 53.5101, 13.2001);
    const auto m = c.mouth();
    ASSERT_TRUE(m);
    EXPECT_EQ(m->point, GeoPoint::from_degrees(53.504, 13.205));
    EXPECT_EQ(m->metres, 0.0);
}

TEST(FieldMouth, WithoutATrackTheSmallerRoadAndThenTheLarger) {
    Country c;
    c.road("secondary", 53.4999, 13.19, 53.4999, 13.22);
    EXPECT_EQ(c.mouth().value().what, "a larger road");
    EXPECT_NEAR(c.mouth().value().metres, 11.1, 0.5);
    c.road("unclassified", 53.49, 13.2112, 53.52, 13.2112);  // 80 m off, passes beside it
    EXPECT_EQ(c.mouth().value().what, "a small road");
}

TEST(FieldMouth, NothingFartherOffAndNoPathForWalkers) {
    Country c;
    c.road("track", 53.495, 13.19, 53.495, 13.22);    // 560 m away
    c.road("footway", 53.505, 13.22, 53.505, 13.21);  // leads straight to it
    EXPECT_FALSE(c.mouth());
}

}  // namespace
}  // namespace loamway
