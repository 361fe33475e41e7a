// SPDX-License-Identifier: Apache-2.0
// Fronts on a real map: Neubrandenburg and its country, map data © OpenStreetMap contributors, ODbL 1.0
// (scripts/fetch_maps). Each point is compared with a plain search that knows only the point's length.
#include "loamway/search/front.h"

#include <gtest/gtest.h>

#include <array>
#include <filesystem>

#include "loamway/build/build.h"
#include "loamway/graph/snap.h"
#include "loamway/plan/inputs.h"
#include "support/plain_search.h"
#include "support/random_map.h"
#include "support/test_files.h"

namespace loamway {
namespace {

struct Ends {
    double from_lat, from_lon, to_lat, to_lon;
};
constexpr std::array<Ends, 3> moves{{{53.5200, 13.1500, 53.5300, 13.3800},
                                     {53.5750, 13.1600, 53.5350, 13.2600},
                                     {53.5850, 13.3000, 53.5100, 13.1450}}};

TEST(RealMapFront, EqualsAPlainSearchAtEachLength) {
    const std::string extract = std::string(LOAMWAY_MAPS_DIR) + "/neubrandenburg.osm.bz2";
    ASSERT_TRUE(std::filesystem::exists(extract)) << extract << " is missing: run scripts/fetch_maps";
    const Region region = Region::from_data(assemble(read_extract(extract, {}), {}, "nb", {}));
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    std::vector<std::uint32_t> hard, length;
    for (std::uint32_t a = 0; a < graph.arc_count(); ++a) {
        length.push_back(graph.arc(ArcId{a}).length_dm);
        hard.push_back(length.back() * graph.edge(ArcId{a}).odds.hard);
    }
    RouteFinder finder(roads);
    std::size_t all = 0;
    for (const Ends& m : moves) {
        const auto from = snap(roads, GeoPoint::from_degrees(m.from_lat, m.from_lon), Length::from_km(1), 0u);
        const auto to = snap(roads, GeoPoint::from_degrees(m.to_lat, m.to_lon), Length::from_km(1), 0u);
        ASSERT_TRUE(from && to);
        const auto shortest = finder.find(*from, *to, length);
        ASSERT_TRUE(shortest);
        FrontQuestion q;
        q.from = *from;
        q.to = *to;
        q.primary = hard;
        q.cap_dm = shortest->length_dm * 8 / 5;
        const Front front = find_front(roads, q);
        ASSERT_TRUE(front.exact());
        const auto& points = front.points();
        all += points.size();
        EXPECT_EQ(points.back().length_dm, shortest->length_dm);
        const std::uint64_t softest = best_within(roads, *from, *to, hard, q.cap_dm);
        EXPECT_EQ((points.front().primary << 32) + points.front().length_dm, softest);
        for (std::size_t i = 0; i < points.size(); ++i) {
            // The least paved way no longer than this one is this one ...
            EXPECT_EQ((points[i].primary << 32) + points[i].length_dm,
                      best_within(roads, *from, *to, hard, points[i].length_dm));
            // ... and a decimetre less of length asks for the next point.
            if (i + 1 < points.size()) {
                EXPECT_EQ((points[i + 1].primary << 32) + points[i + 1].length_dm,
                          best_within(roads, *from, *to, hard, points[i].length_dm - 1));
            }
            const Route route = front.route(i);
            std::uint64_t sum = 0, driven = 0;
            for (const RoutePiece& p : route.pieces) {
                sum += weight_between(hard[p.arc.index()], graph.arc(p.arc).length_dm, p.from_dm, p.to_dm);
                driven += p.length_dm();
            }
            EXPECT_EQ(sum, points[i].primary);
            EXPECT_EQ(driven, points[i].length_dm);
            for (std::size_t k = 1; k < route.pieces.size(); ++k)
                EXPECT_TRUE(roads.may_follow(route.pieces[k - 1].arc, route.pieces[k].arc));
        }
    }
    EXPECT_GT(all, 4 * moves.size());  // there is something to choose from
}

}  // namespace
}  // namespace loamway
