// SPDX-License-Identifier: Apache-2.0
#include "cell_grid.h"

namespace loamway {

void CellGrid::lay_out(const MapBox& bounds, std::int64_t cell_e7, std::int64_t max_cells) {
    m_cell = cell_e7;
    m_rows = m_columns = 0;
    m_min_lat = m_min_lon = 0;
    if (bounds.empty())
        return;
    m_min_lat = bounds.min_lat;
    m_min_lon = bounds.min_lon;
    const auto lay = [&] {
        m_rows = (bounds.max_lat - bounds.min_lat) / m_cell + 1;
        m_columns = (bounds.max_lon - bounds.min_lon) / m_cell + 1;
    };
    for (lay(); m_rows * m_columns > max_cells; lay())
        m_cell += m_cell / 4 + 1;
}

}  // namespace loamway
