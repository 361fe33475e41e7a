// SPDX-License-Identifier: Apache-2.0
// Times the node hierarchy beside Boost.Graph on the same graphs in the same run and prints one Markdown row
// a map: search_bench [--cpu] MAP.osm.pbf|MAP.region ... Maps of any size: make_demo_map --grid N.
#include <algorithm>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/property_map/function_property_map.hpp>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/build/build.h"
#include "loamway/graph/boost_graph.h"
#include "loamway/order/node_order.h"
#include "loamway/search/fast_route.h"
#include "stopwatch.h"
#include "support/test_random.h"

namespace loamway {
namespace {

using namespace bench;

/// Ends Boost.Graph's search as soon as the target is settled.
struct Reached {};
class StopAt : public boost::default_dijkstra_visitor {
public:
    explicit StopAt(std::uint32_t target) : m_target(target) {}
    void examine_vertex(std::uint32_t v, const RoadGraph&) const {
        if (v == m_target)
            throw Reached{};
    }

private:
    std::uint32_t m_target;
};

class BoostSearch {
public:
    BoostSearch(const RoadGraph& graph, const std::vector<RouteWeight>& weights)
        : m_graph(graph), m_weights(weights), m_distance(graph.node_count()), m_before(graph.node_count()) {}

    RouteWeight distance(NodeId n) const { return m_distance[n.index()]; }
    /// Without a target to all nodes.
    void run(NodeId source, std::uint32_t target = NodeId::none_value) {
        const auto weight = boost::make_function_property_map<std::uint32_t, RouteWeight>(
            [this](std::uint32_t arc) { return m_weights[arc]; });
        const RoadIndexMap index;
        try {
            boost::dijkstra_shortest_paths(
                m_graph, source.value(),
                boost::weight_map(weight)
                    .distance_map(boost::make_iterator_property_map(m_distance.begin(), index))
                    .predecessor_map(boost::make_iterator_property_map(m_before.begin(), index))
                    .vertex_index_map(index)
                    .distance_inf(infinite_weight)
                    .distance_combine([](RouteWeight x, RouteWeight y) { return add_weights(x, y); })
                    .visitor(StopAt(target)));
        } catch (const Reached&) {
        }
    }

private:
    const RoadGraph& m_graph;
    const std::vector<RouteWeight>& m_weights;
    std::vector<RouteWeight> m_distance;
    std::vector<std::uint32_t> m_before;
};

void demand(bool ok, const char* what) {
    if (!ok) {
        std::fprintf(stderr, "search_bench: %s\n", what);
        std::exit(1);
    }
}

struct Figures {
    double order = 0, boost_all = 0, customise_one = 0, customise_two = 0, all_from = 0;
    double boost_pair = 0, pair = 0, pair_weight = 0, local_pair = 0;
    double turns = 0, turns_beside = 0, turns_guided = 0;
    int guided = 0, routes = 0;
};

double time_order(const RegionView& v) {
    std::vector<std::uint32_t> head;
    for (const ArcRecord& a : v.arcs)
        head.push_back(a.head);
    return least_of(2, [&] {
        const NodeHierarchy h = order_nodes(v.arc_first, head);
        demand(h.up_head.size() == v.up_head.size(), "ordering again gave another order");
    });
}

/// A node from which most others are reached: searches that end on an island say nothing.
NodeId well_placed(BoostSearch& boost, std::uint32_t nodes, TestRandom& random) {
    for (;;) {
        const NodeId s{random.below(nodes)};
        boost.run(s);
        std::uint32_t reached = 0;
        for (std::uint32_t n = 0; n < nodes; ++n)
            reached += boost.distance(NodeId{n}) != infinite_weight ? 1 : 0;
        if (reached > nodes / 2)
            return s;
    }
}

void time_sweeps(BoostSearch& boost, HierarchyQuery& query, const HierarchyMetric& metric, NodeId s,
                 Figures& f) {
    const std::vector<WeightedNode> from{{s, 0}};
    std::vector<RouteWeight> all(metric.hierarchy().node_count());
    f.boost_all = least_of(7, [&] { boost.run(s); });
    f.all_from = least_of(7, [&] { query.all_from(metric, from, all); });
    for (std::uint32_t n = 0; n < all.size(); ++n)
        demand(all[n] == boost.distance(NodeId{n}), "a sweep and Boost.Graph disagree");
}

void time_pairs(const RoadGraph& graph, const Hierarchy& hierarchy, const HierarchyMetric& metric,
                Figures& f) {
    const std::vector<RouteWeight> weights(metric.arc_weights().begin(), metric.arc_weights().end());
    BoostSearch boost(graph, weights);
    HierarchyQuery query(hierarchy);
    TestRandom random(1);
    const auto nodes = static_cast<std::uint32_t>(graph.node_count());
    time_sweeps(boost, query, metric, well_placed(boost, nodes, random), f);
    std::vector<double> boost_pair, pair, pair_weight;
    while (pair.size() < 60) {
        const NodeId s{random.below(nodes)}, t{random.below(nodes)};
        const std::vector<WeightedNode> from{{s, 0}}, to{{t, 0}};
        RouteWeight distance = query.run(metric, from, to);
        if (distance == infinite_weight)
            continue;
        boost_pair.push_back(least_of(2, [&] { boost.run(s, t.value()); }));
        demand(distance == boost.distance(t), "the hierarchy and Boost.Graph disagree");
        pair_weight.push_back(least_of(3, [&] { distance = query.run(metric, from, to); }));
        pair.push_back(least_of(3, [&] {
            distance = query.run(metric, from, to);
            demand(s == t || !query.path().empty(), "a way without arcs");
        }));
    }
    f.boost_pair = median(boost_pair);
    f.pair = median(pair);
    f.pair_weight = median(pair_weight);
}

RoadPoint middle_of(const RoadGraph& graph, EdgeId e) {
    RoadPoint p;
    p.edge = e;
    p.offset_dm = graph.region().edges[e.index()].length_dm / 2;
    return p;
}

/// Moves of up to 30 km, as most are.
void time_turns(const RoadGraph& graph, const VehicleRoads& roads, const Hierarchy& hierarchy,
                const HierarchyMetric& metric, const std::vector<std::uint32_t>& primary, Figures& f) {
    FastRoute fast(roads, hierarchy);
    RouteFinder plain(roads);
    HierarchyQuery query(hierarchy);
    TestRandom random(2);
    std::vector<double> turns, beside, guided;
    const auto edges = static_cast<std::uint32_t>(graph.region().edge_count());
    for (int tries = 0; tries < 200000 && f.routes < 200; ++tries) {
        const EdgeId a{random.below(edges)}, b{random.below(edges)};
        const EdgeRecord &ea = graph.region().edges[a.index()], &eb = graph.region().edges[b.index()];
        const NodeId s{ea.head}, t{eb.tail};
        const double km =
            distance(graph.region().node_point(s), graph.region().node_point(t)).metres() / 1000;
        if (km > 30 || km < 3 || roads.part_of(a) != 0 || roads.part_of(b) != 0)
            continue;
        const RoadPoint from = middle_of(graph, a), to = middle_of(graph, b);
        std::optional<Route> route;
        const double t_fast = least_of(3, [&] { route = fast.find(from, to, primary, metric); });
        if (!route || fast.last_method() == RouteMethod::plain)
            continue;
        const auto method = fast.last_method();
        if (f.routes < 40) {
            const auto expected = plain.find(from, to, primary);
            demand(expected && expected->primary == route->primary && expected->length_dm == route->length_dm,
                   "the fast and the plain route disagree");
        }
        const std::vector<WeightedNode> sources{{s, 0}}, targets{{t, 0}};
        std::size_t arcs = 0;
        beside.push_back(least_of(3, [&] {
            if (query.run(metric, sources, targets) != infinite_weight)
                arcs += query.path().size();
        }));
        turns.push_back(t_fast);
        if (method == RouteMethod::guided)
            guided.push_back(t_fast);
        ++f.routes;
    }
    f.guided = static_cast<int>(guided.size());
    if (!turns.empty()) {
        f.turns = median(turns);
        f.turns_beside = median(beside);
    }
    if (!guided.empty())
        f.turns_guided = median(guided);
}

void measure(const std::string& path) {
    const Region region = path.ends_with(".region")
                              ? Region::open(path)
                              : Region::from_data(assemble(read_extract(path, {}), Recipe{}, "bench", {}));
    const RoadGraph graph(region.view());
    VehicleView vehicle;
    vehicle.width = Length::from_metres(2.8);
    vehicle.height = Length::from_metres(3.4);
    vehicle.length = Length::from_metres(7);
    vehicle.mass = vehicle.axle = Mass::from_tonnes(16);
    vehicle.top_speed = Speed::from_kmh(40);
    const VehicleRoads roads(graph, vehicle, {});
    // Twice the price on hard ground.
    std::vector<std::uint32_t> primary(graph.arc_count());
    for (std::size_t a = 0; a < primary.size(); ++a)
        primary[a] = graph.arc(ArcId{a}).length_dm * (200u + graph.edge(ArcId{a}).odds.hard) / 100;

    Figures f;
    f.order = time_order(region.view());
    const Hierarchy hierarchy(region.view());
    const double opening = seconds([&] { const Hierarchy again(region.view()); });
    const std::vector<RouteWeight> weights = through_weights(roads, primary);
    const auto customise = [&](unsigned threads) {
        return least_of(5, [&] { const HierarchyMetric m(hierarchy, weights, threads); });
    };
    f.customise_one = customise(1);
    f.customise_two = customise(2);
    const HierarchyMetric metric(hierarchy, weights, 2);
    time_pairs(graph, hierarchy, metric, f);
    time_turns(graph, roads, hierarchy, metric, primary, f);

    const std::string name = path.substr(path.rfind('/') + 1);
    std::printf(
        "| %s | %zu | %zu | %zu | %.3f s (%.0f x) | %.2f ms | %.2f ms (%.1f x) | %.2f ms (%.1f x) | %.1f us | %.1f "
        "us / %.1f us | %.0f x | %.2f ms | %.1f x | %.1f us / %.1f us | %.1f x | %d of %d: %.1f us | %.1f ms |\n",
        name.c_str(), graph.node_count(), graph.arc_count(), hierarchy.arc_count(), f.order,
        f.order / f.boost_all, f.boost_all * 1e3, f.customise_one * 1e3, f.customise_one / f.boost_all,
        f.customise_two * 1e3, f.customise_two / f.boost_all, f.boost_pair * 1e6, f.pair * 1e6,
        f.pair_weight * 1e6, f.boost_pair / f.pair, f.all_from * 1e3, f.boost_all / f.all_from, f.turns * 1e6,
        f.turns_beside * 1e6, f.turns / f.turns_beside, f.guided, f.routes, f.turns_guided * 1e6,
        opening * 1e3);
    std::fflush(stdout);
}

}  // namespace
}  // namespace loamway

int main(int argc, char** argv) {
    std::puts(
        "| map | nodes | arcs | hierarchy arcs | order + tree | Boost one-to-all | weights, 1 thread | 2 threads | "
        "Boost pair | pair with path / weight only | faster | one-to-all | faster | route obeying turns / "
        "hierarchy, 3-30 km | ratio | guided | opening |");
    std::puts("|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|");
    try {
        for (int i = 1; i < argc; ++i)
            if (std::string(argv[i]) == "--cpu")
                loamway::count_processor_time = true;
            else
                loamway::measure(argv[i]);
    } catch (const loamway::Error& e) {
        std::fprintf(stderr, "search_bench: %s\n", e.what());
        return 1;
    }
    return 0;
}
