// SPDX-License-Identifier: Apache-2.0
#include "loamway/geodata/height_rasters.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>

#include "height_raster.h"
#include "piece_cache.h"

namespace loamway {

namespace {

constexpr float nothing = std::numeric_limits<float>::quiet_NaN();

/// Four pixels around a point: the first to its upper left; how far the point is towards the others.
struct Corners {
    int x = 0, y = 0, right = 0, down = 0;
    float fx = 0, fy = 0;
};

Corners corners_around(const HeightRaster& r, PixelPoint p) {
    // Pixels are known at their centres; beyond the outermost ones the nearest counts.
    const double x = std::clamp(p.x - 0.5, 0.0, r.width() - 1.0),
                 y = std::clamp(p.y - 0.5, 0.0, r.height() - 1.0);
    Corners c;
    c.x = static_cast<int>(x);
    c.y = static_cast<int>(y);
    c.right = std::min(c.x + 1, r.width() - 1);
    c.down = std::min(c.y + 1, r.height() - 1);
    c.fx = static_cast<float>(x - c.x);
    c.fy = static_cast<float>(y - c.y);
    return c;
}

/// Of four pixels, some of them void: the others count if the nearest is among them.
float blend_around_voids(const float (&v)[4], const float (&weight)[4]) {
    float sum = 0, of = 0;
    std::size_t nearest = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        if (weight[i] > weight[nearest])
            nearest = i;
        if (!std::isnan(v[i])) {
            sum += weight[i] * v[i];
            of += weight[i];
        }
    }
    return std::isnan(v[nearest]) ? nothing : sum / of;
}

float blend(const float (&v)[4], float fx, float fy) {
    const float top = v[0] + fx * (v[1] - v[0]), bottom = v[2] + fx * (v[3] - v[2]);
    const float height = top + fy * (bottom - top);
    if (!std::isnan(height))
        return height;
    return blend_around_voids(v, {(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy});
}

}  // namespace

class HeightRasters::Surface {
public:
    explicit Surface(std::span<const std::string> paths) {
        for (const std::string& path : paths)
            m_rasters.emplace_back(path);
    }

    void sample(std::span<const GeoPoint> points, std::span<float> metres) {
        std::fill(metres.begin(), metres.end(), nothing);
        for (std::size_t r = 0; r < m_rasters.size(); ++r)
            if (any_inside(m_rasters[r], points))
                for (std::size_t i = 0; i < points.size(); ++i)
                    if (std::isnan(metres[i]))
                        metres[i] = height_at(r, points[i]);
    }

    [[nodiscard]] const std::deque<HeightRaster>& rasters() const { return m_rasters; }
    [[nodiscard]] std::uint64_t pieces_read() const { return m_cache.pieces_read(); }

private:
    static bool any_inside(const HeightRaster& r, std::span<const GeoPoint> points) {
        if (!r.bounds())
            return true;
        const auto& [sw, ne] = *r.bounds();
        // clang 14 does not capture the two by their names alone.
        return std::any_of(points.begin(), points.end(), [&sw = sw, &ne = ne](GeoPoint p) {
            return p.lat_e7 >= sw.lat_e7 && p.lat_e7 <= ne.lat_e7 && p.lon_e7 >= sw.lon_e7 &&
                   p.lon_e7 <= ne.lon_e7;
        });
    }

    float height_at(std::size_t raster, GeoPoint point) {
        HeightRaster& r = m_rasters[raster];
        const std::optional<PixelPoint> p = r.place(point);
        if (!p || !(p->x >= 0 && p->x <= r.width() && p->y >= 0 && p->y <= r.height()))
            return nothing;
        const Corners c = corners_around(r, *p);
        const PieceCache::Piece& piece = m_cache.get(raster, c.x, c.y);
        if (piece.holds(raster, c.right, c.down)) {
            const float* top = piece.pixel(c.x, c.y);
            const float* bottom = piece.pixel(c.x, c.down);
            const int right = c.right - c.x;
            return blend({top[0], top[right], bottom[0], bottom[right]}, c.fx, c.fy);
        }
        const auto pixel = [&](int x, int y) { return *m_cache.get(raster, x, y).pixel(x, y); };
        return blend({pixel(c.x, c.y), pixel(c.right, c.y), pixel(c.x, c.down), pixel(c.right, c.down)}, c.fx,
                     c.fy);
    }

    std::deque<HeightRaster> m_rasters;
    PieceCache m_cache{m_rasters};
};

HeightRasters::HeightRasters(std::span<const std::string> paths)
    : m_surface(std::make_unique<Surface>(paths)) {}
HeightRasters::HeightRasters(HeightRasters&&) noexcept = default;
HeightRasters& HeightRasters::operator=(HeightRasters&&) noexcept = default;
HeightRasters::~HeightRasters() = default;

void HeightRasters::sample(std::span<const GeoPoint> points, std::span<float> metres) {
    m_surface->sample(points, metres);
}

bool HeightRasters::touches(std::size_t raster, GeoPoint south_west, GeoPoint north_east) const {
    const auto& bounds = m_surface->rasters().at(raster).bounds();
    if (!bounds)
        return true;
    const auto& [sw, ne] = *bounds;
    return sw.lat_e7 <= north_east.lat_e7 && ne.lat_e7 >= south_west.lat_e7 &&
           sw.lon_e7 <= north_east.lon_e7 && ne.lon_e7 >= south_west.lon_e7;
}

std::size_t HeightRasters::size() const {
    return m_surface->rasters().size();
}

const std::string& HeightRasters::name(std::size_t raster) const {
    return m_surface->rasters().at(raster).name();
}

std::uint64_t HeightRasters::pieces_read() const {
    return m_surface->pieces_read();
}

}  // namespace loamway
