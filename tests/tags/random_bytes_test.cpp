// SPDX-License-Identifier: Apache-2.0
// Any bytes may stand in a tag. Random ones, words of the map put together at random, and the committed
// corpus of the fuzz target all keep the promises of support/read_all_tags.h.

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include "support/read_all_tags.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using Random = std::mt19937;

std::size_t below(Random& random, std::size_t n) {
    return random() % n;
}

template <std::size_t N>
std::string pick(Random& random, const char* const (&words)[N]) {
    return words[below(random, N)];
}

constexpr const char* stems[] = {"highway",
                                 "service",
                                 "junction",
                                 "surface",
                                 "tracktype",
                                 "smoothness",
                                 "motorroad",
                                 "bridge",
                                 "tunnel",
                                 "covered",
                                 "ford",
                                 "lit",
                                 "winter_road",
                                 "ice_road",
                                 "route",
                                 "access",
                                 "vehicle",
                                 "motor_vehicle",
                                 "agricultural",
                                 "hgv",
                                 "oneway",
                                 "maxweight",
                                 "maxweightrating",
                                 "maxaxleload",
                                 "maxbogieweight",
                                 "maxheight",
                                 "maxheight:physical",
                                 "maxwidth",
                                 "maxlength",
                                 "maxspeed",
                                 "minspeed",
                                 "barrier",
                                 "locked",
                                 "restriction",
                                 "except",
                                 "type",
                                 "name",
                                 "lanes",
                                 "foot",
                                 "width"};
constexpr const char* suffixes[] = {"",
                                    "",
                                    "",
                                    ":forward",
                                    ":backward",
                                    ":hgv",
                                    ":agricultural",
                                    ":conditional",
                                    ":forward:conditional",
                                    ":hgv:conditional",
                                    ":lanes"};
constexpr const char* words[] = {
    "yes",         "no",         "track",        "primary",       "path",    "motorway",     "service",
    "residential", "steps",      "construction", "destination",   "private", "agricultural", "forestry",
    "-1",          "reversible", "asphalt",      "gravel",        "ground",  "grade1",       "grade5",
    "very_bad",    "roundabout", "driveway",     "ferry",         "7.5",     "3.8",          "2.1 m",
    "12'6\"",      "none",       "default",      "below_default", "signals", "30 mph",       "DE:zone:30",
    "gate",        "bollard",    "no_left_turn"};
constexpr const char* pieces[] = {"no",
                                  "yes",
                                  " @ ",
                                  "(",
                                  ")",
                                  ";",
                                  ",",
                                  " AND ",
                                  "Mo-Fr",
                                  "22:00-06:00",
                                  "Nov-Mar",
                                  "Dec 24",
                                  "sunset-sunrise",
                                  "weight>7.5",
                                  "wet",
                                  "PH",
                                  "off",
                                  "7",
                                  "-",
                                  ":",
                                  "'",
                                  "\"",
                                  ".",
                                  "t",
                                  "lbs",
                                  " ",
                                  "destination",
                                  "\xff",
                                  "\n",
                                  "@"};

std::string random_bytes(Random& random) {
    std::string text(below(random, 24), ' ');
    for (char& c : text)
        c = static_cast<char>(random() & 0xff);
    return text;
}

std::string random_value(Random& random) {
    const std::size_t kind = below(random, 8);
    if (kind == 0)
        return random_bytes(random);
    if (kind < 5)
        return pick(random, words);
    std::string text;
    for (std::size_t i = below(random, 9); i > 0; --i)
        text += pick(random, pieces);
    return text;
}

TEST(RandomTags, HundredThousandStringsAsValues) {
    Random random(20260714);
    const VehicleView machine = test::sample_machine();
    const Moment moment = test::sample_moment();
    for (int i = 0; i < 100000; ++i) {
        const std::string value = i % 2 == 0 ? random_bytes(random) : random_value(random);
        const std::string key = pick(random, stems) + pick(random, suffixes);
        const TagView tags{{"highway", "unclassified"}, {key, value}};
        SCOPED_TRACE(value);
        test::check_limit(read_mass(value));
        test::check_limit(read_length(value));
        test::check_limit(read_speed(value));
        test::check_surface(read_surface({{"surface", value}, {"tracktype", value}}, false));
        const ConditionalReading reading = read_conditional("yes", value, machine, moment);
        for (const std::string& flag : reading.flags)
            test::check_text(flag);
        if (read_access(tags, machine, Direction::forward, moment).passage != Passage::deny) {
            ASSERT_TRUE(is_drivable(tags));
        }
        for (const LimitFinding& finding : read_limits(tags, machine, Direction::forward, moment))
            ASSERT_NE(finding.passage, Passage::allow);
    }
}

TEST(RandomTags, WholeRoadsKeepTheirPromises) {
    Random random(4711);
    for (int i = 0; i < 4000; ++i) {
        std::string lines = "highway=" + pick(random, words) + "\n";
        for (std::size_t n = below(random, 9); n > 0; --n) {
            std::string value = random_value(random);
            std::replace(value.begin(), value.end(), '\n', ' ');
            lines += pick(random, stems) + pick(random, suffixes) + "=" + value + "\n";
        }
        SCOPED_TRACE(lines);
        ASSERT_NO_THROW(test::read_all_tags(lines));
    }
}

TEST(RandomTags, LongValuesTakeNoLonger) {
    const auto start = std::chrono::steady_clock::now();
    for (const char* piece : {"(", ")", "((", ";", "@", "no @ (", " AND ", "Mo,", "1,", "9", "'", ".", " "}) {
        std::string value;
        while (value.size() < 50000)
            value += piece;
        test::read_all_tags("highway=track\naccess:conditional=" + value + "\nmaxheight=" + value +
                            "\nsurface=" + value + "\n");
    }
    // Linear work takes a fraction of this; anything quadratic would need hours.
    EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::minutes(2));
}

TEST(RandomTags, CorpusOfTheFuzzTarget) {
    int files = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(test::source_path("tests/fuzz/corpus/tags"))) {
        SCOPED_TRACE(entry.path().filename().string());
        EXPECT_NO_THROW(test::read_all_tags(test::slurp(entry.path().string())));
        ++files;
    }
    EXPECT_GE(files, 18);
}

}  // namespace
}  // namespace loamway
