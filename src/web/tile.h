// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_TILE_H
#define LOAMWAY_SRC_WEB_TILE_H

// The region as vector tiles (Mapbox Vector Tile 2.1, uncompressed), for the page's map. Layers:
//   ground       areas; kind: wood, built_up, water
//   water_lines  kind: river
//   railways     kind: railway
//   roads        class: hard, gravel, earth; known; rank 0 (motorway) .. 5 (track). From zoom 12 on every
//   road
//                of the tile, with name, bridge, tunnel and edge (its number); below, those that matter at
//                that zoom, joined and simplified.
//   places       name, kind, rank 0 (city) .. 5
//   stops        kind (region/stop_words.h), score, name, loading (a low-bed has room to load there: by its
//                kind alone, not looked at for a vehicle); from zoom 12 on
//   corrections  id, kind, value; those in force

#include <cstdint>
#include <string>
#include <vector>

#include "loamway/graph/corrected_region.h"
#include "loamway/region/region.h"
#include "loamway/region/region_window.h"

namespace loamway {

constexpr int deepest_zoom = 15;

/// Column x from the west, row y from the north, both below 2^z; z is 0 to deepest_zoom.
struct TileId {
    int z = 0;
    std::uint32_t x = 0, y = 0;
};

/// Makes tiles of one region. Knows where its areas lie, which takes a look at every point of them once: keep
/// it beside the region. Thread-safe.
class TileMaker {
public:
    /// The region's arrays must outlive it.
    explicit TileMaker(const RegionView& region);

    /// The tile's bytes, the same for the same region, corrections and tile; empty when nothing lies there.
    /// `corrected`, of the same region, may be null. Input Error when there is no such tile.
    [[nodiscard]] std::string make(const CorrectedRegion* corrected, const TileId& id) const;

private:
    friend class TileDrawing;
    RegionView m_region;
    std::vector<std::uint8_t> m_ranks;        // of each tag set
    std::uint8_t m_lowest_rank = 0;           // of all roads
    std::vector<std::uint32_t> m_background;  // records other than buildings
    std::vector<GeoBox> m_background_boxes;   // beside m_background
};

/// For a single tile.
[[nodiscard]] std::string make_tile(const RegionView& region, const CorrectedRegion* corrected,
                                    const TileId& id);

}  // namespace loamway

#endif
