// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_REGION_DRAWN_REGION_H
#define LOAMWAY_TESTS_REGION_DRAWN_REGION_H

// One small map with something in every section. Lengths are given, not measured, so that its bytes depend
// on nothing but the format.

#include "support/ordered_region.h"
#include "support/tiny_region.h"

namespace loamway::test {

inline TinyMap drawn_map() {
    TinyMap m;
    m.meta().name = "drawn";
    m.meta().time_zone = "Europe/Berlin";
    m.meta().time_zone_assumed = false;
    m.meta().source_digest = "0123456789abcdef";
    m.meta().odds_factor = 0.85;
    m.meta().counts = {{"ways without nodes", 3}, {"restrictions not understood", 0}};
    const NodeId a = m.node(53.50, 13.20);
    const NodeId b = m.node(53.51, 13.20);
    const NodeId c = m.node(53.51, 13.22);
    const NodeId d = m.node(53.50, 13.22);
    const NodeId far = m.node(-16.5, 179.9999999);
    const NodeId over = m.node(-16.5, -180.0);

    const EdgeId ab = m.road(a, b,
                             {.tags = {{"highway", "secondary"}, {"surface", "asphalt"}},
                              .odds = {200, 0, 0},
                              .name = "Mühlenweg",
                              .inner = {GeoPoint::from_degrees(53.505, 13.2001)},
                              .length_dm = 11130,
                              .flags = edge_flag::built_up});
    const EdgeId bc = m.road(b, c,
                             {.tags = {{"highway", "unclassified"}},
                              .odds = {140, 50, 10},
                              .known = false,
                              .length_dm = 13270,
                              .reason = "no surface tag: assumed paved (70 %)"});
    const EdgeId cd = m.road(c, d,
                             {.tags = {{"highway", "track"}, {"surface", "gravel"}},
                              .odds = {0, 200, 0},
                              .length_dm = 11131,
                              .flags = edge_flag::side_way | edge_flag::bridge});
    const EdgeId loop =
        m.road(d, d,
               {.tags = {{"highway", "service"}},
                .odds = {0, 100, 100},
                .known = false,
                .inner = {GeoPoint::from_degrees(53.499, 13.22), GeoPoint::from_degrees(53.499, 13.221)},
                .length_dm = 3000});
    m.road(a, d,
           {.tags = {{"highway", "track"}, {"oneway", "yes"}}, .odds = {0, 0, 200}, .length_dm = 13273});
    // Across the 180th meridian the long way of the numbers: the largest difference there is.
    m.road(far, over,
           {.tags = {{"highway", "track"}},
            .inner = {GeoPoint::from_degrees(90.0, -180.0)},
            .length_dm = 200'000'000});

    m.heights(ab, {41.0, 58.5, 52.3});
    m.heights(bc, {52.3, 52.3});
    m.heights(loop, {-3.1, 12.1, 4.1, -3.1});

    m.restriction({ab, bc}, b, false, {{"restriction", "no_right_turn"}});
    m.restriction({ab, bc, cd}, b, true, {{"restriction", "only_straight_on"}, {"except", "agricultural"}});
    m.node_tags(c, {{"barrier", "gate"}});
    m.node_tags(b, {{"highway", "crossing"}});
    m.stop_place({.edge = ab,
                  .offset_dm = 5000,
                  .kind = StopPlaceKind::parking,
                  .name = "Rastplatz",
                  .at = GeoPoint::from_degrees(53.5045, 13.2002),
                  .osm_id = -77});
    m.stop_place({.edge = loop,
                  .offset_dm = 3000,
                  .kind = StopPlaceKind::side_way,
                  .flags = stop_flag::dead_end,
                  .at = GeoPoint::from_degrees(53.5, 13.22)});
    m.place("Ахтырка", 53.5, 13.21, PlaceKind::hamlet);
    m.background(BackgroundKind::water_area,
                 {GeoPoint::from_degrees(53.52, 13.2), GeoPoint::from_degrees(53.53, 13.2),
                  GeoPoint::from_degrees(53.53, 13.21)},
                 "Long Pond");
    m.background(BackgroundKind::river_line,
                 {GeoPoint::from_degrees(53.4, 13.2), GeoPoint::from_degrees(53.6, 13.2)});
    return m;
}

inline RegionData drawn_region() {
    return ordered(drawn_map().build());
}

}  // namespace loamway::test

#endif
