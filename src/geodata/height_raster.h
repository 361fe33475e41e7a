// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_GEODATA_HEIGHT_RASTER_H
#define LOAMWAY_SRC_GEODATA_HEIGHT_RASTER_H

// One elevation raster: what its header says, where a point lies in it, and its pixels by pieces.

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "loamway/base/geo.h"
#include "point_lattice.h"

namespace loamway {

/// What is read at once: whole blocks of the file, several where they are thin.
struct PieceSize {
    int width = 0, height = 0;
};

/// The part of a raster that a piece covers, in pixels.
struct PixelWindow {
    int x = 0, y = 0, width = 0, height = 0;
};

class HeightRaster {
public:
    explicit HeightRaster(const std::string& path);
    HeightRaster(const HeightRaster&) = delete;  // the lattice points back here
    HeightRaster& operator=(const HeightRaster&) = delete;

    [[nodiscard]] const std::string& name() const { return m_name; }
    [[nodiscard]] int width() const { return m_width; }
    [[nodiscard]] int height() const { return m_height; }
    [[nodiscard]] PieceSize piece() const { return m_piece; }
    /// Where a point lies, in pixels; nothing where the raster's projection does not reach.
    [[nodiscard]] std::optional<PixelPoint> place(GeoPoint p) { return m_lattice->at(p); }
    /// Metres, NaN where void, row by row.
    void read(const PixelWindow& window, std::vector<float>& metres);
    /// South-west and north-east corner of a box around it; nothing when it cannot be told.
    [[nodiscard]] const std::optional<std::pair<GeoPoint, GeoPoint>>& bounds() const { return m_bounds; }

private:
    void open();
    void read_layout();
    void read_units();
    void place_on_earth();
    void find_bounds(void* back);
    [[nodiscard]] std::optional<PixelPoint> exact(double lat, double lon) const;

    std::string m_path, m_name;
    std::shared_ptr<void> m_dataset, m_to_raster;
    void* m_band = nullptr;
    int m_width = 0, m_height = 0;
    PieceSize m_piece;
    double m_pixel[6] = {};                // from coordinates to pixels
    double m_coordinate[6] = {};           // from pixels to coordinates
    double m_scale = 1.0, m_offset = 0.0;  // to metres
    std::optional<double> m_void;
    std::unique_ptr<PointLattice> m_lattice;
    std::optional<std::pair<GeoPoint, GeoPoint>> m_bounds;
};

}  // namespace loamway

#endif
