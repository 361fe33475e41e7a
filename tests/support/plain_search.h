// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_PLAIN_SEARCH_H
#define LOAMWAY_TESTS_SUPPORT_PLAIN_SEARCH_H

// A slow search to compare the program's own with: no bounds, no packing tricks, every label explicit.

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <tuple>
#include <vector>

#include "loamway/search/route.h"

namespace loamway {

constexpr std::uint64_t unreached = std::numeric_limits<std::uint64_t>::max();

// Plain label setting: keeps every label that no other label of its vertex beats in both sums.
inline std::uint64_t best_within(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to,
                                 const std::vector<std::uint32_t>& primary, std::uint64_t cap,
                                 const TurnPrices& turns = {}) {
    const RoadGraph& graph = roads.graph();
    // Weight, length, arc, stage, whether nothing was driven yet (no turn leads off a start at its arc's
    // end).
    using Label = std::tuple<std::uint64_t, std::uint64_t, std::uint32_t, int, bool>;
    std::set<Label> queue;
    std::map<std::tuple<std::uint32_t, int, bool>, std::vector<std::pair<std::uint64_t, std::uint64_t>>> kept;
    std::uint64_t best = unreached;
    const auto offset = [&](const RoadPoint& p, ArcId a) {
        return graph.arc(a).reversed != 0 ? graph.arc(a).length_dm - p.offset_dm : p.offset_dm;
    };
    const auto finish = [&](std::uint64_t w, std::uint64_t l) {
        if (l <= cap)
            best = std::min(best, (w << 32) + l);
    };
    for (const bool reversed : {false, true}) {
        const ArcId a = graph.arc_of(from.edge, reversed);
        if (!roads.open(a))
            continue;
        const std::uint32_t length = graph.arc(a).length_dm, at = offset(from, a);
        queue.insert({weight_between(primary[a.index()], length, at, length), length - at, a.value(),
                      roads.ends_only(a) ? 0 : 1, at == length && length > 0});
        if (from.edge == to.edge && at <= offset(to, a))
            finish(weight_between(primary[a.index()], length, at, offset(to, a)), offset(to, a) - at);
    }
    while (!queue.empty()) {
        const auto [w, l, arc, stage, fresh] = *queue.begin();
        queue.erase(queue.begin());
        auto& labels = kept[{arc, stage, fresh}];
        const bool beaten = std::any_of(labels.begin(), labels.end(), [w = w, l = l](const auto& k) {
            return k.first <= w && k.second <= l;
        });
        if (beaten || l > cap)
            continue;
        labels.emplace_back(w, l);
        const NodeId n = graph.head(ArcId{arc});
        for (std::uint32_t b = graph.arc_begin(n); b < graph.arc_end(n); ++b) {
            const ArcId next{b};
            if (!roads.may_follow(ArcId{arc}, next))
                continue;
            const int next_stage = !roads.ends_only(next) ? 1 : stage == 0 ? 0 : 2;
            if (stage == 2 && next_stage == 1)
                continue;
            const std::uint32_t length = graph.arc(next).length_dm;
            const std::uint64_t turned = w + (fresh ? 0 : turns(ArcId{arc}, next));
            if (graph.edge_of(next) == to.edge) {
                const std::uint64_t so_far = length > 0 && offset(to, next) == 0 ? w : turned;
                finish(so_far + weight_between(primary[b], length, 0, offset(to, next)),
                       l + offset(to, next));
            }
            queue.insert({turned + primary[b], l + length, b, next_stage, false});
        }
    }
    return best;
}

}  // namespace loamway

#endif
