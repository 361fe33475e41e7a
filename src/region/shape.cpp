// SPDX-License-Identifier: Apache-2.0
#include "shape.h"

#include "loamway/region/region.h"

namespace loamway {
namespace {

// The largest difference, twice 180 degrees of longitude, needs 33 bits after zigzag coding.
constexpr int max_number_bytes = 5;

void append_number(std::vector<std::uint8_t>& out, std::int64_t value) {
    auto bits = static_cast<std::uint64_t>(value) << 1;
    if (value < 0)
        bits = ~bits;
    while (bits >= 0x80) {
        out.push_back(static_cast<std::uint8_t>(bits | 0x80));
        bits >>= 7;
    }
    out.push_back(static_cast<std::uint8_t>(bits));
}

std::span<const std::uint8_t> shape_bytes(const RegionView& view, std::size_t edge) {
    const std::size_t first = view.edges[edge].shape_first;
    const std::size_t end =
        edge + 1 < view.edges.size() ? view.edges[edge + 1].shape_first : view.shapes.size();
    return view.shapes.subspan(first, end - first);
}

}  // namespace

bool ShapeReader::number(std::int64_t& value) {
    std::uint64_t bits = 0;
    for (int i = 0; i < max_number_bytes && m_at < m_bytes.size(); ++i) {
        const std::uint8_t byte = m_bytes[m_at++];
        bits |= static_cast<std::uint64_t>(byte & 0x7f) << (7 * i);
        if ((byte & 0x80) == 0) {
            // One way only to write a number, so that equal shapes are equal bytes.
            if (byte == 0 && i > 0)
                return false;
            value = static_cast<std::int64_t>(bits >> 1);
            if ((bits & 1) != 0)
                value = ~value;
            return true;
        }
    }
    return false;
}

bool ShapeReader::next(GeoPoint& point) {
    if (m_failed || m_at == m_bytes.size())
        return false;
    std::int64_t dlat = 0;
    std::int64_t dlon = 0;
    if (!number(dlat) || !number(dlon) || !on_earth(m_lat + dlat, m_lon + dlon)) {
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
