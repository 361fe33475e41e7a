// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/stop_search.h"

#include <algorithm>
#include <queue>
#include <unordered_map>

#include "route_ends.h"
#include "states.h"

namespace loamway {

namespace {

constexpr std::uint32_t no_offer = no_state;

enum class Kind : std::uint8_t { start, arc_end, beside, mouth, finish };

struct Label {
    std::uint64_t value = 0;   // packed weight and route length so far
    std::uint64_t since = 0;   // driven since the last lubrication, dm
    std::uint32_t before = no_state;
    std::uint32_t state = no_state;  // arc end: driven to; beside: being driven; mouth: driven to
    std::uint32_t offer = no_offer;
    std::uint32_t at_dm = 0;   // beside: along the arc in the direction of travel; start: where it begins
    Kind kind = Kind::start;
    bool dry = false;          // through a ford since the last lubrication
    bool fresh = false;        // nothing driven yet: no turn joins the start to the next arc
};

// An offer beside an arc, in the direction of travel.
struct Passed {
    std::uint32_t offer;
    std::uint32_t at_dm;
};

class StopSearch {
public:
    StopSearch(const VehicleRoads& roads, const StopOffers& offers, const StopSearchQuestion& q)
        : m_roads(roads), m_graph(roads.graph()), m_states(roads), m_offers(offers), m_q(q), m_ends(roads, q.from, q.to) {
        std::vector<std::uint32_t> lengths(m_graph.arc_count());
        for (std::size_t a = 0; a < lengths.size(); ++a)
            lengths[a] = m_graph.arc(ArcId{a}).length_dm;
        // The narrower of the two goes first and bounds the other.
        if (q.cap_dm != no_cap) {
            m_length_to_go = sweep_back(roads, m_ends, lengths, {.length_dm = q.cap_dm});
            m_weight_to_go = sweep_back(roads, m_ends, q.primary, {.primary = q.known_primary, .within = &m_length_to_go});
        } else {
            m_weight_to_go = sweep_back(roads, m_ends, q.primary, {.primary = q.known_primary});
            m_length_to_go = sweep_back(roads, m_ends, lengths, {.within = &m_weight_to_go});
        }
        m_least_price = q.prices.empty() ? 0 : *std::min_element(q.prices.begin(), q.prices.end());
    }

    StopSearchResult run() {
        StopSearchResult result;
        for (const RoutePiece& s : m_ends.starts) {
            Label start;
            start.since = m_q.since_dm;
            start.state = m_states.start_state(s.arc);
            start.at_dm = s.from_dm;
            start.fresh = true;
            m_labels.push_back(start);
            const auto number = static_cast<std::uint32_t>(m_labels.size() - 1);
            drive(number, start.state, s.from_dm, 0);
        }
        while (!m_queue.empty()) {
            const auto [bound, number] = m_queue.top();
            if (m_labels.size() > m_q.label_budget) {
                result.exact = false;
                result.lower_bound = primary_of(bound);
                break;
            }
            m_queue.pop();
            if (m_labels[number].kind == Kind::finish) {
                result.found = unwind(number);
                result.lower_bound = result.found->total_primary;
                break;
            }
            if (settle(number))
                go_on(number);
        }
        result.labels = m_labels.size();
        return result;
    }

private:
    [[nodiscard]] std::uint32_t arc_length(std::uint32_t state) const {
        return m_graph.arc(m_states.arc(state)).length_dm;
    }

    // Offers beside an arc from a position on, in the order in which they are passed.
    void offers_along(ArcId a, std::uint32_t from_dm, bool from_included, std::vector<Passed>& out) const {
        out.clear();
        const ArcRecord& arc = m_graph.arc(a);
        const auto first = std::lower_bound(m_offers.beside.begin(), m_offers.beside.end(), EdgeId{arc.edge},
                                            [](const BesideOffer& o, EdgeId e) { return o.edge < e; });
        for (auto o = first; o != m_offers.beside.end() && o->edge.value() == arc.edge; ++o) {
            const std::uint32_t at = arc.reversed != 0 ? arc.length_dm - o->offset_dm : o->offset_dm;
            if (at > from_dm || (from_included && at == from_dm))
                out.push_back({static_cast<std::uint32_t>(o - m_offers.beside.begin()), at});
        }
        std::stable_sort(out.begin(), out.end(),
                         [](const Passed& x, const Passed& y) { return x.at_dm < y.at_dm; });
    }

    template <class Visit>
    void for_each_mouth(NodeId node, Visit&& visit) const {
        const auto first = std::lower_bound(
            m_offers.mouths.begin(), m_offers.mouths.end(), node,
            [&](const MouthOffer& m, NodeId n) { return m_graph.tail(m.spur) < n; });
        for (auto m = first; m != m_offers.mouths.end() && m_graph.tail(m->spur) == node; ++m)
            visit(static_cast<std::uint32_t>(m_offers.beside.size() + static_cast<std::size_t>(m - m_offers.mouths.begin())),
                  *m);
    }

    // A mouth can serve on the way from one arc to another when it is neither and may be entered and left.
    [[nodiscard]] bool mouth_serves(ArcId in, const MouthOffer& m) const {
        return m_graph.edge_of(m.spur) != m_graph.edge_of(in) && m_roads.may_follow(in, m.spur);
    }
    [[nodiscard]] bool mouth_leads_to(const MouthOffer& m, ArcId out) const {
        return m_graph.edge_of(m.spur) != m_graph.edge_of(out) && !m_roads.banned(m_graph.twin(m.spur), out);
    }

    // Weight still to come from a position on an arc, which may end on that arc.
    [[nodiscard]] std::uint64_t to_go(std::uint32_t state, std::uint32_t at_dm,
                                      const std::vector<std::uint64_t>& ahead, bool length_only) const {
        const ArcId a = m_states.arc(state);
        std::uint64_t best = unreached_weight;
        if (ahead[state] != unreached_weight) {
            const RoutePiece rest{a, at_dm, m_graph.arc(a).length_dm};
            const std::uint64_t w =
                length_only ? pack_checked(rest.length_dm(), rest.length_dm()) : weight_of(m_graph, m_q.primary, rest);
            best = add_checked(ahead[state], w);
        }
        for (const RoutePiece& t : m_ends.targets)
            if (t.arc == a && t.to_dm >= at_dm) {
                const RoutePiece rest{a, at_dm, t.to_dm};
                best = std::min(best, length_only ? pack_checked(rest.length_dm(), rest.length_dm())
                                                  : weight_of(m_graph, m_q.primary, rest));
            }
        return best;
    }

    void propose(Label label) {
        if (label.since > m_q.interval_dm)
            return;
        std::uint64_t weight = 0, length = 0;
        if (label.kind != Kind::finish) {
            const std::uint32_t at = label.kind == Kind::beside ? label.at_dm : arc_length(label.state);
            const std::uint64_t w = label.kind == Kind::beside ? to_go(label.state, at, m_weight_to_go, false)
                                                               : m_weight_to_go[label.state];
            const std::uint64_t l = label.kind == Kind::beside ? to_go(label.state, at, m_length_to_go, true)
                                                               : m_length_to_go[label.state];
            if (w == unreached_weight || l == unreached_weight)
                return;
            weight = primary_of(w);
            length = length_of(l);
        }
        const std::uint64_t whole = length_of(label.value) + length;
        if (whole > m_q.cap_dm)
            return;
        // The rest of the way asks for at least so many more lubrications.
        const std::uint64_t rest = label.since + length;
        const std::uint64_t more =
            rest <= m_q.interval_dm ? 0 : (rest - m_q.interval_dm + m_q.interval_dm - 1) / m_q.interval_dm;
        if (more > 0 && m_q.prices.empty())
            return;
        const std::uint64_t least = primary_of(label.value) + weight + more * m_least_price;
        if (least > m_q.known_primary || dominated(label))
            return;
        m_queue.emplace(pack_checked(least, whole),
                        static_cast<std::uint32_t>(m_labels.size()));
        m_labels.push_back(label);
    }

    // Labels that compare with one another: same position, same ways on.
    [[nodiscard]] static std::uint64_t bucket(const Label& l) {
        return (std::uint64_t{l.state} << 32) | (l.kind == Kind::arc_end ? no_offer : l.offer);
    }

    [[nodiscard]] bool beats(const Label& a, const Label& b) const {
        const bool cheaper = m_q.cap_dm == no_cap
                                 ? a.value <= b.value
                                 : primary_of(a.value) <= primary_of(b.value) && length_of(a.value) <= length_of(b.value);
        return cheaper && a.since <= b.since && a.dry <= b.dry && a.fresh >= b.fresh;
    }

    [[nodiscard]] bool dominated(const Label& label) const {
        if (label.kind == Kind::finish)
            return false;
        const auto found = m_settled.find(bucket(label));
        return found != m_settled.end() &&
               std::any_of(found->second.begin(), found->second.end(),
                           [&](std::uint32_t other) { return beats(m_labels[other], label); });
    }

    bool settle(std::uint32_t number) {
        if (dominated(m_labels[number]))
            return false;
        m_settled[bucket(m_labels[number])].push_back(number);
        return true;
    }

    void go_on(std::uint32_t number) {
        const Label label = m_labels[number];
        if (label.kind == Kind::beside) {
            drive(number, label.state, label.at_dm, 0);
            return;
        }
        const ArcId in = m_states.arc(label.state);
        const NodeId here = m_graph.head(in);
        if (label.kind == Kind::arc_end)
            for_each_mouth(here, [&](std::uint32_t offer, const MouthOffer& m) {
                if (label.since + m.depth_dm > m_q.interval_dm || !mouth_serves(in, m))
                    return;
                Label at = label;
                at.kind = Kind::mouth;
                at.before = number;
                at.offer = offer;
                at.value = add_checked(label.value, pack_checked(m_q.prices[offer] + turn(label, in, m.spur), 0));
                at.since = m.depth_dm;
                at.dry = at.fresh = false;
                propose(at);
            });
        const bool was_ford = !m_offers.ford_node.empty() && m_offers.ford_node[here.index()];
        for (std::uint32_t b = m_graph.arc_begin(here); b < m_graph.arc_end(here); ++b) {
            const ArcId out{b};
            const auto next = m_states.follow(label.state, out);
            if (!next)
                continue;
            if (label.kind == Kind::mouth &&
                !mouth_leads_to(mouth(label.offer), out))
                continue;
            // Dry belts do not pass a fit place.
            if (label.dry && label.kind == Kind::arc_end && passes_a_mouth(in, out))
                continue;
            m_ford_behind = was_ford;
            const ArcId last = label.kind == Kind::mouth ? m_graph.twin(mouth(label.offer).spur) : in;
            drive(number, *next, 0, turn(label, last, out));
            m_ford_behind = false;
        }
    }

    [[nodiscard]] const MouthOffer& mouth(std::uint32_t offer) const {
        return m_offers.mouths[offer - m_offers.beside.size()];
    }
    [[nodiscard]] std::uint64_t turn(const Label& label, ArcId in, ArcId out) const {
        return label.fresh ? 0 : m_q.turns(in, out);
    }

    [[nodiscard]] bool passes_a_mouth(ArcId in, ArcId out) const {
        bool passes = false;
        for_each_mouth(m_graph.tail(out), [&](std::uint32_t, const MouthOffer& m) {
            passes = passes || (mouth_serves(in, m) && mouth_leads_to(m, out));
        });
        return passes;
    }

    // On along one arc from a position, after a turn that costs so much: to each offer beside it, to its end, or to
    // the end of the move. Where the move ends right behind the turn, nobody turns.
    void drive(std::uint32_t number, std::uint32_t state, std::uint32_t from_dm, std::uint64_t turn) {
        const Label before = m_labels[number];
        Label label = before;
        label.value = add_checked(label.value, pack_checked(turn, 0));
        const ArcId a = m_states.arc(state);
        const std::uint32_t length = m_graph.arc(a).length_dm;
        const bool dry = label.dry || m_ford_behind;
        std::vector<Passed> passed;
        offers_along(a, from_dm, label.kind != Kind::beside, passed);
        std::uint32_t dry_until = length + 1;  // dry belts go no farther than the first place
        for (const Passed& p : passed) {
            if (dry && p.at_dm > dry_until)
                break;
            Label at = after(label, number, state, {a, from_dm, p.at_dm});
            at.kind = Kind::beside;
            at.offer = p.offer;
            at.at_dm = p.at_dm;
            if (at.since > m_q.interval_dm)
                break;
            at.value = add_checked(at.value, pack_checked(m_q.prices[p.offer], 0));
            at.since = 0;
            at.dry = false;
            propose(at);
            if (dry)
                dry_until = p.at_dm;
        }
        const std::uint32_t first_place = dry && !passed.empty() ? passed.front().at_dm : length + 1;
        for (const RoutePiece& t : m_ends.targets)
            if (t.arc == a && t.to_dm >= from_dm && t.to_dm < first_place) {
                const RoutePiece piece{a, from_dm, t.to_dm};
                Label at = after(is_driven(m_graph, piece) ? label : before, number, state, piece);
                at.kind = Kind::finish;
                at.at_dm = t.to_dm;
                propose(at);
            }
        if (length < first_place) {
            Label at = after(label, number, state, {a, from_dm, length});
            at.kind = Kind::arc_end;
            at.dry = dry || (!m_offers.ford_edge.empty() && m_offers.ford_edge[m_graph.edge_of(a).index()]);
            propose(at);
        }
    }

    [[nodiscard]] Label after(const Label& label, std::uint32_t number, std::uint32_t state, RoutePiece piece) const {
        Label next;
        next.value = add_checked(label.value, weight_of(m_graph, m_q.primary, piece));
        next.since = label.since + piece.length_dm();
        next.before = number;
        next.state = state;
        next.dry = label.dry || m_ford_behind;
        next.fresh = label.fresh && !is_driven(m_graph, piece);
        return next;
    }

    [[nodiscard]] RouteWithStops unwind(std::uint32_t number) const {
        std::vector<std::uint32_t> chain;
        for (std::uint32_t n = number; n != no_state; n = m_labels[n].before)
            chain.push_back(n);
        std::reverse(chain.begin(), chain.end());
        RouteWithStops found;
        found.total_primary = primary_of(m_labels[number].value);
        std::uint64_t driven = 0;
        std::uint32_t from_dm = m_labels[chain.front()].at_dm;
        for (const std::uint32_t n : chain) {
            const Label& l = m_labels[n];
            if (l.kind == Kind::beside) {
                found.stops.push_back({l.offer, driven + l.at_dm - from_dm, found.route.pieces.size()});
            } else if (l.kind == Kind::mouth) {
                found.stops.push_back({l.offer, driven, found.route.pieces.size()});
            } else if (l.kind == Kind::arc_end || l.kind == Kind::finish) {
                const ArcId a = m_states.arc(l.state);
                const std::uint32_t to_dm = l.kind == Kind::finish ? l.at_dm : m_graph.arc(a).length_dm;
                found.route.pieces.push_back({a, from_dm, to_dm});
                driven += to_dm - from_dm;
                from_dm = 0;
            }
        }
        found.route.length_dm = driven;
        found.route.primary = weight_with_stops(m_graph, m_offers, m_q, found.route.pieces, {});
        return found;
    }

    const VehicleRoads& m_roads;
    const RoadGraph& m_graph;
    const States m_states;
    const StopOffers& m_offers;
    const StopSearchQuestion& m_q;
    const RouteEnds m_ends;
    std::vector<std::uint64_t> m_length_to_go, m_weight_to_go;
    std::uint64_t m_least_price = 0;
    bool m_ford_behind = false;
    std::vector<Label> m_labels;
    using Item = std::pair<std::uint64_t, std::uint32_t>;  // bound, label
    std::priority_queue<Item, std::vector<Item>, std::greater<>> m_queue;
    std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> m_settled;
};

}  // namespace

std::uint64_t weight_with_stops(const RoadGraph& graph, const StopOffers& offers, const StopSearchQuestion& question,
                                std::span<const RoutePiece> pieces, std::span<const PlacedStop> stops) {
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
            sum += turn(pieces[i - 1], whole_arc(graph, *spur)) + turn(whole_arc(graph, graph.twin(*spur)), p);
        else if (i > 0)
            sum += turn(pieces[i - 1], p);
        sum += primary_of(weight_of(graph, question.primary, p));
    }
    return sum;
}

StopSearchResult find_route_with_stops(const VehicleRoads& roads, const StopOffers& offers,
                                       const StopSearchQuestion& question) {
    return StopSearch(roads, offers, question).run();
}

}  // namespace loamway
