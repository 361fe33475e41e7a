// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GEODATA_HEIGHT_RASTERS_H
#define LOAMWAY_GEODATA_HEIGHT_RASTERS_H

// Heights of the ground from elevation rasters: GeoTIFF (cloud-optimised ones too), ASCII grids, SRTM .hgt,
// USGS DEM and DTED, in any coordinate system that the file itself names (an .hgt and a DTED have theirs by
// kind, an ASCII grid in the .prj beside it). Heights come in metres; files in feet that say so are
// converted. The vertical datum is taken as it is: climbs are differences.

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

/// One or several rasters as one surface. Of overlapping ones the one named first counts, where it is not
/// void. Not thread-safe: one object a thread.
class HeightRasters {
public:
    /// Plain local files only. Errors, one line that names the file: not_found, input (no raster of these
    /// kinds, no coordinate system, several bands, a unit unknown), limit (blocks too large), io (no GDAL).
    explicit HeightRasters(std::span<const std::string> paths);
    HeightRasters(HeightRasters&&) noexcept;
    HeightRasters& operator=(HeightRasters&&) noexcept;
    ~HeightRasters();

    /// Metres above sea level, bilinear between the centres of pixels; NaN outside and where all is void.
    /// Points that follow each other should lie near each other. An input Error when a block cannot be read.
    void sample(std::span<const GeoPoint> points, std::span<float> metres);

    /// Whether any part of the raster may lie within these bounds; false only when it surely does not.
    [[nodiscard]] bool touches(std::size_t raster, GeoPoint south_west, GeoPoint north_east) const;
    [[nodiscard]] std::size_t size() const;
    /// The file's name without its folders.
    [[nodiscard]] const std::string& name(std::size_t raster) const;
    /// Blocks of pixels decoded so far; each is decoded once while the cache holds it.
    [[nodiscard]] std::uint64_t pieces_read() const;

private:
    class Surface;
    std::unique_ptr<Surface> m_surface;
};

}  // namespace loamway

#endif
