// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/front.h"

#include <algorithm>

#include "assemble_route.h"
#include "beeline.h"
#include "radix_heap.h"
#include "route_ends.h"
#include "states.h"
#include "zeroed_array.h"

namespace loamway {

namespace {

constexpr std::uint32_t no_label = no_state;

struct SweepEntry {
    std::uint64_t key;  // packed weight to go
    std::uint32_t state;
};

/// Least weights from each state to the end and the way there. The state after the last one before the end
/// is the count of states plus the number of the target.
struct Sweep {
    FarArray<RouteWeight> to_go;
    FarArray<std::uint32_t> next;
};

/// `weigh` gives the packed weight of a stretch, `keep` tells whether a state with its weight to go matters.
template <class Weigh, class Keep>
Sweep sweep_to(const States& states, const VehicleRoads& roads, const RouteEnds& ends, Weigh&& weigh,
               Keep&& keep) {
    const RoadGraph& graph = states.graph();
    Sweep s{FarArray<RouteWeight>(states.count()), FarArray<std::uint32_t>(states.count())};
    RadixHeap<SweepEntry> queue;
    const auto reach = [&](std::uint32_t state, RouteWeight value, std::uint32_t next) {
        if (value >= s.to_go[state] || !keep(state, value))
            return;
        s.to_go.set(state, value);
        s.next.set(state, next);
        queue.push({value, state});
    };
    for (std::uint32_t t = 0; t < ends.targets.size(); ++t) {
        const RoutePiece& target = ends.targets[t];
        const NodeId at = graph.tail(target.arc);
        for (std::uint32_t i = graph.arc_begin(at); i < graph.arc_end(at); ++i) {
            const ArcId in = graph.twin(ArcId{i});
            if (!roads.open(in))
                continue;
            states.for_each_state_of(in, [&](std::uint32_t state) {
                if (states.follow(state, target.arc))
                    reach(state, weigh(target), states.count() + t);
            });
        }
    }
    while (!queue.empty()) {
        const auto [value, state] = queue.pop();
        if (value != s.to_go[state])
            continue;
        const ArcId a = states.arc(state);
        const RouteWeight through = add_checked(value, weigh(RoutePiece{a, 0, graph.arc(a).length_dm}));
        states.for_each_previous(state,
                                 [&, s2 = state](std::uint32_t before) { reach(before, through, s2); });
    }
    return s;
}

}  // namespace

/// The ways on from every state, by which a point's route ends.
struct Front::Onward {
    FarArray<std::uint32_t> by_primary, by_length;  // the state after a state
};

class FrontSearch {
public:
    FrontSearch(const VehicleRoads& roads, const FrontQuestion& q)
        : m_roads(roads),
          m_graph(roads.graph()),
          m_states(roads),
          m_q(q),
          m_ends(roads, q.from, q.to),
          m_bounds(m_states.count()),
          m_cap_dm(std::min<std::uint64_t>(q.cap_dm, no_state - 1)),
          m_shorter_than(m_cap_dm + 1) {
        m_front.m_roads = &roads;
        m_front.m_from = q.from;
        m_front.m_to = q.to;
    }

    Front run() {
        if (m_ends.starts.empty())
            return std::move(m_front);
        sweep();
        find_least_length();
        if (m_least_length > m_cap_dm)
            return std::move(m_front);
        begin();
        while (!m_queue.empty() && m_least_length < m_shorter_than) {
            if (m_front.m_labels.size() >= m_q.label_budget) {
                m_front.m_exact = false;
                add_shortest();
                break;
            }
            take_up(m_queue.pop());
        }
        m_front.m_labels_made = m_front.m_labels.size();
        return std::move(m_front);
    }

private:
    /// All zero where no way within the cap leads on.
    struct Bounds {
        std::uint32_t primary;     // least to go
        std::uint32_t length;      // least to go
        std::uint32_t completion;  // length of the way with the least primary weight to go
        std::uint32_t open_below;  // only labels shorter than this are worth taking up
    };
    struct Open {
        std::uint64_t key;  // packed sums of the whole way at least
        /// Or none for the stretch both ends share, or the count of states plus the number of the target that
        /// ends the way.
        std::uint32_t state;
        std::uint32_t before;  // label
    };

    void sweep() {
        const auto by_length_first = [this](const RoutePiece& p) {
            const RouteWeight w = weight_of(m_graph, m_q.primary, p);
            return pack_checked(length_of(w), primary_of(w));
        };
        const auto by_primary_first = [this](const RoutePiece& p) {
            return weight_of(m_graph, m_q.primary, p);
        };
        const Beeline beeline(m_graph, m_ends);
        Sweep length =
            sweep_to(m_states, m_roads, m_ends, by_length_first, [&](std::uint32_t s, RouteWeight w) {
                const NodeId at = m_graph.head(m_states.arc(s));
                return primary_of(w) + beeline(m_graph.region().node_point(at)) <= m_cap_dm;
            });
        Sweep primary =
            sweep_to(m_states, m_roads, m_ends, by_primary_first, [&](std::uint32_t s, RouteWeight w) {
                if (length.to_go[s] == infinite_weight)
                    return false;
                m_bounds[s] = {static_cast<std::uint32_t>(primary_of(w)),
                               static_cast<std::uint32_t>(primary_of(length.to_go[s])),
                               static_cast<std::uint32_t>(length_of(w)), no_state};
                return true;
            });
        m_to_go_by_length = std::move(length.to_go);
        m_front.m_onward =
            std::make_shared<Front::Onward>(Front::Onward{std::move(primary.next), std::move(length.next)});
    }

    // The shortest way, and of those the one with the least primary weight.
    void find_least_length() {
        if (m_ends.direct) {
            const RouteWeight w = weight_of(m_graph, m_q.primary, *m_ends.direct);
            m_shortest = pack_checked(length_of(w), primary_of(w));
        }
        for (const RoutePiece& s : m_ends.starts) {
            const std::uint32_t state = m_states.start_state(s.arc);
            if (m_to_go_by_length[state] == infinite_weight)
                continue;
            const RouteWeight w = weight_of(m_graph, m_q.primary, s);
            const RouteWeight whole =
                add_checked(pack_checked(length_of(w), primary_of(w)), m_to_go_by_length[state]);
            if (whole < m_shortest) {
                m_shortest = whole;
                m_shortest_way = {no_label, state, true};
            }
        }
        m_least_length = primary_of(m_shortest);
    }

    void begin() {
        if (m_ends.direct && m_ends.direct->length_dm() <= m_cap_dm)
            m_queue.push({weight_of(m_graph, m_q.primary, *m_ends.direct), no_state, no_label});
        for (const RoutePiece& s : m_ends.starts)
            propose(m_states.start_state(s.arc), weight_of(m_graph, m_q.primary, s), no_label);
    }

    void propose(std::uint32_t state, RouteWeight so_far, std::uint32_t before) {
        const Bounds& b = m_bounds[state];
        if (length_of(so_far) >= b.open_below)
            return;
        const std::uint64_t length = length_of(so_far) + b.length;
        if (length < m_shorter_than)
            m_queue.push({pack_checked(primary_of(so_far) + b.primary, length), state, before});
    }

    void take_up(const Open& open) {
        const auto [whole, state, before] = open;
        if (length_of(whole) >= m_shorter_than)
            return;
        if (state >= m_states.count()) {
            add(primary_of(whole), length_of(whole), {before, state, false});
            return;
        }
        Bounds& b = m_bounds[state];
        const RouteWeight so_far = whole - pack_weight(b.primary, b.length);
        if (length_of(so_far) >= b.open_below)
            return;
        b.open_below = static_cast<std::uint32_t>(length_of(so_far));
        const auto label = static_cast<std::uint32_t>(m_front.m_labels.size());
        m_front.m_labels.push_back({state, before});
        if (const std::uint64_t length = length_of(so_far) + b.completion; length < m_shorter_than)
            add(primary_of(whole), length, {label, no_state, false});
        // Where the way with the least primary weight is the shortest too, nothing better can follow.
        if (b.completion == b.length)
            return;
        go_on(state, so_far, label);
    }

    void go_on(std::uint32_t state, RouteWeight so_far, std::uint32_t label) {
        const NodeId at = m_graph.head(m_states.arc(state));
        for (std::uint32_t t = 0; t < m_ends.targets.size(); ++t) {
            const RoutePiece& target = m_ends.targets[t];
            if (m_graph.tail(target.arc) != at || !m_states.follow(state, target.arc))
                continue;
            const RouteWeight whole = add_checked(so_far, weight_of(m_graph, m_q.primary, target));
            if (length_of(whole) < m_shorter_than)
                m_queue.push({whole, m_states.count() + t, label});
        }
        m_states.for_each_next(state, [&](std::uint32_t next) {
            propose(next, add_checked(so_far, weight_of(m_graph, m_q.primary, m_states.arc(next))), label);
        });
    }

    // Points come by ascending primary weight; among equal ones the shorter comes later and counts.
    void add(std::uint64_t primary, std::uint64_t length, Front::Way way) {
        m_shorter_than = length;
        std::vector<FrontSums>& points = m_front.m_points;
        if (!points.empty() && points.back().primary == primary) {
            points.back().length_dm = length;
            m_front.m_ways.back() = way;
            return;
        }
        points.push_back({primary, length});
        m_front.m_ways.push_back(way);
    }

    void add_shortest() {
        if (m_least_length < m_shorter_than)
            add(length_of(m_shortest), m_least_length, m_shortest_way);
    }

    const VehicleRoads& m_roads;
    const RoadGraph& m_graph;
    const States m_states;
    const FrontQuestion& m_q;
    const RouteEnds m_ends;
    ZeroedArray<Bounds> m_bounds;  // by state
    const std::uint64_t m_cap_dm;
    std::uint64_t m_shorter_than;              // what is not shorter is not worth having any more
    FarArray<RouteWeight> m_to_go_by_length;   // length first
    RouteWeight m_shortest = infinite_weight;  // length first
    Front::Way m_shortest_way{no_label, no_state, false};
    std::uint64_t m_least_length = 0;
    RadixHeap<Open> m_queue;
    Front m_front;
};

Front find_front(const VehicleRoads& roads, const FrontQuestion& question) {
    return FrontSearch(roads, question).run();
}

Route Front::route(std::size_t point) const {
    const RoadGraph& graph = m_roads->graph();
    const States states(*m_roads);
    const RouteEnds ends(*m_roads, m_from, m_to);
    const Way& way = m_ways[point];
    const RouteWeight sums = pack_checked(m_points[point].primary, m_points[point].length_dm);
    if (way.label == no_label && way.state == no_state)
        return make_route(graph, sums, {*ends.direct});
    std::vector<std::uint32_t> driven;  // states, in driving order
    for (std::uint32_t l = way.label; l != no_label; l = m_labels[l].before)
        driven.push_back(m_labels[l].state);
    std::reverse(driven.begin(), driven.end());
    if (way.label == no_label)
        driven.push_back(way.state);
    const FarArray<std::uint32_t>& next = way.shortest ? m_onward->by_length : m_onward->by_primary;
    std::uint32_t on = way.label != no_label && way.state != no_state ? way.state : next[driven.back()];
    for (; on < states.count(); on = next[on])
        driven.push_back(on);
    std::vector<RoutePiece> pieces;
    for (const std::uint32_t s : driven)
        pieces.push_back({states.arc(s), 0, graph.arc(states.arc(s)).length_dm});
    pieces.front() = *std::find_if(ends.starts.begin(), ends.starts.end(),
                                   [&](const RoutePiece& p) { return p.arc == pieces.front().arc; });
    pieces.push_back(ends.targets[on - states.count()]);
    return make_route(graph, sums, std::move(pieces));
}

std::vector<std::size_t> thin_front(std::span<const FrontSums> points, std::size_t most) {
    std::vector<std::size_t> taken(std::min<std::size_t>(points.size(), 2));
    if (points.size() < 2)
        return taken;
    taken[1] = points.size() - 1;
    const FrontSums &first = points.front(), &last = points.back();
    // How far along the front: both sums run one way, so that the distance of two points is a difference.
    std::vector<double> along(points.size());
    for (std::size_t i = 0; i < points.size(); ++i)
        along[i] = static_cast<double>(points[i].primary - first.primary) /
                       static_cast<double>(last.primary - first.primary) +
                   static_cast<double>(first.length_dm - points[i].length_dm) /
                       static_cast<double>(first.length_dm - last.length_dm);
    while (taken.size() < std::min(most, points.size())) {
        std::size_t best = 0, place = 0;
        double farthest = -1;
        for (std::size_t gap = 0; gap + 1 < taken.size(); ++gap)
            for (std::size_t i = taken[gap] + 1; i < taken[gap + 1]; ++i) {
                const double far = std::min(along[i] - along[taken[gap]], along[taken[gap + 1]] - along[i]);
                if (far > farthest) {
                    farthest = far;
                    best = i;
                    place = gap + 1;
                }
            }
        taken.insert(taken.begin() + static_cast<std::ptrdiff_t>(place), best);
    }
    return taken;
}

}  // namespace loamway
