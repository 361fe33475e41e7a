// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <limits>

#include "loamway/base/error.h"
#include "road_heights.h"

namespace loamway {
namespace {

// Points go to the raster in batches that lie near each other: nodes and edges are numbered along a curve.
constexpr std::size_t batch = 8192;

/// Calls `visit` with the inner points of an edge, evenly spaced, tail to head.
template <class Visit>
void for_each_inner_point(const std::vector<GeoPoint>& line, std::uint32_t pieces, std::vector<double>& along,
                          Visit visit) {
    along.assign(1, 0.0);
    for (std::size_t i = 1; i < line.size(); ++i)
        along.push_back(along.back() + distance(line[i - 1], line[i]).metres());
    std::size_t segment = 1;
    for (std::uint32_t i = 1; i < pieces; ++i) {
        const double at = along.back() * i / pieces;
        while (segment + 1 < line.size() && along[segment] < at)
            ++segment;
        const double step = along[segment] - along[segment - 1];
        visit(
            interpolate(line[segment - 1], line[segment], step > 0 ? (at - along[segment - 1]) / step : 0.0));
    }
}

std::vector<std::uint32_t> place_inner(const RegionData& region) {
    std::uint64_t all = region.node_lat.size();
    std::vector<std::uint32_t> first{static_cast<std::uint32_t>(all)};
    first.reserve(region.edges.size() + 1);
    for (const EdgeRecord& e : region.edges) {
        all += height_pieces(e.length_dm) - 1;
        if (all > std::numeric_limits<std::uint32_t>::max())
            throw Error(ErrorKind::limit, "the region has too many kilometres of road for heights",
                        "build a smaller area");
        first.push_back(static_cast<std::uint32_t>(all));
    }
    return first;
}

}  // namespace

RoadHeights sample_heights(const RegionData& region, const HeightsAt& heights_at) {
    RoadHeights h;
    h.inner_first = place_inner(region);
    h.metres.resize(h.inner_first.back());
    std::vector<GeoPoint> points;
    std::size_t done = 0;
    const auto ask = [&] {
        heights_at(points, std::span(h.metres).subspan(done, points.size()));
        done += points.size();
        points.clear();
    };
    for (std::size_t n = 0; n < region.node_lat.size(); ++n) {
        points.push_back({region.node_lat[n], region.node_lon[n]});
        if (points.size() == batch)
            ask();
    }
    const RegionView view = region.view();
    std::vector<double> along;
    for (std::uint32_t e = 0; e < region.edges.size(); ++e) {
        const std::uint32_t pieces = height_pieces(region.edges[e].length_dm);
        if (pieces > 1)
            for_each_inner_point(view.edge_points(EdgeId(e)), pieces, along,
                                 [&points](GeoPoint p) { points.push_back(p); });
        if (points.size() >= batch)
            ask();
    }
    ask();
    return h;
}

}  // namespace loamway
