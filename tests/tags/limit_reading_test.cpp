// SPDX-License-Identifier: Apache-2.0
// Values in tags beyond those of data/tags.json. The odd weights are real values of the map.

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "loamway/tags/limits.h"

namespace loamway {
namespace {

using Kind = LimitReading::Kind;

bool warns(const LimitReading& reading, std::string_view warning) {
    return std::find(reading.warnings.begin(), reading.warnings.end(), warning) != reading.warnings.end();
}

TEST(LimitReading, MassUnits) {
    EXPECT_NEAR(read_mass("13000 lbs").value.value(), 5.896701, 1e-6);
    EXPECT_TRUE(read_mass("13000 lbs").warnings.empty());
    EXPECT_DOUBLE_EQ(read_mass("7500 kg").value.value(), 7.5);
    EXPECT_DOUBLE_EQ(read_mass("3,500 kg").value.value(), 3.5);
    EXPECT_TRUE(warns(read_mass("3,500 kg"), "thousands_comma"));
    EXPECT_DOUBLE_EQ(read_mass("12.5tonnes").value.value(), 12.5);
    EXPECT_TRUE(warns(read_mass("12.5tonnes"), "nonstandard_unit"));
    EXPECT_TRUE(warns(read_mass("12.5tonnes"), "missing_space"));
    EXPECT_DOUBLE_EQ(read_mass("  3.5 t ").value.value(), 3.5);
}

TEST(LimitReading, AmbiguousTonIsNotRead) {
    EXPECT_EQ(read_mass("10 tons").kind, Kind::unparsed);
    EXPECT_DOUBLE_EQ(read_mass("10 tons").hint.value(), 10.0);
}

TEST(LimitReading, MassThatIsNone) {
    for (const char* raw : {"agricultural", "7ft6in", "", ";", "t", "-5", "+5", "1e3", "inf", "nan", "0x10",
                            "5.", "1,2,3", "1.234.567", ",5", "7.5 t t"})
        EXPECT_EQ(read_mass(raw).kind, Kind::unparsed) << raw;
    EXPECT_EQ(read_mass(std::string(5000, '9')).kind, Kind::unparsed);
}

TEST(LimitReading, Lists) {
    EXPECT_DOUBLE_EQ(read_mass("none;12").value.value(), 12.0);
    EXPECT_EQ(read_mass("none;default").kind, Kind::standard);
    EXPECT_EQ(read_mass("none; none").kind, Kind::unlimited);
    EXPECT_EQ(read_mass("7.5;").kind, Kind::limit);
    // One part that cannot be read makes the lowest of the others a mere hint.
    EXPECT_EQ(read_mass("7.5;except loading").kind, Kind::unparsed);
    EXPECT_DOUBLE_EQ(read_mass("7.5;except loading").hint.value(), 7.5);
    EXPECT_EQ(read_length("below_default;4.2").kind, Kind::unparsed);
}

TEST(LimitReading, Zero) {
    EXPECT_TRUE(warns(read_mass("0"), "implausible_t"));
    EXPECT_TRUE(warns(read_length("0"), "implausible_m"));
    EXPECT_TRUE(warns(read_speed("0"), "implausible_kmh"));
}

TEST(LimitReading, LengthForms) {
    EXPECT_NEAR(read_length("13'6\"").value.value(), 4.1148, 1e-9);
    EXPECT_TRUE(read_length("13'6\"").warnings.empty());
    EXPECT_NEAR(read_length("13'6").value.value(), 4.1148, 1e-9);
    EXPECT_TRUE(warns(read_length("13'6"), "nonstandard_format"));
    EXPECT_NEAR(read_length("13\xE2\x80\xB2"
                            "6\xE2\x80\xB3")
                    .value.value(),
                4.1148, 1e-9);
    EXPECT_DOUBLE_EQ(read_length("3.8m").value.value(), 3.8);
    EXPECT_TRUE(warns(read_length("3.8m"), "missing_space"));
    EXPECT_NEAR(read_length("13 ft").value.value(), 3.9624, 1e-9);
    EXPECT_NEAR(read_length("3800 mm").value.value(), 3.8, 1e-12);
    EXPECT_NEAR(read_length("12.5'").value.value(), 3.81, 1e-12);
}

TEST(LimitReading, LengthThatIsNone) {
    for (const char* raw :
         {"", "'", "\"", "6''7", "6'7'", "6\"7'", "4.2 - 4.5", "ca. 4", "6'x", "4.2 t", "''"})
        EXPECT_EQ(read_length(raw).kind, Kind::unparsed) << raw;
    EXPECT_DOUBLE_EQ(read_length("ca. 4").hint.value(), 4.0);
    EXPECT_EQ(read_length("below_default").kind, Kind::below_standard);
    EXPECT_EQ(name_of(Kind::below_standard), "below_default");
}

TEST(LimitReading, Speeds) {
    EXPECT_EQ(read_speed("RO:urban").kind, Kind::standard);
    EXPECT_EQ(read_speed("RO:urban").warnings, std::vector<std::string>{"country_code:ro:urban"});
    EXPECT_EQ(read_speed("BE-VLG:rural").kind, Kind::standard);
    EXPECT_EQ(read_speed("none").kind, Kind::unlimited);
    EXPECT_EQ(read_speed("variable").kind, Kind::unknown);
    EXPECT_DOUBLE_EQ(read_speed("DE:30").value.value(), 30.0);
    EXPECT_NEAR(read_speed("25mph").value.value(), 40.2336, 1e-9);
    for (const char* raw : {"DE:", "DE:zone:", "DE:zone:x", ":30", "abc:30", "50 km", "fast", "no"})
        EXPECT_EQ(read_speed(raw).kind, Kind::unparsed) << raw;
}

}  // namespace
}  // namespace loamway
