// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REGION_FORMAT_H
#define LOAMWAY_SRC_REGION_FORMAT_H

// The layout of a region file; FORMAT.md beside this header gives it byte by byte. Everything here is
// persistent: a change needs a new format_version.

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <type_traits>

#include "loamway/region/magic.h"
#include "loamway/region/region.h"

namespace loamway {

constexpr std::uint32_t region_format_version = 3;
constexpr std::uint32_t region_endian_tag = 0x01020304;
constexpr std::uint32_t region_endian_tag_swapped = 0x04030201;
constexpr std::size_t section_alignment = 64;

/// Numbers of the sections, in the order in which they lie in the file.
enum class SectionId : std::uint32_t {
    meta = 1,
    node_lat = 2,
    node_lon = 3,
    arc_first = 4,
    arcs = 5,
    edges = 6,
    edge_way = 7,
    node_osm = 8,
    component = 9,
    node_tags = 10,
    tag_set_first = 11,
    tag_set_strings = 12,
    string_first = 13,
    string_bytes = 14,
    shapes = 15,
    restrictions = 16,
    restriction_edges = 17,
    stop_places = 18,
    places = 19,
    background = 20,
    background_points = 21,
    grid_header = 22,
    grid_first = 23,
    grid_edges = 24,
    node_rank = 25,
    tree_parent = 26,
    up_first = 27,
    up_head = 28,
    edge_climb = 29,
    heights = 30
};
constexpr std::size_t section_count = 30;

/// Calls f(SectionId, span) for every array of a view, in file order; the meta section comes before them.
template <class View, class F>
constexpr void each_array(View& v, F&& f) {
    f(SectionId::node_lat, v.node_lat);
    f(SectionId::node_lon, v.node_lon);
    f(SectionId::arc_first, v.arc_first);
    f(SectionId::arcs, v.arcs);
    f(SectionId::edges, v.edges);
    f(SectionId::edge_way, v.edge_way);
    f(SectionId::node_osm, v.node_osm);
    f(SectionId::component, v.component);
    f(SectionId::node_tags, v.node_tags);
    f(SectionId::tag_set_first, v.tag_set_first);
    f(SectionId::tag_set_strings, v.tag_set_strings);
    f(SectionId::string_first, v.string_first);
    f(SectionId::string_bytes, v.string_bytes);
    f(SectionId::shapes, v.shapes);
    f(SectionId::restrictions, v.restrictions);
    f(SectionId::restriction_edges, v.restriction_edges);
    f(SectionId::stop_places, v.stop_places);
    f(SectionId::places, v.places);
    f(SectionId::background, v.background);
    f(SectionId::background_points, v.background_points);
    f(SectionId::grid_header, v.grid_header);
    f(SectionId::grid_first, v.grid_first);
    f(SectionId::grid_edges, v.grid_edges);
    f(SectionId::node_rank, v.node_rank);
    f(SectionId::tree_parent, v.tree_parent);
    f(SectionId::up_first, v.up_first);
    f(SectionId::up_head, v.up_head);
    f(SectionId::edge_climb, v.edge_climb);
    f(SectionId::heights, v.heights);
}

[[nodiscard]] std::string_view section_name(std::size_t index);

/// Bytes of one element of each section, in file order.
[[nodiscard]] constexpr std::array<std::uint32_t, section_count> section_element_sizes() {
    std::array<std::uint32_t, section_count> sizes{1};
    RegionView view;
    each_array(view, [&sizes](SectionId id, const auto& array) {
        using T = typename std::remove_reference_t<decltype(array)>::value_type;
        sizes[static_cast<std::size_t>(id) - 1] = sizeof(T);
    });
    return sizes;
}

struct FileHeader {
    std::array<char, 8> magic;
    std::uint32_t endian_tag;
    std::uint32_t version;
    std::uint64_t file_size;
    std::uint32_t section_count;
    std::uint32_t reserved;               // zero
    std::array<std::uint8_t, 16> digest;  // XXH3-128 of the table, canonical (big-endian) form
    std::uint64_t checksum;               // XXH3-64 of header and table with this field zero
    std::uint64_t reserved_too;           // zero
};
static_assert(sizeof(FileHeader) == 64 && std::has_unique_object_representations_v<FileHeader>);

struct SectionEntry {
    std::uint32_t id;
    std::uint32_t element_size;
    std::uint64_t offset;    // of the first byte, a multiple of 64
    std::uint64_t size;      // in bytes, without the padding
    std::uint64_t checksum;  // XXH3-64 of the bytes and their padding
};
static_assert(sizeof(SectionEntry) == 32 && std::has_unique_object_representations_v<SectionEntry>);
using SectionTable = std::array<SectionEntry, section_count>;

/// Header and table; ends on a section boundary, so that nothing lies between it and the first section.
constexpr std::size_t head_size = sizeof(FileHeader) + sizeof(SectionTable);
static_assert(head_size % section_alignment == 0);

[[nodiscard]] constexpr std::uint64_t padded_size(std::uint64_t size) {
    return (size + (section_alignment - 1)) / section_alignment * section_alignment;
}

// Records are stored as they lie in memory: their layout is part of the format.
static_assert(sizeof(ArcRecord) == 16 && std::has_unique_object_representations_v<ArcRecord>);
static_assert(sizeof(EdgeRecord) == 32 && std::has_unique_object_representations_v<EdgeRecord>);
static_assert(sizeof(EdgeClimbRecord) == 8 && std::has_unique_object_representations_v<EdgeClimbRecord>);
static_assert(sizeof(NodeTagRecord) == 8 && std::has_unique_object_representations_v<NodeTagRecord>);
static_assert(sizeof(RestrictionRecord) == 20 && std::has_unique_object_representations_v<RestrictionRecord>);
static_assert(sizeof(StopPlaceRecord) == 48 && std::has_unique_object_representations_v<StopPlaceRecord>);
static_assert(sizeof(PlaceRecord) == 16 && std::has_unique_object_representations_v<PlaceRecord>);
static_assert(sizeof(BackgroundRecord) == 16 && std::has_unique_object_representations_v<BackgroundRecord>);
static_assert(std::endian::native == std::endian::little || std::endian::native == std::endian::big);

}  // namespace loamway

#endif
