// SPDX-License-Identifier: Apache-2.0
// Reading: what is kept from which form, what is refused, and in which words.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "loamway/base/error.h"
#include "loamway/region/digest.h"
#include "opl_map.h"
#include "write_extract.h"

namespace loamway::test {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

constexpr std::string_view small_map =
    "n1 v1 dV c1 t2019-04-01T10:00:00Z i1 uA T x13.200 y53.5\n"
    "n2 v1 dV c1 t2020-02-03T04:05:06Z i1 uA Tbarrier=gate x13.201 y53.5\n"
    "n3 v1 dV c1 t2018-01-01T00:00:00Z i1 uA T x13.202 y53.5\n"
    "n4 v1 dV c1 t2018-01-01T00:00:00Z i1 uA Tplace=hamlet,name=Kr%fc%%f6%gow x13.203 y53.5\n"
    "n5 v1 dV c1 t2018-01-01T00:00:00Z i1 uA T x13.204 y53.5\n"
    "w10 v1 dV c1 t2018-01-01T00:00:00Z i1 uA Thighway=track,name=Lane Nn1,n2,n3\n"
    "w11 v1 dV c1 t2018-01-01T00:00:00Z i1 uA Thighway=footway Nn3,n5\n";

/// What read_extract throws for a file; a failure when it throws nothing.
Error error_for(const std::string& path) {
    try {
        (void)read_extract(path, {});
    } catch (const Error& e) {
        return e;
    }
    ADD_FAILURE() << path << " was read";
    return Error(ErrorKind::internal, "nothing was thrown");
}

std::string many_tracks(int count) {
    std::string text;
    for (int i = 1; i <= count; ++i)
        text += "n" + std::to_string(i) + " v1 x13." + std::to_string(100000 + i) + " y53." +
                std::to_string(500000 + (i * 37) % 1000) + "\n";
    for (int i = 1; i < count; ++i)
        text += "w" + std::to_string(i) + " v1 Thighway=track,name=Lane%20%" + std::to_string(i) + " Nn" +
                std::to_string(i) + ",n" + std::to_string(i + 1) + "\n";
    return text;
}

std::string cut(const std::string& bytes, double share) {
    return bytes.substr(0, static_cast<std::size_t>(static_cast<double>(bytes.size()) * share));
}

TEST(ReadExtract, EveryFormGivesTheSameMap) {
    const TempDir dir;
    for (const char* name : {"m.opl", "m.osm", "m.osm.gz", "m.osm.bz2", "m.osm.pbf", "m.opl.bz2"}) {
        const std::string path = dir.file(name);
        write_extract(small_map, path);
        const RawMap map = read_extract(path, {});
        EXPECT_EQ(map.nodes_read, 5) << name;
        EXPECT_EQ(map.ways_read, 2) << name;
        ASSERT_EQ(map.roads.size(), 1u) << name;
        EXPECT_EQ(map.roads[0].id, 10) << name;
        EXPECT_THAT(map.refs, testing::ElementsAre(1, 2, 3)) << name;
        EXPECT_THAT(map.node_ids, testing::ElementsAre(1, 2, 3)) << name;
        EXPECT_EQ(map.node_points[1], (GeoPoint{535000000, 132010000})) << name;
        ASSERT_EQ(map.tagged_nodes.size(), 2u) << name;
        EXPECT_EQ(map.tagged_nodes[1].id, 4) << name;
        EXPECT_EQ(map.map_date, "2020-02-03T04:05:06Z") << name;
        EXPECT_EQ(map.source_digest, digest_of_file(path)) << name;
        EXPECT_EQ(map.source_digest.size(), 32u) << name;
    }
}

TEST(ReadExtract, TheHeadersDateComesFirst) {
    const TempDir dir;
    write_extract(small_map, dir.file("m.osm.pbf"), "2021-12-31T20:21:22Z");
    EXPECT_EQ(read_extract(dir.file("m.osm.pbf"), {}).map_date, "2021-12-31T20:21:22Z");
}

TEST(ReadExtract, WithoutAnyTimesTheDateIsEmpty) {
    EXPECT_EQ(read_opl("n1 x13.2 y53.5\nn2 x13.3 y53.5\nw10 Thighway=track Nn1,n2\n").map_date, "");
    // The start of 1970 is what tools write that have nothing to write.
    EXPECT_EQ(read_opl("n1 v1 t1970-01-01T00:00:01Z x13.2 y53.5\nn2 x13.3 y53.5\nw10 Thighway=track Nn1,n2\n")
                  .map_date,
              "");
}

TEST(ReadExtract, ProgressGrowsToOne) {
    const TempDir dir;
    write_extract(many_tracks(30000), dir.file("m.osm.pbf"));
    std::vector<double> fractions;
    (void)read_extract(dir.file("m.osm.pbf"), [&](std::string_view stage, double fraction) {
        EXPECT_EQ(stage, "reading the extract");
        fractions.push_back(fraction);
    });
    ASSERT_GT(fractions.size(), 2u);
    EXPECT_TRUE(std::ranges::is_sorted(fractions));
    EXPECT_GT(fractions.front(), 0.0);
    EXPECT_EQ(fractions.back(), 1.0);
}

TEST(ReadExtract, WhatAProgressCallbackThrowsPassesThrough) {
    struct Stopped {};
    const TempDir dir;
    const std::string path = dir.write("m.opl", small_map);
    EXPECT_THROW((void)read_extract(path, [](std::string_view, double) { throw Stopped(); }), Stopped);
}

TEST(ReadExtract, KeepsPiecesOfMultipolygonsWhateverTheyAreTaggedAs) {
    const RawMap map = read_opl(
        "n1 x13.2 y53.5\nn2 x13.3 y53.5\nn3 x13.3 y53.6\nw10 Thighway=track Nn1,n2\n"
        "w11 T Nn1,n2,n3\nw12 Tbarrier=fence Nn3,n1\nw13 T Nn2,n3\n"
        "r1 Ttype=multipolygon,natural=water Mw11@outer,w12@outer\n"
        "r2 Ttype=multipolygon,amenity=cafe Mw13@outer\n");
    ASSERT_EQ(map.areas.size(), 2u);
    EXPECT_EQ(map.areas[0].id, 11);
    EXPECT_EQ(map.areas[1].id, 12);
    EXPECT_EQ(map.multipolygons.size(), 1u);
}

TEST(ReadExtract, RefusesAMissingFile) {
    const Error e = error_for("/no/such/folder/map.osm.pbf");
    EXPECT_EQ(e.kind(), ErrorKind::not_found);
    EXPECT_THAT(e.what(), StartsWith("/no/such/folder/map.osm.pbf: "));
}

TEST(ReadExtract, RefusesAFolder) {
    const TempDir dir;
    std::filesystem::create_directory(dir.file("map.osm.pbf"));
    const Error e = error_for(dir.file("map.osm.pbf"));
    EXPECT_EQ(e.kind(), ErrorKind::input);
    EXPECT_THAT(e.what(), HasSubstr("folder"));
}

TEST(ReadExtract, RefusesAPipeWithoutWaitingForIt) {
    const TempDir dir;
    ASSERT_EQ(::mkfifo(dir.file("map.opl").c_str(), 0600), 0);
    EXPECT_EQ(error_for(dir.file("map.opl")).kind(), ErrorKind::input);
}

TEST(ReadExtract, RefusesNamesThatAreNoLocalPath) {
    // The library below would start another program for the first of these.
    for (const char* path : {"http://example.org/map.osm.pbf", "https://example.org/map.osm",
                             "file:///tmp/map.osm", "ftp://h/m.osm", "/vsizip/a.zip/map.osm", "", "-"}) {
        const Error e = error_for(path);
        EXPECT_TRUE(e.kind() == ErrorKind::input || (e.kind() == ErrorKind::not_found && *path == '-'))
            << path;
    }
}

TEST(ReadExtract, RefusesNamesThatSayNothingOrTooMuch) {
    const TempDir dir;
    for (const char* name : {"map", "map.txt", "map.osc", "map.osh.pbf", "map.osm.json", "map.geojson"}) {
        const Error e = error_for(dir.write(name, small_map));
        EXPECT_EQ(e.kind(), ErrorKind::input) << name;
        EXPECT_FALSE(e.what_to_do().empty()) << name;
    }
}

TEST(ReadExtract, RefusesAnEmptyFile) {
    const TempDir dir;
    for (const char* name : {"m.osm", "m.opl", "m.osm.bz2", "m.osm.gz", "m.osm.pbf"}) {
        const Error e = error_for(dir.write(name, ""));
        EXPECT_EQ(e.kind(), ErrorKind::input) << name;
        EXPECT_THAT(e.what(), HasSubstr("empty")) << name;
    }
}

TEST(ReadExtract, RefusesGarbageInEveryForm) {
    const TempDir dir;
    std::string garbage = "\x7f\x01\xfe garbage ";
    while (garbage.size() < 4096)
        garbage += static_cast<char>((garbage.size() * 131) % 251);
    for (const char* name : {"m.osm", "m.opl", "m.osm.bz2", "m.osm.gz", "m.osm.pbf"}) {
        const Error e = error_for(dir.write(name, garbage));
        EXPECT_EQ(e.kind(), ErrorKind::input) << name << ": " << e.what();
        EXPECT_EQ(e.place().file, dir.file(name));
        EXPECT_THAT(e.what(), testing::Not(HasSubstr("\n")));
    }
}

TEST(ReadExtract, SaysTheLineOfWhatItCannotRead) {
    const TempDir dir;
    const Error xml =
        error_for(dir.write("m.osm", "<?xml version='1.0'?>\n<osm version=\"0.6\">\n<node id=\"1\" lat=\n"));
    EXPECT_THAT(xml.what(), HasSubstr("m.osm"));
    const Error bad =
        error_for(dir.write("n.osm", "<?xml version='1.0'?>\n<osm version=\"0.6\">\n</oops>\n</osm>\n"));
    EXPECT_EQ(bad.kind(), ErrorKind::input);
    EXPECT_EQ(bad.place().line, 3);
    const Error opl = error_for(dir.write("m.opl", "n1 x13.2 y53.5\nn2 x13.3 y53.5\nquite wrong\n"));
    EXPECT_EQ(opl.kind(), ErrorKind::input);
    EXPECT_EQ(opl.place().line, 3);
}

TEST(ReadExtract, SaysWhenAFileOfAnotherFormHasAWrongName) {
    const TempDir dir;
    write_extract(small_map, dir.file("m.osm"));
    std::filesystem::rename(dir.file("m.osm"), dir.file("m.osm.pbf"));
    EXPECT_EQ(error_for(dir.file("m.osm.pbf")).kind(), ErrorKind::input);
    write_extract(small_map, dir.file("p.osm.pbf"));
    std::filesystem::rename(dir.file("p.osm.pbf"), dir.file("p.osm"));
    EXPECT_EQ(error_for(dir.file("p.osm")).kind(), ErrorKind::input);
}

TEST(ReadExtract, CutOffFilesAreDamaged) {
    const TempDir dir;
    const std::string map = many_tracks(8000);
    for (const char* name : {"m.osm", "m.osm.bz2", "m.osm.gz", "m.osm.pbf"}) {
        write_extract(map, dir.file(name));
        const std::string whole = slurp(dir.file(name));
        for (const double share : {0.4, 0.9, 0.999}) {
            const Error e = error_for(dir.write(std::string("cut-") + name, cut(whole, share)));
            EXPECT_EQ(e.kind(), ErrorKind::damaged) << name << " " << share << ": " << e.what();
            EXPECT_FALSE(e.what_to_do().empty());
        }
    }
}

TEST(ReadExtract, AFlippedByteInTheDataIsDamage) {
    const TempDir dir;
    write_extract(many_tracks(8000), dir.file("m.osm.pbf"));
    std::string bytes = slurp(dir.file("m.osm.pbf"));
    bytes[bytes.size() / 2] = static_cast<char>(bytes[bytes.size() / 2] ^ 0x55);
    EXPECT_EQ(error_for(dir.write("flipped.osm.pbf", bytes)).kind(), ErrorKind::damaged);
}

TEST(ReadExtract, RefusesAnExtractWithoutObjects) {
    const TempDir dir;
    write_extract("", dir.file("m.osm.pbf"));
    EXPECT_EQ(error_for(dir.file("m.osm.pbf")).kind(), ErrorKind::input);
    const Error e = error_for(dir.write("m.osm", "<osm version=\"0.6\"></osm>"));
    EXPECT_EQ(e.kind(), ErrorKind::input);
    EXPECT_THAT(e.what(), HasSubstr("no objects"));
}

TEST(ReadExtract, RefusesAnExtractWithoutRoads) {
    const TempDir dir;
    const Error e = error_for(dir.write(
        "m.opl", "n1 x13.2 y53.5\nn2 x13.3 y53.5\nw10 Thighway=footway Nn1,n2\nw11 Tbuilding=yes Nn1,n2\n"));
    EXPECT_EQ(e.kind(), ErrorKind::input);
    EXPECT_THAT(e.what(), HasSubstr("no road that a machine or low-bed could use"));
    EXPECT_FALSE(e.what_to_do().empty());
}

TEST(ReadExtract, TextThatIsNoUtf8IsMendedInTheRegion) {
    const TempDir dir;
    write_extract("n1 x13.2 y53.5\nn2 x13.3 y53.5\nw10 Thighway=track,name=LaneXY Nn1,n2\n",
                  dir.file("raw.osm.pbf"), "", "osm.pbf,pbf_compression=none");
    std::string bytes = slurp(dir.file("raw.osm.pbf"));
    bytes.replace(bytes.find("LaneXY") + 4, 2, "\xff\xfe");
    const std::string path = dir.write("m.osm.pbf", bytes);
    const RegionData r = assemble(read_extract(path, {}), {}, "tiny", {});
    EXPECT_THAT(std::string(text_of(r, r.edges[0].name)), StartsWith("Lane\xef\xbf\xbd"));
}

}  // namespace
}  // namespace loamway::test
