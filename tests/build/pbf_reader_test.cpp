// SPDX-License-Identifier: Apache-2.0
// The direct PBF reader against libosmium's: the same map from every extract and every way of writing one.
// Map data of the real extracts © OpenStreetMap contributors, ODbL 1.0.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <random>

#include "../../src/build/read_extract.h"
#include "../tools/prairie.h"
#include "loamway/base/error.h"
#include "opl_map.h"
#include "same_map.h"
#include "support/read_any_pbf.h"
#include "write_extract.h"

namespace loamway::test {
namespace {

RawMap read_with(const std::string& path, PbfReader reader) {
    return read_extracts(std::span(&path, 1), {}, reader);
}

std::string region_bytes(RawMap map) {
    const TempDir dir;
    write_region(assemble(std::move(map), {}, "same", {}), dir.file("r.region"));
    return slurp(dir.file("r.region"));
}

void expect_same_region(const std::string& path) {
    SCOPED_TRACE(path);
    RawMap direct = read_with(path, PbfReader::direct);
    RawMap oracle = read_with(path, PbfReader::libosmium);
    expect_same_map(direct, oracle);
    EXPECT_EQ(direct.source_digest, oracle.source_digest);
    EXPECT_TRUE(region_bytes(std::move(direct)) == region_bytes(std::move(oracle)));
}

TEST(PbfReader, TheDemoCountyIsTheSame) {
    expect_same_region(source_path("regions/demo/demo.osm.pbf"));
}

TEST(PbfReader, APrairieIsTheSame) {
    const TempDir dir;
    write_prairie(60, 5, dir.file("p.osm.pbf"));
    expect_same_region(dir.file("p.osm.pbf"));
}

TEST(PbfReader, ARealMapIsTheSame) {
    const std::string path = std::string(LOAMWAY_MAPS_DIR) + "/liechtenstein-2013-08-03.osm.pbf";
    ASSERT_TRUE(std::filesystem::exists(path)) << "run scripts/fetch_maps, which fetches " << path;
    expect_same_region(path);
}

/// Objects of all kinds with and without tags, versions, times; deleted ones; ids of either sign, in disorder
/// and twice; positions off the globe; members that are not there.
std::string any_map(unsigned seed, int count) {
    std::mt19937 random(seed);
    const auto below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    const auto meta = [&] {
        std::string text;
        if (below(3) > 0)
            text = " v" + std::to_string(1 + below(9)) + (below(20) == 0 ? " dD" : " dV") + " c1 t20" +
                   std::to_string(10 + below(15)) + "-03-04T05:06:07Z i7 usomebody";
        return text;
    };
    const char* node_tags[] = {"", "", "", "barrier=gate", "place=hamlet,name=Wald", "shop=books"};
    const char* way_tags[] = {"",
                              "highway=track",
                              "highway=residential,name=Gr%fc%n",
                              "building=yes",
                              "natural=water",
                              "barrier=fence",
                              "highway=footway,landuse=farmyard"};
    std::string text;
    for (int i = 0; i < count; ++i)
        text += "n" + std::to_string(below(50) == 0 ? -i : i + 1) + meta() + " T" + node_tags[below(6)] +
                (below(60) == 0 ? std::string(" x y")
                                : " x13." + std::to_string(100000 + below(800000)) + " y53." +
                                      std::to_string(100000 + below(800000))) +
                "\n";
    for (int i = 0; i < count / 2; ++i) {
        text +=
            "w" + std::to_string(below(30) == 0 ? i / 2 : i + 1) + meta() + " T" + way_tags[below(7)] + " N";
        for (int k = below(6); k >= 0; --k)
            text += "n" + std::to_string(1 + below(count + 5)) + (k > 0 ? "," : "");
        text += "\n";
    }
    for (int i = 1; i < count / 10; ++i)
        text +=
            "r" + std::to_string(i) + meta() + " T" +
            (i % 2 == 0 ? "type=restriction,restriction=no_left_turn" : "type=multipolygon,natural=water") +
            " Mw" + std::to_string(below(count)) + (i % 2 == 0 ? "@from,n" : "@outer,n") +
            std::to_string(below(count)) + "@via,r1@\n";
    return text;
}

TEST(PbfReader, EveryWayOfWritingIsTheSame) {
    const TempDir dir;
    unsigned seed = 1;
    for (const char* form : {"pbf", "pbf,pbf_dense_nodes=false", "pbf,pbf_compression=none",
                             "pbf,locations_on_ways=true", "pbf,add_metadata=false",
                             "pbf,add_metadata=timestamp", "pbf,pbf_dense_nodes=false,add_metadata=false"})
        for (const int count : {40, 3000, 20'000}) {
            const std::string path = dir.file("m.osm.pbf");
            write_extract(any_map(seed, count), path, seed % 2 == 0 ? "2022-02-03T04:05:06Z" : "", form);
            SCOPED_TRACE(std::string(form) + " " + std::to_string(count) + " seed " + std::to_string(seed++));
            expect_same_map(read_with(path, PbfReader::direct), read_with(path, PbfReader::libosmium));
        }
}

RawMap read_in_memory(std::string_view bytes, unsigned threads) {
    Collector collector;
    collector.begin_file();
    const OsmFileFacts facts = read_pbf(
        PbfInMemory(bytes), "m.osm.pbf", collector, [](double) {}, threads);
    RawMap map = collector.finish();
    map.map_date = facts.date;
    return map;
}

TEST(PbfReader, AnyNumberOfThreadsGivesTheSame) {
    const TempDir dir;
    write_extract(any_map(77, 60'000), dir.file("m.osm.pbf"));
    const std::string bytes = slurp(dir.file("m.osm.pbf"));
    const RawMap one = read_in_memory(bytes, 1);
    EXPECT_GT(one.nodes_read, 50'000);
    for (const unsigned threads : {2u, 3u, 7u})
        expect_same_map(one, read_in_memory(bytes, threads));
}

/// Of two damaged blocks the first is told of, whichever thread was first.
TEST(PbfReader, TheFirstErrorOfTheFileIsTold) {
    const TempDir dir;
    write_extract(any_map(78, 40'000), dir.file("m.osm.pbf"), "", "pbf,pbf_compression=none");
    const std::string whole = slurp(dir.file("m.osm.pbf"));
    std::string told;
    for (int i = 0; i < 20; ++i)
        try {
            std::string bytes = whole;
            bytes.replace(bytes.find("barrier"), 1, std::string(1, 'b'));
            for (std::size_t at = bytes.size() / 4; at < bytes.size() / 4 + 3000; ++at)
                bytes[at] = '\xff';
            for (std::size_t at = bytes.size() / 2; at < bytes.size() / 2 + 3000; ++at)
                bytes[at] = '\0';
            (void)read_in_memory(bytes, 4);
            ADD_FAILURE() << "was read";
        } catch (const Error& e) {
            if (i == 0)
                told = e.what();
            EXPECT_EQ(told, e.what());
        }
}

}  // namespace
}  // namespace loamway::test
