// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_MIXED_SEARCH_H
#define LOAMWAY_PLAN_MIXED_SEARCH_H

// Every way to drive to a loading place, be hauled from there, and drive on from another, priced exactly:
// what is driven at the search's weights (no stops, no turns), the low-bed with its minimum and its billing
// steps.
//
// First the low-bed's time and km at their plain price, which its bill never falls below: one composition
// with every place as a weighted start and end of the haul tells whether there is a way at all, and what no
// pair can cost less than. Then the pairs of the most promising places, cheapest first. Places beyond those
// are bounded from below, so that whoever stops looking knows what he may have missed.

#include <cstdint>
#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "loading_places.h"
#include "loamway/search/composition.h"
#include "loamway/search/hierarchy.h"
#include "node_distances.h"

namespace loamway {

/// Numbers of places; nothing: loaded where the move begins, unloaded where it ends. Never nothing twice, and
/// never the same place.
struct MixedPair {
    std::optional<std::uint32_t> load, unload;
    double cost = 0;  // units, preparations and loading included
};

struct MixedQuestion {
    RoadPoint from, to;                           // of the machine
    std::optional<RoadPoint> haul_from, haul_to;  // where the low-bed reaches the ends
    std::span<const LoadingPlace> places;
    double cap = std::numeric_limits<double>::infinity();  // a pair is of use only below
};

struct MixedAnswer {
    double bound =
        std::numeric_limits<double>::infinity();  // no pair costs less; infinite: there is none below the cap
    std::vector<MixedPair> pairs;                 // below the cap, cheapest first
    double others = std::numeric_limits<double>::infinity();  // no pair that is missing costs less
};

/// Keeps references to all of them.
class MixedSearch {
public:
    MixedSearch(const Setting& setting, const VehicleRoads& driven,
                const std::vector<std::uint32_t>& drive_weights, const Hauling& hauling);
    ~MixedSearch();
    MixedSearch(const MixedSearch&) = delete;
    MixedSearch& operator=(const MixedSearch&) = delete;

    [[nodiscard]] MixedAnswer find(const MixedQuestion& question);
    /// What no pair can cost less than: the cheapest kilometre there is, as the crow flies.
    [[nodiscard]] double least_possible(const MixedQuestion& question) const;

    /// Of so many places to load at, and of so many to unload at, pairs are made.
    static constexpr std::size_t most_places = 100;

private:
    struct Spot;
    struct Runs;
    [[nodiscard]] double least_per_km() const;
    [[nodiscard]] double least_over(Length crow) const;
    [[nodiscard]] std::vector<std::uint32_t> near_enough(const MixedQuestion& q) const;
    void get_ready(const MixedQuestion& q);
    [[nodiscard]] RouteWeight along_one_road(const RoadPoint& a, const RoadPoint& b) const;
    [[nodiscard]] Spot haul_at(const RoadPoint& at) const;
    [[nodiscard]] Runs measure(const MixedQuestion& q);
    [[nodiscard]] double least_total(const Runs& runs);
    [[nodiscard]] RouteWeight least_haul(std::span<const WeightedNode> from,
                                         std::span<const WeightedNode> to);
    [[nodiscard]] double at_least(RouteWeight out, Length crow, RouteWeight back) const;
    [[nodiscard]] std::vector<std::size_t> most_promising(const std::vector<double>& bounds,
                                                          double& others) const;
    [[nodiscard]] HaulFigures figures(RouteWeight out, RouteWeight loaded, RouteWeight back) const;
    void make_pairs(const MixedQuestion& q, const Runs& runs, MixedAnswer& answer);

    const Setting& m_setting;
    const VehicleRoads& m_driven;
    const Hauling& m_hauling;
    const std::vector<std::uint32_t>& m_drive_weights;
    std::optional<Hierarchy> m_hierarchy;  // where it pays and the region has a node order
    std::unique_ptr<NodeDistances> m_drive, m_haul, m_empty;
    RouteWeight m_at_most = infinite_weight;  // no run that is of use weighs more
    double m_prepare_first = 0, m_prepare_again = 0, m_fixed = 0, m_least_per_km = 0;  // units
};

}  // namespace loamway

#endif
