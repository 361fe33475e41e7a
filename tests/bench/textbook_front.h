// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BENCH_TEXTBOOK_FRONT_H
#define LOAMWAY_TESTS_BENCH_TEXTBOOK_FRONT_H

// Bi-objective A* as published (Hernandez Ulloa et al., ICAPS 2020): two backward searches over the whole
// map, a binary heap, one least length a state, solutions when they are taken up at the end. The reference
// beside find_front; states are arcs, as there, but restrictions over several roads and private ground are
// not known.

#include <algorithm>
#include <cstdint>
#include <functional>
#include <limits>
#include <queue>
#include <span>
#include <utility>
#include <vector>

#include "loamway/graph/vehicle_roads.h"
#include "loamway/search/weight.h"

namespace loamway::bench {

class TextbookFront {
public:
    TextbookFront(const VehicleRoads& roads, std::span<const std::uint32_t> primary)
        : m_roads(roads), m_graph(roads.graph()), m_primary(primary) {}

    /// (primary, length) of every choice from the far end of one edge to the far end of another; ways longer
    /// than the cap are left out.
    std::vector<std::pair<std::uint64_t, std::uint64_t>> run(EdgeId from, EdgeId to, std::uint64_t cap_dm) {
        const ArcId away = m_graph.arc_of(from, false), back = m_graph.arc_of(from, true);
        const std::vector<ArcId> goals = goals_at(to);
        const std::vector<std::uint64_t> by_primary = sweep(goals, true), by_length = sweep(goals, false);
        std::vector<std::uint64_t> shortest(m_graph.arc_count(), far);
        std::vector<std::pair<std::uint64_t, std::uint64_t>> found;
        std::vector<std::pair<std::uint32_t, std::uint32_t>> labels;  // arc, label before
        using Open = std::pair<std::pair<std::uint64_t, std::uint64_t>, std::pair<ArcId, std::uint32_t>>;
        std::priority_queue<Open, std::vector<Open>, std::greater<>> queue;
        std::uint64_t shorter_than = cap_dm + 1;
        const auto propose = [&](ArcId a, std::uint64_t weight, std::uint64_t length, std::uint32_t before) {
            if (by_primary[a.index()] == far || length >= shortest[a.index()] ||
                length + by_length[a.index()] >= shorter_than)
                return;
            queue.push({{weight + by_primary[a.index()], length + by_length[a.index()]}, {a, before}});
        };
        if (m_roads.open(away))
            propose(away, 0, 0, 0);
        if (m_roads.open(back))
            propose(back, m_primary[back.index()], m_graph.arc(back).length_dm, 0);
        while (!queue.empty()) {
            const auto [sums, open] = queue.top();
            const auto [a, before] = open;
            queue.pop();
            const std::uint64_t weight = sums.first - by_primary[a.index()];
            const std::uint64_t length = sums.second - by_length[a.index()];
            if (length >= shortest[a.index()] || sums.second >= shorter_than)
                continue;
            shortest[a.index()] = length;
            labels.emplace_back(a.value(), before);
            if (std::find(goals.begin(), goals.end(), a) != goals.end()) {
                shorter_than = length;
                found.emplace_back(weight, length);
                continue;
            }
            const NodeId at = m_graph.head(a);
            for (std::uint32_t i = m_graph.arc_begin(at); i < m_graph.arc_end(at); ++i)
                if (m_roads.may_follow(a, ArcId{i}))
                    propose(ArcId{i}, weight + m_primary[i], length + m_graph.arc(ArcId{i}).length_dm,
                            static_cast<std::uint32_t>(labels.size() - 1));
        }
        return found;
    }

private:
    static constexpr std::uint64_t far = std::numeric_limits<std::uint64_t>::max();

    // The edge driven to its end, or any arc that ends there and may go on against it.
    [[nodiscard]] std::vector<ArcId> goals_at(EdgeId to) const {
        const ArcId last = m_graph.arc_of(to, false), against = m_graph.arc_of(to, true);
        std::vector<ArcId> goals;
        if (m_roads.open(last))
            goals.push_back(last);
        const NodeId at = m_graph.head(last);
        for (std::uint32_t i = m_graph.arc_begin(at); i < m_graph.arc_end(at); ++i) {
            const ArcId in = m_graph.twin(ArcId{i});
            if (in != last && m_roads.open(in) && m_roads.may_follow(in, against))
                goals.push_back(in);
        }
        return goals;
    }

    // Least sum still to come after each arc.
    [[nodiscard]] std::vector<std::uint64_t> sweep(const std::vector<ArcId>& goals, bool primary) const {
        std::vector<std::uint64_t> to_go(m_graph.arc_count(), far);
        using Open = std::pair<std::uint64_t, std::uint32_t>;
        std::priority_queue<Open, std::vector<Open>, std::greater<>> queue;
        for (const ArcId goal : goals) {
            to_go[goal.index()] = 0;
            queue.emplace(0, goal.value());
        }
        while (!queue.empty()) {
            const auto [value, number] = queue.top();
            queue.pop();
            if (value != to_go[number])
                continue;
            const ArcId a{number};
            const std::uint64_t through = value + (primary ? m_primary[number] : m_graph.arc(a).length_dm);
            const NodeId at = m_graph.tail(a);
            for (std::uint32_t i = m_graph.arc_begin(at); i < m_graph.arc_end(at); ++i) {
                const ArcId in = m_graph.twin(ArcId{i});
                if (m_roads.open(in) && m_roads.may_follow(in, a) && through < to_go[in.index()]) {
                    to_go[in.index()] = through;
                    queue.emplace(through, in.value());
                }
            }
        }
        return to_go;
    }

    const VehicleRoads& m_roads;
    const RoadGraph& m_graph;
    std::span<const std::uint32_t> m_primary;
};

}  // namespace loamway::bench

#endif
