// SPDX-License-Identifier: Apache-2.0
#include "shape.h"

#include "coded_number.h"
#include "loamway/region/region.h"

namespace loamway {
namespace {

std::span<const std::uint8_t> shape_bytes(const RegionView& view, std::size_t edge) {
    const std::size_t first = view.edges[edge].shape_first;
    const std::size_t end =
        edge + 1 < view.edges.size() ? view.edges[edge + 1].shape_first : view.shapes.size();
    return view.shapes.subspan(first, end - first);
}

}  // namespace

bool ShapeReader::next(GeoPoint& point) {
    if (m_failed || m_at == m_bytes.size())
        return false;
    std::int64_t dlat = 0;
    std::int64_t dlon = 0;
    if (!read_number(m_bytes, m_at, dlat) || !read_number(m_bytes, m_at, dlon) ||
        !on_earth(m_lat + dlat, m_lon + dlon)) {
        m_failed = true;
        return false;
    }
    m_lat += dlat;
    m_lon += dlon;
    point = {static_cast<std::int32_t>(m_lat), static_cast<std::int32_t>(m_lon)};
    return true;
}

std::vector<GeoPoint> RegionView::edge_points(EdgeId e) const {
    const EdgeRecord& edge = edges[e.index()];
    const std::span<const std::uint8_t> bytes = shape_bytes(*this, e.index());
    const GeoPoint tail = node_point(NodeId(edge.tail));
    std::vector<GeoPoint> points;
    points.reserve(bytes.size() / 4 + 2);
    points.push_back(tail);
    ShapeReader reader(bytes, tail);
    for (GeoPoint p; reader.next(p);)
        points.push_back(p);
    points.push_back(node_point(NodeId(edge.head)));
    return points;
}

void append_shape(std::vector<std::uint8_t>& shapes, GeoPoint tail, std::span<const GeoPoint> inner) {
    GeoPoint before = tail;
    for (const GeoPoint p : inner) {
        append_number(shapes, std::int64_t{p.lat_e7} - before.lat_e7);
        append_number(shapes, std::int64_t{p.lon_e7} - before.lon_e7);
        before = p;
    }
}

}  // namespace loamway
