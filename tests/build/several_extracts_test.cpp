// SPDX-License-Identifier: Apache-2.0
// Extracts that overlap, read as one map.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "loamway/base/error.h"
#include "opl_map.h"
#include "same_map.h"
#include "write_extract.h"

namespace loamway::test {
namespace {

constexpr std::string_view came_again = "objects that an extract named earlier has too";

/// A row of villages: lanes, gates, a lake of two ways, a restriction in each.
std::string villages(int count) {
    std::string nodes, ways, relations;
    const auto n = [](int village, int k) { return std::to_string(village * 10 + k + 1); };
    for (int v = 0; v < count; ++v) {
        for (int k = 0; k < 10; ++k)
            nodes += "n" + n(v, k) + " v1 t2020-01-01T00:00:00Z" + (k == 3 ? " Tbarrier=gate" : " T") +
                     " x13." + std::to_string(200000 + v * 9000 + k * 700) + " y53." +
                     std::to_string(500000 + (k * 37 % 5) * 900) + "\n";
        const auto way = [&](int w, const std::string& tags, std::initializer_list<std::string> list) {
            std::string line;
            for (const std::string& id : list)
                line += (line.empty() ? "n" : ",n") + id;
            ways += "w" + std::to_string(v * 5 + w) + " v1 T" + tags + " N" + line + "\n";
        };
        way(1, "highway=tertiary,name=Road%20%" + std::to_string(v), {n(v, 0), n(v, 1), n(v, 2)});
        way(2, "highway=track,surface=gravel", {n(v, 2), n(v, 3), n(v + 1 < count ? v + 1 : 0, 0)});
        way(3, "", {n(v, 5), n(v, 6), n(v, 7)});
        way(4, "barrier=fence", {n(v, 7), n(v, 8), n(v, 5)});
        way(5, "highway=residential", {n(v, 1), n(v, 4)});
        relations += "r" + std::to_string(v * 2 + 1) + " v1 Ttype=multipolygon,natural=water Mw" +
                     std::to_string(v * 5 + 3) + "@outer,w" + std::to_string(v * 5 + 4) + "@outer\n";
        relations += "r" + std::to_string(v * 2 + 2) + " v1 Ttype=restriction,restriction=no_left_turn Mw" +
                     std::to_string(v * 5 + 1) + "@from,n" + n(v, 1) + "@via,w" + std::to_string(v * 5 + 5) +
                     "@to\n";
    }
    return nodes + ways + relations;
}

/// Lines of the map that `wanted` takes by kind and id.
template <class Wanted>
std::string part_of(const std::string& map, Wanted wanted) {
    std::istringstream lines(map);
    std::string part;
    for (std::string line; std::getline(lines, line);)
        if (wanted(line[0], std::stoi(line.substr(1))))
            part += line + "\n";
    return part;
}

RegionData without_source(RegionData r) {
    r.meta.source_digest = "-";
    r.meta.counts.clear();
    return r;
}

std::string bytes_of(const RegionData& region) {
    const TempDir dir;
    write_region(region, dir.file("r.region"));
    return slurp(dir.file("r.region"));
}

RegionData build_of(const std::vector<std::string>& paths) {
    return assemble(read_extracts(paths, {}), {}, "several", {});
}

TEST(SeveralExtracts, TwoHalvesWithOverlapAreTheWhole) {
    const int count = 30;
    const std::string whole = villages(count);
    // Ways and relations of the overlap are in both; the lakes' relations are in the west only, so that some
    // of their ways come from the east alone.
    const std::string west = part_of(whole, [&](char kind, int id) {
        return kind == 'n' ? id <= 190 : kind == 'w' ? id <= 90 : true;
    });
    const std::string east = part_of(whole, [&](char kind, int id) {
        return kind == 'n' ? id > 110 || id <= 10 : kind == 'w' ? id > 60 : id > 24 && id % 2 == 0;
    });
    const TempDir dir;
    for (const char* form : {"osm.pbf", "opl", "osm.gz"}) {
        const auto file = [&](const std::string& name, const std::string& text) {
            const std::string path = dir.file(name + "." + form);
            write_extract(text, path);
            return path;
        };
        const std::string w = file("west", west), e = file("east", east), all = file("all", whole);
        const RegionData one = build_of({all});
        const RegionData two = build_of({w, e});
        EXPECT_GT(one.restrictions.size(), 20u);
        EXPECT_EQ(count_of(one.meta.counts, came_again), 0);
        // Nodes 1 to 10 and 111 to 190, ways 61 to 90, the restrictions from r26 on.
        EXPECT_EQ(count_of(two.meta.counts, came_again), 90 + 30 + 18) << form;
        EXPECT_TRUE(bytes_of(without_source(one)) == bytes_of(without_source(two))) << form;
        EXPECT_TRUE(bytes_of(without_source(one)) == bytes_of(without_source(build_of({e, w})))) << form;
    }
}

TEST(SeveralExtracts, TheOneNamedFirstWins) {
    const TempDir dir;
    const std::string nodes = "n1 x13.2 y53.5\nn2 x13.3 y53.5\n";
    const std::string a =
        dir.write("a.opl", nodes + "w10 Thighway=track Nn1,n2\nw11 Thighway=footway Nn1,n2\n");
    const std::string b = dir.write("b.opl",
                                    "n1 x14.2 y53.5\nn2 Tbarrier=gate x14.3 y53.5\nn3 x14.4 y53.5\n"
                                    "w10 Thighway=primary Nn2,n3\nw11 Thighway=primary Nn2,n3\n"
                                    "w12 Thighway=service Nn2,n3\n");
    const RawMap ab = read_extracts(std::vector{a, b}, {});
    ASSERT_EQ(ab.roads.size(), 2u);  // w11 is a footway in the first
    EXPECT_EQ(ab.node_points[0], (GeoPoint{535'000'000, 132'000'000}));
    EXPECT_THAT(ab.tagged_nodes, testing::IsEmpty());
    EXPECT_EQ(count_of(ab.counts, came_again), 4);
    EXPECT_EQ(ab.nodes_read, 3);
    const RawMap ba = read_extracts(std::vector{b, a}, {});
    EXPECT_EQ(ba.roads.size(), 3u);
    EXPECT_EQ(ba.tagged_nodes.size(), 1u);
    EXPECT_EQ(count_of(ba.counts, came_again), 4);
}

TEST(SeveralExtracts, SayWhatTheyAreMadeOf) {
    const TempDir dir;
    const std::string map = "n1 x13.2 y53.5\nn2 x13.3 y53.5\nw10 Thighway=track Nn1,n2\n";
    write_extract(map, dir.file("a.osm.pbf"), "2022-02-03T04:05:06Z");
    write_extract(map, dir.file("b.osm.pbf"), "2021-02-03T04:05:06Z");
    const std::vector<std::string> paths{dir.file("a.osm.pbf"), dir.file("b.osm.pbf")};
    std::vector<double> fractions;
    const RawMap both =
        read_extracts(paths, [&](std::string_view, double fraction) { fractions.push_back(fraction); });
    EXPECT_EQ(both.map_date, "2021-02-03T04:05:06Z");
    EXPECT_EQ(both.source_digest,
              read_extract(paths[0], {}).source_digest + "+" + read_extract(paths[1], {}).source_digest);
    EXPECT_TRUE(std::ranges::is_sorted(fractions));
    EXPECT_EQ(fractions.back(), 1.0);
}

TEST(SeveralExtracts, AFaultNamesItsFile) {
    const TempDir dir;
    const std::string good =
        dir.write("a.opl", "n1 x13.2 y53.5\nn2 x13.3 y53.5\nw10 Thighway=track Nn1,n2\n");
    const std::string bad = dir.write("b.opl", "quite wrong\n");
    try {
        (void)read_extracts(std::vector{good, bad}, {});
        FAIL() << "was read";
    } catch (const Error& e) {
        EXPECT_EQ(e.place().file, bad);
    }
    EXPECT_THROW((void)read_extracts({}, {}), Error);
}

}  // namespace
}  // namespace loamway::test
