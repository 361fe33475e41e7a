// SPDX-License-Identifier: Apache-2.0
#include "map_view.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loamway {

namespace {

constexpr double metres_per_degree = 111200;

/// Degrees of longitude east of `from`, the short way round.
double east_of(double lon, double from) {
    return std::remainder(lon - from, 360.0);
}

}  // namespace

MapView::MapView(const PageBox& box, std::span<const GeoPoint> points, double margin_points,
                 double least_metres)
    : m_box(box) {
    const double reference = points.front().lon();
    double south = 90, north = -90, west = 360, east = -360;
    for (const GeoPoint& p : points) {
        south = std::min(south, p.lat());
        north = std::max(north, p.lat());
        west = std::min(west, east_of(p.lon(), reference));
        east = std::max(east, east_of(p.lon(), reference));
    }
    m_lat = (south + north) / 2;
    m_lon = reference + (west + east) / 2;
    m_metres_north = metres_per_degree;
    m_metres_east = metres_per_degree * std::max(0.05, std::cos(m_lat * std::numbers::pi / 180));
    const double high = std::max((north - south) * m_metres_north, least_metres);
    const double wide = std::max((east - west) * m_metres_east, least_metres);
    m_scale = std::min((box.width - 2 * margin_points) / wide, (box.height - 2 * margin_points) / high);
}

PagePoint MapView::at(GeoPoint p) const {
    const PagePoint middle = m_box.centre();
    return {middle.x + east_of(p.lon(), m_lon) * m_metres_east * m_scale,
            middle.y - (p.lat() - m_lat) * m_metres_north * m_scale};
}

GeoPoint MapView::corner(double x, double y) const {
    const PagePoint middle = m_box.centre();
    const double lat = m_lat - (y - middle.y) / m_scale / m_metres_north;
    const double lon = m_lon + (x - middle.x) / m_scale / m_metres_east;
    return GeoPoint::from_degrees(std::clamp(lat, -90.0, 90.0), std::clamp(lon, -180.0, 180.0));
}
bool MapView::over_date_line() const {
    const double half_wide = m_box.width / 2 / m_scale / m_metres_east;
    return m_lon - half_wide < -180 || m_lon + half_wide > 180;
}
// Over the date line the box is the whole belt of the Earth between two latitudes.
GeoPoint MapView::south_west() const {
    const GeoPoint p = corner(m_box.x, m_box.bottom());
    return over_date_line() ? GeoPoint::from_degrees(p.lat(), -180) : p;
}
GeoPoint MapView::north_east() const {
    const GeoPoint p = corner(m_box.right(), m_box.y);
    return over_date_line() ? GeoPoint::from_degrees(p.lat(), 180) : p;
}

std::vector<PagePoint> MapView::line(std::span<const GeoPoint> points) const {
    constexpr double least = 0.5;
    const double world = 360 * m_metres_east * m_scale;
    std::vector<PagePoint> out;
    double before = 0, turns = 0;  // round the world
    for (std::size_t i = 0; i < points.size(); ++i) {
        PagePoint p = at(points[i]);
        if (i > 0)
            turns = -std::round((p.x - before) / world);
        if (turns != 0)
            p.x += turns * world;
        before = p.x;
        const bool last = i + 1 == points.size();
        if (out.empty() || last || std::hypot(p.x - out.back().x, p.y - out.back().y) >= least)
            out.push_back(p);
    }
    return out;
}

}  // namespace loamway
