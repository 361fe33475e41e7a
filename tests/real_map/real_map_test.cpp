// SPDX-License-Identifier: Apache-2.0
// The main job on a real map: Neubrandenburg and its country, map data © OpenStreetMap contributors, ODbL
// 1.0, as Debian ships it in the source package josm (scripts/fetch_maps). Twelve fixed moves are planned;
// each answer is checked against a slower search and against the map's raw tags.

#include <gdal_priv.h>
#include <gtest/gtest.h>
#include <ogrsf_frmts.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <map>
#include <memory>
#include <set>

#include "loamway/build/build.h"
#include "loamway/exchange/tracks.h"
#include "loamway/graph/snap.h"
#include "loamway/graph/vehicle_roads.h"
#include "loamway/plan/inputs.h"
#include "loamway/search/route.h"
#include "support/plain_search.h"
#include "support/test_files.h"

namespace loamway {
namespace {

struct FixedMove {
    double from_lat, from_lon, to_lat, to_lon;
};
constexpr std::array<FixedMove, 12> fixed_moves{{{53.5570, 13.2600, 53.4700, 13.3700},
                                                 {53.4580, 13.1400, 53.5900, 13.3800},
                                                 {53.5960, 13.1400, 53.4600, 13.2500},
                                                 {53.5200, 13.1500, 53.5300, 13.3800},
                                                 {53.4600, 13.3300, 53.5950, 13.2000},
                                                 {53.4750, 13.1700, 53.4800, 13.3600},
                                                 {53.5850, 13.3000, 53.5100, 13.1450},
                                                 {53.5450, 13.3500, 53.4900, 13.1900},
                                                 {53.5000, 13.2500, 53.5900, 13.2700},
                                                 {53.5750, 13.1600, 53.5350, 13.2600},
                                                 {53.5100, 13.3300, 53.5700, 13.1900},
                                                 {53.4650, 13.2000, 53.5600, 13.3600}}};

// Built once: the region goes through its file, as a user's does.
class RealMap : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        folder = std::make_unique<test::TempDir>();
        const std::string extract = std::string(LOAMWAY_MAPS_DIR) + "/neubrandenburg.osm.bz2";
        ASSERT_TRUE(std::filesystem::exists(extract)) << extract << " is missing: run scripts/fetch_maps";
        Recipe recipe;
        recipe.time_zone = "Europe/Berlin";
        const std::string path = folder->path() + "/nb.region";
        write_region(assemble(read_extract(extract, {}), recipe, "nb", {}), path);
        region = std::make_unique<Region>(Region::open(path));
        for (const FixedMove& m : fixed_moves)
            plans.push_back(make_plan(inputs(m)));
    }
    static void TearDownTestSuite() {
        plans.clear();
        region.reset();
        folder.reset();
    }

    static PlanInputs inputs(const FixedMove& m) {
        PlanInputs in;
        in.region = region.get();
        in.from = {"from", GeoPoint::from_degrees(m.from_lat, m.from_lon)};
        in.to = {"to", GeoPoint::from_degrees(m.to_lat, m.to_lon)};
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.depart = parse_time("2026-07-14T09:00", TimeZone("Europe/Berlin"));
        return in;
    }

    static std::unique_ptr<test::TempDir> folder;
    static std::unique_ptr<Region> region;
    static std::vector<Plan> plans;
};
std::unique_ptr<test::TempDir> RealMap::folder;
std::unique_ptr<Region> RealMap::region;
std::vector<Plan> RealMap::plans;

TEST_F(RealMap, LeastHardEqualsAPlainSearch) {
    const RoadGraph graph(region->view());
    int capped = 0;
    for (std::size_t i = 0; i < fixed_moves.size(); ++i) {
        const PlanInputs in = inputs(fixed_moves[i]);
        Moment moment;
        moment.time = TimeZone("Europe/Berlin").local(in.depart);
        moment.daylight = true;
        const VehicleRoads roads(graph, in.machine.vehicle(in.machine.state("")), moment);
        const auto from = snap(roads, in.from.point, in.snap_limit, 0u),
                   to = snap(roads, in.to.point, in.snap_limit, 0u);
        ASSERT_TRUE(from && to);
        std::vector<std::uint32_t> hard(graph.arc_count()), length(graph.arc_count());
        for (std::uint32_t a = 0; a < graph.arc_count(); ++a) {
            length[a] = graph.arc(ArcId{a}).length_dm;
            hard[a] = length[a] * graph.edge(ArcId{a}).odds.hard;
        }
        RouteFinder finder(roads);
        const auto shortest = finder.find(*from, *to, length);
        ASSERT_TRUE(shortest);
        EXPECT_EQ(shortest->length_dm, best_within(roads, *from, *to, length, no_cap) & 0xffffffffu);
        const auto cap =
            static_cast<std::uint64_t>(std::floor(static_cast<double>(shortest->length_dm) * 1.6));
        const auto softest = finder.find(*from, *to, hard, cap);
        ASSERT_TRUE(softest);
        EXPECT_EQ((softest->primary << 32) + softest->length_dm, best_within(roads, *from, *to, hard, cap))
            << "move " << i;
        capped += finder.find(*from, *to, hard)->length_dm > cap ? 1 : 0;
        // And the plan drives that route: its surfaces without the ways in and out of its stops.
        const Option* option = plans[i].find_option("least-hard");
        ASSERT_NE(option, nullptr) << "move " << i;
        const double spurs = *option->length_m - std::round(static_cast<double>(softest->length_dm) / 10);
        EXPECT_GE(spurs, -1) << "move " << i;
        EXPECT_NEAR(*option->hard_m, static_cast<double>(softest->primary) / 2000.0, 1 + spurs)
            << "move " << i;
    }
    EXPECT_GT(capped, 0) << "no move tries the detour cap";
}

TEST_F(RealMap, NoStretchBetweenRelubesIsLongerThanTheInterval) {
    int stops = 0;
    for (const Plan& plan : plans)
        for (const Option& o : plan.options) {
            if (o.mode != Mode::drive || !o.feasible)
                continue;
            double last = 0;
            for (const PlanStop& s : o.stops) {
                EXPECT_LE(s.at_m - last, 15000.0);
                EXPECT_NEAR(s.since_relube_m, s.at_m - last, 0.06);
                last = s.at_m;
                ++stops;
            }
            EXPECT_LE(o.legs.front().length_m - last, 15000.0);
        }
    EXPECT_GT(stops, 10);
}

TEST_F(RealMap, SurfacesAddUp) {
    for (const Plan& plan : plans)
        for (const Option& o : plan.options) {
            if (!o.length_m || o.mode != Mode::drive)
                continue;
            EXPECT_EQ(*o.hard_m + *o.gravel_m + *o.earth_m, *o.length_m);
            EXPECT_LE(*o.hard_low_m, *o.hard_m);
            EXPECT_LE(*o.hard_m, *o.hard_high_m);
            EXPECT_LE(*o.hard_high_m, *o.length_m);
            const auto& runs = o.legs.front().surface_runs;
            ASSERT_FALSE(runs.empty());
            EXPECT_EQ(runs.front().from_m, 0);
            EXPECT_NEAR(runs.back().to_m, *o.length_m, 0.5001);
            for (std::size_t i = 1; i < runs.size(); ++i)
                EXPECT_EQ(runs[i].from_m, runs[i - 1].to_m);
        }
}

// Rules written here once more from the tags themselves, without the program's readers.
bool raw_tags_forbid(const TagView& tags, bool along, bool truck) {
    const auto is = [&](const char* key, std::initializer_list<const char*> values) {
        const auto v = tags.get(key);
        return v && std::any_of(values.begin(), values.end(), [&](const char* w) { return *v == w; });
    };
    const bool ring = is("junction", {"roundabout"});
    if (along && is("oneway", {"-1", "reverse"}))
        return true;
    if (!along && (is("oneway", {"yes", "true", "1"}) || (ring && !is("oneway", {"no"}))))
        return true;
    const char* own = truck ? "hgv" : "agricultural";
    for (const char* key : {own, "motor_vehicle", "vehicle", "access"})
        if (const auto v = tags.get(key)) {
            if (*v == "no")
                return true;
            break;
        }
    if (!truck && is("highway", {"motorway", "motorway_link"}))
        return true;
    if (is("highway", {"footway", "cycleway", "path", "steps", "pedestrian", "bridleway", "construction"}) &&
        !tags.has("motor_vehicle") && !tags.has(own) && !tags.has("vehicle"))
        return true;
    return false;
}

struct DrawnArc {
    EdgeId edge;
    bool along = true;
};

TEST_F(RealMap, EveryDrawnArcAndTurnObeysTheMap) {
    const RoadGraph graph(region->view());
    std::map<std::pair<GeoPoint, GeoPoint>, std::vector<DrawnArc>> drawn;
    for (std::size_t e = 0; e < region->view().edge_count(); ++e) {
        const auto points = region->view().edge_points(EdgeId{e});
        for (std::size_t i = 0; i + 1 < points.size(); ++i) {
            drawn[{points[i], points[i + 1]}].push_back({EdgeId{e}, true});
            drawn[{points[i + 1], points[i]}].push_back({EdgeId{e}, false});
        }
    }
    std::set<std::pair<std::uint32_t, std::uint32_t>> banned;  // no_* over a node, by edge
    for (const RestrictionRecord& r : region->view().restrictions) {
        const TagView tags = graph.tags(TagSetId{r.tag_set});
        if (r.edge_count == 2 && r.only == 0 && !tags.has("except") && tags.has("restriction"))
            banned.insert({region->view().restriction_edges[r.edge_first],
                           region->view().restriction_edges[r.edge_first + 1]});
    }
    EXPECT_GT(banned.size(), 3u);
    std::size_t segments = 0, unmatched = 0;
    for (const Plan& plan : plans)
        for (const Option& o : plan.options) {
            std::optional<std::uint32_t> before;
            for (std::size_t i = 0; i + 1 < o.geometry.size(); ++i) {
                ++segments;
                const auto found = drawn.find({o.geometry[i], o.geometry[i + 1]});
                if (found == drawn.end()) {  // a piece of a segment, at an end or at a stop
                    ++unmatched;
                    before.reset();
                    continue;
                }
                const bool fine =
                    std::any_of(found->second.begin(), found->second.end(), [&](const DrawnArc& d) {
                        return !raw_tags_forbid(graph.tags(d.edge), d.along, o.mode == Mode::haul);
                    });
                EXPECT_TRUE(fine) << o.id << " at " << o.geometry_at_m[i] << " m, way "
                                  << region->view().edge_way[found->second.front().edge.index()];
                const std::uint32_t now = found->second.front().edge.value();
                if (before && *before != now) {
                    EXPECT_FALSE(banned.contains({*before, now})) << o.id << " at " << o.geometry_at_m[i];
                }
                before = now;
            }
        }
    EXPECT_GT(segments, 3000u);
    // Each option has two cut ends; each stop cuts twice more.
    EXPECT_LT(unmatched, 12 * 4 * 10u);
}

double vector_length_m(const OGRGeometry& g) {
    double sum = 0;
    const auto add = [&](const OGRLineString& line) {
        for (int i = 0; i + 1 < line.getNumPoints(); ++i)
            sum += distance(GeoPoint::from_degrees(line.getY(i), line.getX(i)),
                            GeoPoint::from_degrees(line.getY(i + 1), line.getX(i + 1)))
                       .metres();
    };
    if (wkbFlatten(g.getGeometryType()) == wkbLineString)
        add(*g.toLineString());
    else
        for (const OGRLineString* line : *g.toMultiLineString())
            add(*line);
    return sum;
}

TEST_F(RealMap, TracksReadBackThroughGdalWithTheSameLength) {
    GDALAllRegister();
    int compared = 0;
    for (std::size_t i = 0; i < plans.size(); ++i)
        for (const Option& o : plans[i].options) {
            if (o.geometry.empty())
                continue;
            const double expected = o.legs.front().length_m;
            for (const bool gpx : {true, false}) {
                const std::string path = folder->path() + (gpx ? "/t.gpx" : "/t.geojson");
                write_file(path, gpx ? to_gpx(plans[i], o.id) : to_geojson(plans[i], o.id));
                const char* drivers[] = {gpx ? "GPX" : "GeoJSON", nullptr};
                const std::unique_ptr<GDALDataset> data(
                    GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR, drivers));
                ASSERT_TRUE(data) << path;
                OGRLayer* layer = gpx ? data->GetLayerByName("tracks") : data->GetLayer(0);
                ASSERT_NE(layer, nullptr);
                double length = 0;
                for (const auto& feature : *layer)
                    if (const OGRGeometry* g = feature->GetGeometryRef();
                        g != nullptr && wkbFlatten(g->getGeometryType()) != wkbPoint)
                        length += vector_length_m(*g);
                // Rounded to decimetres an edge, and to 1e-7 degree a point.
                EXPECT_NEAR(length, expected, 1 + expected * 2e-4) << "move " << i << " " << o.id;
                ++compared;
            }
        }
    EXPECT_GT(compared, 24);
}

TEST_F(RealMap, MostMovesCanBeDone) {
    int can = 0;
    for (const Plan& plan : plans) {
        can += plan.verdict.option.empty() ? 0 : 1;
        EXPECT_FALSE(plan.verdict.sentence.empty());
        EXPECT_FALSE(plan.cautions.empty());
        EXPECT_EQ(plan.region.attribution, "© OpenStreetMap contributors, ODbL 1.0");
    }
    EXPECT_GE(can, 10);
}

}  // namespace
}  // namespace loamway
