// SPDX-License-Identifier: Apache-2.0
#include "point_lattice.h"

#include <cmath>

namespace loamway {
namespace {

constexpr double off_at_most = 0.02;  // pixels
constexpr std::size_t most_cells = 200'000;

PixelPoint operator+(PixelPoint a, PixelPoint b) {
    return {a.x + b.x, a.y + b.y};
}
PixelPoint operator-(PixelPoint a, PixelPoint b) {
    return {a.x - b.x, a.y - b.y};
}
PixelPoint operator*(double f, PixelPoint p) {
    return {f * p.x, f * p.y};
}

/// Rounds down, also below zero.
std::int32_t cell_number(std::int32_t e7, std::int32_t cell) {
    const std::int32_t n = e7 / cell;
    return e7 % cell < 0 ? n - 1 : n;
}

}  // namespace

PointLattice::Cell PointLattice::make_cell(std::int32_t row, std::int32_t column) const {
    const auto corner = [&](double up, double right) {
        return m_exact((row + up) * cell_e7 * 1e-7, (column + right) * cell_e7 * 1e-7);
    };
    const auto sw = corner(0, 0), se = corner(0, 1), nw = corner(1, 0), ne = corner(1, 1);
    const auto middle = corner(0.5, 0.5), west = corner(0.5, 0), south = corner(0, 0.5);
    Cell c;
    if (!sw || !se || !nw || !ne || !middle || !west || !south)
        return c;
    const auto near = [](PixelPoint a, PixelPoint b) {
        return std::abs(a.x - b.x) <= off_at_most && std::abs(a.y - b.y) <= off_at_most;
    };
    c.smooth = near(0.25 * (*sw + *se + *nw + *ne), *middle) && near(0.5 * (*sw + *nw), *west) &&
               near(0.5 * (*sw + *se), *south);
    c.sw = *sw;
    c.east = *se - *sw;
    c.north = *nw - *sw;
    c.twist = *ne - *se - *nw + *sw;
    return c;
}

std::optional<PixelPoint> PointLattice::at(GeoPoint p) {
    const std::int32_t row = cell_number(p.lat_e7, cell_e7), column = cell_number(p.lon_e7, cell_e7);
    if (m_last == nullptr || row != m_row || column != m_column) {
        if (m_cells.size() >= most_cells)
            m_cells.clear();
        const auto key =
            std::uint64_t{static_cast<std::uint32_t>(row)} << 32 | static_cast<std::uint32_t>(column);
        const auto [found, is_new] = m_cells.try_emplace(key);
        if (is_new)
            found->second = make_cell(row, column);
        m_last = &found->second;
        m_row = row;
        m_column = column;
    }
    if (!m_last->smooth)
        return m_exact(p.lat(), p.lon());
    const Cell& c = *m_last;
    const double up = static_cast<double>(p.lat_e7 - row * cell_e7) / cell_e7;
    const double right = static_cast<double>(p.lon_e7 - column * cell_e7) / cell_e7;
    return PixelPoint{c.sw.x + right * c.east.x + up * (c.north.x + right * c.twist.x),
                      c.sw.y + right * c.east.y + up * (c.north.y + right * c.twist.y)};
}

}  // namespace loamway
