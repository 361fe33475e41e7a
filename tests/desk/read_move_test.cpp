// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <string>

#include "loamway/base/error.h"
#include "loamway/desk/desk.h"

using namespace loamway;

namespace {

MoveRequest read(const std::string& toml, const std::string& file = "moves/a.toml") {
    return read_move(parse_toml(toml, file), file);
}
std::string fault_of(const std::string& toml) {
    try {
        (void)read(toml);
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        return e.what();
    }
    return "no error";
}

TEST(ReadMove, TakesEveryKey) {
    const MoveRequest m = read(R"(
from = "Alder Farm"
to = "53.61,13.34"
machine = "../profiles/medium.toml"
state = "towing"
belts = "new"
trailer = "/abs/low-bed.toml"
rates = "rates.toml"
region = "county.region"
places = "places.geojson"
depart = "2026-07-14T14:00"
detour_cap = 0.4
snap_km = 2
modes = ["drive"]
units = "imperial"
[conditions]
air_c = 28
sun = 0.9
ground = "dusty"
[belts_state]
hours = 12
since_lube_km = 3.5
preconditioned = true
bar_mm = 44
)");
    EXPECT_EQ(m.from, "Alder Farm");
    EXPECT_EQ(m.to, "53.61,13.34");
    EXPECT_EQ(m.machine, "moves/../profiles/medium.toml");
    EXPECT_EQ(m.state, "towing");
    EXPECT_EQ(m.belts, "new");
    EXPECT_EQ(m.low_bed, "/abs/low-bed.toml");
    EXPECT_EQ(m.rates, "moves/rates.toml");
    EXPECT_EQ(m.region, "moves/county.region");
    EXPECT_EQ(m.places, "moves/places.geojson");
    EXPECT_EQ(m.depart, "2026-07-14T14:00");
    EXPECT_EQ(m.detour_cap, 0.4);
    EXPECT_EQ(m.snap_limit_km, 2.0);
    EXPECT_EQ(m.modes, std::vector<std::string>{"drive"});
    EXPECT_EQ(m.units, "imperial");
    EXPECT_EQ(m.air_c, 28.0);
    EXPECT_EQ(m.sun, 0.9);
    EXPECT_EQ(m.ground, "dusty");
    EXPECT_EQ(m.belt_hours, 12.0);
    EXPECT_EQ(m.since_lube_km, 3.5);
    EXPECT_EQ(m.preconditioned, true);
    EXPECT_EQ(m.bar_mm, 44.0);
    EXPECT_EQ(m.said_at.at("from").line, 2);
}

TEST(ReadMove, NothingSaidStaysUnsaid) {
    const MoveRequest m = read("");
    EXPECT_FALSE(m.from || m.machine || m.machine_table || m.air_c || m.belts || m.modes || m.region);
}

TEST(ReadMove, ProfilesMayStandInTheDocument) {
    const MoveRequest m =
        read("[machine]\nname = \"x\"\n[trailer]\nname = \"t\"\n[rates]\ncurrency = \"CU\"\n");
    EXPECT_FALSE(m.machine);
    ASSERT_TRUE(m.machine_table && m.low_bed_table && m.rates_table);
    EXPECT_EQ(*m.machine_table->find("name")->as_string(), "x");
}

TEST(ReadMove, WashedIsAWordOrAStateOfTheBelts) {
    EXPECT_EQ(read("[belts_state]\nwashed = true").belts, "washed");
    EXPECT_EQ(read("belts = \"run-in\"\n[belts_state]\nwashed = true").belts, "washed");
    EXPECT_EQ(read("belts = \"new\"\n[belts_state]\nwashed = true").belts, "new");
    EXPECT_FALSE(read("[belts_state]\nwashed = false").belts);
    EXPECT_NE(fault_of("belts = \"washed\"\n[belts_state]\nwashed = false").find("moves/a.toml:3:"),
              std::string::npos);
}

TEST(ReadMove, FaultsNameTheLineAndTheNearestWord) {
    EXPECT_NE(fault_of("from = \"a\"\nform = \"b\"").find("moves/a.toml:2: unknown key \"form\""),
              std::string::npos);
    EXPECT_NE(fault_of("form = \"a\"").find("did you mean \"from\"?"), std::string::npos);
    EXPECT_NE(fault_of("ledger = 3").find("a.toml:1:"), std::string::npos);
    EXPECT_NE(fault_of("[conditions]\nairc = 20").find("did you mean \"air_c\"?"), std::string::npos);
    EXPECT_NE(fault_of("[conditions]\nair_c = 200").find("outside -50..60"), std::string::npos);
    EXPECT_NE(fault_of("[conditions]\nground = \"mud\"").find("a.toml:2:"), std::string::npos);
    EXPECT_NE(fault_of("[belts_state]\nsince_lube_km = -1").find("a.toml:2:"), std::string::npos);
    EXPECT_NE(fault_of("modes = [\"fly\"]").find("is not a mode"), std::string::npos);
    EXPECT_NE(fault_of("modes = []").find("no mode"), std::string::npos);
    EXPECT_NE(fault_of("depart = \"tomorrow\"").find("a.toml:1:"), std::string::npos);
    EXPECT_NE(fault_of("detour_cap = \"0.6\"").find("not a number"), std::string::npos);
    EXPECT_NE(fault_of("machine = 3").find("name a file"), std::string::npos);
    EXPECT_NE(fault_of("machine = \"http://example.org/m.toml\"").find("a.toml:1:"), std::string::npos);
    EXPECT_NE(fault_of("places = \"-\"").find("standard input"), std::string::npos);
}

TEST(ReadMove, ALedgerIsAFileOfTheFolderOrAnAddressAndBeltsMayHaveAName) {
    const MoveRequest m = read(
        "ledger = \"farm.ledger\"\nmachine = \"red\"\nbelts = \"red-2026\"\n"
        "[belts_state]\nwashed = true\n");
    EXPECT_EQ(m.ledger, "moves/farm.ledger");
    EXPECT_EQ(m.machine_word, "red");
    EXPECT_EQ(m.belts, "red-2026");
    EXPECT_EQ(m.washed, true);
    EXPECT_EQ(read("ledger = \"postgresql://jo@host/farm\"").ledger, "postgresql://jo@host/farm");
    MoveRequest flags;
    flags.machine = "other.toml";
    EXPECT_FALSE(merge(m, flags).machine_word) << "a machine said by a flag is not the document's";
}

TEST(ReadMove, TheAirIsSaidInOneWay) {
    const MoveRequest range = read("[conditions]\nair_min_c = 9\nair_max_c = 27\ncloud = 0.3\n");
    EXPECT_EQ(range.air_min_c, 9.0);
    EXPECT_EQ(range.air_max_c, 27.0);
    EXPECT_EQ(range.cloud, 0.3);
    EXPECT_EQ(read("[conditions]\nair_csv = \"air.csv\"\n").air_csv, "moves/air.csv");
    EXPECT_EQ(
        fault_of("[conditions]\nair_c = 20\nair_min_c = 9\nair_max_c = 27\n"),
        "moves/a.toml:3: both air_c and air_min_c are given (give air_c, or air_min_c and air_max_c, or air_csv)");
    EXPECT_NE(
        fault_of("[conditions]\nair_csv = \"a.csv\"\nair_c = 20\n").find("a.toml:2: both air_c and air_csv"),
        std::string::npos);
    EXPECT_NE(fault_of("[conditions]\nair_csv = \"a.csv\"\nair_min_c = 1\nair_max_c = 2\n").find("a.toml:3:"),
              std::string::npos);
    EXPECT_EQ(fault_of("[conditions]\nair_max_c = 20\n"),
              "moves/a.toml:2: air_max_c is given without air_min_c (the day's course needs both ends)");
    EXPECT_EQ(fault_of("[conditions]\nair_min_c = 28\nair_max_c = 20\n"),
              "moves/a.toml:2: air_min_c = 28 is above air_max_c = 20");
    EXPECT_NE(fault_of("[conditions]\nsun = 0.5\ncloud = 0.5\n").find("a.toml:3: both sun and cloud"),
              std::string::npos);
    EXPECT_NE(fault_of("[conditions]\ncloud = 50\n").find("outside 0..1"), std::string::npos);
}

TEST(ReadMove, ReadingsStandInTheMove) {
    const MoveRequest m = read(
        "[[reading]]\nkm = 20\nspeed_kmh = 40\nair_c = 25\nminutes_after_stop = 1\nflank_c = 59\n"
        "[[reading]]\nkm = 12\nspeed_kmh = 30\nair_c = 5\nsurface = \"gravel\"\nminutes_after_stop = 15\ntip_c = 31\n");
    ASSERT_EQ(m.readings.size(), 2u);
    EXPECT_EQ(m.readings[0].value.celsius(), 59);
    EXPECT_FALSE(m.readings[0].tip);
    EXPECT_EQ(m.readings[0].surface, "asphalt");
    EXPECT_TRUE(m.readings[1].tip);
    EXPECT_EQ(m.readings[1].surface, "gravel");
    const std::string head = "[[reading]]\nkm = 20\nspeed_kmh = 40\nair_c = 25\nminutes_after_stop = 1\n";
    EXPECT_NE(fault_of(head).find("a reading is of the flank or of the tip"), std::string::npos);
    EXPECT_NE(fault_of(head + "flank_c = 59\ntip_c = 40\n").find("a.toml:7:"), std::string::npos);
    EXPECT_NE(fault_of(head + "flank_c = 900\n").find("a.toml:6:"), std::string::npos);
    EXPECT_NE(fault_of(head + "flank_c = 59\nsunn = 1\n").find("did you mean"), std::string::npos);
    EXPECT_NE(fault_of("[[reading]]\nkm = 20\n").find("speed_kmh"), std::string::npos);
}

// One air by flag takes the place of a whole course in the document, and the other way round for the sun.
TEST(Merge, AFlagAnswersTheWholeQuestion) {
    MoveRequest flags;
    flags.air_c = 31;
    flags.cloud = 1.0;
    const MoveRequest m =
        merge(read("[conditions]\nair_min_c = 9\nair_max_c = 27\nsun = 0.2\nground = \"wet\"\n"), flags);
    EXPECT_EQ(m.air_c, 31.0);
    EXPECT_FALSE(m.air_min_c || m.air_max_c || m.sun);
    EXPECT_EQ(m.cloud, 1.0);
    EXPECT_EQ(m.ground, "wet");
}

TEST(Merge, FlagsWinFieldByField) {
    MoveRequest flags;
    flags.to = "Mill Field";
    flags.air_c = 31;
    const MoveRequest m =
        merge(read("from = \"a\"\nto = \"b\"\n[conditions]\nair_c = 10\nsun = 0.2\n"), flags);
    EXPECT_EQ(m.from, "a");
    EXPECT_EQ(m.to, "Mill Field");
    EXPECT_EQ(m.air_c, 31.0);
    EXPECT_EQ(m.sun, 0.2);
    // A fault in what a flag said is not laid at the document's door.
    EXPECT_EQ(m.said_at.count("from"), 1u);
    EXPECT_EQ(m.said_at.count("to"), 0u);
}

TEST(Merge, AFileReplacesATableAndTheOtherWayRound) {
    MoveRequest flags;
    flags.machine = "m.toml";
    const MoveRequest m = merge(read("[machine]\nname = \"x\"\n"), flags);
    EXPECT_EQ(m.machine, "m.toml");
    EXPECT_FALSE(m.machine_table);
    MoveRequest table;
    table.rates_table = Value(Value::Object{});
    const MoveRequest r = merge(read("rates = \"r.toml\"\n"), table);
    EXPECT_FALSE(r.rates);
    EXPECT_TRUE(r.rates_table);
}

}  // namespace
