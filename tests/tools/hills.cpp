// SPDX-License-Identifier: Apache-2.0
#include "hills.h"

#include <algorithm>
#include <cmath>

namespace loamway {

namespace {

constexpr double second = 1.0 / 3600.0;

struct Hill {
    Spot top;
    double height, radius;  // metres
};

std::vector<Hill> scatter_hills(const County& county) {
    Random random = county.random("hills");
    std::vector<Hill> hills;
    for (int i = 0; i < 60; ++i) {
        const double x = random.between(-1.0, county_columns + 1.0);
        const double y = random.between(-1.0, county_rows + 1.0);
        const double height = random.between(12.0, 75.0);
        const double radius = random.between(900.0, 2600.0);
        hills.push_back({{x * mile, y * mile}, height, radius});
    }
    return hills;
}

/// Distance from a spot to a chain of spots.
double distance_to(const std::vector<Spot>& chain, Spot p) {
    double nearest2 = 1e18;
    for (std::size_t k = 1; k < chain.size(); ++k) {
        const Spot a = chain[k - 1], b = chain[k];
        const double dx = b.x - a.x, dy = b.y - a.y;
        const double along =
            std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
        const double ex = a.x + along * dx - p.x, ey = a.y + along * dy - p.y;
        nearest2 = std::min(nearest2, ex * ex + ey * ey);
    }
    return std::sqrt(nearest2);
}

double height_at(const std::vector<Hill>& hills, const std::vector<Spot>& river, Spot p) {
    const double away = distance_to(river, p);
    const double plain = 35.0 + 40.0 * away / (away + 2500.0);
    double raised = 0.0;
    for (const Hill& h : hills) {
        const double dx = p.x - h.top.x, dy = p.y - h.top.y;
        const double fall = 1.0 + (dx * dx + dy * dy) / (h.radius * h.radius);
        raised += h.height / (fall * fall);
    }
    // No hill stands in the river.
    return plain + raised * away / (away + 600.0);
}

}  // namespace

GroundGrid draw_hills(const County& county) {
    GroundGrid g{620, 372, -35.75, 47.335, 3 * second, {}};
    const std::vector<Hill> hills = scatter_hills(county);
    std::vector<Spot> river;
    for (const VertexId v : county.draft.line(county.river).path) {
        river.push_back(county.draft.at(v));
    }
    for (int row = 0; row < g.height; ++row) {
        for (int column = 0; column < g.width; ++column) {
            const Spot p = county_spot(g.north - (row + 0.5) * g.step, g.west + (column + 0.5) * g.step);
            g.metres.push_back(static_cast<std::int16_t>(std::floor(height_at(hills, river, p) + 0.5)));
        }
    }
    return g;
}

}  // namespace loamway
