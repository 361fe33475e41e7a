// SPDX-License-Identifier: Apache-2.0
// From arcs of a hierarchy back to arcs of the region. Nothing is stored for it: an arc's weight is either
// that of an arc of the region or the sum of two arcs over a lower rank, and is found again by comparing.
#include <algorithm>
#include <functional>
#include <iterator>

#include "loamway/base/error.h"
#include "loamway/search/hierarchy.h"

namespace loamway {

namespace {

struct Leg {
    std::uint32_t from, to;  // ranks
    std::uint32_t arc;
};

/// The lowest-numbered arc of the region that is as good as the leg.
ArcId plain_arc(const HierarchyMetric& metric, const Leg& leg, RouteWeight weight) {
    const RegionView& region = metric.hierarchy().region();
    const NodeId tail = metric.hierarchy().node(leg.from), head = metric.hierarchy().node(leg.to);
    for (std::uint32_t a = region.arc_first[tail.index()]; a < region.arc_first[tail.index() + 1]; ++a)
        if (region.arcs[a].head == head.value() && metric.arc_weights()[a] == weight)
            return ArcId{a};
    return {};
}

/// The two legs over a lower rank that make up the leg. Ranks are tried from above: a way across a part of
/// the map leads over one of its separators, and those have the highest ranks in it.
std::pair<Leg, Leg> two_legs(const HierarchyMetric& metric, const Leg& leg, RouteWeight weight) {
    const auto a = metric.hierarchy().below(leg.from), b = metric.hierarchy().below(leg.to);
    auto i = a.rbegin(), j = b.rbegin();
    const std::uint32_t bound = std::min(leg.from, leg.to);
    const auto too_high = [bound](const Hierarchy::Below& x) { return x.tail >= bound; };
    if (leg.from > bound)
        i = std::reverse_iterator(std::partition_point(a.begin(), a.end(), std::not_fn(too_high)));
    else
        j = std::reverse_iterator(std::partition_point(b.begin(), b.end(), std::not_fn(too_high)));
    while (i != a.rend() && j != b.rend()) {
        if (i->tail > j->tail) {
            ++i;
        } else if (j->tail > i->tail) {
            ++j;
        } else {
            if (add_weights(metric.down()[i->arc], metric.up()[j->arc]) == weight)
                return {{leg.from, i->tail, i->arc}, {i->tail, leg.to, j->arc}};
            ++i;
            ++j;
        }
    }
    throw Error(ErrorKind::internal, "a way in the node hierarchy cannot be followed");
}

}  // namespace

void unpack_arc(const HierarchyMetric& metric, std::uint32_t from, std::uint32_t to, std::uint32_t arc,
                std::vector<ArcId>& path) {
    std::vector<Leg> legs{{from, to, arc}};
    while (!legs.empty()) {
        const Leg leg = legs.back();
        legs.pop_back();
        const RouteWeight weight = leg.from < leg.to ? metric.up()[leg.arc] : metric.down()[leg.arc];
        if (const ArcId plain = plain_arc(metric, leg, weight); !plain.is_none()) {
            path.push_back(plain);
            continue;
        }
        const auto [first, second] = two_legs(metric, leg, weight);
        legs.push_back(second);
        legs.push_back(first);
    }
}

}  // namespace loamway
