// SPDX-License-Identifier: Apache-2.0
#include "tile_geometry.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "loamway/base/error.h"

namespace loamway {

namespace {

constexpr double low_side = -tile_buffer;
constexpr double high_side = tile_extent + tile_buffer;
constexpr double radians = std::numbers::pi / 180;
// The projection has no poles; what lies beyond its own end at 85.05 degrees is cut away anyhow.
constexpr double farthest_lat = 89.9;

double mercator_y(double lat) {
    const double s = std::sin(std::clamp(lat, -farthest_lat, farthest_lat) * radians);
    return 0.5 - std::atanh(s) / (2 * std::numbers::pi);
}

/// The part of a-b inside the square, as shares of its length; first > second: none.
std::pair<double, double> inside_shares(FinePoint a, FinePoint b) {
    double from = 0, to = 1;
    const std::array<std::pair<double, double>, 4> sides{{{a.x - b.x, a.x - low_side},
                                                          {b.x - a.x, high_side - a.x},
                                                          {a.y - b.y, a.y - low_side},
                                                          {b.y - a.y, high_side - a.y}}};
    for (const auto& [outwards, room] : sides) {
        if (outwards == 0 && room < 0)
            return {1, 0};
        if (outwards > 0)
            to = std::min(to, room / outwards);
        else if (outwards < 0)
            from = std::max(from, room / outwards);
    }
    return {from, to};
}

FinePoint between(FinePoint a, FinePoint b, double share) {
    return {a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
}

std::int64_t bend(TilePoint a, TilePoint b, TilePoint c) {
    return (std::int64_t{b.x} - a.x) * (std::int64_t{c.y} - b.y) -
           (std::int64_t{b.y} - a.y) * (std::int64_t{c.x} - b.x);
}
bool goes_on(TilePoint a, TilePoint b, TilePoint c) {
    return bend(a, b, c) == 0 && (std::int64_t{b.x} - a.x) * (std::int64_t{c.x} - b.x) +
                                         (std::int64_t{b.y} - a.y) * (std::int64_t{c.y} - b.y) >
                                     0;
}

/// Neither twice the same point in a row nor one on the straight way between its neighbours.
void append(TileLine& line, TilePoint p) {
    if (!line.empty() && line.back() == p)
        return;
    if (line.size() >= 2 && goes_on(line[line.size() - 2], line.back(), p))
        line.back() = p;
    else
        line.push_back(p);
}

double distance_squared(FinePoint p, FinePoint a, FinePoint b) {
    const double dx = b.x - a.x, dy = b.y - a.y;
    const double length = dx * dx + dy * dy;
    const double share =
        length > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length, 0.0, 1.0) : 0;
    const FinePoint q = between(a, b, share);
    return (p.x - q.x) * (p.x - q.x) + (p.y - q.y) * (p.y - q.y);
}

/// One side of the square at a time (the ring cut by a half plane).
template <class Inside, class Crossing>
FineLine cut(const FineLine& ring, Inside inside, Crossing crossing) {
    FineLine out;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const FinePoint& a = ring[i];
        const FinePoint& b = ring[(i + 1) % ring.size()];
        if (inside(a))
            out.push_back(a);
        if (inside(a) != inside(b))
            out.push_back(crossing(a, b));
    }
    return out;
}

}  // namespace

TileFrame::TileFrame(const TileId& id) : m_zoom(id.z), m_scale(0), m_x(0), m_y(0) {
    if (id.z < 0 || id.z > deepest_zoom || id.x >= (1u << id.z) || id.y >= (1u << id.z))
        throw Error(ErrorKind::input, "there is no such tile",
                    "zoom goes from 0 to 15; column and row from 0 to 2^zoom - 1");
    m_scale = static_cast<double>(std::int64_t{tile_extent} << id.z);
    m_x = static_cast<double>(id.x) * tile_extent;
    m_y = static_cast<double>(id.y) * tile_extent;
    const GeoPoint north_west = corner(low_side, low_side), south_east = corner(high_side, high_side);
    m_box = {{south_east.lat_e7, north_west.lon_e7}, {north_west.lat_e7, south_east.lon_e7}};
}

GeoPoint TileFrame::corner(double x, double y) const {
    const double lon = ((x + m_x) / m_scale - 0.5) * 360;
    const double lat = std::asin(std::tanh((0.5 - (y + m_y) / m_scale) * 2 * std::numbers::pi)) / radians;
    return GeoPoint::from_degrees(lat, std::clamp(lon, -180.0, 180.0));
}

FinePoint TileFrame::at(GeoPoint p) const {
    return {(p.lon() / 360 + 0.5) * m_scale - m_x, mercator_y(p.lat()) * m_scale - m_y};
}

FineLine TileFrame::line(std::span<const GeoPoint> points) const {
    constexpr double half_world = 0.5;
    FineLine out;
    out.reserve(points.size());
    double turns = 0;  // round the world
    for (std::size_t i = 0; i < points.size(); ++i) {
        FinePoint p = at(points[i]);
        if (i == 0) {
            // On the side of the world on which the tile is.
            turns = -std::round((p.x - tile_extent / 2.0) / m_scale);
        } else {
            const double step = (p.x + turns * m_scale - out.back().x) / m_scale;
            if (std::abs(step) > half_world)
                turns -= std::round(step);
        }
        p.x += turns * m_scale;
        out.push_back(p);
    }
    return out;
}

TilePoint rounded(FinePoint p) {
    return {static_cast<std::int32_t>(std::lround(p.x)), static_cast<std::int32_t>(std::lround(p.y))};
}
bool in_tile(TilePoint p) {
    return p.x >= -tile_buffer && p.y >= -tile_buffer && p.x <= tile_extent + tile_buffer &&
           p.y <= tile_extent + tile_buffer;
}

FineLine simplified(FineLine line, double tolerance) {
    if (tolerance <= 0 || line.size() < 3)
        return line;
    std::vector<bool> kept(line.size(), false);
    kept.front() = kept.back() = true;
    std::vector<std::pair<std::size_t, std::size_t>> open{{0, line.size() - 1}};
    while (!open.empty()) {
        const auto [first, last] = open.back();
        open.pop_back();
        double most = tolerance * tolerance;
        std::size_t farthest = 0;
        for (std::size_t i = first + 1; i < last; ++i)
            if (const double d = distance_squared(line[i], line[first], line[last]); d > most) {
                most = d;
                farthest = i;
            }
        if (farthest == 0)
            continue;
        kept[farthest] = true;
        open.emplace_back(first, farthest);
        open.emplace_back(farthest, last);
    }
    std::size_t count = 0;
    for (std::size_t i = 0; i < line.size(); ++i)
        if (kept[i])
            line[count++] = line[i];
    line.resize(count);
    return line;
}

std::vector<TileLine> clipped_line(std::span<const FinePoint> line) {
    std::vector<TileLine> out;
    TileLine piece;
    const auto end_piece = [&] {
        if (piece.size() >= 2)
            out.push_back(std::move(piece));
        piece.clear();
    };
    for (std::size_t i = 1; i < line.size(); ++i) {
        const FinePoint a = line[i - 1], b = line[i];
        const auto [from, to] = inside_shares(a, b);
        if (from > to) {
            end_piece();
            continue;
        }
        if (from > 0)
            end_piece();
        append(piece, rounded(from > 0 ? between(a, b, from) : a));
        append(piece, rounded(to < 1 ? between(a, b, to) : b));
        if (to < 1)
            end_piece();
    }
    end_piece();
    return out;
}

TileLine clipped_ring(FineLine ring) {
    const auto at_x = [](double x) {
        return [x](FinePoint a, FinePoint b) {
            return FinePoint{x, a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x))};
        };
    };
    const auto at_y = [](double y) {
        return [y](FinePoint a, FinePoint b) {
            return FinePoint{a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)), y};
        };
    };
    if (std::any_of(ring.begin(), ring.end(), [](FinePoint p) {
            return p.x < low_side || p.y < low_side || p.x > high_side || p.y > high_side;
        })) {
        ring = cut(
            ring, [](FinePoint p) { return p.x >= low_side; }, at_x(low_side));
        ring = cut(
            ring, [](FinePoint p) { return p.x <= high_side; }, at_x(high_side));
        ring = cut(
            ring, [](FinePoint p) { return p.y >= low_side; }, at_y(low_side));
        ring = cut(
            ring, [](FinePoint p) { return p.y <= high_side; }, at_y(high_side));
    }
    TileLine out;
    for (const FinePoint& p : ring)
        append(out, rounded(p));
    while (out.size() > 1 && out.front() == out.back())
        out.pop_back();
    return out;
}

}  // namespace loamway
