// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_COMPOSITION_H
#define LOAMWAY_SEARCH_COMPOSITION_H

// A move put together from three legs: driven to a loading place, hauled to another, driven on from there; or
// loaded where it begins, unloaded where it ends, or driven all the way: whichever costs least in all. Exact.
//
// Weights of both vehicles must be of one unit: money, say. Ways run between nodes and know nothing of turn
// rules, as those of HierarchyQuery; route the legs of the answer with FastRoute or RouteFinder afterwards,
// and where the sums then differ, the answer's are the lower bounds. Ties: driven all the way first, then the
// lowest place to load (the beginning itself before all places), then the lowest place to unload (the end
// itself before all).

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "loamway/graph/road_graph.h"
#include "loamway/graph/snap.h"
#include "loamway/search/hierarchy.h"

namespace loamway {

/// Where a machine can go onto a low-bed and off it.
struct TransferPlace {
    NodeId node;  // reached by both vehicles
    /// Hand-over there and the low-bed's empty run to it; infinite: nothing can be loaded there.
    RouteWeight load = 0;
    /// Hand-over there and the low-bed's empty run from it; infinite: nothing can be unloaded there.
    RouteWeight unload = 0;
};

struct CompositionQuestion {
    /// Nodes at which the machine comes onto open road from where the move begins, and leaves it for where
    /// the move ends, with the weight of driving there: nodes_from() and nodes_to().
    std::span<const WeightedNode> from, to;
    /// Driving from one to the other without passing a node; infinite where that is not possible.
    RouteWeight direct = infinite_weight;
    /// The same for the low-bed, when it loads where the move begins or unloads where it ends: hand-over and
    /// empty run belong to the weights. Empty: it cannot.
    std::span<const WeightedNode> haul_from, haul_to;
    std::span<const TransferPlace> places;
    /// Driving all the way is no answer.
    bool must_haul = false;
};

struct Composition {
    bool hauled = false;
    /// Numbers of places; nothing: where the move begins or ends, or when it is not hauled at all.
    std::optional<std::uint32_t> load, unload;
    RouteWeight drive_before = 0;  // to the place; all the way when it is not hauled
    /// From one place to the other without hand-overs and empty runs; loaded where the move begins or
    /// unloaded where it ends, with those of that end, which its weighted nodes hold.
    RouteWeight haul = 0;
    RouteWeight drive_after = 0;
    RouteWeight total = 0;  // hand-overs and empty runs included
    friend bool operator==(const Composition&, const Composition&) = default;
};

/// Answers questions one after another and reuses its memory; one object a thread. Keeps a reference to the
/// hierarchy.
class CompositionFinder {
public:
    explicit CompositionFinder(const Hierarchy& hierarchy);

    /// Nothing when the move can be made in no way. Two sweeps on the driving metric, one query on the other.
    [[nodiscard]] std::optional<Composition> find(const CompositionQuestion& question,
                                                  const HierarchyMetric& driving,
                                                  const HierarchyMetric& hauling);

private:
    /// Weight and, among equals, the lowest place it came from: 0 for the end itself, then the places.
    struct Label {
        RouteWeight weight = infinite_weight;
        std::uint32_t place = 0;
        friend auto operator<=>(const Label&, const Label&) = default;
    };
    struct Side {
        std::vector<Label> labels;         // by rank; infinite wherever not in `ranks`
        std::vector<std::uint32_t> ranks;  // all ancestors of the starts, rising
        std::vector<std::uint32_t> mark;   // by rank: the question that listed it
    };
    struct Best;

    void start(Side& side, NodeId node, Label label);
    void climb(Side& side, std::span<const RouteWeight> weights, std::uint32_t rank, RouteWeight bound) const;
    void meet(const HierarchyMetric& hauling, Best& best);

    const Hierarchy* m_hierarchy;
    HierarchyQuery m_query;
    Side m_loaded, m_unloaded;
    std::uint32_t m_now = 0;
    std::vector<NodeId> m_nodes;
    std::vector<RouteWeight> m_to_place, m_from_place;
};

/// The same without a hierarchy: one search over three layers of the graph. Weights by arc, infinite where
/// there is no way. For regions that carry no node order.
[[nodiscard]] std::optional<Composition> find_composition_plainly(const RoadGraph& graph,
                                                                  const CompositionQuestion& question,
                                                                  std::span<const RouteWeight> driving,
                                                                  std::span<const RouteWeight> hauling);

/// Where a vehicle comes onto open road from a point, over private ground when the point lies on it, and what
/// it weighs to get there. `primary` has one weight an arc.
[[nodiscard]] std::vector<WeightedNode> nodes_from(const VehicleRoads& roads, const RoadPoint& from,
                                                   std::span<const std::uint32_t> primary);
/// Where it leaves open road for a point, and what it weighs from there.
[[nodiscard]] std::vector<WeightedNode> nodes_to(const VehicleRoads& roads, const RoadPoint& to,
                                                 std::span<const std::uint32_t> primary);

}  // namespace loamway

#endif
