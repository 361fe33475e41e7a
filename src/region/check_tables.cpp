// SPDX-License-Identifier: Apache-2.0
// Strings, tag sets and the tables around the graph.
#include <fmt/format.h>

#include <algorithm>

#include "check.h"
#include "loamway/base/names.h"
#include "shape.h"

namespace loamway {
namespace {

bool is_string(const RegionView& v, std::uint32_t index) {
    return index < v.string_first.size() - 1;
}

/// Walks a restriction's edges from its via node: each must leave the node the one before led to.
bool restriction_joined(const RegionView& v, const RestrictionRecord& r) {
    const auto edges = v.restriction_edges.subspan(r.edge_first, r.edge_count);
    const EdgeRecord& from = v.edges[edges.front()];
    if (from.tail != r.via_node && from.head != r.via_node)
        return false;
    std::uint32_t at = r.via_node;
    for (const std::uint32_t number : edges.subspan(1)) {
        const EdgeRecord& e = v.edges[number];
        if (e.tail != at && e.head != at)
            return false;
        at = e.tail == at ? e.head : e.tail;
    }
    return true;
}

bool stop_place_fits(const RegionView& v, const StopPlaceRecord& s) {
    constexpr std::uint32_t known_flags =
        stop_flag::ask_permission | stop_flag::short_stop | stop_flag::dead_end | stop_flag::soft_ground |
        stop_flag::right_forward | stop_flag::left_forward | stop_flag::near_school;
    if (!on_earth(s.lat_e7, s.lon_e7) || s.edge >= v.edge_count() || s.kind > StopPlaceKind::side_way ||
        (s.flags & ~known_flags) != 0 || s.usable_dm > max_edge_dm || !is_string(v, s.name) ||
        !is_string(v, s.reason))
        return false;
    const std::uint32_t length = v.edges[s.edge].length_dm;
    if (s.kind == StopPlaceKind::side_way)
        return s.offset_dm == 0 || s.offset_dm == length;
    return s.offset_dm <= length;
}

/// The grid's cells start on Earth; so sums of a start and a cell size stay far inside 64 bits.
bool grid_header_fits(std::span<const std::int32_t> header) {
    if (header.size() != 5)
        return false;
    const std::int64_t min_lat = header[0];
    const std::int64_t min_lon = header[1];
    const std::int64_t cell = header[2];
    const std::int64_t rows = header[3];
    const std::int64_t columns = header[4];
    return on_earth(min_lat, min_lon) && cell > 0 && rows > 0 && columns > 0 &&
           on_earth(min_lat + (rows - 1) * cell, min_lon + (columns - 1) * cell);
}

}  // namespace

Fault strings_fault(const RegionView& v) {
    if (v.string_first.size() < 2)
        return "no empty string at the start of the strings";
    if (Fault fault =
            ranges_fault("string_first", v.string_first, v.string_first.size() - 1, v.string_bytes.size()))
        return fault;
    if (!v.string(0).empty())
        return "string 0 is not empty";
    for (std::uint32_t i = 0; i + 1 < v.string_first.size(); ++i)
        if (!is_utf8(v.string(i)))
            return fmt::format("string {} is not UTF-8", i);
    return std::nullopt;
}

Fault tag_sets_fault(const RegionView& v) {
    if (v.tag_set_first.empty())
        return "tag_set_first is empty";
    if (Fault fault = ranges_fault("tag_set_first", v.tag_set_first, v.tag_set_first.size() - 1,
                                   v.tag_set_strings.size()))
        return fault;
    for (std::size_t i = 0; i < v.tag_set_first.size(); ++i)
        if (v.tag_set_first[i] % 2 != 0)
            return fmt::format("tag set {} starts inside a pair", i);
    for (std::size_t i = 0; i < v.tag_set_strings.size(); ++i)
        if (!is_string(v, v.tag_set_strings[i]))
            return fmt::format("tag text {} is string {} of {}", i, v.tag_set_strings[i],
                               v.string_first.size() - 1);
    return std::nullopt;
}

Fault node_tags_fault(const RegionView& v) {
    for (std::size_t i = 0; i < v.node_tags.size(); ++i) {
        const NodeTagRecord& r = v.node_tags[i];
        if (r.node >= v.node_count() || r.tag_set >= v.tag_set_count())
            return fmt::format("node tags {} give tag set {} of {} to node {} of {}", i, r.tag_set,
                               v.tag_set_count(), r.node, v.node_count());
        if (i > 0 && v.node_tags[i - 1].node >= r.node)
            return fmt::format("node tags {} are out of order", i);
    }
    return std::nullopt;
}

Fault restrictions_fault(const RegionView& v) {
    const auto strange = std::find_if(v.restriction_edges.begin(), v.restriction_edges.end(),
                                      [&v](std::uint32_t e) { return e >= v.edge_count(); });
    if (strange != v.restriction_edges.end())
        return fmt::format("a turn restriction names edge {} of {}", *strange, v.edge_count());
    for (std::size_t i = 0; i < v.restrictions.size(); ++i) {
        const RestrictionRecord& r = v.restrictions[i];
        if (r.edge_count < 2 || std::uint64_t{r.edge_first} + r.edge_count > v.restriction_edges.size())
            return fmt::format("turn restriction {} has {} edges from {} of {}", i, r.edge_count,
                               r.edge_first, v.restriction_edges.size());
        if (r.via_node >= v.node_count() || r.only > 1 || r.tag_set >= v.tag_set_count())
            return fmt::format("turn restriction {} has node {}, only {}, tag set {}", i, r.via_node, r.only,
                               r.tag_set);
        if (!restriction_joined(v, r))
            return fmt::format("the edges of turn restriction {} do not join at node {}", i, r.via_node);
    }
    return std::nullopt;
}

Fault stop_places_fault(const RegionView& v) {
    for (std::size_t i = 0; i < v.stop_places.size(); ++i) {
        const StopPlaceRecord& s = v.stop_places[i];
        if (!stop_place_fits(v, s))
            return fmt::format(
                "stop place {} at edge {}, {} dm along it, kind {}, flags {}, strings {} and {}", i, s.edge,
                s.offset_dm, static_cast<std::uint32_t>(s.kind), s.flags, s.name, s.reason);
    }
    return std::nullopt;
}

Fault places_fault(const RegionView& v) {
    for (std::size_t i = 0; i < v.places.size(); ++i) {
        const PlaceRecord& p = v.places[i];
        if (!on_earth(p.lat_e7, p.lon_e7) || p.kind > PlaceKind::other || !is_string(v, p.name))
            return fmt::format("place {} at {}, {} (1e-7 degree) has kind {} and name {}", i, p.lat_e7,
                               p.lon_e7, static_cast<std::uint32_t>(p.kind), p.name);
    }
    return std::nullopt;
}

Fault background_fault(const RegionView& v) {
    if (v.background_points.size() % 2 != 0)
        return fmt::format("{} background numbers make no points", v.background_points.size());
    for (std::size_t i = 0; i + 1 < v.background_points.size(); i += 2)
        if (!on_earth(v.background_points[i], v.background_points[i + 1]))
            return fmt::format("background point {} lies at {}, {} (1e-7 degree)", i / 2,
                               v.background_points[i], v.background_points[i + 1]);
    for (std::size_t i = 0; i < v.background.size(); ++i) {
        const BackgroundRecord& b = v.background[i];
        if (b.point_count == 0 ||
            std::uint64_t{b.point_first} + b.point_count > v.background_points.size() / 2)
            return fmt::format("background item {} has {} points from {} of {}", i, b.point_count,
                               b.point_first, v.background_points.size() / 2);
        if (b.kind > BackgroundKind::forest_area || !is_string(v, b.name))
            return fmt::format("background item {} has kind {} and name {}", i,
                               static_cast<std::uint32_t>(b.kind), b.name);
    }
    return std::nullopt;
}

Fault grid_fault(const RegionView& v) {
    if (!grid_header_fits(v.grid_header))
        return "the grid has no size or leaves the Earth";
    const std::uint64_t cells =
        static_cast<std::uint64_t>(v.grid_header[3]) * static_cast<std::uint64_t>(v.grid_header[4]);
    if (Fault fault = ranges_fault("grid_first", v.grid_first, cells, v.grid_edges.size()))
        return fault;
    for (std::size_t i = 0; i < v.grid_edges.size(); ++i)
        if (v.grid_edges[i] >= v.edge_count())
            return fmt::format("grid entry {} is edge {} of {}", i, v.grid_edges[i], v.edge_count());
    return std::nullopt;
}

}  // namespace loamway
