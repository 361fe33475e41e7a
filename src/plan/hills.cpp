// SPDX-License-Identifier: Apache-2.0
#include "hills.h"

#include <algorithm>
#include <cmath>

namespace loamway {

namespace {

constexpr double least_climb_m = 1;   // as in the region: less is noise of the elevation
constexpr double steep_over_m = 100;  // a grade counts over this length
constexpr double thin_within_m = 1;   // a picture of the way needs no more

using Profile = std::vector<std::array<double, 2>>;  // metres along the option, metres above sea level

double height_at(const std::vector<HeightAt>& heights, std::uint32_t dm) {
    const auto above = std::lower_bound(heights.begin(), heights.end(), dm,
                                        [](const HeightAt& h, std::uint32_t at) { return h.at_dm < at; });
    if (above == heights.begin() || above == heights.end())
        return (above == heights.end() ? heights.back() : heights.front()).height.metres();
    const HeightAt &low = above[-1], &high = *above;
    const double fraction = static_cast<double>(dm - low.at_dm) / (high.at_dm - low.at_dm);
    return low.height.metres() + fraction * (high.height - low.height).metres();
}

/// The heights of a piece of the path; false when they are not known.
bool add_piece(const RoadGraph& graph, const PathPiece& p, Profile& profile) {
    const std::vector<HeightAt> heights = graph.heights_along(p.piece.arc);
    if (heights.empty())
        return false;
    const auto add = [&](std::uint32_t dm) {
        const double at_m = static_cast<double>(p.at_dm + dm - p.piece.from_dm) / 10.0;
        if (profile.empty() || at_m > profile.back()[0])
            profile.push_back({at_m, height_at(heights, dm)});
    };
    add(p.piece.from_dm);
    for (const HeightAt& h : heights)
        if (h.at_dm > p.piece.from_dm && h.at_dm < p.piece.to_dm)
            add(h.at_dm);
    add(p.piece.to_dm);
    return true;
}

/// Ups and downs between turning points at least the threshold apart; ascent less descent is exact.
void add_up_climb(const Profile& profile, OptionClimb& climb) {
    double up = 0, down = 0, from = profile.front()[1], extreme = from;
    int direction = 0;
    const auto go = [&](double by) { (by > 0 ? up : down) += std::abs(by); };
    for (const auto& [at_m, h] : profile) {
        if (direction == 0 ? std::abs(h - from) >= least_climb_m
                           : (h - extreme) * direction < -least_climb_m) {
            go(extreme - from);
            from = extreme;
            direction = h > extreme ? 1 : -1;
            extreme = h;
        } else if (direction != 0 && (h - extreme) * direction > 0) {
            extreme = h;
        }
    }
    go(extreme - from);
    go(profile.back()[1] - extreme);
    climb.ascent_m = up;
    climb.descent_m = down;
}

void find_steepest(const Profile& profile, OptionClimb& climb) {
    std::size_t j = 0;
    for (const auto& [at_m, h] : profile) {
        const double end_m = at_m + steep_over_m;
        while (j < profile.size() && profile[j][0] < end_m)
            ++j;
        if (j == profile.size())
            return;
        const auto &low = profile[j - 1], &high = profile[j];
        const double there = low[1] + (high[1] - low[1]) * (end_m - low[0]) / (high[0] - low[0]);
        const double grade_pct = (there - h) / steep_over_m * 100;
        if (!climb.steepest_pct || std::abs(grade_pct) > std::abs(*climb.steepest_pct)) {
            climb.steepest_pct = grade_pct;
            climb.steepest_at_m = at_m;
        }
    }
}

/// Keeps the points that a line through the kept ones would miss by more than the tolerance.
Profile thinned(const Profile& profile) {
    std::vector<bool> keep(profile.size(), false);
    keep.front() = keep.back() = true;
    std::vector<std::pair<std::size_t, std::size_t>> open{{0, profile.size() - 1}};
    while (!open.empty()) {
        const auto [a, b] = open.back();
        open.pop_back();
        std::size_t worst = a;
        double off_m = thin_within_m;
        for (std::size_t i = a + 1; i < b; ++i) {
            const double fraction = (profile[i][0] - profile[a][0]) / (profile[b][0] - profile[a][0]);
            const double line = profile[a][1] + fraction * (profile[b][1] - profile[a][1]);
            if (std::abs(profile[i][1] - line) > off_m) {
                off_m = std::abs(profile[i][1] - line);
                worst = i;
            }
        }
        if (worst != a) {
            keep[worst] = true;
            open.emplace_back(a, worst);
            open.emplace_back(worst, b);
        }
    }
    Profile out;
    for (std::size_t i = 0; i < profile.size(); ++i)
        if (keep[i])
            out.push_back(profile[i]);
    return out;
}

}  // namespace

void set_hills(Option& o, const Setting& setting, const Path& path) {
    if (!setting.graph().has_heights())
        return;
    Profile profile;
    double flat_m = 0;
    for (const PathPiece& p : path.pieces)
        if (!add_piece(setting.graph(), p, profile))
            flat_m += p.piece.length_dm() / 10.0;
    if (profile.empty())
        return;
    o.climb = OptionClimb{};
    o.climb->flat_assumed_m = flat_m;
    add_up_climb(profile, *o.climb);
    find_steepest(profile, *o.climb);
    o.elevation = thinned(profile);
}

}  // namespace loamway
