// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_PLAIN_FRONT_H
#define LOAMWAY_TESTS_SUPPORT_PLAIN_FRONT_H

// All best pairs of two sums by plain label setting, to compare the program's own search with: no bounds, no
// packing, no early ends, every label compared with every other of its vertex.

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "loamway/search/route.h"

namespace loamway {

using PlainPair = std::pair<std::uint64_t, std::uint64_t>;  // weight, length

inline bool plain_beats(const PlainPair& a, const PlainPair& b) {
    return a.first <= b.first && a.second <= b.second;
}

class PlainFront {
public:
    PlainFront(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to,
               const std::vector<std::uint32_t>& primary, std::uint64_t cap)
        : m_roads(roads), m_graph(roads.graph()), m_from(from), m_to(to), m_primary(primary), m_cap(cap) {}

    /// Ascending by weight.
    std::vector<PlainPair> all() {
        begin();
        while (!m_queue.empty()) {
            const Label label = *m_queue.begin();
            m_queue.erase(m_queue.begin());
            go_on(label);
        }
        std::sort(m_ends.begin(), m_ends.end());
        m_ends.erase(std::unique(m_ends.begin(), m_ends.end()), m_ends.end());
        std::vector<PlainPair> best;
        for (const PlainPair& e : m_ends)
            if (std::none_of(m_ends.begin(), m_ends.end(),
                             [&](const PlainPair& o) { return o != e && plain_beats(o, e); }))
                best.push_back(e);
        return best;
    }

private:
    using Label = std::tuple<std::uint64_t, std::uint64_t, std::uint32_t, int>;  // weight, length, arc, stage

    std::uint32_t offset(const RoadPoint& p, ArcId a) const {
        return m_graph.arc(a).reversed != 0 ? m_graph.arc(a).length_dm - p.offset_dm : p.offset_dm;
    }
    std::uint64_t part(ArcId a, std::uint32_t from, std::uint32_t to) const {
        const std::uint64_t length = m_graph.arc(a).length_dm, w = m_primary[a.index()];
        return length == 0 ? w : w * to / length - w * from / length;
    }
    void finish(std::uint64_t weight, std::uint64_t length) {
        if (length <= m_cap)
            m_ends.emplace_back(weight, length);
    }
    void begin() {
        for (const bool reversed : {false, true}) {
            const ArcId a = m_graph.arc_of(m_from.edge, reversed);
            if (!m_roads.open(a))
                continue;
            const std::uint32_t length = m_graph.arc(a).length_dm, at = offset(m_from, a);
            m_queue.insert({part(a, at, length), length - at, a.value(), m_roads.ends_only(a) ? 0 : 1});
            if (m_from.edge == m_to.edge && at <= offset(m_to, a))
                finish(part(a, at, offset(m_to, a)), offset(m_to, a) - at);
        }
    }
    void go_on(const Label& label) {
        const auto [weight, length, arc, stage] = label;
        const PlainPair sums{weight, length};
        auto& labels = m_kept[{arc, stage}];
        if (length > m_cap || std::any_of(labels.begin(), labels.end(),
                                          [&](const PlainPair& k) { return plain_beats(k, sums); }))
            return;
        labels.push_back(sums);
        const NodeId n = m_graph.head(ArcId{arc});
        for (std::uint32_t b = m_graph.arc_begin(n); b < m_graph.arc_end(n); ++b) {
            const ArcId next{b};
            // Private ground (0) at the start, open roads (1), private ground (2) at the end.
            const int next_stage = !m_roads.ends_only(next) ? 1 : stage == 0 ? 0 : 2;
            if (!m_roads.may_follow(ArcId{arc}, next) || (stage == 2 && next_stage == 1))
                continue;
            if (m_graph.edge_of(next) == m_to.edge)
                finish(weight + part(next, 0, offset(m_to, next)), length + offset(m_to, next));
            m_queue.insert({weight + m_primary[b], length + m_graph.arc(next).length_dm, b, next_stage});
        }
    }

    const VehicleRoads& m_roads;
    const RoadGraph& m_graph;
    RoadPoint m_from, m_to;
    const std::vector<std::uint32_t>& m_primary;
    std::uint64_t m_cap;
    std::set<Label> m_queue;
    std::map<std::pair<std::uint32_t, int>, std::vector<PlainPair>> m_kept;
    std::vector<PlainPair> m_ends;
};

}  // namespace loamway

#endif
