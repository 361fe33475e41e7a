// SPDX-License-Identifier: Apache-2.0
// Facts measured on two real maps with other tools (counts with osmium-tool, lengths on the ellipsoid),
// before this reader existed. Map data © OpenStreetMap contributors, ODbL 1.0; scripts/fetch_maps fetches the
// maps.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <map>
#include <set>

#include "loamway/build/build.h"
#include "loamway/tags/access.h"
#include "opl_map.h"
#include "plain_map.h"

namespace loamway::test {
namespace {

struct RealMap {
    std::vector<PlainWay> plain;
    RawMap raw;
    RegionData region;
};

/// Reads and assembles a map once. A missing map is a failure: these facts must be checked.
const RealMap* real_map(const std::string& file) {
    static std::map<std::string, RealMap> maps;
    const std::string path = std::string(LOAMWAY_MAPS_DIR) + "/" + file;
    if (!std::filesystem::exists(path)) {
        ADD_FAILURE() << path << " is not there: run scripts/fetch_maps, which fetches it, and build again";
        return nullptr;
    }
    const auto [at, is_new] = maps.try_emplace(file);
    if (is_new) {
        at->second.plain = read_plain_highways(path);
        at->second.raw = read_extract(path, {});
        at->second.region = assemble(at->second.raw, {}, file, {});
    }
    return &at->second;
}

constexpr const char* neubrandenburg = "neubrandenburg.osm.bz2";
constexpr const char* liechtenstein = "liechtenstein-2013-08-03.osm.pbf";

std::string value_of(const RegionData& r, std::uint32_t edge, std::string_view key) {
    const std::uint32_t set = r.edges[edge].tag_set;
    for (std::uint32_t i = r.tag_set_first[set]; i < r.tag_set_first[set + 1]; i += 2)
        if (text_of(r, r.tag_set_strings[i]) == key)
            return std::string(text_of(r, r.tag_set_strings[i + 1]));
    return {};
}

const std::set<std::string> road_classes{"motorway",   "trunk",        "primary",        "secondary",
                                         "tertiary",   "unclassified", "residential",    "living_street",
                                         "service",    "track",        "road",           "motorway_link",
                                         "trunk_link", "primary_link", "secondary_link", "tertiary_link"};

/// Kilometres of the road classes, and of tracks by tracktype 1 to 5 and without one.
struct Kilometres {
    double all = 0.0;
    std::array<double, 6> tracks{};

    void add(const std::string& highway, const std::string& type, double km) {
        if (road_classes.contains(highway))
            all += km;
        const bool graded = type.size() == 6 && type.starts_with("grade") && type[5] >= '1' && type[5] <= '5';
        if (highway == "track")
            tracks[graded ? static_cast<std::size_t>(type[5] - '1') : 5] += km;
    }
};

Kilometres km_of(const RegionData& r) {
    Kilometres sum;
    for (std::uint32_t e = 0; e < r.edges.size(); ++e)
        sum.add(value_of(r, e, "highway"), value_of(r, e, "tracktype"), r.edges[e].length_dm / 10000.0);
    return sum;
}

/// Of all ways, or of those that some vehicle may drive on.
Kilometres km_of(const std::vector<PlainWay>& ways, bool only_drivable) {
    Kilometres sum;
    for (const PlainWay& way : ways)
        if (!only_drivable || is_drivable(way.view()))
            sum.add(way.value("highway"), way.value("tracktype"), polyline_length(way.points).km());
    return sum;
}

/// Nodes of the extract with this tag, on roads or not.
std::int64_t nodes_with(const RawMap& map, std::string_view key, std::string_view value) {
    return std::ranges::count_if(map.tagged_nodes, [&](const RawMap::Node& n) {
        return std::ranges::any_of(map.tags.get(n.tags), [&](const RawTag& tag) {
            return map.strings.get(tag.first) == key && map.strings.get(tag.second) == value;
        });
    });
}

/// Ways of the road classes with this key.
std::int64_t roads_with(const std::vector<PlainWay>& ways, const std::string& key, bool only_drivable) {
    return std::ranges::count_if(ways, [&](const PlainWay& way) {
        return road_classes.contains(way.value("highway")) && !way.value(key).empty() &&
               (!only_drivable || is_drivable(way.view()));
    });
}

std::int64_t roads_with(const RawMap& map, std::string_view key) {
    return std::ranges::count_if(map.roads, [&](const RawMap::Way& way) {
        bool has_key = false;
        bool has_class = false;
        for (const RawTag& tag : map.tags.get(way.tags)) {
            has_key = has_key || map.strings.get(tag.first) == key;
            has_class = has_class || (map.strings.get(tag.first) == "highway" &&
                                      road_classes.contains(std::string(map.strings.get(tag.second))));
        }
        return has_key && has_class;
    });
}

/// The sum that was published was measured on a sphere and without areas (plazas).
double km_of_lines_on_a_sphere(const std::vector<PlainWay>& ways) {
    constexpr double radius_km = 6371.0088;
    constexpr double radians = 3.14159265358979323846 / 180.0;
    double km = 0.0;
    for (const PlainWay& way : ways) {
        if (!road_classes.contains(way.value("highway")) || way.value("area") == "yes")
            continue;
        for (std::size_t i = 1; i < way.points.size(); ++i) {
            const GeoPoint a = way.points[i - 1], b = way.points[i];
            const double east = (b.lon() - a.lon()) * std::cos((a.lat() + b.lat()) / 2 * radians);
            km += radius_km * radians * std::hypot(east, b.lat() - a.lat());
        }
    }
    return km;
}

/// The published facts are about every way of a class, also the few that nobody may drive on; the region has
/// those that somebody may. Lengths of a region are sums of edges rounded to the decimetre.
void expect_km(const RealMap& m, double all, const std::array<int, 6>& tracks) {
    const Kilometres plain = km_of(m.plain, false);
    const Kilometres drivable = km_of(m.plain, true);
    const Kilometres region = km_of(m.region);
    EXPECT_NEAR(km_of_lines_on_a_sphere(m.plain), all, 0.6);
    EXPECT_NEAR(region.all, drivable.all, 0.1);
    EXPECT_GT(region.all, 0.99 * plain.all);
    for (std::size_t i = 0; i < tracks.size(); ++i) {
        EXPECT_NEAR(plain.tracks[i], tracks[i], 0.6) << i;
        EXPECT_NEAR(region.tracks[i], drivable.tracks[i], 0.05) << i;
    }
}

TEST(RealMap, NeubrandenburgCounts) {
    const RealMap* m = real_map(neubrandenburg);
    ASSERT_NE(m, nullptr);
    EXPECT_EQ(m->raw.nodes_read, 152'087);
    EXPECT_EQ(m->raw.ways_read, 25'897);
    EXPECT_EQ(nodes_with(m->raw, "barrier", "gate"), 142);
    EXPECT_EQ(nodes_with(m->raw, "barrier", "bollard"), 45);
    EXPECT_EQ(m->raw.restrictions.size(), 19u);
    EXPECT_EQ(m->raw.map_date, "2016-02-10T20:41:25Z");
}

TEST(RealMap, NeubrandenburgLengths) {
    const RealMap* m = real_map(neubrandenburg);
    ASSERT_NE(m, nullptr);
    expect_km(*m, 1117, {7, 62, 96, 31, 19, 137});
}

TEST(RealMap, LiechtensteinCounts) {
    const RealMap* m = real_map(liechtenstein);
    ASSERT_NE(m, nullptr);
    EXPECT_EQ(m->raw.nodes_read, 65'733);
    EXPECT_EQ(m->raw.ways_read, 7'121);
    EXPECT_EQ(roads_with(m->raw, "maxweight"), 3);
    EXPECT_EQ(roads_with(m->plain, "maxweight", false), 3);
    EXPECT_EQ(m->raw.map_date, "2013-08-03T19:00:02Z");
}

TEST(RealMap, LiechtensteinLengths) {
    const RealMap* m = real_map(liechtenstein);
    ASSERT_NE(m, nullptr);
    expect_km(*m, 773, {55, 68, 81, 33, 4, 139});
    EXPECT_EQ(roads_with(m->plain, "bridge", false), 86);
    EXPECT_EQ(roads_with(m->raw, "bridge"), roads_with(m->plain, "bridge", true));
}

/// What the region says of itself must hold on real data too.
TEST(RealMap, RegionsAreWhole) {
    for (const char* file : {neubrandenburg, liechtenstein}) {
        const RealMap* m = real_map(file);
        ASSERT_NE(m, nullptr);
        const TempDir dir;
        write_region(m->region, dir.file("r.region"));
        verify_region(dir.file("r.region"));
        const Region region = Region::open(dir.file("r.region"));
        EXPECT_EQ(region.view().edge_count(), m->region.edges.size());
        // Most of a road network hangs together.
        const auto in_largest = std::ranges::count(m->region.component, 0u);
        EXPECT_GT(in_largest, static_cast<std::ptrdiff_t>(m->region.component.size() * 9 / 10)) << file;
        // A country lane every few hundred metres must offer a place to stand now and then.
        EXPECT_GT(m->region.stop_places.size(), 100u) << file;
        for (const StopPlaceRecord& s : m->region.stop_places) {
            const std::vector<GeoPoint> line = m->region.view().edge_points(EdgeId(s.edge));
            EXPECT_LT(project({s.lat_e7, s.lon_e7}, line).distance.metres(), 30.5) << file;
            EXPECT_GE(s.score, 2);
        }
    }
}

}  // namespace
}  // namespace loamway::test
