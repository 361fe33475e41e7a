// SPDX-License-Identifier: Apache-2.0
#include "assemble_route.h"

#include <algorithm>

namespace loamway {

std::pair<RouteWeight, const RoutePiece*> finish(const States& states, std::span<const std::uint32_t> primary,
                                                 const TurnPrices& turns, const RouteEnds& ends,
                                                 std::uint32_t state, const RoutePiece& driven) {
    std::pair<RouteWeight, const RoutePiece*> best{infinite_weight, nullptr};
    const RoadGraph& graph = states.graph();
    const NodeId at = graph.head(states.arc(state));
    for (const RoutePiece& t : ends.targets)
        if (graph.tail(t.arc) == at && states.follow(state, t.arc))
            if (const RouteWeight w =
                    add_checked(weight_of(graph, primary, t), turn_weight(graph, turns, driven, t));
                w < best.first)
                best = {w, &t};
    return best;
}

Route make_route(const RoadGraph& graph, RouteWeight weight, std::vector<RoutePiece> pieces) {
    Route r;
    r.primary = primary_of(weight);
    r.length_dm = length_of(weight);
    while (pieces.size() > 1 && pieces.back().length_dm() == 0 && graph.arc(pieces.back().arc).length_dm > 0)
        pieces.pop_back();
    std::size_t skip = 0;
    while (pieces.size() - skip > 1 && pieces[skip].length_dm() == 0 &&
           graph.arc(pieces[skip].arc).length_dm > 0)
        ++skip;
    r.pieces.assign(pieces.begin() + static_cast<std::ptrdiff_t>(skip), pieces.end());
    return r;
}

std::vector<RoutePiece> pieces_to(const RoadGraph& graph, const States& states, const RouteEnds& ends,
                                  std::span<const std::uint32_t> from, std::uint32_t state,
                                  const RoutePiece& end) {
    std::vector<RoutePiece> pieces{end};
    for (std::uint32_t s = state; s != no_state; s = from[s]) {
        const ArcId a = states.arc(s);
        RoutePiece piece{a, 0, graph.arc(a).length_dm};
        if (from[s] == no_state)
            piece = *std::find_if(ends.starts.begin(), ends.starts.end(),
                                  [&](const RoutePiece& p) { return p.arc == a; });
        pieces.push_back(piece);
    }
    std::reverse(pieces.begin(), pieces.end());
    return pieces;
}

}  // namespace loamway
