// SPDX-License-Identifier: Apache-2.0
#include "way_stretches.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace loamway {

namespace {

constexpr std::int64_t half_turn = 1800000000;
// A run shorter than this is what rounding leaves between two others.
constexpr double shortest_run_m = 1.0;

bool crosses(GeoPoint a, GeoPoint b) {
    return std::llabs(static_cast<std::int64_t>(a.lon_e7) - b.lon_e7) > half_turn;
}

}  // namespace

std::vector<Line> cut_at_date_line(const Line& line) {
    std::vector<Line> out{{line.front()}};
    for (std::size_t i = 1; i < line.size(); ++i) {
        const GeoPoint a = line[i - 1], b = line[i];
        if (crosses(a, b)) {
            const std::int64_t side = a.lon_e7 > 0 ? half_turn : -half_turn;
            const std::int64_t to_line = side - a.lon_e7;
            const std::int64_t whole = to_line + (b.lon_e7 + side);
            const double share = whole == 0 ? 0.0 : static_cast<double>(to_line) / static_cast<double>(whole);
            const auto lat = static_cast<std::int32_t>(std::lround(a.lat_e7 + share * (b.lat_e7 - a.lat_e7)));
            out.back().push_back({lat, static_cast<std::int32_t>(side)});
            out.push_back({{lat, static_cast<std::int32_t>(-side)}});
        }
        out.back().push_back(b);
    }
    return out;
}

std::vector<WayStretch> stretches_of(const Option& o, double length_m) {
    std::vector<WayStretch> out;
    double at = 0;
    const auto plain = [&out, &at](double to, const Leg& leg) {
        if (to - at > shortest_run_m)
            out.push_back({at, to, &leg, nullptr});
    };
    double leg_end = 0;
    for (const Leg& leg : o.legs) {
        const bool last = &leg == &o.legs.back();
        leg_end = last ? length_m : std::min(length_m, leg_end + leg.length_m);
        for (const SurfaceRun& run : leg.surface_runs) {
            plain(run.from_m, leg);
            const double from = std::max(at, std::min(run.from_m, length_m));
            const double to = std::min(run.to_m, length_m);
            if (to > from) {
                out.push_back({from, to, &leg, &run});
                at = to;
            }
        }
        plain(leg_end, leg);
        at = std::max(at, leg_end);
    }
    return out;
}

}  // namespace loamway
