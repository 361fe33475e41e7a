// SPDX-License-Identifier: Apache-2.0
#include "loamway/plan/low_bed_runs.h"

#include <algorithm>

#include "hauling.h"
#include "loamway/search/composition.h"
#include "loamway/search/fast_route.h"
#include "node_distances.h"

namespace loamway {

namespace {

constexpr double unit = 1e4;  // weights count ten-thousandths of a currency unit

/// On one road, without passing a node.
RouteWeight along_one_road(const VehicleRoads& roads, std::span<const std::uint32_t> weights,
                           const RoadPoint& a, const RoadPoint& b) {
    if (a.edge != b.edge)
        return infinite_weight;
    const RoadGraph& graph = roads.graph();
    const ArcId arc = graph.arc_of(a.edge, b.offset_dm < a.offset_dm);
    if (!roads.open(arc))
        return infinite_weight;
    const auto [from, to] = std::minmax(a.offset_dm, b.offset_dm);
    return pack_weight(
        static_cast<std::uint32_t>(weight_between(weights[arc.index()], graph.arc(arc).length_dm, from, to)),
        to - from);
}

LowBedRun run_of(RouteWeight w, const RunPrices& prices, const Rates& rates) {
    LowBedRun r;
    r.there = w != infinite_weight;
    if (!r.there)
        return r;
    r.length = Length::from_decimetres(static_cast<std::int64_t>(length_of(w)));
    const double by_hour = static_cast<double>(primary_of(w)) / unit - prices.per_km.units() * r.length.km();
    r.time = Duration::from_hours(std::max(0.0, by_hour / prices.per_h.units()));
    r.cost = rates.truck_per_h * r.time.hours() + rates.truck_per_km * r.length.km();
    return r;
}

}  // namespace

std::vector<LowBedRun> low_bed_runs(const PlanInputs& inputs, std::span<const GeoPoint> points) {
    // Rates of next to nothing would round the weights away; then the way is the quickest.
    PlanInputs in = inputs;
    in.rates.truck_per_h = std::max(in.rates.truck_per_h, Money::from_units(1));
    const Setting setting(in);
    const Hauling hauling(setting);
    const VehicleRoads& roads = hauling.empty();
    const std::vector<std::uint32_t>& weights = hauling.empty_weights();
    std::optional<Hierarchy> hierarchy;
    if (Hierarchy::stored_in(setting.region()))
        hierarchy.emplace(setting.region());
    NodeDistances distances(setting.graph(), hierarchy ? &*hierarchy : nullptr,
                            through_weights(roads, weights));
    std::vector<std::optional<RoadPoint>> at;
    std::vector<std::vector<WeightedNode>> ends;
    std::vector<NodeId> nodes;
    for (const GeoPoint p : points) {
        at.push_back(snap(roads, p, in.snap_limit));
        ends.push_back(at.back() ? nodes_to(roads, *at.back(), weights) : std::vector<WeightedNode>());
        for (const WeightedNode& n : ends.back())
            nodes.push_back(n.node);
    }
    const RunPrices prices = hauling.empty_prices();
    std::vector<LowBedRun> out(points.size() * points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (!at[i])
            continue;
        const std::vector<RouteWeight> to_nodes =
            distances.from(nodes_from(roads, *at[i], weights), nodes, infinite_weight);
        std::size_t n = 0;
        for (std::size_t j = 0; j < points.size(); ++j) {
            RouteWeight least = at[j] ? along_one_road(roads, weights, *at[i], *at[j]) : infinite_weight;
            for (const WeightedNode& end : ends[j])
                least = std::min(least, add_weights(to_nodes[n++], end.weight));
            out[i * points.size() + j] = run_of(i == j ? RouteWeight{0} : least, prices, inputs.rates);
        }
    }
    return out;
}

}  // namespace loamway
