// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_FRONT_H
#define LOAMWAY_SEARCH_FRONT_H

// All choices between two sums that a vehicle has from one point to another: every pair (primary weight,
// length) such that no route within the cap is better in one and no worse in the other. Routes obey the same
// rules as those of RouteFinder. Exact unless the label budget runs out, and then it says so.
//
// The search is the bi-objective A* of Hernandez Ulloa et al. (ICAPS 2020) over arcs: labels are taken up by
// the least primary weight they can still end with, then by length, so that the shortest label taken up at a
// state so far is all that dominance needs. Both bounds are exact distances from two backward sweeps, which
// keep to the roads that lie on some way within the cap. A label is completed along the way with the
// least primary weight as soon as it is taken up, which tightens the bound on the length early.

#include <cstdint>
#include <memory>
#include <span>
#include <utility>
#include <vector>

#include "loamway/search/route.h"

namespace loamway {

struct FrontQuestion {
    RoadPoint from, to;
    std::span<const std::uint32_t> primary;  // weight of each arc
    std::uint64_t cap_dm = no_cap;
    std::size_t label_budget = 4'000'000;
};

/// One choice: the sums of a route.
struct FrontSums {
    std::uint64_t primary = 0;
    std::uint64_t length_dm = 0;
    friend bool operator==(const FrontSums&, const FrontSums&) = default;
};

/// The answer. Keeps a reference to the roads, from which it makes the routes asked for. Thread-safe to read.
class Front {
public:
    /// Ascending by primary weight, descending by length: the first has the least weight within the cap, the
    /// last the least length. Empty when no way is within the cap.
    [[nodiscard]] const std::vector<FrontSums>& points() const { return m_points; }
    /// The route of a point, by its number among points().
    [[nodiscard]] Route route(std::size_t point) const;
    /// False when the label budget ran out: choices are then missing before the last one.
    [[nodiscard]] bool exact() const { return m_exact; }
    [[nodiscard]] std::size_t labels() const { return m_labels_made; }

private:
    friend class FrontSearch;
    /// How a point's route is put together: along labels to one, then straight onto the stretch at the end or
    /// on along a sweep's way there.
    struct Way {
        std::uint32_t label = 0;  // none: the route is the stretch both ends share, or begins with `state`
        std::uint32_t state = 0;  // behind a label: the stretch at the end, or none for the sweep's way
        bool shortest = false;    // goes on by the least length, not by the least primary weight
    };
    struct Label {
        std::uint32_t state = 0;
        std::uint32_t before = 0;
    };

    const VehicleRoads* m_roads = nullptr;
    RoadPoint m_from, m_to;
    std::vector<FrontSums> m_points;
    std::vector<Way> m_ways;  // beside m_points
    std::vector<Label> m_labels;
    struct Onward;
    std::shared_ptr<const Onward> m_onward;
    bool m_exact = true;
    std::size_t m_labels_made = 0;
};

[[nodiscard]] Front find_front(const VehicleRoads& roads, const FrontQuestion& question);

/// At most `most` (two or more) of the points, for people to choose from; their numbers, ascending. Both ends
/// stay; then, again and again, the point farthest from those taken is added, the earlier one among equals.
/// Far is measured along both sums, each as a share of its range over the whole front. So what is taken for a
/// smaller `most` is taken for a larger one too.
[[nodiscard]] std::vector<std::size_t> thin_front(std::span<const FrontSums> points, std::size_t most = 12);

}  // namespace loamway

#endif
