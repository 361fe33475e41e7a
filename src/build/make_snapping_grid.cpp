// SPDX-License-Identifier: Apache-2.0
#include <limits>

#include "assembly.h"
#include "cell_grid.h"
#include "loamway/base/error.h"

namespace loamway {

namespace {

constexpr std::int64_t wanted_cell_e7 = 45'000;  // 500 m from south to north
constexpr std::int64_t max_cells = 4'000'000;

}  // namespace

/// Each edge stands in every cell that the box of one of its segments touches, so that the cells around a
/// point name every edge near it.
void make_snapping_grid(Assembly& a) {
    MapBox bounds;
    for (const RoadPiece& piece : a.pieces)
        for (std::uint32_t i = 0; i < piece.ref_count; ++i)
            bounds.add(a.ref_point(piece.ref_first + i));
    CellGrid grid;
    grid.fill(
        bounds, wanted_cell_e7, max_cells, static_cast<std::uint32_t>(a.pieces.size()),
        [&](std::uint32_t e, auto visit) {
            const RoadPiece& piece = a.pieces[e];
            for (std::uint32_t i = 1; i < piece.ref_count; ++i)
                visit(MapBox::of(a.ref_point(piece.ref_first + i - 1), a.ref_point(piece.ref_first + i)));
        });
    if (grid.cell() > std::numeric_limits<std::int32_t>::max())
        throw Error(ErrorKind::limit, "the extract's roads are too long for a region",
                    "cut the extract into smaller ones");
    a.out.grid_header = {static_cast<std::int32_t>(grid.min_lat()), static_cast<std::int32_t>(grid.min_lon()),
                         static_cast<std::int32_t>(grid.cell()), static_cast<std::int32_t>(grid.rows()),
                         static_cast<std::int32_t>(grid.columns())};
    a.out.grid_first = std::move(grid.first());
    a.out.grid_edges = std::move(grid.items());
}

}  // namespace loamway
