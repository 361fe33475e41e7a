// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <limits>

#include "road_heights.h"

namespace loamway {
namespace {

constexpr std::int32_t least_climb_dm = 10;  // less is noise of the elevation, not a hill (assumption)

struct ClimbSum {
    std::int64_t ascent_dm = 0, descent_dm = 0;
    void go(std::int64_t by) { (by > 0 ? ascent_dm : descent_dm) += std::abs(by); }
};

/// Sums the ways between turning points that lie at least the threshold apart; what is left at the end
/// counts, so that ascent less descent is the difference of the ends.
ClimbSum climb_of(std::span<const std::int32_t> profile) {
    ClimbSum sum;
    std::int32_t from = profile.front(), extreme = from;
    int direction = 0;
    for (const std::int32_t h : profile) {
        if (direction == 0) {
            if (std::abs(h - from) < least_climb_dm)
                continue;
            direction = h > from ? 1 : -1;
            extreme = h;
        } else if ((h - extreme) * direction >= 0) {
            extreme = h;
        } else if (std::abs(h - extreme) >= least_climb_dm) {
            sum.go(std::int64_t{extreme} - from);
            from = extreme;
            extreme = h;
            direction = -direction;
        }
    }
    if (direction != 0)
        sum.go(std::int64_t{extreme} - from);
    else
        extreme = from;
    sum.go(std::int64_t{profile.back()} - extreme);
    return sum;
}

}  // namespace

void store_heights(RegionData& region, const RoadHeights& heights) {
    const auto dm = [&heights](std::size_t i) {
        return static_cast<std::int32_t>(std::lround(heights.metres[i] * 10.0));
    };
    constexpr std::int64_t most = std::numeric_limits<std::uint16_t>::max();
    std::vector<std::int32_t> profile;
    region.edge_climb.reserve(region.edges.size());
    for (std::size_t e = 0; e < region.edges.size(); ++e) {
        EdgeClimbRecord record{static_cast<std::uint32_t>(region.heights.size()), 0, 0};
        if (heights.known[e]) {
            profile.assign(1, dm(region.edges[e].tail));
            for (std::size_t i = heights.inner_first[e]; i < heights.inner_first[e + 1]; ++i)
                profile.push_back(dm(i));
            profile.push_back(dm(region.edges[e].head));
            const ClimbSum climb = climb_of(profile);
            // An edge that climbs 6.5 km is none; its elevation is broken.
            if (climb.ascent_dm <= most && climb.descent_dm <= most) {
                record.ascent_dm = static_cast<std::uint16_t>(climb.ascent_dm);
                record.descent_dm = static_cast<std::uint16_t>(climb.descent_dm);
                append_heights(region.heights, profile);
            }
        }
        region.edge_climb.push_back(record);
    }
}

}  // namespace loamway
