// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <random>
#include <string>

#include "loamway/base/error.h"
#include "loamway/belt/trip.h"

namespace loamway {
namespace {

std::string fault(const std::string& text) {
    try {
        (void)parse_trip_csv(text, "t.csv");
    } catch (const Error& e) {
        EXPECT_TRUE(e.kind() == ErrorKind::input || e.kind() == ErrorKind::limit);
        return e.what();
    }
    return "no fault";
}

TEST(TripCsv, reads_all_columns_in_any_order) {
    const auto t = parse_trip_csv(
        "\xEF\xBB\xBFsurface, speed_kmh ,length_km,stop_min,sun,air_c,grade_pct\r\n"
        "hard,40,2.5,10,1,-3.5,-2\r\n"
        "\r\n"
        "field,8,.25,,,,\n"
        "concrete,3e1,0,0,0,1,0",
        "t.csv");
    ASSERT_EQ(t.size(), 3u);
    EXPECT_EQ(t[0].surface, RoadSurface::asphalt);
    EXPECT_DOUBLE_EQ(t[0].length.km(), 2.5);
    EXPECT_DOUBLE_EQ(t[0].speed.kmh(), 40);
    EXPECT_DOUBLE_EQ(t[0].stop.minutes(), 10);
    EXPECT_DOUBLE_EQ(t[0].sun.value(), 1);
    EXPECT_DOUBLE_EQ(t[0].air.value().celsius(), -3.5);
    EXPECT_DOUBLE_EQ(t[0].grade_pct, -2);
    EXPECT_EQ(t[1].surface, RoadSurface::field);
    EXPECT_FALSE(t[1].sun.has_value());
    EXPECT_FALSE(t[1].air.has_value());
    EXPECT_EQ(t[1].stop.seconds(), 0);
    EXPECT_DOUBLE_EQ(t[2].speed.kmh(), 30);
}

TEST(TripCsv, says_what_is_wrong_and_where) {
    const std::string head = "length_km,surface,speed_kmh\n";
    EXPECT_EQ(fault(head + "1,asphalt,20\n1,asfalt,20\n"),
              "t.csv:3: there is no surface \"asfalt\" (did you mean asphalt?)");
    EXPECT_EQ(fault("length_km,surface,speed_kph\n"),
              "t.csv:1: there is no column \"speed_kph\" (did you mean speed_kmh?)");
    EXPECT_EQ(
        fault("length_km;surface;speed_kmh\n"),
        "t.csv:1: the fields are separated by semicolons (separate them by commas, with a point for decimals)");
    EXPECT_EQ(fault(head + "1,gravel\n"),
              "t.csv:2: 2 fields, but the first line names 3 columns (separate the fields by commas)");
    EXPECT_EQ(fault(head + "1,gravel,\n"), "t.csv:2: speed_kmh is empty");
    EXPECT_EQ(fault(head + "\n\n1;5,gravel,20\n"),
              "t.csv:4: length_km \"1;5\" is not a number (with a point for decimals)");
    EXPECT_EQ(fault(head + "1,gravel,0\n"), "t.csv:2: speed_kmh 0 is out of range (0.5 to 80)");
    EXPECT_EQ(fault(head + "-1,gravel,10\n"), "t.csv:2: length_km -1 is out of range (0 to 2000)");
    EXPECT_EQ(fault(head + "nan,gravel,10\n"),
              "t.csv:2: length_km \"nan\" is not a number (with a point for decimals)");
    EXPECT_EQ(fault(head + "1,\"gravel\",10\n"),
              "t.csv:2: fields are not quoted (leave the quotation marks out)");
    EXPECT_EQ(fault("surface,surface,speed_kmh\n"), "t.csv:1: the column surface is there twice");
    EXPECT_NE(fault("surface,speed_kmh\n").find("t.csv:1: the column length_km is missing"),
              std::string::npos);
    EXPECT_NE(fault("").find("t.csv: there is no segment"), std::string::npos);
    EXPECT_NE(fault(head).find("no segment"), std::string::npos);
    EXPECT_NE(fault(head + "1,lava,20\n").find("one of hard, asphalt, concrete"), std::string::npos);
}

TEST(TripCsv, a_strangers_bytes_cannot_move_the_cursor) {
    const std::string f = fault("length_km,surface,speed_kmh\n1,gra\x1b[2Jvel\xff,20\n");
    EXPECT_EQ(f.find('\x1b'), std::string::npos);
    EXPECT_NE(f.find("t.csv:2:"), std::string::npos);
}

TEST(TripCsv, damaged_text_is_read_or_refused) {
    const std::string whole =
        "length_km,surface,speed_kmh,grade_pct,air_c,sun,stop_min\r\n2,earth,12,,,,\n13,asphalt,40,3,25,1,10\n";
    std::mt19937 random(1);
    int read = 0, refused = 0;
    for (int i = 0; i < 20000; ++i) {
        std::string text = whole.substr(0, random() % (whole.size() + 1));
        for (auto changes = random() % 4; changes > 0 && !text.empty(); --changes)
            text[random() % text.size()] = static_cast<char>(random() % 256);
        try {
            for (const TripSegment& s : parse_trip_csv(text, "t.csv")) {
                EXPECT_GE(s.length.km(), 0.0);
                EXPECT_GE(s.speed.kmh(), 0.5 - 1e-9);
                EXPECT_LE(s.speed.kmh(), 80 + 1e-9);
            }
            ++read;
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::input);
            ++refused;
        }
    }
    EXPECT_GT(read, 100);
    EXPECT_GT(refused, 1000);
}

TEST(TripCsv, counts_its_segments) {
    std::string text = "length_km,surface,speed_kmh\n";
    for (int i = 0; i <= 100000; ++i)
        text += "1,earth,9\n";
    EXPECT_EQ(fault(text), "t.csv:100002: more than 100000 segments");
}

}  // namespace
}  // namespace loamway
