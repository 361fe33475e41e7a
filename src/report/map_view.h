// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_MAP_VIEW_H
#define LOAMWAY_SRC_REPORT_MAP_VIEW_H

// From degrees to a box on the page: north up, one scale, the box's middle as reference. True to about one
// part in a hundred over a county; a sheet's map is looked at, not measured.

#include <optional>
#include <span>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/report/canvas.h"

namespace loamway {

class MapView {
public:
    /// Shows all points with a margin, at least `least_metres` across. Requires one point.
    MapView(const PageBox& box, std::span<const GeoPoint> points, double margin_points, double least_metres);

    [[nodiscard]] const PageBox& box() const { return m_box; }
    [[nodiscard]] double points_per_metre() const { return m_scale; }
    [[nodiscard]] PagePoint at(GeoPoint p) const;
    [[nodiscard]] GeoPoint south_west() const;
    [[nodiscard]] GeoPoint north_east() const;
    /// The line on the page, without points that fall within half a point of the one before. Where the map
    /// ends, half the world from its middle, it goes on instead of back across the page.
    [[nodiscard]] std::vector<PagePoint> line(std::span<const GeoPoint> points) const;

private:
    [[nodiscard]] GeoPoint corner(double x, double y) const;
    [[nodiscard]] bool over_date_line() const;
    PageBox m_box;
    double m_lat = 0, m_lon = 0;                   // of the middle
    double m_metres_north = 0, m_metres_east = 0;  // of one degree
    double m_scale = 1;
};

}  // namespace loamway

#endif
