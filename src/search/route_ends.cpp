// SPDX-License-Identifier: Apache-2.0
#include "route_ends.h"

#include "loamway/base/error.h"

namespace loamway {

void too_long_to_add_up() {
    throw Error(ErrorKind::limit, "a route through this region is too long or too dear to be added up",
                "use a smaller region, or prices in a unit of money worth more, such as thousands");
}

RouteEnds::RouteEnds(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to) {
    const RoadGraph& graph = roads.graph();
    for (const bool reversed : {false, true}) {
        const ArcId a = graph.arc_of(from.edge, reversed);
        const std::uint32_t length = graph.arc(a).length_dm;
        const std::uint32_t at = reversed ? length - from.offset_dm : from.offset_dm;
        if (roads.open(a))
            starts.push_back({a, at, length});
        const ArcId t = graph.arc_of(to.edge, reversed);
        const std::uint32_t t_length = graph.arc(t).length_dm;
        const std::uint32_t t_at = reversed ? t_length - to.offset_dm : to.offset_dm;
        if (!roads.open(t))
            continue;
        targets.push_back({t, 0, t_at});
        if (from.edge == to.edge && at <= t_at && (!direct || t_at - at < direct->length_dm()))
            direct = RoutePiece{t, at, t_at};
    }
}

std::uint64_t weight_of(const RoadGraph& graph, std::span<const std::uint32_t> primary, const RoutePiece& p) {
    const std::uint32_t length = graph.arc(p.arc).length_dm;
    return pack_checked(weight_between(primary[p.arc.index()], length, p.from_dm, p.to_dm), p.length_dm());
}

}  // namespace loamway
