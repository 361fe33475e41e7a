// SPDX-License-Identifier: Apache-2.0
#include "prairie.h"

#include <gtest/gtest.h>

#include <map>
#include <set>
#include <stdexcept>

#include "decoded_map.h"
#include "random.h"
#include "support/test_files.h"

namespace loamway {

namespace {

struct RoadCount {
    std::size_t junctions_and_ends = 0;
    std::size_t arcs = 0;
};

RoadCount count_roads(const DecodedMap& map) {
    std::map<std::int64_t, std::size_t> degree;
    for (const auto& [id, way] : map.ways) {
        if (way.tags.front().first != "highway") {
            continue;
        }
        for (std::size_t k = 1; k < way.nodes.size(); ++k) {
            ++degree[way.nodes[k - 1]];
            ++degree[way.nodes[k]];
        }
    }
    RoadCount count;
    for (const auto& [node, d] : degree) {
        if (d != 2) {
            ++count.junctions_and_ends;
            count.arcs += d;  // every edge is counted at both ends: once a direction
        }
    }
    return count;
}

DecodedMap prairie(std::uint32_t sections, std::uint64_t seed) {
    const test::TempDir dir;
    const PrairieCount count = write_prairie(sections, seed, dir.file("grid.osm.pbf"));
    DecodedMap map = decode_map(dir.file("grid.osm.pbf"));
    EXPECT_EQ(count.nodes, map.nodes.size());
    EXPECT_EQ(count.ways, map.ways.size());
    return map;
}

}  // namespace

// The benchmark family s100k: 110 x 110 sections, 0.1 M nodes, 21 k junctions and ends, 72 k directed arcs.
TEST(Prairie, HasTheSizeTheBenchmarksAreWrittenFor) {
    const DecodedMap map = prairie(110, 1);
    EXPECT_NEAR(static_cast<double>(map.nodes.size()), 100'000.0, 5'000.0);
    const RoadCount count = count_roads(map);
    EXPECT_NEAR(static_cast<double>(count.junctions_and_ends), 21'000.0, 2'000.0);
    EXPECT_NEAR(static_cast<double>(count.arcs), 72'000.0, 5'000.0);
}

TEST(Prairie, IsWholeAndSorted) {
    const DecodedMap map = prairie(70, 3);
    EXPECT_TRUE(map.sorted);
    EXPECT_EQ(map.generator, MapFile::generator);
    std::set<std::string> kinds;
    bool bridge = false;
    for (const auto& [id, way] : map.ways) {
        ASSERT_GE(way.nodes.size(), 2U);
        for (const std::int64_t node : way.nodes) {
            ASSERT_TRUE(map.nodes.contains(node)) << "way " << id;
        }
        kinds.insert(way.tags.front().second);
        bridge = bridge || (way.tags.size() > 2 && way.tags[way.tags.size() - 2].first == "bridge");
    }
    for (const char* kind : {"primary", "unclassified", "track", "residential", "river"}) {
        EXPECT_TRUE(kinds.contains(kind)) << kind;
    }
    EXPECT_TRUE(bridge);
}

TEST(Prairie, SameSeedSameMap) {
    EXPECT_TRUE(prairie(20, 5).text == prairie(20, 5).text);
    EXPECT_FALSE(prairie(20, 5).text == prairie(20, 6).text);
}

TEST(Prairie, RefusesSizesItCannotMake) {
    const test::TempDir dir;
    EXPECT_THROW(write_prairie(1, 1, dir.file("a.osm.pbf")), std::invalid_argument);
    EXPECT_THROW(write_prairie(2001, 1, dir.file("a.osm.pbf")), std::invalid_argument);
    EXPECT_EQ(dir.entries(), 0U);
}

// First outputs of splitmix64 from state 0 (value from memory): the maps depend on them on every machine.
TEST(Random, IsSplitmix64) {
    EXPECT_EQ(mix64(0), 0xe220a8397b1dcdafULL);
    EXPECT_EQ(mix64(0x9e3779b97f4a7c15ULL), 0x6e789e6aa1b965f4ULL);
}

TEST(Random, StreamsDiffer) {
    Random one(1, "one");
    Random other(1, "other");
    Random again(1, "one");
    const std::uint64_t first = one.next();
    EXPECT_NE(first, other.next());
    EXPECT_EQ(first, again.next());
}

}  // namespace loamway
