// SPDX-License-Identifier: Apache-2.0
// Vector tiles of the demo region and of a real map, read back by GDAL and compared with the region.
#include "tile.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <set>
#include <thread>

#include "loamway/base/error.h"
#include "loamway/build/build.h"
#include "loamway/region/region_window.h"
#include "read_tile.h"
#include "support/test_files.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using test::mercator;
using test::read_tile;
using test::ReadTile;
using test::tile_at;
using test::tile_box;
using test::TileFeature;
using test::unit_metres;

Region built(const std::string& extract) {
    return Region::from_data(assemble(read_extract(extract, {}), Recipe(), "test", {}));
}

/// The tiles of a zoom that the region's roads touch.
std::vector<TileId> tiles_of(const RegionView& r, int z) {
    std::set<std::pair<std::uint32_t, std::uint32_t>> found;
    for (std::size_t n = 0; n < r.node_count(); ++n) {
        const TileId id = tile_at(r.node_point(NodeId(n)), z);
        found.emplace(id.y, id.x);
    }
    std::vector<TileId> out;
    for (const auto& [y, x] : found)
        out.push_back({z, x, y});
    return out;
}

OGRLineString line_of(const RegionView& r, std::uint32_t edge) {
    OGRLineString out;
    for (const GeoPoint p : r.edge_points(EdgeId(edge)))
        out.addPoint(mercator(p).x, mercator(p).y);
    return out;
}

OGRPolygon box_of(const TileId& id, double buffer_units) {
    const auto [west, south, east, north] = tile_box(id, buffer_units);
    OGRLinearRing ring;
    for (const auto& [x, y] : {std::pair{west, south}, {east, south}, {east, north}, {west, north}})
        ring.addPoint(x, y);
    ring.closeRings();
    OGRPolygon out;
    out.addRing(&ring);
    return out;
}

/// How far the points of one line lie from another.
double farthest(const OGRGeometry& points, const OGRGeometry& line) {
    double most = 0;
    const auto look = [&](const OGRLineString& l) {
        for (const OGRPoint& p : l)
            most = std::max(most, p.Distance(&line));
    };
    if (wkbFlatten(points.getGeometryType()) == wkbLineString)
        look(*points.toLineString());
    else if (wkbFlatten(points.getGeometryType()) == wkbMultiLineString)
        for (const OGRLineString* l : *points.toMultiLineString())
            look(*l);
    return most;
}

class MapTiles : public ::testing::TestWithParam<const char*> {
protected:
    void SetUp() override {
        const std::string extract = GetParam();
        ASSERT_TRUE(std::filesystem::exists(extract)) << extract << " is missing: run scripts/fetch_maps";
        static std::map<std::string, Region> regions;  // each built once
        auto at = regions.find(extract);
        if (at == regions.end())
            at = regions.emplace(extract, built(extract)).first;
        m_region = &at->second;
        m_maker = std::make_unique<TileMaker>(m_region->view());
    }
    /// Roads that a tile must hold: more than two units of them lie in it.
    std::set<std::uint32_t> roads_in(const TileId& id) const {
        const RegionView& r = m_region->view();
        const auto [west, south, east, north] = tile_box(id);
        const OGRPolygon box = box_of(id, 0);
        std::set<std::uint32_t> out;
        for (std::uint32_t e = 0; e < r.edge_count(); ++e) {
            const OGRLineString line = line_of(r, e);
            OGREnvelope env;
            line.getEnvelope(&env);
            if (env.MaxX < west || env.MinX > east || env.MaxY < south || env.MinY > north)
                continue;
            const std::unique_ptr<OGRGeometry> part(line.Intersection(&box));
            const double length = part == nullptr ? 0
                                  : wkbFlatten(part->getGeometryType()) == wkbLineString
                                      ? part->toLineString()->get_Length()
                                      : OGR_G_Length(OGRGeometry::ToHandle(part.get()));
            if (length > 2 * unit_metres(id.z))
                out.insert(e);
        }
        return out;
    }

    const Region* m_region = nullptr;
    std::unique_ptr<TileMaker> m_maker;
};

TEST_P(MapTiles, HoldEveryRoadWhereItLies) {
    const RegionView& r = m_region->view();
    const std::vector<TileId> tiles = tiles_of(r, 14);
    ASSERT_GT(tiles.size(), 10u);
    std::size_t roads = 0;
    for (std::size_t t = 0; t < tiles.size(); t += std::max<std::size_t>(1, tiles.size() / 25)) {
        const TileId id = tiles[t];
        SCOPED_TRACE(std::to_string(id.x) + "/" + std::to_string(id.y));
        const ReadTile tile = read_tile(m_maker->make(nullptr, id), id);
        std::set<std::uint32_t> missing = roads_in(id);
        roads += missing.size();
        const OGRPolygon box = box_of(id, 63);
        for (const TileFeature& f : tile.at("roads")) {
            const auto e = static_cast<std::uint32_t>(std::stoul(f.fields.at("edge")));
            const OGRLineString line = line_of(r, e);
            EXPECT_LE(farthest(*f.geometry, line), unit_metres(14)) << e;
            const std::unique_ptr<OGRGeometry> inside(line.Intersection(&box));
            EXPECT_LE(farthest(*inside, *f.geometry), 1.5 * unit_metres(14)) << e;
            const EdgeRecord& edge = r.edges[e];
            EXPECT_EQ(f.fields.at("class"), name_of(edge.odds.likeliest()));
            EXPECT_EQ(f.fields.at("known"), (edge.flags & edge_flag::known) != 0 ? "1" : "0");
            EXPECT_EQ(f.fields.at("bridge"), (edge.flags & edge_flag::bridge) != 0 ? "1" : "0");
            EXPECT_EQ(f.fields.at("tunnel"), (edge.flags & edge_flag::tunnel) != 0 ? "1" : "0");
            EXPECT_EQ(f.fields.at("rank"), std::to_string(road_rank(r, edge.tag_set)));
            EXPECT_EQ(f.fields.count("name") != 0 ? f.fields.at("name") : "", r.string(edge.name));
            missing.erase(e);
        }
        EXPECT_TRUE(missing.empty()) << missing.size() << " missing, first " << *missing.begin();
    }
    EXPECT_GT(roads, 100u);
}

TEST_P(MapTiles, AreasAreValidAndCoverWhatTheyShould) {
    const RegionView& r = m_region->view();
    std::size_t polygons = 0;
    for (const int z : {0, 7, 9, 11, 12, 14}) {
        const std::vector<TileId> tiles = tiles_of(r, z);
        for (std::size_t t = 0; t < tiles.size(); t += std::max<std::size_t>(1, tiles.size() / 30)) {
            const TileId id = tiles[t];
            SCOPED_TRACE(std::to_string(z) + "/" + std::to_string(id.x) + "/" + std::to_string(id.y));
            const std::string bytes = m_maker->make(nullptr, id);
            if (bytes.empty())
                continue;
            const ReadTile tile = read_tile(bytes, id);
            if (!tile.contains("ground"))
                continue;
            for (const TileFeature& f : tile.at("ground")) {
                EXPECT_TRUE(f.geometry->IsValid());
                EXPECT_GT(OGR_G_Area(OGRGeometry::ToHandle(f.geometry.get())), 0);
                ++polygons;
            }
        }
    }
    EXPECT_GT(polygons, 30u);
}

TEST_P(MapTiles, WaterIsAsLargeAsOnTheMap) {
    const RegionView& r = m_region->view();
    double on_map = 0, on_tiles = 0;
    for (const TileId& id : tiles_of(r, 13)) {
        const OGRPolygon box = box_of(id, 64);
        for (const BackgroundRecord& b : r.background) {
            if (b.kind != BackgroundKind::water_area)
                continue;
            OGRLinearRing ring;
            for (const GeoPoint p : points_of(r, b))
                ring.addPoint(mercator(p).x, mercator(p).y);
            ring.closeRings();
            OGRPolygon area;
            area.addRing(&ring);
            if (!area.IsValid())
                continue;
            const std::unique_ptr<OGRGeometry> part(area.Intersection(&box));
            on_map += OGR_G_Area(OGRGeometry::ToHandle(part.get()));
        }
        const ReadTile tile = read_tile(m_maker->make(nullptr, id), id);
        if (tile.contains("ground"))
            for (const TileFeature& f : tile.at("ground"))
                if (f.fields.at("kind") == "water")
                    on_tiles += OGR_G_Area(OGRGeometry::ToHandle(f.geometry.get()));
    }
    EXPECT_GT(on_map, 0);
    EXPECT_NEAR(on_tiles, on_map, 0.02 * on_map);
}

TEST_P(MapTiles, StaySmallAndTheSame) {
    std::size_t largest = 0;
    for (int z = 0; z < 12; ++z)
        for (const TileId& id : tiles_of(m_region->view(), z)) {
            const std::string bytes = m_maker->make(nullptr, id);
            largest = std::max(largest, bytes.size());
            EXPECT_EQ(bytes, make_tile(m_region->view(), nullptr, id));
        }
    EXPECT_LT(largest, 150'000u);
    EXPECT_GT(largest, 1'000u);
    const TileId id = tiles_of(m_region->view(), 12).front();
    const std::string once = m_maker->make(nullptr, id);
    std::vector<std::string> more(4);
    {
        std::vector<std::jthread> threads;
        for (std::string& m : more)
            threads.emplace_back([&m, &id, this] { m = m_maker->make(nullptr, id); });
    }
    for (const std::string& m : more)
        EXPECT_EQ(m, once);
}

INSTANTIATE_TEST_SUITE_P(Maps, MapTiles,
                         ::testing::Values(LOAMWAY_SOURCE_DIR "/regions/demo/demo.osm.pbf",
                                           LOAMWAY_MAPS_DIR "/neubrandenburg.osm.bz2"),
                         [](const auto& map) { return map.index == 0 ? "Demo" : "Real"; });

class DrawnTiles : public ::testing::Test {
protected:
    static constexpr double lat = 53.5, lon = 13.2;
    const TileId m_here = tile_at(GeoPoint::from_degrees(lat, lon), 14);
};

TEST_F(DrawnTiles, OddNamesArriveWhole) {
    TinyMap m;
    const auto a = m.node(lat, lon), b = m.node(lat, lon + 0.002);
    const std::vector<std::string> names{"\"Quoted\" \\ Lane", "L\xC3\xA4nge \xE8\xB7\xAF \xF0\x9F\x9A\x9C",
                                         "two\nlines", "<b>&amp;", std::string(3000, 'x')};
    for (const std::string& name : names)
        m.edge(a, b, {{"highway", "track"}}, {0, 200, 0}, true, name);
    const Region region = Region::from_data(m.build());
    const ReadTile tile = read_tile(make_tile(region.view(), nullptr, m_here), m_here);
    std::set<std::string> read;
    for (const TileFeature& f : tile.at("roads"))
        read.insert(f.fields.at("name"));
    EXPECT_EQ(read, std::set<std::string>(names.begin(), names.end()));
}

TEST_F(DrawnTiles, FarTilesAreEmptyAndWrongOnesRefused) {
    TinyMap m;
    m.edge(m.node(lat, lon), m.node(lat, lon + 0.002));
    const Region region = Region::from_data(m.build());
    EXPECT_FALSE(make_tile(region.view(), nullptr, m_here).empty());
    for (const TileId id :
         {TileId{14, 0, 0}, TileId{14, 16383, 16383}, TileId{15, 100, 200}, TileId{1, 0, 0}})
        EXPECT_EQ(make_tile(region.view(), nullptr, id), "");
    for (const TileId id : {TileId{-1, 0, 0}, TileId{16, 0, 0}, TileId{0, 1, 0}, TileId{0, 0, 1},
                            TileId{3, 8, 0}, TileId{15, 32768, 0}, TileId{40, 0, 0}})
        try {
            static_cast<void>(make_tile(region.view(), nullptr, id));
            ADD_FAILURE() << id.z << "/" << id.x << "/" << id.y;
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::input);
        }
}

TEST_F(DrawnTiles, RoadsThatMatterAreThereFromAfar) {
    TinyMap m;
    const auto a = m.node(lat, lon), b = m.node(lat, lon + 0.05), c = m.node(lat + 0.05, lon + 0.1);
    m.edge(a, b, {{"highway", "motorway"}}, {200, 0, 0});
    m.edge(b, c, {{"highway", "motorway"}}, {200, 0, 0});
    m.edge(a, c, {{"highway", "track"}});
    const Region region = Region::from_data(m.build());
    for (const int z : {5, 8, 11, 12}) {
        const TileId id = tile_at(region.view().node_point(NodeId(1u)), z);
        std::multiset<std::string> ranks;
        const auto layers = read_tile(make_tile(region.view(), nullptr, id), id);
        for (const TileFeature& f : layers.at("roads"))
            ranks.insert(f.fields.at("rank"));
        // One joined line from afar, every road near by.
        EXPECT_EQ(ranks,
                  (z < 12 ? std::multiset<std::string>{"0"} : std::multiset<std::string>{"0", "0", "5"}))
            << z;
    }
}

TEST_F(DrawnTiles, AFarmOfTracksAloneIsThereFromAfar) {
    TinyMap m;
    m.edge(m.node(lat, lon), m.node(lat, lon + 0.05));
    const Region region = Region::from_data(m.build());
    const TileId id = tile_at(GeoPoint::from_degrees(lat, lon), 8);
    EXPECT_EQ(read_tile(make_tile(region.view(), nullptr, id), id).at("roads").size(), 1u);
}

TEST_F(DrawnTiles, CorrectionsInForceAreALayer) {
    TinyMap m;
    m.edge(m.node(lat, lon), m.node(lat, lon + 0.002), {{"highway", "track"}}, {0, 200, 0}, false);
    const Region region = Region::from_data(m.build());
    Correction paved, over;
    paved.id = "one";
    paved.kind = CorrectionKind::surface;
    paved.value = "asphalt";
    paved.line = {GeoPoint::from_degrees(lat, lon), GeoPoint::from_degrees(lat, lon + 0.002)};
    over = paved;
    over.id = "two";
    over.value = "mud";
    over.to = "2020-01-01";
    const CorrectedRegion corrected(region, {paved, over}, parse_time("2026-07-14T09:00", TimeZone("UTC")));
    const ReadTile tile = read_tile(make_tile(region.view(), &corrected, m_here), m_here);
    ASSERT_EQ(tile.at("corrections").size(), 1u);
    EXPECT_EQ(tile.at("corrections")[0].fields,
              (std::map<std::string, std::string>{{"id", "one"}, {"kind", "surface"}, {"value", "asphalt"}}));
    EXPECT_EQ(tile.at("roads")[0].fields.at("class"), "hard");
    EXPECT_FALSE(read_tile(make_tile(region.view(), nullptr, m_here), m_here).contains("corrections"));
}

TEST_F(DrawnTiles, StopsAndPlacesHaveTheirProperties) {
    TinyMap m;
    const auto e = m.edge(m.node(lat, lon), m.node(lat, lon + 0.002));
    m.stop_place(e, 100, StopPlaceKind::lay_by, "Oak bend");
    m.stop_place(e, 50, StopPlaceKind::passing_place);
    m.place("Nettle Farm", lat, lon, PlaceKind::farm);
    const Region region = Region::from_data(m.build());
    const ReadTile tile = read_tile(make_tile(region.view(), nullptr, m_here), m_here);
    EXPECT_EQ(tile.at("stops")[0].fields,
              (std::map<std::string, std::string>{
                  {"kind", "lay-by"}, {"loading", "1"}, {"name", "Oak bend"}, {"score", "5"}}));
    EXPECT_EQ(tile.at("stops")[1].fields.at("kind"), "passing place");
    EXPECT_EQ(tile.at("stops")[1].fields.at("loading"), "0") << "standing there blocks the road";
    EXPECT_EQ(tile.at("places")[0].fields,
              (std::map<std::string, std::string>{{"kind", "farm"}, {"name", "Nettle Farm"}, {"rank", "4"}}));
    const OGRPoint* at = tile.at("places")[0].geometry->toPoint();
    const test::XY wanted = mercator(GeoPoint::from_degrees(lat, lon));
    EXPECT_NEAR(at->getX(), wanted.x, unit_metres(14));
    EXPECT_NEAR(at->getY(), wanted.y, unit_metres(14));
}

}  // namespace
}  // namespace loamway
