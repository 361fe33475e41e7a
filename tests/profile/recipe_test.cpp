// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/recipe.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <set>

#include "documents.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::expect_input_error;

Recipe read(const std::string& text) {
    return read_recipe(parse_toml(text, "doc.toml"), "doc.toml");
}

TEST(Recipe, needs_only_a_name) {
    const Recipe r = read("name = \"here\"\n");
    EXPECT_EQ(r.name, "here");
    EXPECT_EQ(r.time_zone, "");
    EXPECT_DOUBLE_EQ(r.odds_factor, 1.0);
    EXPECT_TRUE(r.drives_on_right);
    EXPECT_EQ(r.units, "metric");
    EXPECT_FALSE(r.daylight_from_width);
}

TEST(Recipe, reads_every_key) {
    const Recipe r = read(R"(name = "here"
time_zone = "Europe/Berlin"
odds_factor = 0.55
drives_on_right = false
units = "imperial"
permit_from_width_m = 2.9
escort_from_width_m = 3.3
daylight_from_width_m = 3.4
national_height_m = 4.3
limits = "eu-96-53"
currency = "CU"
wide_move_hours = [6, 20.5]
school_hours = [7.5, 16]
[odds_factors]
track = 0.3
secondary = 2
)");
    EXPECT_EQ(r.limits, "eu-96-53");
    EXPECT_EQ(r.time_zone, "Europe/Berlin");
    EXPECT_DOUBLE_EQ(r.odds_factor, 0.55);
    EXPECT_FALSE(r.drives_on_right);
    EXPECT_EQ(r.units, "imperial");
    EXPECT_DOUBLE_EQ(r.permit_from_width.metres(), 2.9);
    EXPECT_DOUBLE_EQ(r.escort_from_width.metres(), 3.3);
    EXPECT_DOUBLE_EQ(r.daylight_from_width.value().metres(), 3.4);
    EXPECT_DOUBLE_EQ(r.national_height.metres(), 4.3);
    EXPECT_EQ(r.currency, "CU");
    EXPECT_EQ(r.wide_move_hours, (DayHours{6, 20.5}));
    EXPECT_EQ(r.school_hours, (DayHours{7.5, 16}));
    EXPECT_EQ(r.odds_factor_of("track"), 0.3);
    EXPECT_EQ(r.odds_factor_of("secondary_link"), 2);
    EXPECT_EQ(r.odds_factor_of("service"), 0.55);
    EXPECT_EQ(r.odds_factor_of(std::nullopt), 0.55);
}

// Where wide moves belong to the night the hours run over midnight; and every class the rules for tags have
// odds for can have a factor: footways and cycleways could not.
TEST(Recipe, hours_over_midnight_and_every_class) {
    const Recipe r = read(
        "name = \"x\"\nwide_move_hours = [22, 5]\n[odds_factors]\nfootway = 0.5\ncycleway = 2\npedestrian = 3\n");
    EXPECT_EQ(r.wide_move_hours, (DayHours{22, 5}));
    EXPECT_EQ(r.odds_factor_of("cycleway"), 2);
}

TEST(Recipe, faults_are_placed) {
    expect_input_error([] { (void)read("odds_factor = 1\n"); }, 1, "name");
    expect_input_error([] { (void)read("name = \"x\"\ntime_zone = \"Europe/Nowhere\"\n"); }, 2,
                       "Europe/Nowhere");
    expect_input_error([] { (void)read("name = \"x\"\nodds_factor = 0\n"); }, 2, "odds_factor");
    expect_input_error([] { (void)read("name = \"x\"\nlimits = \"../a\"\n"); }, 2, "a name, not a file");
    expect_input_error([] { (void)read("name = \"x\"\nunits = \"metrical\"\n"); }, 2, "metric");
    expect_input_error([] { (void)read("name = \"x\"\nnational_hight_m = 4\n"); }, 2, "national_height_m");
    expect_input_error([] { (void)read("name = \"x\"\n[odds_factors]\ntrakc = 1\n"); }, 3, "track");
    expect_input_error([] { (void)read("name = \"x\"\n[odds_factors]\ntrack = 100\n"); }, 3, "track");
    expect_input_error([] { (void)read("name = \"x\"\nwide_move_hours = [6, 6]\n"); }, 2, "two hours");
    expect_input_error([] { (void)read("name = \"x\"\nschool_hours = [16, 8]\n"); }, 2, "first before");
    expect_input_error([] { (void)read("name = \"x\"\nschool_hours = [8, 25]\n"); }, 2, "school_hours");
    expect_input_error([] { (void)read("name = \"x\"\nschool_hours = [8]\n"); }, 2, "two hours");
}

TEST(Recipe, every_recipe_that_ships_can_be_read) {
    int seen = 0;
    for (const auto& entry : std::filesystem::directory_iterator(test::source_path("regions"))) {
        if (entry.path().extension() != ".toml")
            continue;
        const std::string path = entry.path().string();
        const Recipe r = read_recipe(parse_toml(test::slurp(path), path), path);
        EXPECT_EQ(r.name, entry.path().stem().string());
        // A kind of country has no zone of its own; everything else does.
        const std::set<std::string> kinds{"sparse-grid", "temperate-villages", "mountain-valley"};
        EXPECT_EQ(r.time_zone.empty(), kinds.contains(r.name)) << path;
        EXPECT_LE(r.permit_from_width, r.escort_from_width) << path;
        EXPECT_TRUE(std::filesystem::exists(test::source_path("regions/limits/" + r.limits + ".toml")))
            << path;
        ++seen;
    }
    EXPECT_GE(seen, 6);
}

}  // namespace
}  // namespace loamway
