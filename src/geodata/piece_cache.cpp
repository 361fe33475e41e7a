// SPDX-License-Identifier: Apache-2.0
#include "piece_cache.h"

#include <algorithm>

namespace loamway {

const PieceCache::Piece& PieceCache::look_up(std::size_t raster, int x, int y) {
    HeightRaster& r = m_rasters[raster];
    const PieceSize size = r.piece();
    const int left = x / size.width * size.width, top = y / size.height * size.height;
    if (const auto known = m_index.find({raster, top, left}); known != m_index.end()) {
        m_pieces.splice(m_pieces.begin(), m_pieces, known->second);
        return m_pieces.front();
    }
    Piece piece;
    piece.raster = raster;
    piece.window = {left, top, std::min(size.width, r.width() - left),
                    std::min(size.height, r.height() - top)};
    r.read(piece.window, piece.metres);
    ++m_read;
    m_pixels += piece.metres.size();
    m_pieces.push_front(std::move(piece));
    m_index.emplace(key_of(m_pieces.front()), m_pieces.begin());
    while (m_pixels > most_pixels && m_pieces.size() > 1) {
        m_pixels -= m_pieces.back().metres.size();
        m_index.erase(key_of(m_pieces.back()));
        m_pieces.pop_back();
    }
    return m_pieces.front();
}

}  // namespace loamway
