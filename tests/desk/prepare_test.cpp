// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/desk/desk.h"
#include "support/test_files.h"
#include "support/tiny_region.h"

using namespace loamway;

namespace {

constexpr const char* machine_toml = R"(
name = "test machine"
[belts]
count = 2
length_mm = 7100
width_mm = 550
[[state]]
name = "bare"
mass_kg = 16000
width_m = 2.75
height_m = 3.4
length_m = 6.2
[[state]]
name = "towing"
mass_kg = 17000
width_m = 2.75
height_m = 3.4
length_m = 6.2
)";

constexpr const char* places_json = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"Yard"},"geometry":{"type":"Point","coordinates":[13.2,53.5]}},
{"type":"Feature","properties":{"name":"Gravel pit","kind":"stop"},"geometry":{"type":"Point","coordinates":[13.25,53.55]}},
{"type":"Feature","properties":{"name":"Neuhof"},"geometry":{"type":"Point","coordinates":[13.3,53.6]}},
{"type":"Feature","properties":{"name":"twice"},"geometry":{"type":"Point","coordinates":[13.3,53.6]}},
{"type":"Feature","properties":{"name":"Twice"},"geometry":{"type":"Point","coordinates":[13.4,53.6]}}
]})";

class Prepare : public ::testing::Test {
protected:
    Prepare() {
        TinyMap map;
        const auto a = map.node(53.50, 13.20), b = map.node(53.51, 13.20);
        map.edge(a, b);
        map.meta().time_zone = "Europe/Berlin";
        map.meta().time_zone_assumed = false;
        map.meta().recipe = "invented";
        map.meta().units = "imperial";
        map.meta().permit_from_width_m = 2.55;
        map.meta().daylight_from_width_m = 3.2;
        map.meta().drives_on_right = false;
        map.place("Neuhof", 53.7, 13.7);
        map.place("Burg", 53.71, 13.71, PlaceKind::hamlet);
        map.place("Burg", 53.74, 13.72, PlaceKind::town);
        map.place("Mühlenhagen", 53.73, 13.73);
        write_region(map.build(), m_dir.file("a.region"));
        m_request.region = m_dir.file("a.region");
        m_request.machine = m_dir.write("m.toml", machine_toml);
        m_request.places = m_dir.write("p.geojson", places_json);
        m_request.from = "Yard";
        m_request.to = "53.51,13.20";
    }
    [[nodiscard]] Prepared prepared() const { return prepare(m_request, m_now); }
    [[nodiscard]] Error fault() const {
        try {
            (void)prepared();
        } catch (const Error& e) {
            return e;
        }
        ADD_FAILURE() << "no error";
        return {ErrorKind::internal, "no error"};
    }
    [[nodiscard]] std::string fault_text() const { return fault().what(); }
    [[nodiscard]] static MoveField field(const Prepared& p, const std::string& key) {
        for (const MoveField& f : p.inputs.fields)
            if (f.key == key)
                return f;
        ADD_FAILURE() << "no field " << key;
        return {};
    }

    test::TempDir m_dir;
    MoveRequest m_request;
    Instant m_now = parse_time("2026-05-01T08:00:00Z", TimeZone());
};

TEST_F(Prepare, FiveAnswersAreEnoughAndTheRestIsMarkedAsAssumed) {
    m_request.belts = "washed";
    m_request.air_c = 28;
    const Prepared p = prepared();
    const PlanInputs& in = p.inputs;
    EXPECT_EQ(in.region, p.region.get());
    EXPECT_EQ(in.from.name, "Yard");
    EXPECT_EQ(in.from.point, GeoPoint::from_degrees(53.5, 13.2));
    EXPECT_EQ(in.to.point, GeoPoint::from_degrees(53.51, 13.2));
    EXPECT_EQ(in.machine.name, "test machine");
    EXPECT_EQ(in.belts.condition, BeltsNow::Condition::washed);
    EXPECT_EQ(in.conditions.air.celsius(), 28);
    EXPECT_EQ(in.depart, m_now);
    EXPECT_TRUE(in.drive && in.haul);
    EXPECT_EQ(in.detour_cap, 0.6);
    EXPECT_EQ(in.snap_limit, Length::from_km(1));
    for (const char* key : {"from", "to", "machine", "belts", "air_c", "time_zone"})
        EXPECT_FALSE(field(p, key).assumed) << key;
    for (const char* key :
         {"state", "since_lube_km", "relube_interval_km", "ground", "sun", "depart", "modes", "trailer",
          "rates", "detour_cap", "snap_km", "units", "machine_defaults"})
        EXPECT_TRUE(field(p, key).assumed) << key;
    EXPECT_EQ(field(p, "depart").value, "2026-05-01T10:00:00+02:00");
    EXPECT_EQ(field(p, "state").value, "bare");
    EXPECT_NE(field(p, "machine_defaults").value.find("belts.fill"), std::string::npos);
}

TEST_F(Prepare, TheRegionCarriesItsRecipe) {
    const Prepared p = prepared();
    EXPECT_EQ(p.inputs.recipe.name, "invented");
    EXPECT_EQ(p.inputs.recipe.time_zone, "Europe/Berlin");
    EXPECT_EQ(p.inputs.recipe.permit_from_width.metres(), 2.55);
    EXPECT_EQ(p.inputs.recipe.daylight_from_width->metres(), 3.2);
    EXPECT_FALSE(p.inputs.recipe.drives_on_right);
    EXPECT_EQ(p.inputs.units, "imperial");
    EXPECT_EQ(field(p, "air_c").value, "68 °F");
    EXPECT_EQ(field(p, "relube_interval_km").value, "9.3 mi");
}

TEST_F(Prepare, WhatIsSaidIsNotAssumed) {
    m_request.units = "metric";
    m_request.state = "towing";
    m_request.since_lube_km = 4.25;
    m_request.ground = "frozen";
    m_request.air_c = 25;
    m_request.sun = 0;
    m_request.depart = "2026-07-14T14:00";
    m_request.modes = std::vector<std::string>{"haul"};
    m_request.basis = "full";
    m_request.trials = 50;
    m_request.belts = "new";
    m_request.preconditioned = true;
    m_request.belt_hours = 3;
    m_request.bar_mm = 54;
    m_request.rates = m_dir.write("r.toml", "currency = \"XCU\"\n[belts]\nrelube_interval_km = 12\n");
    m_request.low_bed = m_dir.write("t.toml", "name = \"own low-bed\"\nbase = \"Gravel pit\"\n");
    const Prepared p = prepared();
    for (const MoveField& f : p.inputs.fields) {
        const bool not_said = f.key == "detour_cap" || f.key == "snap_km" || f.key == "machine_defaults" ||
                              f.key == "heat_calibration";
        EXPECT_EQ(f.assumed, not_said) << f.key;
    }
    EXPECT_EQ(p.inputs.depart, parse_time("2026-07-14T12:00:00Z", TimeZone()));
    EXPECT_FALSE(p.inputs.drive);
    EXPECT_EQ(p.inputs.conditions.ground, Ground::frozen);
    EXPECT_EQ(p.inputs.rates.relube_interval, Length::from_km(12));
    EXPECT_EQ(p.inputs.low_bed_base->point, GeoPoint::from_degrees(53.55, 13.25));
    EXPECT_EQ(field(p, "belts").value, "new, preconditioned");
    EXPECT_EQ(field(p, "relube_interval_km").value, "12.0 km");
    EXPECT_EQ(field(p, "trailer").value, "own low-bed, from Gravel pit");
    EXPECT_EQ(field(p, "bar_mm").value, "54 mm");
}

TEST_F(Prepare, AirThroughTheDayIsSaidWithItsForm) {
    m_request.units = "metric";
    m_request.depart = "2026-07-14T15:00";
    m_request.air_min_c = 10;
    m_request.air_max_c = 30;
    m_request.cloud = 0;
    const Prepared p = prepared();
    EXPECT_EQ(field(p, "air_min_c").value, "10 °C");
    EXPECT_EQ(field(p, "air_max_c").value, "30 °C");
    EXPECT_NE(field(p, "air_course").value.find("Parton and Logan"), std::string::npos);
    // Three in the afternoon by summer time is 13.8 h by the sun: six minutes after the warmest of that form.
    EXPECT_EQ(field(p, "air_at_departure").value, "30 °C");
    EXPECT_TRUE(field(p, "air_course").assumed);
    EXPECT_FALSE(field(p, "cloud").assumed);
    EXPECT_NE(field(p, "sun").value.find("0.81 of a clear noon"), std::string::npos) << field(p, "sun").value;
    m_request.air_c = 20;
    EXPECT_NE(fault_text().find("more than one way"), std::string::npos);
    m_request.air_c.reset();
    m_request.air_max_c.reset();
    EXPECT_NE(fault_text().find("needs both"), std::string::npos);
}

TEST_F(Prepare, AirFromATableIsInTheRegionsZone) {
    m_request.depart = "2026-07-14T10:00";
    m_request.air_csv =
        m_dir.write("air.csv", "time,air_c,cloud\n2026-07-14T09:00,18,0\n2026-07-14T11:00,22,1\n");
    const Prepared p = prepared();
    ASSERT_EQ(p.inputs.conditions.air_table.size(), 2u);
    EXPECT_EQ(p.inputs.conditions.air_table[0].at, parse_time("2026-07-14T07:00:00Z", TimeZone()));
    EXPECT_EQ(field(p, "air_at_departure").value, "68 °F");
    EXPECT_FALSE(p.inputs.conditions.air_assumed);
    EXPECT_EQ(field(p, "cloud").value, "as in the table of the air");
    m_request.depart = "2026-07-14T12:00";
    EXPECT_EQ(fault_text().rfind(
                  m_dir.file("air.csv") + ": the table of the air covers 2026-07-14T09:00:00+02:00 to", 0),
              0u)
        << fault_text();
    m_request.air_csv = m_dir.file("none.csv");
    EXPECT_EQ(fault().kind(), ErrorKind::not_found);
}

TEST_F(Prepare, ReadingsSettleTheHeatScaleOrSayWhyNot) {
    EXPECT_TRUE(field(prepared(), "heat_calibration").assumed);
    const std::string good =
        "[[reading]]\nkm = 20\nspeed_kmh = 40\nair_c = 25\nminutes_after_stop = 1\nflank_c = 66\n";
    const std::string late =
        "[[reading]]\nkm = 20\nspeed_kmh = 40\nair_c = 25\nminutes_after_stop = 40\nflank_c = 50\n";
    m_request.machine = m_dir.write("read.toml", machine_toml + good);
    m_request.readings = read_move(parse_toml(late, "m.toml"), "m.toml").readings;
    const Prepared p = prepared();
    EXPECT_TRUE(p.inputs.heat.calibrated());
    EXPECT_EQ(p.inputs.heat.used, 1);
    EXPECT_FALSE(field(p, "heat_calibration").assumed);
    EXPECT_EQ(field(p, "heat_calibration").value.rfind("1 infrared reading: bars make ", 0), 0u);
    EXPECT_NE(field(p, "reading_refused").value.find("read 40 minutes after the stop"), std::string::npos);
}

TEST_F(Prepare, RatesWithoutAnIntervalLeaveItAssumed) {
    m_request.rates = m_dir.write("r.toml", "currency = \"XCU\"\n");
    const Prepared p = prepared();
    EXPECT_TRUE(field(p, "relube_interval_km").assumed);
    EXPECT_FALSE(field(p, "rates").assumed);
}

TEST_F(Prepare, PlacesOfTheUserComeFirstAndStopsAreKept) {
    m_request.to = "Neuhof";
    Prepared p = prepared();
    EXPECT_EQ(p.inputs.to.point, GeoPoint::from_degrees(53.6, 13.3));
    ASSERT_EQ(p.inputs.user_stops.size(), 1u);
    EXPECT_EQ(p.inputs.user_stops[0].name, "Gravel pit");
    m_request.places.reset();
    m_request.from = "53.5,13.2";
    p = prepared();
    EXPECT_EQ(p.inputs.to.point, GeoPoint::from_degrees(53.7, 13.7));
    EXPECT_TRUE(p.inputs.user_stops.empty());
}

TEST_F(Prepare, CaseCountsOnlyWhenItMustCount) {
    m_request.to = "neuhof";
    EXPECT_EQ(prepared().inputs.to.name, "Neuhof");
    m_request.to = "Twice";
    EXPECT_EQ(prepared().inputs.to.point, GeoPoint::from_degrees(53.6, 13.4));
    m_request.to = "TWICE";
    EXPECT_NE(fault_text().find("stands for 2 places"), std::string::npos);
}

TEST_F(Prepare, AnAmbiguousNameListsItsPlaces) {
    m_request.to = "Burg";
    const Error e = fault();
    EXPECT_EQ(e.kind(), ErrorKind::input);
    EXPECT_STREQ(
        e.what(),
        "to \"Burg\" stands for 2 places (give one as LAT,LON: Burg (hamlet) 53.710000,13.710000; Burg (town) "
        "53.740000,13.720000)");
}

// A town's name stands on its station too, and a yard that is a place to stop is listed twice: neither is a
// riddle.
TEST_F(Prepare, ATownAndWhatCarriesItsNameCloseByAreOnePlace) {
    TinyMap map;
    map.edge(map.node(53.50, 13.20), map.node(53.51, 13.20));
    map.place("Seeheim", 53.500, 13.200, PlaceKind::other);
    map.place("Seeheim", 53.506, 13.200, PlaceKind::town);  // 670 m
    map.place("Eichen", 53.500, 13.200, PlaceKind::village);
    map.place("Eichen", 53.506, 13.200, PlaceKind::village);
    write_region(map.build(), m_dir.file("b.region"));
    m_request.region = m_dir.file("b.region");
    m_request.places = m_dir.write("twice.geojson", R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"Yard"},"geometry":{"type":"Point","coordinates":[13.2,53.5]}},
{"type":"Feature","properties":{"name":"Yard","kind":"stop"},"geometry":{"type":"Point","coordinates":[13.2,53.5]}}]})");
    m_request.from = "Yard";
    m_request.to = "Seeheim";
    EXPECT_EQ(prepared().inputs.to.point, GeoPoint::from_degrees(53.506, 13.2));
    m_request.to = "Eichen";
    EXPECT_NE(fault_text().find("stands for 2 places"), std::string::npos) << "two villages of one size";
}

TEST_F(Prepare, NamesAreFoundByAPartWithoutCaseAndAccents) {
    for (const char* typed : {"Muhlenhagen", "muehlenhagen", "MÜHLENHAGEN", "Mühlenha", "hlenhag"}) {
        m_request.to = typed;
        EXPECT_EQ(prepared().inputs.to.name, "Mühlenhagen") << typed;
    }
    m_request.to = "hl";  // two letters are no part
    EXPECT_EQ(fault().kind(), ErrorKind::not_found);
}

TEST_F(Prepare, AFieldIsEnteredWhereItsFileOrACorrectionSays) {
    const std::string area =
        R"("geometry":{"type":"Polygon","coordinates":[[[13.2,53.5],[13.21,53.5],[13.21,53.51],[13.2,53.5]]]})";
    const auto file = [&](const std::string& properties, const std::string& more = {}) {
        m_request.places = m_dir.write(
            "f.geojson", R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{)" +
                             properties + "}," + area + "}" + more + "]}");
        m_request.from = "53.6,13.3";
        m_request.to = "Long Forty";
    };
    file(R"("name":"Long Forty","entrance":"53.505,13.21")");
    EXPECT_EQ(prepared().inputs.to.point, GeoPoint::from_degrees(53.505, 13.21));
    file(R"("name":"Long Forty")", R"(,{"type":"Feature","properties":{"name":"Long Forty","kind":"entrance"},
"geometry":{"type":"Point","coordinates":[13.205,53.5]}})");
    EXPECT_EQ(prepared().inputs.to.point, GeoPoint::from_degrees(53.5, 13.205));
    file(R"("name":"Long Forty")");
    EXPECT_EQ(prepared().inputs.to.to_confirm.find("entrance of Long Forty not known: taken at "), 0u)
        << prepared().inputs.to.to_confirm;
    file(R"("name":"Long Forty","entrance":"53.505")");
    EXPECT_NE(fault_text().find("f.geojson:1: the entrance of"), std::string::npos) << fault_text();
}

TEST_F(Prepare, AnUnknownNameGetsSuggestions) {
    m_request.to = "Muhlenhegan";
    const Error e = fault();
    EXPECT_EQ(e.kind(), ErrorKind::not_found);
    EXPECT_NE(std::string(e.what()).find("did you mean Mühlenhagen?"), std::string::npos) << e.what();
    m_request.to = "qqqqqqqqqqqqqqq";
    EXPECT_NE(fault_text().find("give LAT,LON"), std::string::npos);
}

TEST_F(Prepare, CoordinatesOutOfRangeAreNoName) {
    m_request.to = "113.2,53.5";
    EXPECT_EQ(fault().kind(), ErrorKind::input);
    EXPECT_EQ(fault_text().rfind("to \"113.2,53.5\": ", 0), 0u);
}

TEST_F(Prepare, FaultsOfADocumentNameItsLine) {
    const MoveRequest document = read_move(parse_toml("\nto = \"Nowhere at all\"\n", "m.toml"), "m.toml");
    m_request.to.reset();
    m_request = merge(document, m_request);
    EXPECT_EQ(fault_text().rfind("m.toml:2: to \"Nowhere at all\"", 0), 0u) << fault_text();
}

TEST_F(Prepare, WhatIsMissingIsNamed) {
    const auto without = [this](auto member, const char* word) {
        const MoveRequest whole = m_request;
        (m_request.*member).reset();
        EXPECT_EQ(fault().kind(), ErrorKind::input);
        EXPECT_NE(fault_text().find(word), std::string::npos) << fault_text();
        m_request = whole;
    };
    without(&MoveRequest::from, "--from");
    without(&MoveRequest::to, "--to");
    without(&MoveRequest::machine, "examples/profiles");
    without(&MoveRequest::region, "--region");
}

TEST_F(Prepare, FilesThatAreNotThere) {
    m_request.machine = m_dir.file("none.toml");
    EXPECT_EQ(fault().kind(), ErrorKind::not_found);
    EXPECT_NE(fault_text().find("examples/profiles"), std::string::npos);
    m_request.machine = m_dir.file("m.toml");
    m_request.region = m_dir.file("none.region");
    EXPECT_EQ(fault().kind(), ErrorKind::not_found);
}

TEST_F(Prepare, FaultsInProfilesNameTheProfile) {
    std::string text = machine_toml;
    text.replace(text.find("mass_kg = 16000"), 15, "mass_kg = -1600");
    m_request.machine = m_dir.write("bad.toml", text);
    EXPECT_EQ(fault_text().rfind(m_dir.file("bad.toml") + ":9: ", 0), 0u) << fault_text();
    m_request.machine = m_dir.write("m.json", R"({"belts":{"count":2,"length_mm":7100,"width_mm":550},
"state":[{"mass_kg":16000,"width_m":2.75,"height_m":3.4,"lenght_m":6.2}]})");
    EXPECT_NE(fault_text().find("m.json:2:"), std::string::npos) << fault_text();
}

TEST_F(Prepare, ValuesFromFlagsAreChecked) {
    const auto refused = [this](const char* piece) {
        EXPECT_EQ(fault().kind(), ErrorKind::input);
        EXPECT_NE(fault_text().find(piece), std::string::npos) << fault_text();
    };
    m_request.air_c = 99;
    refused("-50..60");
    m_request.air_c.reset();
    m_request.belts = "wahsed";
    refused("did you mean washed?");
    m_request.belts.reset();
    m_request.modes = std::vector<std::string>{"drive", "fly"};
    refused("mode \"fly\"");
    m_request.modes.reset();
    m_request.state = "flying";
    refused("flying");
    m_request.state.reset();
    m_request.units = "furlongs";
    refused("units");
    m_request.units.reset();
    m_request.depart = "soon";
    refused("depart");
    m_request.depart.reset();
    m_request.bar_mm = 80;
    refused("when new");
    m_request.bar_mm.reset();
    m_request.since_lube_km = std::nan("");
    refused("outside 0..1000");
}

TEST_F(Prepare, ARegionWithoutARecipeIsInUtcAndSaysSo) {
    TinyMap map;
    map.edge(map.node(53.50, 13.20), map.node(53.51, 13.20));
    write_region(map.build(), m_dir.file("b.region"));
    m_request.region = m_dir.file("b.region");
    const Prepared p = prepared();
    EXPECT_EQ(p.inputs.recipe.time_zone, "");
    EXPECT_TRUE(field(p, "time_zone").assumed);
    EXPECT_EQ(field(p, "time_zone").value, "UTC");
}

}  // namespace
