// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REGION_SHAPE_H
#define LOAMWAY_SRC_REGION_SHAPE_H

// Delta coding of shapes: each inner point is two numbers, its latitude and longitude less those of the
// point before it (the tail for the first), in 1e-7 degrees, zigzag coded (0, -1, 1, -2 ... become 0, 1, 2,
// 3 ...) and written seven bits a byte, low bits first, the top bit set on all but the last byte.

#include <cstdint>
#include <span>

#include "loamway/base/geo.h"

namespace loamway {

/// Bounds of a position anywhere on Earth, in 1e-7 degrees.
constexpr std::int64_t max_lat_e7 = 900000000;
constexpr std::int64_t max_lon_e7 = 1800000000;

[[nodiscard]] constexpr bool on_earth(std::int64_t lat_e7, std::int64_t lon_e7) {
    return lat_e7 >= -max_lat_e7 && lat_e7 <= max_lat_e7 && lon_e7 >= -max_lon_e7 && lon_e7 <= max_lon_e7;
}

/// Reads one shape point by point, never beyond its bytes.
class ShapeReader {
public:
    ShapeReader(std::span<const std::uint8_t> bytes, GeoPoint tail)
        : m_bytes(bytes), m_lat(tail.lat_e7), m_lon(tail.lon_e7) {}

    /// The next inner point in `point`; false at the end and at the first fault.
    bool next(GeoPoint& point);
    /// True once next() met a number that is cut short or too long, or a position off the Earth.
    [[nodiscard]] bool failed() const { return m_failed; }

private:
    std::span<const std::uint8_t> m_bytes;
    std::size_t m_at = 0;
    std::int64_t m_lat;
    std::int64_t m_lon;
    bool m_failed = false;
};

}  // namespace loamway

#endif
