// SPDX-License-Identifier: Apache-2.0
#include "mixed_search.h"

#include <algorithm>
#include <functional>
#include <queue>

#include "loamway/search/fast_route.h"
#include "manner.h"

namespace loamway {

namespace {

constexpr double unit = 1e4;  // weights count ten-thousandths of a currency unit

double units_of(RouteWeight w) {
    return w == infinite_weight ? std::numeric_limits<double>::infinity()
                                : static_cast<double>(primary_of(w)) / unit;
}
RouteWeight weight_of(double units) {
    return pack_weight(static_cast<std::uint32_t>(units * unit), 0);
}

// Getting ready to drive at all: once a move, with the powder that is due before it.
double first_preparation(const Setting& setting) {
    const PlanInputs& in = setting.in();
    DriveFigures f;
    f.lubrications = 0;
    f.shuttle = false;
    f.wide_escorts = setting.escorts();
    f.wide_permit = setting.state().width >= in.recipe.permit_from_width;
    if (powders_before_start(in)) {
        f.lubrications = 1;
        f.stopped = in.rates.stop_time(in.machine.belts.count);
    }
    return drive_cost(f, in.rates).total().units();
}

}  // namespace

/// Weights of one vehicle between nodes, with the hierarchy or without.
class MixedSearch::Distances {
public:
    Distances(const RoadGraph& graph, const Hierarchy* hierarchy, std::vector<RouteWeight> weights)
        : m_graph(graph) {
        if (hierarchy != nullptr) {
            m_metric.emplace(*hierarchy, std::move(weights));
            m_query.emplace(*hierarchy);
        } else {
            m_weights = std::move(weights);
        }
    }
    [[nodiscard]] const HierarchyMetric& metric() const { return *m_metric; }
    [[nodiscard]] std::span<const RouteWeight> weights() const {
        return m_metric ? m_metric->arc_weights() : m_weights;
    }

    /// From the sources to each of the nodes, or from each of them to the targets.
    std::vector<RouteWeight> from(std::span<const WeightedNode> sources, std::span<const NodeId> nodes) {
        return run(sources, nodes, false);
    }
    std::vector<RouteWeight> to(std::span<const WeightedNode> targets, std::span<const NodeId> nodes) {
        return run(targets, nodes, true);
    }

private:
    std::vector<RouteWeight> run(std::span<const WeightedNode> starts, std::span<const NodeId> nodes,
                                 bool backwards) {
        std::vector<RouteWeight> out(nodes.size(), infinite_weight);
        if (starts.empty())
            return out;
        if (m_metric && backwards)
            m_query->some_to(*m_metric, starts, nodes, out);
        else if (m_metric)
            m_query->some_from(*m_metric, starts, nodes, out);
        else
            search(starts, nodes, backwards, out);
        return out;
    }

    // Dijkstra's algorithm.
    void search(std::span<const WeightedNode> starts, std::span<const NodeId> nodes, bool backwards,
                std::vector<RouteWeight>& out) const {
        using Entry = std::pair<RouteWeight, std::uint32_t>;
        std::vector<RouteWeight> best(m_graph.node_count(), infinite_weight);
        std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
        const auto reach = [&](NodeId n, RouteWeight w) {
            if (w < best[n.index()]) {
                best[n.index()] = w;
                queue.emplace(w, n.value());
            }
        };
        for (const WeightedNode& s : starts)
            reach(s.node, s.weight);
        while (!queue.empty()) {
            const auto [w, n] = queue.top();
            queue.pop();
            if (w != best[n])
                continue;
            for (std::uint32_t a = m_graph.arc_begin(NodeId{n}); a < m_graph.arc_end(NodeId{n}); ++a) {
                const ArcId driven = backwards ? m_graph.twin(ArcId{a}) : ArcId{a};
                reach(m_graph.head(ArcId{a}), add_weights(w, m_weights[driven.index()]));
            }
        }
        for (std::size_t i = 0; i < nodes.size(); ++i)
            out[i] = best[nodes[i].index()];
    }

    const RoadGraph& m_graph;
    std::optional<HierarchyMetric> m_metric;
    std::optional<HierarchyQuery> m_query;
    std::vector<RouteWeight> m_weights;
};

/// A place at one of the nodes it can be reached by.
struct MixedSearch::Spot {
    std::uint32_t place;
    NodeId node;
    RouteWeight drive_to, drive_from;  // of the machine, from where the move begins and to where it ends
    RouteWeight out, back;             // the low-bed's empty runs
};

struct MixedSearch::Runs {
    std::vector<Spot> spots;
    std::vector<WeightedNode> haul_from, haul_to;               // without empty runs
    RouteWeight out = infinite_weight, back = infinite_weight;  // empty, to the beginning and from the end
    std::vector<WeightedNode> from, to;
};

MixedSearch::MixedSearch(const Setting& setting, const VehicleRoads& driven, const Hauling& hauling)
    : m_setting(setting),
      m_driven(driven),
      m_hauling(hauling),
      m_drive_weights(setting.cost_weights(driven)),
      m_prepare_first(first_preparation(setting)),
      m_prepare_again(drive_cost(second_preparation(setting), setting.in().rates).total().units()) {
    const RoadGraph& graph = setting.graph();
    if (Hierarchy::stored_in(setting.region()))
        m_hierarchy.emplace(setting.region());
    const Hierarchy* h = m_hierarchy ? &*m_hierarchy : nullptr;
    m_drive = std::make_unique<Distances>(graph, h, through_weights(driven, m_drive_weights));
    m_haul =
        std::make_unique<Distances>(graph, h, through_weights(hauling.loaded(), hauling.loaded_weights()));
    if (hauling.base())
        m_empty =
            std::make_unique<Distances>(graph, h, through_weights(hauling.empty(), hauling.empty_weights()));
    m_fixed = hauling.plain_cost(figures(0, 0, 0)).units();
}

MixedSearch::~MixedSearch() = default;

// Time and length of a run out of what it weighs.
HaulFigures MixedSearch::figures(RouteWeight out, RouteWeight loaded, RouteWeight back) const {
    HaulFigures f = m_hauling.assumed_runs();
    const auto take = [](RouteWeight w, const RunPrices& prices, Length& length, Duration& time) {
        length = Length::from_decimetres(static_cast<std::int64_t>(length_of(w)));
        time = Duration::from_hours(
            std::max(0.0, (static_cast<double>(primary_of(w)) / unit - prices.per_km.units() * length.km()) /
                              prices.per_h.units()));
    };
    take(loaded, m_hauling.loaded_prices(), f.loaded, f.loaded_time);
    if (m_hauling.base()) {
        take(out, m_hauling.empty_prices(), f.to_pickup, f.to_pickup_time);
        take(back, m_hauling.empty_prices(), f.back, f.back_time);
    }
    return f;
}

MixedSearch::Runs MixedSearch::measure(const MixedQuestion& q) {
    Runs r;
    std::vector<NodeId> nodes;
    for (std::uint32_t i = 0; i < q.places.size(); ++i)
        for (const NodeId n : q.places[i].nodes) {
            r.spots.push_back({i, n, 0, 0, 0, 0});
            nodes.push_back(n);
        }
    r.from = nodes_from(m_driven, q.from, m_drive_weights);
    r.to = nodes_to(m_driven, q.to, m_drive_weights);
    const auto drive_to = m_drive->from(r.from, nodes), drive_from = m_drive->to(r.to, nodes);
    std::vector<RouteWeight> out(nodes.size(), 0), back(nodes.size(), 0);
    const std::vector<std::uint32_t> loaded = m_hauling.loaded_weights(), empty = m_hauling.empty_weights();
    if (q.haul_from)
        r.haul_from = nodes_from(m_hauling.loaded(), *q.haul_from, loaded);
    if (q.haul_to)
        r.haul_to = nodes_to(m_hauling.loaded(), *q.haul_to, loaded);
    r.out = r.back = 0;
    if (const auto& base = m_hauling.base()) {
        const auto leaves = nodes_from(m_hauling.empty(), *base, empty),
                   comes = nodes_to(m_hauling.empty(), *base, empty);
        out = m_empty->from(leaves, nodes);
        back = m_empty->to(comes, nodes);
        const auto least = [](const std::vector<WeightedNode>& ends, const std::vector<RouteWeight>& w) {
            RouteWeight best = infinite_weight;
            for (std::size_t i = 0; i < ends.size(); ++i)
                best = std::min(best, add_weights(w[i], ends[i].weight));
            return best;
        };
        const auto nodes_in = [](const std::vector<WeightedNode>& ends) {
            std::vector<NodeId> n;
            for (const WeightedNode& e : ends)
                n.push_back(e.node);
            return n;
        };
        if (q.haul_from) {
            const auto ends = nodes_to(m_hauling.empty(), *q.haul_from, empty);
            r.out = least(ends, m_empty->from(leaves, nodes_in(ends)));
        }
        if (q.haul_to) {
            const auto ends = nodes_from(m_hauling.empty(), *q.haul_to, empty);
            r.back = least(ends, m_empty->to(comes, nodes_in(ends)));
        }
    }
    for (std::size_t i = 0; i < r.spots.size(); ++i) {
        const RoadPoint& at = q.places[r.spots[i].place].at;
        r.spots[i].drive_to = std::min(drive_to[i], along_one_road(q.from, at));
        r.spots[i].drive_from = std::min(drive_from[i], along_one_road(at, q.to));
        r.spots[i].out = out[i];
        r.spots[i].back = back[i];
    }
    return r;
}

// Without passing a node.
RouteWeight MixedSearch::along_one_road(const RoadPoint& a, const RoadPoint& b) const {
    if (a.edge != b.edge)
        return infinite_weight;
    const RoadGraph& graph = m_setting.graph();
    const ArcId arc = graph.arc_of(a.edge, b.offset_dm < a.offset_dm);
    if (!m_driven.open(arc))
        return infinite_weight;
    const auto [from, to] = std::minmax(a.offset_dm, b.offset_dm);
    const std::uint64_t weight =
        weight_between(m_drive_weights[arc.index()], graph.arc(arc).length_dm, from, to);
    return pack_weight(static_cast<std::uint32_t>(weight), to - from);
}

std::optional<Composition> MixedSearch::compose(const CompositionQuestion& q) {
    if (m_hierarchy)
        return CompositionFinder(*m_hierarchy).find(q, m_drive->metric(), m_haul->metric());
    return find_composition_plainly(m_setting.graph(), q, m_drive->weights(), m_haul->weights());
}

// Loaded at a place, whatever comes after; or loaded where the move begins and unloaded at a place.
double MixedSearch::least_total(const MixedQuestion& q, const Runs& runs) {
    std::vector<TransferPlace> places;
    for (const Spot& s : runs.spots)
        places.push_back({s.node, s.out, s.back});
    const auto with = [](std::vector<WeightedNode> nodes, RouteWeight more) {
        for (WeightedNode& n : nodes)
            n.weight = add_weights(n.weight, more);
        return nodes;
    };
    const std::vector<WeightedNode> haul_from = with(runs.haul_from, runs.out),
                                    haul_to = with(runs.haul_to, runs.back),
                                    to = with(runs.to, weight_of(m_prepare_again));
    CompositionQuestion c;
    c.must_haul = true;
    c.to = to;
    c.places = places;
    c.from = runs.from;
    c.haul_to = haul_to;
    double best = std::numeric_limits<double>::infinity();
    if (const auto found = compose(c))
        best = units_of(found->total) + m_prepare_first;
    if (q.haul_from) {
        for (TransferPlace& p : places)
            p.load = infinite_weight;
        c.from = c.haul_to = {};
        c.haul_from = haul_from;
        if (const auto found = compose(c))
            best = std::min(best, units_of(found->total) - m_prepare_again + m_prepare_first);
    }
    return best + m_fixed;
}

// Of hauling as far as the crow flies, made ready to drive once. What is left of the move is driven, which
// costs no less.
double MixedSearch::at_least(RouteWeight out, Length crow, RouteWeight back) const {
    if (out == infinite_weight || back == infinite_weight)
        return std::numeric_limits<double>::infinity();
    HaulFigures f = figures(out, 0, back);
    f.loaded = crow * 0.999;
    f.loaded_time = f.loaded / m_setting.in().low_bed.loaded_speed;
    return m_prepare_first + m_hauling.cost(f).total().units();
}

std::vector<std::size_t> MixedSearch::most_promising(const std::vector<double>& bounds,
                                                     double& others) const {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < bounds.size(); ++i)
        if (bounds[i] < std::numeric_limits<double>::infinity())
            order.push_back(i);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return bounds[a] < bounds[b]; });
    if (order.size() > most_places) {
        others = std::min(others, bounds[order[most_places]]);
        order.resize(most_places);
    }
    return order;
}

namespace {

/// Pairs by their places, the cheapest way each.
class PairTable {
public:
    PairTable(std::size_t places, double cap) : m_side(places + 1), m_cap(cap) {}
    void offer(std::optional<std::uint32_t> load, std::optional<std::uint32_t> unload, double cost) {
        if (!(cost < m_cap) || load == unload)
            return;
        const std::uint64_t key = number(load) * m_side + number(unload);
        m_found.push_back({key, {load, unload, cost}});
    }
    std::vector<MixedPair> take() {
        const auto rank = [](const auto& f) { return std::tuple(f.first, f.second.cost); };
        std::sort(m_found.begin(), m_found.end(),
                  [&](const auto& a, const auto& b) { return rank(a) < rank(b); });
        std::vector<MixedPair> pairs;
        for (std::size_t i = 0; i < m_found.size(); ++i)
            if (i == 0 || m_found[i].first != m_found[i - 1].first)
                pairs.push_back(m_found[i].second);
        std::stable_sort(pairs.begin(), pairs.end(),
                         [](const MixedPair& a, const MixedPair& b) { return a.cost < b.cost; });
        return pairs;
    }

private:
    static std::uint64_t number(std::optional<std::uint32_t> place) {
        return place ? std::uint64_t{*place} + 1 : 0;
    }
    std::uint64_t m_side;
    double m_cap;
    std::vector<std::pair<std::uint64_t, MixedPair>> m_found;
};

}  // namespace

void MixedSearch::make_pairs(const MixedQuestion& q, const Runs& runs, MixedAnswer& answer) {
    const double most = std::numeric_limits<double>::infinity();
    double after = q.haul_to ? 0 : most, before = q.haul_from ? 0 : most;
    for (const Spot& s : runs.spots) {
        after = std::min(after, units_of(s.drive_from) + m_prepare_again);
        before = std::min(before, units_of(s.drive_to) + m_prepare_again);
    }
    std::vector<double> as_load, as_unload;
    for (const Spot& s : runs.spots) {
        const GeoPoint at = q.places[s.place].at.point;
        as_load.push_back(units_of(s.drive_to) + after + at_least(s.out, distance(at, q.to.point), 0));
        as_unload.push_back(units_of(s.drive_from) + before +
                            at_least(0, distance(q.from.point, at), s.back));
    }
    const auto loads = most_promising(as_load, answer.others);
    const auto unloads = most_promising(as_unload, answer.others);
    std::vector<NodeId> nodes;
    for (const std::size_t u : unloads)
        nodes.push_back(runs.spots[u].node);
    for (const WeightedNode& n : runs.haul_to)
        nodes.push_back(n.node);

    PairTable table(q.places.size(), q.cap);
    const auto haul_from = [&](std::optional<std::uint32_t> load, double driven, RouteWeight out,
                               std::span<const WeightedNode> sources) {
        const std::vector<RouteWeight> hauled = m_haul->from(sources, nodes);
        const auto price = [&](RouteWeight h, RouteWeight back) {
            return m_hauling.cost(figures(out, h, back)).total().units();
        };
        for (std::size_t i = 0; i < unloads.size(); ++i) {
            const Spot& u = runs.spots[unloads[i]];
            if (hauled[i] == infinite_weight || u.back == infinite_weight || u.drive_from == infinite_weight)
                continue;
            const double ready = m_prepare_first + (load ? m_prepare_again : 0);
            table.offer(load, u.place, ready + driven + units_of(u.drive_from) + price(hauled[i], u.back));
        }
        RouteWeight to_end = infinite_weight;
        for (std::size_t i = 0; i < runs.haul_to.size(); ++i)
            to_end = std::min(to_end, add_weights(hauled[unloads.size() + i], runs.haul_to[i].weight));
        if (load && to_end != infinite_weight && runs.back != infinite_weight)
            table.offer(load, std::nullopt, m_prepare_first + driven + price(to_end, runs.back));
    };
    if (q.haul_from && runs.out != infinite_weight)
        haul_from(std::nullopt, 0, runs.out, runs.haul_from);
    for (const std::size_t l : loads) {
        const Spot& s = runs.spots[l];
        const WeightedNode source{s.node, 0};
        haul_from(s.place, units_of(s.drive_to), s.out, std::span(&source, 1));
    }
    answer.pairs = table.take();
}

MixedAnswer MixedSearch::find(const MixedQuestion& q) {
    const Runs runs = measure(q);
    MixedAnswer answer;
    answer.bound = least_total(q, runs);
    if (answer.bound < q.cap)
        make_pairs(q, runs, answer);
    return answer;
}

}  // namespace loamway
