// SPDX-License-Identifier: Apache-2.0
#include "capped_route.h"

#include <algorithm>
#include <queue>

#include "assemble_route.h"
#include "beeline.h"
#include "states.h"

namespace loamway {

namespace {

std::vector<std::uint32_t> lengths_of(const RoadGraph& graph) {
    std::vector<std::uint32_t> lengths(graph.arc_count());
    for (std::size_t a = 0; a < lengths.size(); ++a)
        lengths[a] = graph.arc(ArcId{a}).length_dm;
    return lengths;
}

// Labels with weight and length for each state, in the order of the least weight they can end with. Both
// bounds are exact distances to the end, so the first finished label is the best within the cap.
class CappedSearch {
public:
    CappedSearch(const VehicleRoads& roads, const RouteEnds& ends, std::span<const std::uint32_t> primary,
                 std::uint64_t cap_dm, const TurnPrices& turns)
        : m_graph(roads.graph()),
          m_states(roads),
          m_ends(ends),
          m_primary(primary),
          m_cap_dm(cap_dm),
          m_turns(turns),
          m_beeline(m_graph, ends),
          // Bounding by length alone first: its sweep tells which states can matter at all.
          m_by_length(
              sweep_back(roads, ends, lengths_of(m_graph), {.length_dm = cap_dm, .start = &m_beeline})),
          m_by_weight(sweep_back(roads, ends, primary, {.within = &m_by_length}, turns)),
          m_shortest(m_states.count()) {}

    std::optional<Route> run() {
        begin();
        while (!m_queue.empty()) {
            const std::uint32_t number = m_queue.top().second;
            m_queue.pop();
            const Label label = m_labels[number];
            if (label.end != nullptr)
                return make_route(m_graph, label.value, pieces_of(label));
            if (length_of(label.value) >= m_shortest[label.state])
                continue;
            m_shortest.set(label.state, length_of(label.value));
            go_on(number, whole_arc(m_graph, m_states.arc(label.state)));
        }
        return std::nullopt;
    }

private:
    struct Label {
        std::uint64_t value;  // packed, so far
        std::uint32_t state;
        std::uint32_t before;  // label
        const RoutePiece* end;
    };

    void begin() {
        if (m_ends.direct)
            finish_label(weight_of(m_graph, m_primary, *m_ends.direct), no_state, &*m_ends.direct);
        for (const RoutePiece& s : m_ends.starts) {
            const std::uint64_t value = weight_of(m_graph, m_primary, s);
            if (m_turns.all_free() || is_driven(m_graph, s)) {
                propose(m_states.start_state(s.arc), value, no_state);
            } else {
                m_labels.push_back({value, m_states.start_state(s.arc), no_state, nullptr});
                go_on(static_cast<std::uint32_t>(m_labels.size() - 1), s);
            }
        }
    }

    void go_on(std::uint32_t number, const RoutePiece& driven) {
        const Label label = m_labels[number];
        const auto with = [&](const RoutePiece& next) {
            return add_checked(label.value, add_checked(weight_of(m_graph, m_primary, next),
                                                        turn_weight(m_graph, m_turns, driven, next)));
        };
        for (const RoutePiece& t : m_ends.targets)
            if (m_graph.tail(t.arc) == m_graph.head(m_states.arc(label.state)) &&
                m_states.follow(label.state, t.arc))
                finish_label(with(t), number, &t);
        m_states.for_each_next(label.state, [&](std::uint32_t next) {
            propose(next, with(whole_arc(m_graph, m_states.arc(next))), number);
        });
    }

    void propose(std::uint32_t state, std::uint64_t value, std::uint32_t before) {
        if (m_by_length[state] == unreached_weight || m_by_weight[state] == unreached_weight)
            return;
        const std::uint64_t length = length_of(value) + length_of(m_by_length[state]);
        if (length > m_cap_dm || length_of(value) >= m_shortest[state])
            return;
        m_queue.emplace(pack_checked(primary_of(value) + primary_of(m_by_weight[state]), length),
                        static_cast<std::uint32_t>(m_labels.size()));
        m_labels.push_back({value, state, before, nullptr});
    }

    void finish_label(std::uint64_t value, std::uint32_t before, const RoutePiece* end) {
        if (length_of(value) > m_cap_dm)
            return;
        m_queue.emplace(value, static_cast<std::uint32_t>(m_labels.size()));
        m_labels.push_back({value, no_state, before, end});
    }

    std::vector<RoutePiece> pieces_of(const Label& last) const {
        std::vector<RoutePiece> pieces{*last.end};
        for (std::uint32_t l = last.before; l != no_state; l = m_labels[l].before) {
            const ArcId a = m_states.arc(m_labels[l].state);
            RoutePiece piece = whole_arc(m_graph, a);
            if (m_labels[l].before == no_state)
                piece = *std::find_if(m_ends.starts.begin(), m_ends.starts.end(),
                                      [&](const RoutePiece& p) { return p.arc == a; });
            pieces.push_back(piece);
        }
        std::reverse(pieces.begin(), pieces.end());
        return pieces;
    }

    const RoadGraph& m_graph;
    States m_states;
    const RouteEnds& m_ends;
    std::span<const std::uint32_t> m_primary;
    std::uint64_t m_cap_dm;
    const TurnPrices& m_turns;
    Beeline m_beeline;
    FarArray<std::uint64_t> m_by_length, m_by_weight;  // still to come, by state
    FarArray<std::uint64_t> m_shortest;                // of the labels taken up, by state
    std::vector<Label> m_labels;
    using Item = std::pair<std::uint64_t, std::uint32_t>;  // bound, label
    std::priority_queue<Item, std::vector<Item>, std::greater<>> m_queue;
};

}  // namespace

std::optional<Route> find_capped(const VehicleRoads& roads, const RouteEnds& ends,
                                 std::span<const std::uint32_t> primary, std::uint64_t cap_dm,
                                 const TurnPrices& turns) {
    if (ends.starts.empty())
        return std::nullopt;
    return CappedSearch(roads, ends, primary, cap_dm, turns).run();
}

}  // namespace loamway
