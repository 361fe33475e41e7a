// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/recipe.h"

#include <gtest/gtest.h>

#include <filesystem>

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
}

TEST(Recipe, faults_are_placed) {
    expect_input_error([] { (void)read("odds_factor = 1\n"); }, 1, "name");
    expect_input_error([] { (void)read("name = \"x\"\ntime_zone = \"Europe/Nowhere\"\n"); }, 2,
                       "Europe/Nowhere");
    expect_input_error([] { (void)read("name = \"x\"\nodds_factor = 0\n"); }, 2, "odds_factor");
    expect_input_error([] { (void)read("name = \"x\"\nlimits = \"../a\"\n"); }, 2, "a name, not a file");
    expect_input_error([] { (void)read("name = \"x\"\nunits = \"metrical\"\n"); }, 2, "metric");
    expect_input_error([] { (void)read("name = \"x\"\nnational_hight_m = 4\n"); }, 2, "national_height_m");
}

TEST(Recipe, every_recipe_that_ships_can_be_read) {
    int seen = 0;
    for (const auto& entry : std::filesystem::directory_iterator(test::source_path("regions"))) {
        if (entry.path().extension() != ".toml")
            continue;
        const std::string path = entry.path().string();
        const Recipe r = read_recipe(parse_toml(test::slurp(path), path), path);
        EXPECT_EQ(r.name, entry.path().stem().string());
        EXPECT_FALSE(r.time_zone.empty()) << path;
        EXPECT_LE(r.permit_from_width, r.escort_from_width) << path;
        EXPECT_TRUE(std::filesystem::exists(test::source_path("regions/limits/" + r.limits + ".toml"))) << path;
        ++seen;
    }
    EXPECT_GE(seen, 3);
}

}  // namespace
}  // namespace loamway
