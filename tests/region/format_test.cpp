// SPDX-License-Identifier: Apache-2.0
// Freezes what files on disk depend on: numbers of sections, enums and flags, layout of records, and one
// whole file. A change here means a new format version and a new FORMAT.md.
#include <gtest/gtest.h>

#include <cstddef>

#include "../../src/region/format.h"
#include "drawn_region.h"
#include "loamway/base/error.h"
#include "support/region_bytes.h"
#include "support/test_files.h"

namespace loamway {
namespace {

template <class E>
constexpr std::uint32_t number(E e) {
    return static_cast<std::uint32_t>(e);
}

TEST(RegionFormat, NumbersOfSections) {
    const std::vector<std::string_view> names{"meta",
                                              "node_lat",
                                              "node_lon",
                                              "arc_first",
                                              "arcs",
                                              "edges",
                                              "edge_way",
                                              "node_osm",
                                              "component",
                                              "node_tags",
                                              "tag_set_first",
                                              "tag_set_strings",
                                              "string_first",
                                              "string_bytes",
                                              "shapes",
                                              "restrictions",
                                              "restriction_edges",
                                              "stop_places",
                                              "places",
                                              "background",
                                              "background_points",
                                              "grid_header",
                                              "grid_first",
                                              "grid_edges",
                                              "node_rank",
                                              "tree_parent",
                                              "up_first",
                                              "up_head",
                                              "edge_climb",
                                              "heights"};
    ASSERT_EQ(names.size(), section_count);
    for (std::size_t i = 0; i < section_count; ++i)
        EXPECT_EQ(section_name(i), names[i]);
    EXPECT_EQ(number(SectionId::meta), 1u);
    std::uint32_t expected = 2;
    const RegionView v;
    each_array(v, [&expected](SectionId id, const auto&) { EXPECT_EQ(number(id), expected++); });
    EXPECT_EQ(expected, 31u);
    EXPECT_EQ(number(SectionId::arcs), 5u);
    EXPECT_EQ(number(SectionId::shapes), 15u);
    EXPECT_EQ(number(SectionId::grid_edges), 24u);
    EXPECT_EQ(number(SectionId::up_head), 28u);
    EXPECT_EQ(number(SectionId::heights), 30u);
    EXPECT_EQ(section_element_sizes(),
              (std::array<std::uint32_t, 30>{1,  4, 4,  4,  16, 32, 8, 8, 4, 8, 4, 4, 4, 1, 1,
                                             20, 4, 48, 16, 16, 4,  4, 4, 4, 4, 4, 4, 4, 8, 1}));
}

TEST(RegionFormat, NumbersOfEnumsAndFlags) {
    EXPECT_EQ(number(SurfaceClass::hard), 0u);
    EXPECT_EQ(number(SurfaceClass::gravel), 1u);
    EXPECT_EQ(number(SurfaceClass::earth), 2u);
    EXPECT_EQ(probability_steps, 200u);
    EXPECT_EQ(edge_flag::known, 1u);
    EXPECT_EQ(edge_flag::built_up, 2u);
    EXPECT_EQ(edge_flag::bridge, 4u);
    EXPECT_EQ(edge_flag::tunnel, 8u);
    EXPECT_EQ(edge_flag::ford, 16u);
    EXPECT_EQ(edge_flag::side_way, 32u);
    EXPECT_EQ(number(StopPlaceKind::rest_area), 0u);
    EXPECT_EQ(number(StopPlaceKind::services), 1u);
    EXPECT_EQ(number(StopPlaceKind::parking), 2u);
    EXPECT_EQ(number(StopPlaceKind::lay_by), 3u);
    EXPECT_EQ(number(StopPlaceKind::yard), 4u);
    EXPECT_EQ(number(StopPlaceKind::passing_place), 5u);
    EXPECT_EQ(number(StopPlaceKind::side_way), 6u);
    EXPECT_EQ(stop_flag::ask_permission, 1u);
    EXPECT_EQ(stop_flag::short_stop, 2u);
    EXPECT_EQ(stop_flag::dead_end, 4u);
    EXPECT_EQ(stop_flag::soft_ground, 8u);
    EXPECT_EQ(stop_flag::right_forward, 16u);
    EXPECT_EQ(stop_flag::left_forward, 32u);
    EXPECT_EQ(stop_flag::near_school, 64u);
    EXPECT_EQ(number(PlaceKind::city), 0u);
    EXPECT_EQ(number(PlaceKind::town), 1u);
    EXPECT_EQ(number(PlaceKind::village), 2u);
    EXPECT_EQ(number(PlaceKind::hamlet), 3u);
    EXPECT_EQ(number(PlaceKind::suburb), 4u);
    EXPECT_EQ(number(PlaceKind::locality), 5u);
    EXPECT_EQ(number(PlaceKind::farm), 6u);
    EXPECT_EQ(number(PlaceKind::other), 7u);
    EXPECT_EQ(number(BackgroundKind::water_area), 0u);
    EXPECT_EQ(number(BackgroundKind::built_up_area), 1u);
    EXPECT_EQ(number(BackgroundKind::river_line), 2u);
    EXPECT_EQ(number(BackgroundKind::railway_line), 3u);
    EXPECT_EQ(number(BackgroundKind::building_near_road), 4u);
    EXPECT_EQ(number(BackgroundKind::forest_area), 5u);
}

TEST(RegionFormat, LayoutOfRecords) {
    EXPECT_EQ(offsetof(ArcRecord, length_dm), 4u);
    EXPECT_EQ(offsetof(ArcRecord, edge), 8u);
    EXPECT_EQ(offsetof(ArcRecord, reversed), 12u);
    EXPECT_EQ(offsetof(EdgeRecord, head), 4u);
    EXPECT_EQ(offsetof(EdgeRecord, length_dm), 8u);
    EXPECT_EQ(offsetof(EdgeRecord, tag_set), 12u);
    EXPECT_EQ(offsetof(EdgeRecord, name), 16u);
    EXPECT_EQ(offsetof(EdgeRecord, reason), 20u);
    EXPECT_EQ(offsetof(EdgeRecord, shape_first), 24u);
    EXPECT_EQ(offsetof(EdgeRecord, odds), 28u);
    EXPECT_EQ(offsetof(EdgeRecord, flags), 31u);
    EXPECT_EQ(offsetof(SurfaceOdds, gravel), 1u);
    EXPECT_EQ(offsetof(SurfaceOdds, earth), 2u);
    EXPECT_EQ(offsetof(NodeTagRecord, tag_set), 4u);
    EXPECT_EQ(offsetof(EdgeClimbRecord, ascent_dm), 4u);
    EXPECT_EQ(offsetof(EdgeClimbRecord, descent_dm), 6u);
    EXPECT_EQ(offsetof(RestrictionRecord, edge_count), 4u);
    EXPECT_EQ(offsetof(RestrictionRecord, via_node), 8u);
    EXPECT_EQ(offsetof(RestrictionRecord, only), 12u);
    EXPECT_EQ(offsetof(RestrictionRecord, tag_set), 16u);
    EXPECT_EQ(offsetof(StopPlaceRecord, edge), 8u);
    EXPECT_EQ(offsetof(StopPlaceRecord, offset_dm), 12u);
    EXPECT_EQ(offsetof(StopPlaceRecord, kind), 16u);
    EXPECT_EQ(offsetof(StopPlaceRecord, flags), 20u);
    EXPECT_EQ(offsetof(StopPlaceRecord, usable_dm), 24u);
    EXPECT_EQ(offsetof(StopPlaceRecord, score), 28u);
    EXPECT_EQ(offsetof(StopPlaceRecord, name), 32u);
    EXPECT_EQ(offsetof(StopPlaceRecord, reason), 36u);
    EXPECT_EQ(offsetof(StopPlaceRecord, osm_id), 40u);
    EXPECT_EQ(offsetof(PlaceRecord, kind), 8u);
    EXPECT_EQ(offsetof(PlaceRecord, name), 12u);
    EXPECT_EQ(offsetof(BackgroundRecord, point_first), 4u);
    EXPECT_EQ(offsetof(BackgroundRecord, point_count), 8u);
    EXPECT_EQ(offsetof(BackgroundRecord, name), 12u);
}

TEST(RegionFormat, LayoutOfTheHead) {
    EXPECT_EQ(head_size, 1024u);
    EXPECT_EQ(region_format_version, 3u);
    EXPECT_EQ(offsetof(FileHeader, endian_tag), 8u);
    EXPECT_EQ(offsetof(FileHeader, version), 12u);
    EXPECT_EQ(offsetof(FileHeader, file_size), 16u);
    EXPECT_EQ(offsetof(FileHeader, section_count), 24u);
    EXPECT_EQ(offsetof(FileHeader, digest), 32u);
    EXPECT_EQ(offsetof(FileHeader, checksum), 48u);
    EXPECT_EQ(offsetof(SectionEntry, element_size), 4u);
    EXPECT_EQ(offsetof(SectionEntry, offset), 8u);
    EXPECT_EQ(offsetof(SectionEntry, size), 16u);
    EXPECT_EQ(offsetof(SectionEntry, checksum), 24u);
}

/// A file made by the first program of format version 3 must stay readable, and today's program must still
/// write exactly it. Files are in the builder's byte order; this one is little-endian.
TEST(RegionFormat, FileOfVersion3IsReadAndWrittenTheSame) {
    const std::string path = test::source_path("tests/region/data/drawn-v3.bin");
    if constexpr (std::endian::native == std::endian::little) {
        verify_region(path);
        const Region region = Region::open(path);
        EXPECT_EQ(region.digest(), "7c4464dbd711209e8457cde3e2fb9900");
        EXPECT_EQ(region.meta(), test::drawn_region().meta);
        const test::TempDir dir;
        write_region(test::drawn_region(), dir.file("now.region"));
        EXPECT_TRUE(test::slurp(path) == test::slurp(dir.file("now.region")));
    } else {
        EXPECT_THROW(static_cast<void>(Region::open(path)), Error);
    }
}

}  // namespace
}  // namespace loamway
