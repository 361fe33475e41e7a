// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_GEODATA_PIECE_CACHE_H
#define LOAMWAY_SRC_GEODATA_PIECE_CACHE_H

// Decoded pieces of rasters, the least recently used forgotten first. Points along roads lie near each other,
// so nearly every pixel is in the piece used last.

#include <cstdint>
#include <deque>
#include <list>
#include <map>
#include <tuple>
#include <vector>

#include "height_raster.h"

namespace loamway {

class PieceCache {
public:
    explicit PieceCache(std::deque<HeightRaster>& rasters) : m_rasters(rasters) {}

    struct Piece {
        std::size_t raster = 0;
        PixelWindow window;
        std::vector<float> metres;
        [[nodiscard]] bool holds(std::size_t of, int x, int y) const {
            // One comparison a side: below the window the difference wraps to a large number.
            return of == raster &&
                   static_cast<unsigned>(x - window.x) < static_cast<unsigned>(window.width) &&
                   static_cast<unsigned>(y - window.y) < static_cast<unsigned>(window.height);
        }
        [[nodiscard]] const float* pixel(int x, int y) const {
            return metres.data() +
                   static_cast<std::size_t>(y - window.y) * static_cast<std::size_t>(window.width) +
                   (x - window.x);
        }
    };
    /// The piece that holds a pixel of a raster. Valid until the next call.
    [[nodiscard]] const Piece& get(std::size_t raster, int x, int y) {
        if (!m_pieces.empty() && m_pieces.front().holds(raster, x, y))
            return m_pieces.front();
        return look_up(raster, x, y);
    }
    [[nodiscard]] std::uint64_t pieces_read() const { return m_read; }

private:
    static constexpr std::size_t most_pixels = std::size_t{24} << 20;  // 96 MB
    using Key = std::tuple<std::size_t, int, int>;
    [[nodiscard]] static Key key_of(const Piece& p) { return {p.raster, p.window.y, p.window.x}; }
    const Piece& look_up(std::size_t raster, int x, int y);

    std::deque<HeightRaster>& m_rasters;
    std::list<Piece> m_pieces;  // the last used in front
    std::map<Key, std::list<Piece>::iterator> m_index;
    std::size_t m_pixels = 0;
    std::uint64_t m_read = 0;
};

}  // namespace loamway

#endif
