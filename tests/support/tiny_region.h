// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_TINY_REGION_H
#define LOAMWAY_TESTS_SUPPORT_TINY_REGION_H

// A few nodes and roads drawn by hand, turned into consistent RegionData: arcs, shapes, strings, tag sets,
// components and grid. Example:
//
//     TinyMap m;
//     auto a = m.node(53.50, 13.20), b = m.node(53.51, 13.20);
//     auto e = m.edge(a, b, {{"highway", "track"}}, SurfaceOdds{0, 200, 0}, true, "Mill Lane");
//     Region region = Region::from_data(m.build());
//
// Ids are handed out in the order of the calls and stay the same in the built region.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/region/region.h"

namespace loamway {

using TinyTags = std::vector<std::pair<std::string, std::string>>;

/// Everything a road may have; fields left out have a plain default.
struct TinyEdge {
    TinyTags tags = {{"highway", "track"}};  // one-way roads and the like are tags: {"oneway", "yes"}
    SurfaceOdds odds = {0, 200, 0};
    bool known = true;
    std::string name = {};
    std::vector<GeoPoint> inner = {};             // points between the ends, tail to head
    std::optional<std::uint32_t> length_dm = {};  // else measured along the points
    std::uint32_t winding_dm = 0;                 // that much longer than measured
    std::uint8_t flags = 0;                       // edge_flag bits besides `known`
    std::string reason = "drawn for a test";
    std::optional<std::int64_t> way = {};  // else 1000 + edge number
};

struct TinyStop {
    EdgeId edge;
    std::uint32_t offset_dm = 0;
    StopPlaceKind kind = StopPlaceKind::rest_area;
    std::uint32_t flags = stop_flag::right_forward | stop_flag::left_forward;
    std::uint32_t usable_dm = 500;
    std::int32_t score = 5;
    std::string name = {};
    std::string reason = "drawn for a test";
    std::optional<GeoPoint> at = {};  // else the point of the edge at `offset_dm`
    std::int64_t osm_id = 1;
};

class TinyMap {
public:
    TinyMap() {
        string_index("");
        tag_set_index({});
        m_data.meta.name = "tiny";
        m_data.meta.map_date = "2026-05-01";
        m_data.meta.attribution = "drawn by hand";
        m_data.meta.recipe = "test";
    }

    NodeId node(double lat, double lon) { return node(GeoPoint::from_degrees(lat, lon)); }
    NodeId node(GeoPoint p) {
        m_data.node_lat.push_back(p.lat_e7);
        m_data.node_lon.push_back(p.lon_e7);
        m_data.node_osm.push_back(100 + static_cast<std::int64_t>(m_data.node_osm.size()));
        return NodeId(m_data.node_lat.size() - 1);
    }

    EdgeId edge(NodeId tail, NodeId head, TinyTags tags = {{"highway", "track"}},
                SurfaceOdds odds = {0, 200, 0}, bool known = true, std::string name = {}) {
        TinyEdge e;
        e.tags = std::move(tags);
        e.odds = odds;
        e.known = known;
        e.name = std::move(name);
        return road(tail, head, e);
    }
    EdgeId road(NodeId tail, NodeId head, const TinyEdge& e) {
        EdgeRecord record{};
        record.tail = tail.value();
        record.head = head.value();
        record.length_dm = e.length_dm ? *e.length_dm : measured_dm(tail, head, e.inner) + e.winding_dm;
        record.tag_set = tag_set_index(e.tags);
        record.name = string_index(e.name);
        record.reason = string_index(e.reason);
        record.shape_first = static_cast<std::uint32_t>(m_data.shapes.size());
        record.odds = e.odds;
        record.flags = static_cast<std::uint8_t>(e.flags | (e.known ? edge_flag::known : 0));
        append_shape(m_data.shapes, point(tail), e.inner);
        const auto number = static_cast<std::int64_t>(m_data.edges.size());
        m_data.edges.push_back(record);
        m_data.edge_way.push_back(e.way.value_or(1000 + number));
        return EdgeId(m_data.edges.size() - 1);
    }

    void restriction(const std::vector<EdgeId>& edges, NodeId via, bool only,
                     const TinyTags& tags = {{"restriction", "no_left_turn"}}) {
        m_data.restrictions.push_back({static_cast<std::uint32_t>(m_data.restriction_edges.size()),
                                       static_cast<std::uint32_t>(edges.size()), via.value(), only ? 1u : 0u,
                                       tag_set_index(tags)});
        for (const EdgeId e : edges)
            m_data.restriction_edges.push_back(e.value());
    }
    void node_tags(NodeId n, const TinyTags& tags) {
        m_data.node_tags.push_back({n.value(), tag_set_index(tags)});
    }
    /// Heights in metres, spread evenly over the edge from tail to head; edges without stay unknown.
    void heights(EdgeId e, std::vector<double> metres) { m_heights[e.index()] = std::move(metres); }
    StopPlaceId stop_place(const TinyStop& s) {
        m_stops.push_back(s);
        return StopPlaceId(m_stops.size() - 1);
    }
    /// Field by field, for the usual case.
    StopPlaceId stop_place(EdgeId edge, std::uint32_t offset_dm,
                           StopPlaceKind kind = StopPlaceKind::rest_area, std::string name = {}) {
        TinyStop s;
        s.edge = edge;
        s.offset_dm = offset_dm;
        s.kind = kind;
        s.name = std::move(name);
        return stop_place(s);
    }
    void place(std::string_view name, double lat, double lon, PlaceKind kind = PlaceKind::village) {
        const GeoPoint p = GeoPoint::from_degrees(lat, lon);
        m_data.places.push_back({p.lat_e7, p.lon_e7, kind, string_index(name)});
    }
    void background(BackgroundKind kind, const std::vector<GeoPoint>& points, std::string_view name = {}) {
        m_data.background.push_back({kind, static_cast<std::uint32_t>(m_data.background_points.size() / 2),
                                     static_cast<std::uint32_t>(points.size()), string_index(name)});
        for (const GeoPoint p : points) {
            m_data.background_points.push_back(p.lat_e7);
            m_data.background_points.push_back(p.lon_e7);
        }
    }
    /// Facts of the region, to change before build().
    RegionMeta& meta() { return m_data.meta; }
    [[nodiscard]] std::uint32_t length_dm(EdgeId e) const { return m_data.edges[e.index()].length_dm; }
    [[nodiscard]] GeoPoint point(NodeId n) const {
        return {m_data.node_lat[n.index()], m_data.node_lon[n.index()]};
    }

    [[nodiscard]] RegionData build() const {
        TinyMap copy = *this;
        copy.finish_stops();
        std::sort(copy.m_data.node_tags.begin(), copy.m_data.node_tags.end(),
                  [](const NodeTagRecord& a, const NodeTagRecord& b) { return a.node < b.node; });
        copy.finish_strings();
        copy.finish_arcs();
        copy.finish_components();
        copy.finish_grid();
        copy.finish_heights();
        return std::move(copy.m_data);
    }

private:
    std::uint32_t string_index(std::string_view text) {
        const auto [it, added] =
            m_string_numbers.try_emplace(std::string(text), static_cast<std::uint32_t>(m_strings.size()));
        if (added)
            m_strings.emplace_back(text);
        return it->second;
    }
    std::uint32_t tag_set_index(TinyTags tags) {
        std::sort(tags.begin(), tags.end());
        const auto [it, added] =
            m_tag_set_numbers.try_emplace(tags, static_cast<std::uint32_t>(m_tag_set_numbers.size()));
        if (added) {
            m_data.tag_set_first.push_back(static_cast<std::uint32_t>(m_data.tag_set_strings.size()));
            for (const auto& [key, value] : tags) {
                m_data.tag_set_strings.push_back(string_index(key));
                m_data.tag_set_strings.push_back(string_index(value));
            }
        }
        return it->second;
    }
    std::uint32_t measured_dm(NodeId tail, NodeId head, const std::vector<GeoPoint>& inner) const {
        std::vector<GeoPoint> points{point(tail)};
        points.insert(points.end(), inner.begin(), inner.end());
        points.push_back(point(head));
        return static_cast<std::uint32_t>(std::llround(polyline_length(points).metres() * 10.0));
    }

    void finish_stops() {
        for (const TinyStop& s : m_stops) {
            const GeoPoint p = s.at ? *s.at : point_along(s.edge, s.offset_dm);
            m_data.stop_places.push_back({p.lat_e7, p.lon_e7, s.edge.value(), s.offset_dm, s.kind, s.flags,
                                          s.usable_dm, s.score, string_index(s.name), string_index(s.reason),
                                          s.osm_id});
        }
    }
    [[nodiscard]] GeoPoint point_along(EdgeId e, std::uint32_t offset_dm) const {
        const std::vector<GeoPoint> points = m_data.view().edge_points(e);
        const double total = polyline_length(points).metres();
        const std::uint32_t length = m_data.edges[e.index()].length_dm;
        double left = length == 0 ? 0.0 : total * offset_dm / length;
        for (std::size_t i = 0; i + 1 < points.size(); ++i) {
            const double piece = distance(points[i], points[i + 1]).metres();
            if (piece > 0.0 && left <= piece)
                return interpolate(points[i], points[i + 1], left / piece);
            left -= piece;
        }
        return points.back();
    }
    void finish_strings() {
        m_data.tag_set_first.push_back(static_cast<std::uint32_t>(m_data.tag_set_strings.size()));
        for (const std::string& s : m_strings) {
            m_data.string_first.push_back(static_cast<std::uint32_t>(m_data.string_bytes.size()));
            m_data.string_bytes.insert(m_data.string_bytes.end(), s.begin(), s.end());
        }
        m_data.string_first.push_back(static_cast<std::uint32_t>(m_data.string_bytes.size()));
    }
    void finish_arcs() {
        std::vector<std::vector<ArcRecord>> at(m_data.node_lat.size());
        for (std::uint32_t e = 0; e < m_data.edges.size(); ++e) {
            const EdgeRecord& r = m_data.edges[e];
            at[r.tail].push_back({r.head, r.length_dm, e, 0});
            at[r.head].push_back({r.tail, r.length_dm, e, 1});
        }
        m_data.arc_first.assign(1, 0);
        for (const auto& arcs : at) {
            m_data.arcs.insert(m_data.arcs.end(), arcs.begin(), arcs.end());
            m_data.arc_first.push_back(static_cast<std::uint32_t>(m_data.arcs.size()));
        }
    }
    /// Numbers connected pieces by their length of road, longest first; equal ones by their first node.
    void finish_components() {
        std::vector<std::uint32_t> root(m_data.node_lat.size());
        std::iota(root.begin(), root.end(), 0u);
        const auto find = [&root](std::uint32_t n) {
            while (root[n] != n)
                n = root[n];
            return n;
        };
        for (const EdgeRecord& r : m_data.edges) {
            const auto [low, high] = std::minmax({find(r.tail), find(r.head)});
            root[high] = low;
        }
        std::map<std::uint32_t, std::uint64_t> length;
        for (std::uint32_t n = 0; n < root.size(); ++n)
            length.try_emplace(find(n), 0);
        for (const EdgeRecord& r : m_data.edges)
            length[find(r.tail)] += r.length_dm;
        std::vector<std::pair<std::uint32_t, std::uint64_t>> order(length.begin(), length.end());
        std::stable_sort(order.begin(), order.end(),
                         [](const auto& a, const auto& b) { return a.second > b.second; });
        std::map<std::uint32_t, std::uint32_t> number;
        for (const auto& [node, dm] : order)
            number.emplace(node, static_cast<std::uint32_t>(number.size()));
        for (std::uint32_t n = 0; n < root.size(); ++n)
            m_data.component.push_back(number.at(find(n)));
    }

    struct Box {
        std::int64_t min_lat = 900000000, min_lon = 1800000000, max_lat = -900000000, max_lon = -1800000000;
        void add(GeoPoint p) {
            min_lat = std::min<std::int64_t>(min_lat, p.lat_e7);
            max_lat = std::max<std::int64_t>(max_lat, p.lat_e7);
            min_lon = std::min<std::int64_t>(min_lon, p.lon_e7);
            max_lon = std::max<std::int64_t>(max_lon, p.lon_e7);
        }
    };
    void finish_grid() {
        std::vector<Box> boxes(m_data.edges.size());
        Box all;
        for (std::size_t e = 0; e < boxes.size(); ++e)
            for (const GeoPoint p : m_data.view().edge_points(EdgeId(e))) {
                boxes[e].add(p);
                all.add(p);
            }
        if (boxes.empty())
            all = {0, 0, 0, 0};
        const std::int64_t span = std::max(all.max_lat - all.min_lat, all.max_lon - all.min_lon);
        const std::int64_t cell = std::max<std::int64_t>(50000, span / 64 + 1);
        const std::int64_t rows = (all.max_lat - all.min_lat) / cell + 1;
        const std::int64_t columns = (all.max_lon - all.min_lon) / cell + 1;
        for (const std::int64_t v : {all.min_lat, all.min_lon, cell, rows, columns})
            m_data.grid_header.push_back(static_cast<std::int32_t>(v));
        std::vector<std::vector<std::uint32_t>> cells(static_cast<std::size_t>(rows * columns));
        for (std::uint32_t e = 0; e < boxes.size(); ++e)
            for (std::int64_t r = (boxes[e].min_lat - all.min_lat) / cell;
                 r <= (boxes[e].max_lat - all.min_lat) / cell; ++r)
                for (std::int64_t c = (boxes[e].min_lon - all.min_lon) / cell;
                     c <= (boxes[e].max_lon - all.min_lon) / cell; ++c)
                    cells[static_cast<std::size_t>(r * columns + c)].push_back(e);
        m_data.grid_first.assign(1, 0);
        for (const auto& edges : cells) {
            m_data.grid_edges.insert(m_data.grid_edges.end(), edges.begin(), edges.end());
            m_data.grid_first.push_back(static_cast<std::uint32_t>(m_data.grid_edges.size()));
        }
    }

    [[nodiscard]] static double spread(const std::vector<double>& values, double fraction) {
        const double at = fraction * static_cast<double>(values.size() - 1);
        const std::size_t i = std::min(static_cast<std::size_t>(at), values.size() - 1);
        const std::size_t next = std::min(i + 1, values.size() - 1);
        return values[i] + (values[next] - values[i]) * (at - static_cast<double>(i));
    }
    void finish_heights() {
        if (m_heights.empty())
            return;
        for (std::size_t e = 0; e < m_data.edges.size(); ++e) {
            EdgeClimbRecord climb{static_cast<std::uint32_t>(m_data.heights.size()), 0, 0};
            if (const auto at = m_heights.find(e); at != m_heights.end()) {
                const std::uint32_t pieces = height_pieces(m_data.edges[e].length_dm);
                std::vector<std::int32_t> profile;
                for (std::uint32_t i = 0; i <= pieces; ++i)
                    profile.push_back(static_cast<std::int32_t>(
                        std::lround(10.0 * spread(at->second, static_cast<double>(i) / pieces))));
                for (std::size_t i = 1; i < profile.size(); ++i) {
                    const std::int32_t step = profile[i] - profile[i - 1];
                    std::uint16_t& sum = step > 0 ? climb.ascent_dm : climb.descent_dm;
                    sum = static_cast<std::uint16_t>(sum + std::abs(step));
                }
                append_heights(m_data.heights, profile);
            }
            m_data.edge_climb.push_back(climb);
        }
        m_data.meta.elevation = "drawn heights";
    }

    RegionData m_data;
    std::map<std::size_t, std::vector<double>> m_heights;
    std::vector<TinyStop> m_stops;
    std::vector<std::string> m_strings;
    std::map<std::string, std::uint32_t> m_string_numbers;
    std::map<TinyTags, std::uint32_t> m_tag_set_numbers;
};

}  // namespace loamway

#endif
