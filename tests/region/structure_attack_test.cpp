// SPDX-License-Identifier: Apache-2.0
// Files that are whole byte for byte and whose arrays contradict each other or lead out of themselves: one
// change a case, and the line it must give.
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "../../src/region/check.h"
#include "drawn_region.h"
#include "loamway/base/error.h"
#include "support/region_bytes.h"

namespace loamway {
namespace {

struct Attack {
    std::string line;  // part of the message
    std::function<void(RegionData&)> change;
};

constexpr std::uint32_t none = 0xffffffffu;

void expect_refused(const std::vector<Attack>& attacks) {
    for (const Attack& attack : attacks) {
        RegionData data = test::drawn_region();
        attack.change(data);
        const test::Bytes bytes = test::region_bytes(data);
        try {
            static_cast<void>(read_region(bytes, "x.region", Checksums::of_everything));
            ADD_FAILURE() << "opened: " << attack.line;
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::damaged);
            EXPECT_EQ(e.what_to_do(), "build it again with `loamway region build`");
            EXPECT_TRUE(e.message().starts_with("the region file does not hold together: ")) << e.message();
            EXPECT_NE(e.message().find(attack.line), std::string::npos)
                << e.message() << " instead of " << attack.line;
        }
    }
}

TEST(RegionStructure, Nodes) {
    expect_refused({
        {"4 latitudes", [](RegionData& d) { d.node_lat.resize(4); }},
        {"5 longitudes", [](RegionData& d) { d.node_lon.resize(5); }},
        {"0 OSM ids", [](RegionData& d) { d.node_osm.clear(); }},
        {"7 components", [](RegionData& d) { d.component.push_back(0); }},
        {"node 1 lies at 900000001", [](RegionData& d) { d.node_lat[1] = 900000001; }},
        {"node 1 lies at -2147483648", [](RegionData& d) { d.node_lat[1] = -2147483647 - 1; }},
        {"node 2 lies at", [](RegionData& d) { d.node_lon[2] = -1800000001; }},
        {"node 5 belongs to component 6", [](RegionData& d) { d.component[5] = 6; }},
    });
}

TEST(RegionStructure, Edges) {
    expect_refused({
        {"6 edges and 5 way ids", [](RegionData& d) { d.edge_way.pop_back(); }},
        {"edge 0 joins nodes 6 and 1 of 6", [](RegionData& d) { d.edges[0].tail = 6; }},
        {"edge 0 joins nodes 0 and 4294967295", [](RegionData& d) { d.edges[0].head = none; }},
        {"edge 1 is 200000001 dm long", [](RegionData& d) { d.edges[1].length_dm = 200'000'001; }},
        {"edge 1 has tag set", [](RegionData& d) { d.edges[1].tag_set = none; }},
        {"edge 1 has strings", [](RegionData& d) { d.edges[1].name = none; }},
        {"edge 1 has strings",
         [](RegionData& d) { d.edges[1].reason = static_cast<std::uint32_t>(d.string_first.size() - 1); }},
        {"edge 1 has odds 141 + 50 + 10", [](RegionData& d) { d.edges[1].odds.hard = 141; }},
        {"edge 1 has odds 255 + 255 + 202",
         [](RegionData& d) {
             d.edges[1].odds = {255, 255, 202};
         }},
        {"edge 1 has odds 140 + 50 + 10", [](RegionData& d) { d.edges[1].flags |= edge_flag::known; }},
        {"edge 1 has unknown flags 64", [](RegionData& d) { d.edges[1].flags = 64; }},
    });
}

TEST(RegionStructure, Arcs) {
    expect_refused({
        {"arc_first has 0 entries", [](RegionData& d) { d.arc_first.clear(); }},
        {"arc_first has 6 entries", [](RegionData& d) { d.arc_first.pop_back(); }},
        {"arc_first starts at 1", [](RegionData& d) { d.arc_first[0] = 1; }},
        {"arc_first falls", [](RegionData& d) { d.arc_first[2] = 0; }},
        {"arc_first falls", [](RegionData& d) { d.arc_first[3] = none; }},
        {"arc_first ends at", [](RegionData& d) { d.arc_first.back() += 1; }},
        {"arc_first ends at", [](RegionData& d) { d.arcs.pop_back(); }},
        {"13 arcs for 6 edges",
         [](RegionData& d) {
             d.arcs.push_back(d.arcs.back());
             d.arc_first.back() += 1;
         }},
        {"arc 0 belongs to edge 6 of 6", [](RegionData& d) { d.arcs[0].edge = 6; }},
        {"to node 4294967295", [](RegionData& d) { d.arcs[0].head = none; }},
        {"arc 0 from node 0 to node 2", [](RegionData& d) { d.arcs[0].head = 2; }},
        {"(11129 dm, reversed 0)", [](RegionData& d) { d.arcs[0].length_dm = 11129; }},
        {"reversed 1) does not fit edge", [](RegionData& d) { d.arcs[0].reversed = 1; }},
        {"reversed 2) does not fit edge", [](RegionData& d) { d.arcs[0].reversed = 2; }},
        {"arc 1 repeats a direction of edge 0", [](RegionData& d) { d.arcs[1] = d.arcs[0]; }},
        {"does not fit edge", [](RegionData& d) { d.arc_first[1] += 1; }},
    });
}

TEST(RegionStructure, Shapes) {
    expect_refused({
        {"shapes without edges",
         [](RegionData& d) {
             d = TinyMap().build();
             d.shapes.push_back(0);
         }},
        {"the first shape starts at byte 1", [](RegionData& d) { d.edges[0].shape_first = 1; }},
        {"the shape of edge 1 is bytes", [](RegionData& d) { d.edges[2].shape_first = none; }},
        {"the shape of edge 4 is bytes", [](RegionData& d) { d.edges[5].shape_first = none; }},
        {"the shape of edge 3 is bytes", [](RegionData& d) { d.edges[4].shape_first = 0; }},
        {"the shape of edge 5 does not decode", [](RegionData& d) { d.shapes.back() |= 0x80; }},
        {"the shape of edge 5 does not decode", [](RegionData& d) { d.shapes.pop_back(); }},
        {"the shape of edge 0 does not decode", [](RegionData& d) { d.edges[1].shape_first = 1; }},
        {"the shape of edge 0 does not decode",
         [](RegionData& d) { std::fill_n(d.shapes.begin(), 6, std::uint8_t{0xff}); }},
        {"the shape of edge 5 does not decode", [](RegionData& d) { d.node_lat[4] = -165000001 + 1000; }},
    });
}

TEST(RegionStructure, Strings) {
    expect_refused({
        {"no empty string", [](RegionData& d) { d.string_first.clear(); }},
        {"no empty string", [](RegionData& d) { d.string_first.resize(1); }},
        {"string_first starts at 2", [](RegionData& d) { d.string_first[0] = 2; }},
        {"string_first falls", [](RegionData& d) { d.string_first[3] = none; }},
        {"string_first ends at", [](RegionData& d) { d.string_bytes.pop_back(); }},
        {"string_first ends at", [](RegionData& d) { d.string_first.back() = none; }},
        {"string 0 is not empty", [](RegionData& d) { d.string_first[1] = 1; }},
        {"is not UTF-8", [](RegionData& d) { d.string_bytes[0] = '\xff'; }},
        {"is not UTF-8",  // a letter of two bytes cut between two strings
         [](RegionData& d) {
             const auto it = std::find(d.string_bytes.begin(), d.string_bytes.end(), '\xc3');
             const auto at = static_cast<std::uint32_t>(it - d.string_bytes.begin());
             *std::lower_bound(d.string_first.begin(), d.string_first.end(), at) = at + 1;
         }},
    });
}

TEST(RegionStructure, TagSets) {
    expect_refused({
        {"tag_set_first is empty", [](RegionData& d) { d.tag_set_first.clear(); }},
        {"tag_set_first starts at 2", [](RegionData& d) { d.tag_set_first[0] = 2; }},
        {"tag_set_first falls", [](RegionData& d) { d.tag_set_first[2] = none - 1; }},
        {"tag_set_first ends at", [](RegionData& d) { d.tag_set_strings.push_back(0); }},
        {"starts inside a pair", [](RegionData& d) { d.tag_set_first[2] += 1; }},
        {"tag text 0 is string 4294967295", [](RegionData& d) { d.tag_set_strings[0] = none; }},
        {"has tag set",
         [](RegionData& d) {
             d.tag_set_first.resize(1);
             d.tag_set_strings.clear();
         }},
    });
}

TEST(RegionStructure, NodeTags) {
    expect_refused({
        {"to node 6 of 6", [](RegionData& d) { d.node_tags[1].node = 6; }},
        {"node tags 0 give tag set 4294967295", [](RegionData& d) { d.node_tags[0].tag_set = none; }},
        {"node tags 1 are out of order", [](RegionData& d) { d.node_tags[1].node = d.node_tags[0].node; }},
        {"node tags 1 are out of order", [](RegionData& d) { std::swap(d.node_tags[0], d.node_tags[1]); }},
    });
}

TEST(RegionStructure, Restrictions) {
    expect_refused({
        {"names edge 6 of 6", [](RegionData& d) { d.restriction_edges[0] = 6; }},
        {"turn restriction 0 has 1 edges", [](RegionData& d) { d.restrictions[0].edge_count = 1; }},
        {"turn restriction 1 has 4 edges", [](RegionData& d) { d.restrictions[1].edge_count = 4; }},
        {"edges from 4294967295", [](RegionData& d) { d.restrictions[0].edge_first = none; }},
        {"turn restriction 0 has 4294967295 edges",
         [](RegionData& d) { d.restrictions[0].edge_count = none; }},
        {"turn restriction 0 has node 6", [](RegionData& d) { d.restrictions[0].via_node = 6; }},
        {"only 2", [](RegionData& d) { d.restrictions[0].only = 2; }},
        {"tag set 4294967295", [](RegionData& d) { d.restrictions[0].tag_set = none; }},
        {"turn restriction 0 do not join at node 2", [](RegionData& d) { d.restrictions[0].via_node = 2; }},
        {"turn restriction 0 do not join at node 1", [](RegionData& d) { d.restriction_edges[1] = 3; }},
        {"turn restriction 1 do not join", [](RegionData& d) { d.restriction_edges[4] = 0; }},
    });
}

TEST(RegionStructure, StopPlaces) {
    const auto stop = [](const std::function<void(StopPlaceRecord&)>& change, std::size_t i = 0) {
        return Attack{"stop place " + std::to_string(i), [=](RegionData& d) { change(d.stop_places[i]); }};
    };
    expect_refused({
        stop([](StopPlaceRecord& s) { s.lat_e7 = 900000001; }),
        stop([](StopPlaceRecord& s) { s.lon_e7 = 1800000001; }), stop([](StopPlaceRecord& s) { s.edge = 6; }),
        stop([](StopPlaceRecord& s) { s.offset_dm = 11131; }),
        stop([](StopPlaceRecord& s) { s.kind = static_cast<StopPlaceKind>(7); }),
        stop([](StopPlaceRecord& s) { s.flags = 128; }), stop([](StopPlaceRecord& s) { s.usable_dm = none; }),
        stop([](StopPlaceRecord& s) { s.name = none; }), stop([](StopPlaceRecord& s) { s.reason = none; }),
        stop([](StopPlaceRecord& s) { s.offset_dm = 1500; }, 1),  // a side way is entered at an end
    });
}

TEST(RegionStructure, PlacesAndBackground) {
    expect_refused({
        {"place 0 at", [](RegionData& d) { d.places[0].lat_e7 = -900000001; }},
        {"has kind 8", [](RegionData& d) { d.places[0].kind = static_cast<PlaceKind>(8); }},
        {"place 0 at", [](RegionData& d) { d.places[0].name = none; }},
        {"9 background numbers make no points", [](RegionData& d) { d.background_points.resize(9); }},
        {"background point 1 lies at", [](RegionData& d) { d.background_points[3] = 1800000001; }},
        {"background item 0 has 0 points", [](RegionData& d) { d.background[0].point_count = 0; }},
        {"background item 1 has 3 points", [](RegionData& d) { d.background[1].point_count = 3; }},
        {"points from 4294967295", [](RegionData& d) { d.background[1].point_first = none; }},
        {"background item 1 has 4294967295", [](RegionData& d) { d.background[1].point_count = none; }},
        {"background item 0 has kind 6",
         [](RegionData& d) { d.background[0].kind = static_cast<BackgroundKind>(6); }},
        {"background item 0 has kind 0", [](RegionData& d) { d.background[0].name = none; }},
    });
}

TEST(RegionStructure, NodeHierarchy) {
    const RegionData d = test::drawn_region();
    const auto roots = static_cast<std::size_t>(std::count(d.tree_parent.begin(), d.tree_parent.end(), none));
    ASSERT_EQ(d.node_rank.size(), 6u);
    ASSERT_EQ(roots, 2u);  // one a connected piece
    expect_refused({
        {"0 ranks and 6 parents of 6 nodes", [](RegionData& r) { r.node_rank.clear(); }},
        {"7 ranks", [](RegionData& r) { r.node_rank.push_back(6); }},
        {"5 parents", [](RegionData& r) { r.tree_parent.pop_back(); }},
        {"up_first has 0 entries", [](RegionData& r) { r.up_first.clear(); }},
        {"up_first falls", [](RegionData& r) { r.up_first[2] = none; }},
        {"up_first starts at 1", [](RegionData& r) { r.up_first[0] = 1; }},
        {"up_first ends at", [](RegionData& r) { r.up_head.push_back(5); }},
        {"up_first ends at", [](RegionData& r) { r.up_head.clear(); }},
        {"node 1 has rank 6, which is too high", [](RegionData& r) { r.node_rank[1] = 6; }},
        {"node 1 has rank 4294967295, which is too high", [](RegionData& r) { r.node_rank[1] = none; }},
        {"which is taken", [](RegionData& r) { r.node_rank[1] = r.node_rank[0]; }},
        {"rank 0 leads up to rank 6 of 6 behind 0", [](RegionData& r) { r.up_head[0] = 6; }},
        {"rank 0 leads up to rank 0 of 6 behind 0", [](RegionData& r) { r.up_head[0] = 0; }},
        {"instead of", [](RegionData& r) { r.tree_parent[0] = none; }},
        {"instead of", [](RegionData& r) { r.tree_parent[0] = 0; }},
        {"rank 5 has parent 3 instead of 4294967295", [](RegionData& r) { r.tree_parent[5] = 3; }},
    });
    RegionData without = d;
    for (auto* array : {&without.node_rank, &without.tree_parent, &without.up_first, &without.up_head})
        array->clear();
    EXPECT_FALSE(structure_fault(without.view()));
}

TEST(RegionStructure, Heights) {
    const RegionData d = test::drawn_region();
    ASSERT_EQ(d.edge_climb[0].ascent_dm, 172u);
    ASSERT_EQ(d.edge_climb[0].descent_dm, 59u);
    expect_refused({
        {"heights without climbs of edges", [](RegionData& r) { r.edge_climb.clear(); }},
        {"5 climbs for 6 edges", [](RegionData& r) { r.edge_climb.pop_back(); }},
        {"7 climbs for 6 edges", [](RegionData& r) { r.edge_climb.push_back(r.edge_climb.back()); }},
        {"the first heights start at byte 1", [](RegionData& r) { r.edge_climb[0].height_first = 1; }},
        {"the heights of edge 0 are bytes", [](RegionData& r) { r.edge_climb[1].height_first = none; }},
        {"the heights of edge 1 are bytes", [](RegionData& r) { r.edge_climb[2].height_first = 0; }},
        {"the heights of edge 5 do not decode to 400001 heights",
         [](RegionData& r) { r.heights.push_back(0); }},
        {"the heights of edge 3 do not decode to 7 heights", [](RegionData& r) { r.heights.back() |= 0x80; }},
        {"the heights of edge 0 do not decode to 24 heights",
         [](RegionData& r) { r.edge_climb[1].height_first -= 1; }},
        {"the heights of edge 0 do not decode",
         [](RegionData& r) { std::fill_n(r.heights.begin(), 3, std::uint8_t{0xff}); }},
        {"edge 0 climbs 173 dm and falls 59 dm between heights of 410 and 523 dm",
         [](RegionData& r) { r.edge_climb[0].ascent_dm += 1; }},
        {"edge 1 climbs 0 dm and falls 65535 dm", [](RegionData& r) { r.edge_climb[1].descent_dm = 65535; }},
        {"edge 2 climbs 7 dm and falls 7 dm without heights",
         [](RegionData& r) { r.edge_climb[2].ascent_dm = r.edge_climb[2].descent_dm = 7; }},
        {"do not decode",
         [](RegionData& r) {
             // 10,000.1 m above sea level
             r.heights.clear();
             append_heights(r.heights, std::vector<std::int32_t>(24, 100'001));
             for (std::size_t i = 0; i < r.edge_climb.size(); ++i)
                 r.edge_climb[i] = {i == 0 ? 0 : static_cast<std::uint32_t>(r.heights.size()), 0, 0};
         }},
    });
}

TEST(RegionStructure, HeightProfiles) {
    const RegionData d = test::drawn_region();
    const RegionView v = d.view();
    const std::vector<std::int32_t> ab = v.edge_heights_dm(EdgeId(0u));
    ASSERT_EQ(ab.size(), 24u);  // 1113.0 m in 23 pieces
    EXPECT_EQ(ab.front(), 410);
    EXPECT_EQ(ab.back(), 523);
    EXPECT_EQ(v.edge_heights_dm(EdgeId(1u)), std::vector<std::int32_t>(28, 523));
    EXPECT_TRUE(v.edge_heights_dm(EdgeId(2u)).empty());
    EXPECT_EQ(v.edge_heights_dm(EdgeId(3u)), (std::vector<std::int32_t>{-31, 45, 121, 81, 41, 5, -31}));
    EXPECT_EQ(height_pieces(0), 1u);
    EXPECT_EQ(height_pieces(1), 1u);
    EXPECT_EQ(height_pieces(500), 1u);
    EXPECT_EQ(height_pieces(501), 2u);
    EXPECT_EQ(height_pieces(200'000'000), 400'000u);
}

TEST(RegionStructure, Grid) {
    const std::string size = "the grid has no size or leaves the Earth";
    expect_refused({
        {size, [](RegionData& d) { d.grid_header.clear(); }},
        {size, [](RegionData& d) { d.grid_header.push_back(0); }},
        {size, [](RegionData& d) { d.grid_header[0] = -900000001; }},
        {size, [](RegionData& d) { d.grid_header[2] = 0; }},
        {size, [](RegionData& d) { d.grid_header[2] = -5; }},
        {size, [](RegionData& d) { d.grid_header[3] = 0; }},
        {size, [](RegionData& d) { d.grid_header[4] = -1; }},
        {size, [](RegionData& d) { d.grid_header[3] = d.grid_header[4] = 0x7fffffff; }},
        {size, [](RegionData& d) { d.grid_header[2] = 0x7fffffff; }},
        {"grid_first has",
         [](RegionData& d) {
             d.grid_header[2] = 1;
             d.grid_header[3] *= 2;
         }},
        {"grid_first has", [](RegionData& d) { d.grid_first.pop_back(); }},
        {"grid_first falls", [](RegionData& d) { d.grid_first[1] = none; }},
        {"grid_first ends at", [](RegionData& d) { d.grid_edges.pop_back(); }},
        {"grid entry 0 is edge 6 of 6", [](RegionData& d) { d.grid_edges[0] = 6; }},
    });
}

TEST(RegionStructure, WhatIsAllowed) {
    const auto accepted = [](const std::function<void(RegionData&)>& change) {
        RegionData data = test::drawn_region();
        change(data);
        const Fault fault = structure_fault(data.view());
        EXPECT_FALSE(fault) << *fault;
    };
    accepted([](RegionData& d) { d.stop_places[0].offset_dm = 11130; });
    accepted([](RegionData& d) { d.stop_places[1].offset_dm = 0; });
    accepted([](RegionData& d) { d.restrictions.clear(); });
    accepted([](RegionData& d) { d.restriction_edges[1] = d.restriction_edges[0]; });  // no turning round
    accepted([](RegionData& d) { d.edges[1].odds = {0, 0, 200}; });
    accepted([](RegionData& d) {
        d.edge_climb[3].ascent_dm += 40;  // how small ups and downs count is the builder's choice
        d.edge_climb[3].descent_dm += 40;
    });
    accepted([](RegionData& d) { std::fill(d.component.begin(), d.component.end(), 5); });
}

}  // namespace
}  // namespace loamway
