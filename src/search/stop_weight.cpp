// SPDX-License-Identifier: Apache-2.0
#include <optional>

#include "loamway/search/stop_search.h"
#include "route_ends.h"

namespace loamway {

std::uint64_t weight_with_stops(const RoadGraph& graph, const StopOffers& offers,
                                const StopSearchQuestion& question, std::span<const RoutePiece> pieces,
                                std::span<const PlacedStop> stops) {
    std::uint64_t sum = 0;
    std::size_t next = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const RoutePiece& p = pieces[i];
        std::optional<ArcId> spur;
        for (; next < stops.size() && stops[next].piece <= i; ++next) {
            sum += question.prices[stops[next].offer];
            if (stops[next].offer >= offers.beside.size())
                spur = offers.mouths[stops[next].offer - offers.beside.size()].spur;
        }
        const auto turn = [&](const RoutePiece& in, const RoutePiece& out) {
            return primary_of(turn_weight(graph, question.turns, in, out));
        };
        if (i > 0 && spur)
            sum +=
                turn(pieces[i - 1], whole_arc(graph, *spur)) + turn(whole_arc(graph, graph.twin(*spur)), p);
        else if (i > 0)
            sum += turn(pieces[i - 1], p);
        sum += primary_of(weight_of(graph, question.primary, p));
    }
    return sum;
}

}  // namespace loamway
