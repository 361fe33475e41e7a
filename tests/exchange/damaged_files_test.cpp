// SPDX-License-Identifier: Apache-2.0
// Damaged plans and places are refused in one line, or written to files that others can read.
#include <gtest/gtest.h>

#include <pugixml.hpp>

#include "loamway/base/error.h"
#include "loamway/exchange/places.h"
#include "loamway/exchange/tracks.h"
#include "support/damage.h"
#include "support/sample_plan.h"

using namespace loamway;

TEST(DamagedPlan, IsRefusedOrWritten) {
    const std::string whole = to_json(plan_to_json(sample_plan()));
    test::Damage damage(20260515);
    int written = 0;
    for (int i = 0; i < 3000; ++i) {
        const std::string text = damage.of(whole);
        try {
            const Plan plan = plan_from_json(parse_json(text, "p.json"), "p.json");
            pugi::xml_document gpx;
            EXPECT_TRUE(gpx.load_string(to_gpx(plan, "").c_str()));
            EXPECT_NE(parse_json(to_geojson(plan, ""), "out").find("features"), nullptr);
            ++written;
        } catch (const Error& e) {
            EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos);
        }
    }
    EXPECT_GT(written, 100);
}

TEST(DamagedPlaces, AreRefusedOrRead) {
    const std::string whole =
        R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"Yard",
"kind":"stop","note":"n"},"geometry":{"type":"Point","coordinates":[13.2,53.5]}},{"type":"Feature","properties":
{"name":"B"},"geometry":{"type":"Point","coordinates":[-13.2,-53.5,12]}}]})";
    test::Damage damage(20260516);
    int read = 0;
    for (int i = 0; i < 5000; ++i) {
        try {
            for (const PlaceEntry& place : parse_places(damage.of(whole), "p.geojson"))
                EXPECT_FALSE(place.name.empty());
            ++read;
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::input) << e.what();
        }
    }
    EXPECT_GT(read, 10);
}
