// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_GEO_H
#define LOAMWAY_BASE_GEO_H

// Points and lengths on the WGS84 ellipsoid. Positions are fixed-point 1e-7 degrees, as in OpenStreetMap.
// Lengths of short segments use the local radii of curvature (error below 1e-6 of the length for segments
// under 10 km; measured against GeographicLib: 2.8e-9, near the poles 1.9e-8); anything longer goes through
// the geodesic.

#include <compare>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "loamway/base/units.h"

namespace loamway {

struct GeoPoint {
    std::int32_t lat_e7 = 0;
    std::int32_t lon_e7 = 0;
    /// Rounds to the nearest 1e-7 degree. Requires |lat| <= 90 and |lon| <= 180.
    static GeoPoint from_degrees(double lat, double lon);
    [[nodiscard]] double lat() const { return lat_e7 * 1e-7; }
    [[nodiscard]] double lon() const { return lon_e7 * 1e-7; }
    friend constexpr auto operator<=>(const GeoPoint&, const GeoPoint&) = default;
};

/// Reads "LAT,LON" in WGS84 degrees, with optional blanks. Nothing when the text has another form; an
/// input Error when it has this form but a number is out of range (with a hint when lat and lon look
/// swapped).
[[nodiscard]] std::optional<GeoPoint> parse_lat_lon(std::string_view text);

[[nodiscard]] Length distance(GeoPoint a, GeoPoint b);
[[nodiscard]] Length polyline_length(std::span<const GeoPoint> points);
/// Never more than the geodesic between the points, at most 1.1 % less, and many times cheaper: for leaving
/// out what is too far away.
[[nodiscard]] Length distance_lower_bound(GeoPoint a, GeoPoint b);
/// Direction of travel from a to b, degrees clockwise from north, in [0, 360).
[[nodiscard]] double bearing_deg(GeoPoint a, GeoPoint b);
/// Change of direction between two bearings, in (-180, 180]; positive to the right.
[[nodiscard]] double turn_deg(double bearing_in, double bearing_out);
/// Point at `fraction` (0..1) of the straight segment a-b.
[[nodiscard]] GeoPoint interpolate(GeoPoint a, GeoPoint b, double fraction);

struct Projection {
    Length distance;        // from the point to the segment or line
    double fraction = 0.0;  // 0 at a, 1 at b (of the nearest segment)
    std::size_t segment = 0;
    GeoPoint point;
};
[[nodiscard]] Projection project(GeoPoint p, GeoPoint a, GeoPoint b);
/// Nearest point of a line with at least one point.
[[nodiscard]] Projection project(GeoPoint p, std::span<const GeoPoint> line);

}  // namespace loamway

#endif
