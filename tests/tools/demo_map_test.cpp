// SPDX-License-Identifier: Apache-2.0
// The committed demo region is what the generator makes, is whole, and holds the situations a demo move
// needs.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <limits>
#include <map>
#include <queue>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "county.h"
#include "decoded_map.h"
#include "support/test_files.h"

namespace loamway {

namespace {

// regions/demo/README.md names the same seed.
constexpr std::uint64_t demo_seed = 16;

const DecodedMap& committed() {
    static const DecodedMap map = decode_map(test::source_path("regions/demo/demo.osm.pbf"));
    return map;
}

template <typename Objects>
int count(const Objects& objects, const std::string& key, const std::string& value) {
    int n = 0;
    for (const auto& [id, object] : objects) {
        for (const auto& [k, v] : object.tags) {
            n += k == key && (value == "*" || v == value) ? 1 : 0;
        }
    }
    return n;
}

std::string tag(const TagList& tags, const std::string& key) {
    for (const auto& [k, v] : tags) {
        if (k == key) {
            return v;
        }
    }
    return {};
}

double metres(const DecodedMap::Node& a, const DecodedMap::Node& b) {
    const double north = (a.lat_e7 - b.lat_e7) * 1e-7 * 111174.7;
    const double east = (a.lon_e7 - b.lon_e7) * 1e-7 * 75771.9;
    return std::sqrt(north * north + east * east);
}

/// A way of the roads a tracked machine may use, and whether it is paved (or may well be).
struct Step {
    std::int64_t to;
    double length;
    bool paved;
};
using Roads = std::map<std::int64_t, std::vector<Step>>;

Roads machine_roads(const DecodedMap& map) {
    const std::set<std::string> paved = {"primary", "secondary", "tertiary", "residential", "living_street"};
    const std::set<std::string> gravel = {"unclassified", "track", "service"};
    const std::set<std::string> hard = {"asphalt", "chipseal", "concrete"};
    Roads roads;
    for (const auto& [id, way] : map.ways) {
        const std::string highway = tag(way.tags, "highway");
        if (!paved.contains(highway) && !gravel.contains(highway)) {
            continue;
        }
        for (std::size_t k = 1; k < way.nodes.size(); ++k) {
            const std::int64_t a = way.nodes[k - 1];
            const std::int64_t b = way.nodes[k];
            const double length = metres(map.nodes.at(a), map.nodes.at(b));
            const bool is_paved = paved.contains(highway) || hard.contains(tag(way.tags, "surface"));
            roads[a].push_back({b, length, is_paved});
            roads[b].push_back({a, length, is_paved});
        }
    }
    return roads;
}

struct Trip {
    double length = 0.0;
    double paved = 0.0;
};

/// The trip that minimises length + extra x paved length.
Trip drive(const Roads& roads, std::int64_t from, std::int64_t to, double extra) {
    struct Label {
        double cost = std::numeric_limits<double>::infinity();
        Trip trip;
    };
    std::map<std::int64_t, Label> labels;
    using Entry = std::pair<double, std::int64_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    labels[from].cost = 0.0;
    queue.emplace(0.0, from);
    while (!queue.empty() && queue.top().second != to) {
        const auto [cost, node] = queue.top();
        queue.pop();
        const Label here = labels[node];
        if (cost > here.cost) {
            continue;
        }
        for (const Step& step : roads.at(node)) {
            const double paved = step.paved ? step.length : 0.0;
            Label& there = labels[step.to];
            if (here.cost + step.length + extra * paved < there.cost) {
                there = {here.cost + step.length + extra * paved,
                         {here.trip.length + step.length, here.trip.paved + paved}};
                queue.emplace(there.cost, step.to);
            }
        }
    }
    return labels[to].trip;
}

std::int64_t road_node_near(const DecodedMap& map, const Roads& roads, const std::string& place) {
    const auto named = [&](const auto& entry) { return tag(entry.second.tags, "name") == place; };
    const auto spot = std::find_if(map.nodes.begin(), map.nodes.end(), named);
    EXPECT_NE(spot, map.nodes.end()) << place;
    std::int64_t best = 0;
    double nearest = std::numeric_limits<double>::infinity();
    for (const auto& [id, steps] : roads) {
        const double away = metres(map.nodes.at(id), spot->second);
        if (away < nearest) {
            nearest = away;
            best = id;
        }
    }
    EXPECT_LT(nearest, 300.0) << place;
    return best;
}

}  // namespace

TEST(DemoMap, CommittedFileIsWhatTheGeneratorMakes) {
    const test::TempDir dir;
    const County county = draw_county(demo_seed);
    write_county(county, dir.file("again.osm.pbf"));
    const DecodedMap again = decode_map(dir.file("again.osm.pbf"));
    // Not byte by byte: another release of the compression library may pack the same content differently.
    EXPECT_TRUE(again.text == committed().text)
        << "regions/demo/demo.osm.pbf must be made again (see its README)";
    EXPECT_EQ(again.generator, committed().generator);
    EXPECT_EQ(test::slurp(test::source_path("regions/demo/places.geojson")), county_places(county));
    const std::string readme = test::slurp(test::source_path("regions/demo/README.md"));
    EXPECT_NE(readme.find("--seed " + std::to_string(demo_seed)), std::string::npos);
}

TEST(DemoMap, HeaderAndIds) {
    EXPECT_EQ(committed().generator, MapFile::generator);
    EXPECT_EQ(committed().timestamp, "2026-05-01T00:00:00Z");
    EXPECT_TRUE(committed().sorted);
    EXPECT_GT(committed().nodes.begin()->first, std::int64_t{1} << 33)
        << "ids should be as long as real ones";
    EXPECT_LT(std::filesystem::file_size(test::source_path("regions/demo/demo.osm.pbf")), 400'000U);
}

TEST(DemoMap, LiesInTheOpenOcean) {
    for (const auto& [id, node] : committed().nodes) {
        ASSERT_GT(node.lat_e7, 470'000'000);
        ASSERT_LT(node.lat_e7, 474'000'000);
        ASSERT_GT(node.lon_e7, -358'000'000);
        ASSERT_LT(node.lon_e7, -352'000'000);
    }
}

TEST(DemoMap, EveryReferenceIsThere) {
    for (const auto& [id, way] : committed().ways) {
        ASSERT_GE(way.nodes.size(), 2U) << "way " << id;
        for (std::size_t k = 0; k < way.nodes.size(); ++k) {
            ASSERT_TRUE(committed().nodes.contains(way.nodes[k])) << "way " << id;
            ASSERT_TRUE(k == 0 || way.nodes[k] != way.nodes[k - 1]) << "way " << id;
        }
    }
    for (const auto& [id, relation] : committed().relations) {
        for (const RelationMember& m : relation.members) {
            ASSERT_TRUE(m.type == 'n' ? committed().nodes.contains(m.id) : committed().ways.contains(m.id));
        }
    }
}

TEST(DemoMap, RoadsHangTogether) {
    Roads roads = machine_roads(committed());
    std::set<std::int64_t> seen{roads.begin()->first};
    std::vector<std::int64_t> open{roads.begin()->first};
    while (!open.empty()) {
        const std::int64_t node = open.back();
        open.pop_back();
        for (const Step& step : roads.at(node)) {
            if (seen.insert(step.to).second) {
                open.push_back(step.to);
            }
        }
    }
    // Only the motorway and the trunk road join some pieces; nothing else is cut off.
    EXPECT_GT(static_cast<double>(seen.size()), 0.99 * static_cast<double>(roads.size()));
}

TEST(DemoMap, RestrictionsMeetAtTheirVia) {
    int restrictions = 0;
    for (const auto& [id, relation] : committed().relations) {
        if (tag(relation.tags, "type") != "restriction") {
            continue;
        }
        ++restrictions;
        ASSERT_EQ(relation.members.size(), 3U);
        const auto ends = [&](const RelationMember& m) {
            if (m.type == 'n') {
                return std::set<std::int64_t>{m.id};
            }
            const auto& nodes = committed().ways.at(m.id).nodes;
            return std::set<std::int64_t>{nodes.front(), nodes.back()};
        };
        for (const std::size_t outer : {std::size_t{0}, std::size_t{2}}) {
            bool meets = false;
            for (const std::int64_t end : ends(relation.members[outer])) {
                meets = meets || ends(relation.members[1]).contains(end);
            }
            EXPECT_TRUE(meets) << "relation " << id << ", " << relation.members[outer].role;
        }
    }
    EXPECT_GE(restrictions, 6);
}

TEST(DemoMap, HoldsWhatMovesMeet) {
    const DecodedMap& map = committed();
    struct Expected {
        const char* key;
        const char* value;
        int nodes;  // at least
        int ways;
    };
    const std::vector<Expected> expected = {{"railway", "level_crossing", 10, 0},
                                            {"crossing:barrier", "half", 2, 0},
                                            {"ford", "yes", 1, 0},
                                            {"barrier", "gate", 10, 0},
                                            {"locked", "yes", 2, 0},
                                            {"barrier", "bollard", 2, 0},
                                            {"barrier", "cattle_grid", 3, 0},
                                            {"barrier", "lift_gate", 2, 0},
                                            {"highway", "passing_place", 5, 0},
                                            {"place", "town", 3, 0},
                                            {"place", "farm", 20, 0},
                                            {"place", "locality", 10, 0},
                                            {"maxweight", "12 t", 0, 1},
                                            {"maxweight", "7.5", 0, 1},
                                            {"maxweight", "unsigned", 0, 1},
                                            {"maxheight", "3.6", 0, 1},
                                            {"maxwidth", "3.5", 0, 1},
                                            {"bridge", "yes", 0, 8},
                                            {"motorroad", "yes", 0, 1},
                                            {"highway", "motorway", 0, 2},
                                            {"highway", "motorway_link", 0, 4},
                                            {"highway", "rest_area", 0, 1},
                                            {"parking", "layby", 0, 5},
                                            {"landuse", "farmyard", 0, 40},
                                            {"landuse", "industrial", 0, 2},
                                            {"landuse", "residential", 0, 6},
                                            {"amenity", "school", 0, 1},
                                            {"power", "minor_line", 0, 3},
                                            {"waterway", "river", 0, 1},
                                            {"natural", "water", 0, 5},
                                            {"surface", "gravle", 0, 3},
                                            {"surface", "gravel;dirt", 0, 2},
                                            {"oneway", "-1", 0, 1},
                                            {"hgv:conditional", "*", 0, 2},
                                            {"tracktype", "grade1", 0, 5},
                                            {"tracktype", "grade5", 0, 5}};
    for (const Expected& e : expected) {
        EXPECT_GE(count(map.nodes, e.key, e.value), e.nodes) << e.key << '=' << e.value << " on nodes";
        EXPECT_GE(count(map.ways, e.key, e.value), e.ways) << e.key << '=' << e.value << " on ways";
    }
    EXPECT_GE(count(map.relations, "restriction", "only_straight_on"), 1);
    EXPECT_GE(count(map.relations, "except", "agricultural"), 1);
}

TEST(DemoMap, ManyGravelRoadsHaveNoSurfaceTag) {
    int roads = 0;
    int without = 0;
    for (const auto& [id, way] : committed().ways) {
        if (tag(way.tags, "highway") == "unclassified" && tag(way.tags, "bridge").empty()) {
            ++roads;
            without += tag(way.tags, "surface").empty() ? 1 : 0;
        }
    }
    EXPECT_GT(roads, 200);
    EXPECT_NEAR(static_cast<double>(without) / roads, 0.6, 0.07);
}

TEST(DemoMap, TheDemoMoveHasAShortPavedAndALongerGravelWay) {
    const Roads roads = machine_roads(committed());
    const std::int64_t from = road_node_near(committed(), roads, "Nettle Farm");
    const std::int64_t to = road_node_near(committed(), roads, "Long Forty");
    const Trip shortest = drive(roads, from, to, 0.0);
    const Trip softest = drive(roads, from, to, 3.0);
    EXPECT_GT(shortest.length, 25'000.0);
    EXPECT_LT(shortest.length, 30'000.0);
    EXPECT_GT(shortest.paved, 0.85 * shortest.length);
    EXPECT_GT(softest.length, 1.15 * shortest.length);
    EXPECT_LT(softest.length, 1.6 * shortest.length) << "the gravel way must lie under the usual detour cap";
    EXPECT_LT(softest.paved, 0.15 * softest.length);
}

TEST(DemoMap, AnotherSeedIsAnotherCounty) {
    const test::TempDir dir;
    write_county(draw_county(demo_seed + 1), dir.file("other.osm.pbf"));
    const DecodedMap other = decode_map(dir.file("other.osm.pbf"));
    EXPECT_TRUE(other.sorted);
    EXPECT_FALSE(other.text == committed().text);
}

}  // namespace loamway
