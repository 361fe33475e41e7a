// SPDX-License-Identifier: Apache-2.0
// The region as a whole: every edge can be found in the grid, the file opens, and the same map gives the same
// bytes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "opl_map.h"

namespace loamway::test {
namespace {

/// Roads at random: long and short ones, crossing, some with a feature beside them.
std::string random_map(unsigned seed, int ways, double reach_m) {
    std::mt19937 random(seed);
    const auto up_to = [&](double most) {
        return most * static_cast<double>(random() % 100'000) / 100'000.0;
    };
    OplMap map;
    std::vector<std::int64_t> nodes;
    for (int i = 0; i < ways * 2; ++i)
        nodes.push_back(map.node(up_to(reach_m), up_to(reach_m), i % 17 == 0 ? "barrier=gate" : ""));
    const char* kinds[] = {"highway=track,tracktype=grade3", "highway=tertiary,name=High%20%Street",
                           "highway=service,surface=gravel", "highway=residential",
                           "highway=track,name=Lane"};
    for (int w = 0; w < ways; ++w) {
        std::vector<std::int64_t> line;
        for (auto k = 2 + random() % 6; k > 0; --k)
            line.push_back(nodes[random() % nodes.size()]);
        map.way(line, kinds[random() % std::size(kinds)]);
    }
    for (int i = 0; i < ways / 4; ++i) {
        const double x = up_to(reach_m), y = up_to(reach_m);
        map.box(x, y, x + 40, y + 30, i % 2 == 0 ? "building=yes" : "landuse=farmyard,name=Farm");
        map.node(x, y + 100, "place=hamlet,name=Spot%20%" + std::to_string(i));
    }
    return map.text();
}

std::string region_bytes(const RegionData& region) {
    const TempDir dir;
    write_region(region, dir.file("r.region"));
    return slurp(dir.file("r.region"));
}

/// The edges listed in the cell of a point.
std::span<const std::uint32_t> cell_at(const RegionData& r, GeoPoint p) {
    const auto row = (std::int64_t{p.lat_e7} - r.grid_header[0]) / r.grid_header[2];
    const auto column = (std::int64_t{p.lon_e7} - r.grid_header[1]) / r.grid_header[2];
    EXPECT_TRUE(row >= 0 && row < r.grid_header[3] && column >= 0 && column < r.grid_header[4]);
    const auto cell = static_cast<std::size_t>(row * r.grid_header[4] + column);
    return std::span(r.grid_edges).subspan(r.grid_first[cell], r.grid_first[cell + 1] - r.grid_first[cell]);
}

TEST(WholeRegion, TheGridListsEveryEdgeInTheCellOfEachOfItsPoints) {
    for (const double reach : {300.0, 5'000.0, 200'000.0}) {
        const RegionData r = build_opl(random_map(11, 60, reach));
        ASSERT_EQ(r.grid_header.size(), 5u);
        EXPECT_LE(std::int64_t{r.grid_header[3]} * r.grid_header[4], 4'000'000);
        EXPECT_GE(r.grid_header[2], 45'000);
        for (std::uint32_t e = 0; e < r.edges.size(); ++e) {
            const std::vector<GeoPoint> points = r.view().edge_points(EdgeId(e));
            for (std::size_t i = 1; i < points.size(); ++i)
                for (int k = 0; k <= 20; ++k) {
                    // Along the straight line in degrees, which is what a segment's box is around.
                    const auto between = [k](std::int32_t a, std::int32_t b) {
                        return static_cast<std::int32_t>(a + (std::int64_t{b} - a) * k / 20);
                    };
                    const GeoPoint p{between(points[i - 1].lat_e7, points[i].lat_e7),
                                     between(points[i - 1].lon_e7, points[i].lon_e7)};
                    const auto cell = cell_at(r, p);
                    ASSERT_TRUE(std::ranges::count(cell, e) == 1) << "edge " << e << " of " << reach << " m";
                }
        }
    }
}

TEST(WholeRegion, TheSameMapGivesTheSameBytes) {
    const std::string text = random_map(7, 80, 3'000);
    const std::string bytes = region_bytes(build_opl(text));
    EXPECT_EQ(bytes, region_bytes(build_opl(text)));
    EXPECT_NE(bytes, region_bytes(build_opl(random_map(8, 80, 3'000))));
}

TEST(WholeRegion, TheOrderOfTheFileDoesNotMatter) {
    const std::string text = random_map(9, 80, 3'000);
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at);
        lines.push_back(text.substr(at, end - at + 1));
        at = end + 1;
    }
    std::mt19937 random(10);
    std::ranges::shuffle(lines, random);
    std::string shuffled;
    for (const std::string& line : lines)
        shuffled += line;
    RegionData a = build_opl(text);
    RegionData b = build_opl(shuffled);
    EXPECT_NE(a.meta.source_digest, b.meta.source_digest) << "another file";
    b.meta.source_digest = a.meta.source_digest;
    EXPECT_EQ(region_bytes(a), region_bytes(b));
}

TEST(WholeRegion, OpensAndVerifiesAfterWriting) {
    for (unsigned seed = 20; seed < 30; ++seed) {
        const RegionData r = build_opl(random_map(seed, 40, 2'000));
        const TempDir dir;
        write_region(r, dir.file("r.region"));
        verify_region(dir.file("r.region"));
        const Region region = Region::open(dir.file("r.region"));
        EXPECT_EQ(region.view().edge_count(), r.edges.size());
        EXPECT_EQ(region.meta().name, "tiny");
    }
}

TEST(WholeRegion, RoadsFarApartAndAcrossTheGlobeStillMakeAGrid) {
    const RegionData r = build_opl(
        "n1 x-179.9 y-60\nn2 x-179.8 y-60\nn3 x179.9 y70\nn4 x179.8 y70\n"
        "w10 Thighway=track Nn1,n2\nw11 Thighway=track Nn3,n4\nw12 Thighway=service Nn1,n3\n");
    EXPECT_LE(std::int64_t{r.grid_header[3]} * r.grid_header[4], 4'000'000);
    const TempDir dir;
    write_region(r, dir.file("r.region"));
    EXPECT_EQ(Region::open(dir.file("r.region")).view().edge_count(), 3u);
}

TEST(WholeRegion, ProgressNamesTheStagesAndEndsAtOne) {
    std::vector<std::string> stages;
    double last = 0.0;
    (void)assemble(read_opl("n1 x13.2 y53.5\nn2 x13.3 y53.5\nw10 Thighway=track Nn1,n2\n"), {}, "tiny",
                   [&](std::string_view stage, double fraction) {
                       stages.emplace_back(stage);
                       EXPECT_GE(fraction, last);
                       last = fraction;
                   });
    EXPECT_GE(stages.size(), 5u);
    EXPECT_EQ(last, 1.0);
}

}  // namespace
}  // namespace loamway::test
