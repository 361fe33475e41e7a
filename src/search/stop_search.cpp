// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/stop_search.h"

#include <algorithm>

#include "places_on.h"
#include "radix_heap.h"
#include "route_ends.h"
#include "settled_labels.h"
#include "states.h"
#include "stop_bounds.h"

namespace loamway {

namespace {

constexpr std::uint32_t no_offer = no_state;

enum class Kind : std::uint8_t { start, arc_end, beside, mouth, finish };

struct Label {
    std::uint64_t value = 0;  // packed weight and route length so far
    std::uint64_t since = 0;  // driven since the last lubrication, dm
    std::uint32_t before = no_state;
    std::uint32_t state = no_state;  // arc end: driven to; beside: being driven; mouth: driven to
    std::uint32_t offer = no_offer;
    std::uint32_t at_dm = 0;  // beside: along the arc in the direction of travel; start: where it begins
    Kind kind = Kind::start;
    bool dry = false;       // through a ford since the last lubrication
    bool fresh = false;     // nothing driven yet: no turn joins the start to the next arc
    bool may_turn = false;  // beside: there is room, and some of the arc was driven to get there
};

// An offer beside an arc, in the direction of travel.
struct Passed {
    std::uint32_t offer;
    std::uint32_t at_dm;
    bool turns;
};

class StopSearch {
public:
    StopSearch(const VehicleRoads& roads, const StopOffers& offers, const StopSearchQuestion& q)
        : m_graph(roads.graph()),
          m_states(roads),
          m_places(roads, offers),
          m_offers(offers),
          m_q(q),
          m_ends(roads, q.from, q.to),
          m_bounds(roads, m_states, m_places, m_ends, q),
          m_settled(m_states.count()) {
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
            const auto [bound, number] = m_queue.pop();
            if (m_labels.size() > m_q.label_budget) {
                result.exact = false;
                result.lower_bound = primary_of(bound);
                break;
            }
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
    // Offers beside an arc from a position on, in the order in which they are passed.
    void offers_along(ArcId a, std::uint32_t from_dm, bool from_included, std::vector<Passed>& out) const {
        out.clear();
        m_places.for_each_beside(a, [&](std::uint32_t offer, std::uint32_t at, bool turns) {
            if (at > from_dm || (from_included && at == from_dm))
                out.push_back({offer, at, turns});
        });
        std::stable_sort(out.begin(), out.end(),
                         [](const Passed& x, const Passed& y) { return x.at_dm < y.at_dm; });
    }

    void propose(Label label) {
        if (label.since > m_q.interval_dm)
            return;
        std::uint64_t weight = 0, length = 0;
        if (label.kind != Kind::finish) {
            const auto rest = label.kind == Kind::beside ? m_bounds.from(label.state, label.at_dm)
                                                         : m_bounds.after(label.state);
            if (!rest)
                return;
            weight = rest->primary;
            length = rest->length_dm;
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
        m_queue.push({pack_checked(least, whole), static_cast<std::uint32_t>(m_labels.size())});
        m_labels.push_back(label);
    }

    [[nodiscard]] static SettledLabels::Group group(const Label& l) {
        return {l.kind == Kind::arc_end ? no_offer : l.offer, l.dry, l.fresh, l.may_turn};
    }
    // Without a cap a length only decides among equal weights, as part of the value.
    [[nodiscard]] SettledLabels::Sums sums(const Label& l) const {
        if (m_q.cap_dm == no_cap)
            return {l.value, l.since, 0};
        return {length_of(l.value), l.since, primary_of(l.value)};
    }
    [[nodiscard]] bool dominated(const Label& label) const {
        return label.kind != Kind::finish && m_settled.beat(label.state, group(label), sums(label));
    }

    bool settle(std::uint32_t number) {
        const Label& label = m_labels[number];
        if (dominated(label))
            return false;
        m_settled.add(label.state, group(label), sums(label));
        return true;
    }

    void go_on(std::uint32_t number) {
        const Label label = m_labels[number];
        if (label.kind != Kind::beside) {
            go_on_at_node(number, label);
            return;
        }
        drive(number, label.state, label.at_dm, 0);
        if (const auto back = m_states.turn_round(label.state); back && label.may_turn) {
            const ArcId in = m_states.arc(label.state);
            drive(number, *back, m_graph.arc(in).length_dm - label.at_dm, turn(label, in, m_graph.twin(in)));
        }
    }

    void go_on_at_node(std::uint32_t number, const Label& label) {
        const ArcId in = m_states.arc(label.state);
        const NodeId here = m_graph.head(in);
        if (label.kind == Kind::arc_end)
            pull_into_mouths(number, label, in);
        m_ford_behind = !m_offers.ford_node.empty() && m_offers.ford_node[here.index()];
        const ArcId last = label.kind == Kind::mouth ? m_graph.twin(m_places.mouth(label.offer).spur) : in;
        for (std::uint32_t b = m_graph.arc_begin(here); b < m_graph.arc_end(here); ++b) {
            const ArcId out{b};
            const auto next = m_states.follow(label.state, out);
            if (!next)
                continue;
            if (label.kind == Kind::mouth && !m_places.leads_to(m_places.mouth(label.offer), out))
                continue;
            // Dry belts do not pass a fit place.
            if (label.dry && label.kind == Kind::arc_end && passes_a_mouth(in, out))
                continue;
            drive(number, *next, 0, turn(label, last, out));
        }
        if (label.kind == Kind::mouth && m_places.turns(m_places.mouth(label.offer), in))
            if (const auto back = m_states.turn_round(label.state))
                drive(number, *back, 0, turn(label, last, m_graph.twin(in)));
        m_ford_behind = false;
    }

    void pull_into_mouths(std::uint32_t number, const Label& label, ArcId in) {
        m_places.for_each_mouth(m_graph.head(in), [&](std::uint32_t offer, const MouthOffer& m) {
            if (label.since + m.depth_dm > m_q.interval_dm || !m_places.serves(m, in))
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
    }

    [[nodiscard]] std::uint64_t turn(const Label& label, ArcId in, ArcId out) const {
        return label.fresh ? 0 : m_q.turns(in, out);
    }

    [[nodiscard]] bool passes_a_mouth(ArcId in, ArcId out) const {
        bool passes = false;
        m_places.for_each_mouth(m_graph.tail(out), [&](std::uint32_t, const MouthOffer& m) {
            passes = passes || (m_places.serves(m, in) && m_places.leads_to(m, out));
        });
        return passes;
    }

    // On along one arc from a position, after a turn that costs so much: to each offer beside it, to its end,
    // or to the end of the move. Where the move ends right behind the turn, nobody turns.
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
            at.may_turn = p.turns && p.at_dm > from_dm;
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

    [[nodiscard]] Label after(const Label& label, std::uint32_t number, std::uint32_t state,
                              RoutePiece piece) const {
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
        Route& route = found.route;
        found.total_primary = primary_of(m_labels[number].value);
        std::uint32_t from_dm = m_labels[chain.front()].at_dm;
        const auto drive_to = [&](ArcId a, std::uint32_t to_dm) {
            route.pieces.push_back({a, from_dm, to_dm});
            route.length_dm += to_dm - from_dm;
            from_dm = 0;
        };
        for (std::size_t i = 1; i < chain.size(); ++i) {
            const Label& l = m_labels[chain[i]];
            const ArcId a = m_states.arc(l.state);
            // There is a label behind every stop: none is made where the move ends.
            const auto goes_back = [&] {
                return m_states.arc(m_labels[chain[i + 1]].state) == m_graph.twin(a);
            };
            if (l.kind == Kind::beside) {
                const bool back = goes_back();
                found.stops.push_back(
                    {l.offer, route.length_dm + l.at_dm - from_dm, route.pieces.size(), back});
                if (back) {
                    drive_to(a, l.at_dm);
                    from_dm = m_graph.arc(a).length_dm - l.at_dm;
                }
            } else if (l.kind == Kind::mouth) {
                found.stops.push_back({l.offer, route.length_dm, route.pieces.size(), goes_back()});
            } else {
                drive_to(a, l.kind == Kind::finish ? l.at_dm : m_graph.arc(a).length_dm);
            }
        }
        route.primary = weight_with_stops(m_graph, m_offers, m_q, route.pieces, {});
        return found;
    }

    const RoadGraph& m_graph;
    const States m_states;
    const PlacesOn m_places;
    const StopOffers& m_offers;
    const StopSearchQuestion& m_q;
    const RouteEnds m_ends;
    StopBounds m_bounds;
    std::uint64_t m_least_price = 0;
    bool m_ford_behind = false;
    std::vector<Label> m_labels;
    struct Item {
        std::uint64_t key;  // packed bound
        std::uint32_t label;
    };
    RadixHeap<Item> m_queue;
    SettledLabels m_settled;
};

}  // namespace

StopSearchResult find_route_with_stops(const VehicleRoads& roads, const StopOffers& offers,
                                       const StopSearchQuestion& question) {
    StopSearchResult result = StopSearch(roads, offers, question).run();
    // That there is no way at all is the one answer not taken from a hierarchy: sums too large look the same.
    const bool at_all = question.known_primary == StopSearchQuestion().known_primary;
    if (question.metric != nullptr && at_all && result.exact && !result.found) {
        StopSearchQuestion plain = question;
        plain.metric = plain.length_metric = nullptr;
        result = StopSearch(roads, offers, plain).run();
    }
    return result;
}

}  // namespace loamway
