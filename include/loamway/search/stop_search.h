// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_STOP_SEARCH_H
#define LOAMWAY_SEARCH_STOP_SEARCH_H

// Route and lubrication stops found together: the best route among those whose stops can be placed, stops
// counted in. Where fit places are sparse this changes the route instead of failing.
//
// A label is (weight, length, driven since the last lubrication, dry after a ford); labels are taken up in
// the order of the least weight they can still end with, bounded by exact distances to the end and by the
// stops that the remaining length asks for at least. Exact unless the label budget runs out, and then it says
// so. Where an offer has room for it, a vehicle that stops may also turn round and go back: so a place off
// the way can be driven to. Nowhere else does a stop change what the roads allow. The length that is capped,
// and that decides among equal weights, is that of the route without the ways in and out of stop places; the
// weight and the interval count those ways too.

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "loamway/search/hierarchy.h"
#include "loamway/search/route.h"

namespace loamway {

/// A place beside a road, passed in either direction.
struct BesideOffer {
    EdgeId edge;
    std::uint32_t offset_dm = 0;  // along the edge
    bool turns = false;           // as below
};
/// A side way to pull into, `depth_dm` deep, and to come out of the same way.
struct MouthOffer {
    ArcId spur;  // into the side way
    std::uint32_t depth_dm = 0;
    /// There is room to turn: a vehicle that stops there may go back the way it came.
    bool turns = false;
};

/// What a vehicle may stop at. Offers are numbered: first those beside roads, then the mouths.
struct StopOffers {
    std::vector<BesideOffer> beside;  // by edge, then offset
    std::vector<MouthOffer> mouths;   // by the node the spur leaves, then arc
    std::vector<bool> ford_edge;      // by edge; empty: none
    std::vector<bool> ford_node;      // by node; empty: none
    [[nodiscard]] std::size_t size() const { return beside.size() + mouths.size(); }
};

struct StopSearchQuestion {
    RoadPoint from, to;
    std::span<const std::uint32_t> primary;  // weight of each arc
    std::span<const std::uint32_t> prices;   // weight of using each offer: waiting, way in and out
    TurnPrices turns;                        // into and out of a mouth too, instead of past it
    std::uint64_t interval_dm = 0;
    std::uint64_t since_dm = 0;  // at the start, at most the interval
    std::uint64_t cap_dm = no_cap;
    /// A total weight that some route with stops is known to reach: what cannot be as good is not looked at.
    std::uint64_t known_primary = std::numeric_limits<std::uint32_t>::max() - 1;
    std::size_t label_budget = 4'000'000;
    /// Where there is a hierarchy, its metrics of through_weights() for `primary` and for the lengths of the
    /// arcs: both or neither. The answer weighs the same; on large maps it comes sooner, because no bound is
    /// worked out that is not asked for. Must outlive the search.
    const HierarchyMetric* metric = nullptr;
    const HierarchyMetric* length_metric = nullptr;
};

struct PlacedStop {
    std::uint32_t offer = 0;
    std::uint64_t route_dm = 0;  // along the route without ways in and out
    std::size_t piece = 0;  // of the route: the one it stands beside; for a mouth, the one driven after it
    bool turns = false;     // the vehicle goes back the way it came
};

struct RouteWithStops {
    Route route;  // primary and length of the route alone, as if nothing stopped on it
    std::vector<PlacedStop> stops;
    std::uint64_t total_primary = 0;  // with the prices of the stops and of the turns at them
};

struct StopSearchResult {
    std::optional<RouteWithStops> found;
    bool exact = true;              // false: the budget ran out before an answer was proven
    std::uint64_t lower_bound = 0;  // no route with stops has a smaller total_primary (with an empty answer:
                                    // what was proven when the budget ran out)
    std::size_t labels = 0;
};

/// What a route weighs with these stops, in driving order: total_primary as the search adds it up.
[[nodiscard]] std::uint64_t weight_with_stops(const RoadGraph& graph, const StopOffers& offers,
                                              const StopSearchQuestion& question,
                                              std::span<const RoutePiece> pieces,
                                              std::span<const PlacedStop> stops);

[[nodiscard]] StopSearchResult find_route_with_stops(const VehicleRoads& roads, const StopOffers& offers,
                                                     const StopSearchQuestion& question);

}  // namespace loamway

#endif
