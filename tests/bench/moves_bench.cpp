// SPDX-License-Identifier: Apache-2.0
// Times the searches that a plan is made of, each beside the plainer way to the same answer, in one run:
// moves_bench [--cpu] MAP.osm.pbf|MAP.region ... Maps of any size: make_demo_map --grid N.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/base/geo.h"
#include "loamway/build/build.h"
#include "loamway/search/composition.h"
#include "loamway/search/fast_route.h"
#include "loamway/search/front.h"
#include "loamway/search/stop_choice.h"
#include "loamway/search/stop_search.h"
#include "stopwatch.h"
#include "support/test_random.h"
#include "textbook_front.h"

namespace loamway {
namespace {

using namespace bench;

void demand(bool ok, const char* what) {
    if (!ok) {
        std::fprintf(stderr, "moves_bench: %s\n", what);
        std::exit(1);
    }
}

struct Move {
    RoadPoint from, to;
};

class Map {
public:
    explicit Map(const Region& region)
        : graph(region.view()),
          roads(graph, tractor(), {}),
          hierarchy(region.view()),
          hard(graph.arc_count()),
          length(graph.arc_count()),
          cost(graph.arc_count()),
          m_bearing(graph.arc_count()) {
        for (std::uint32_t a = 0; a < graph.arc_count(); ++a) {
            const ArcId arc{a};
            length[a] = graph.arc(arc).length_dm;
            hard[a] = length[a] * graph.edge(arc).odds.hard;
            cost[a] = length[a] * (200u + graph.edge(arc).odds.hard) / 100;
            const auto points = graph.arc_points(arc);
            m_bearing[a] = static_cast<float>(bearing_deg(points[0], points[1]));
        }
    }

    /// Sweeps over the whole map then take seconds: fewer moves.
    [[nodiscard]] bool large() const { return graph.arc_count() > 2'000'000; }
    /// A right angle costs what 150 m of gravel cost.
    [[nodiscard]] TurnPrices turns() const {
        return TurnPrices([this](ArcId in, ArcId out) {
            const double turn =
                std::abs(turn_deg(m_bearing[graph.twin(in).index()] + 180.0, m_bearing[out.index()]));
            return turn > 60 ? 3000u : 0u;
        });
    }
    /// Moves between roads of the largest part that lie so far apart, as the crow flies.
    [[nodiscard]] std::vector<Move> moves(std::size_t count, double least_km, double most_km,
                                          std::uint64_t seed) const {
        TestRandom random(seed);
        std::vector<Move> out;
        const auto edges = static_cast<std::uint32_t>(graph.region().edge_count());
        for (int tries = 0; tries < 300000 && out.size() < count; ++tries) {
            const EdgeId a{random.below(edges)}, b{random.below(edges)};
            if (roads.part_of(a) != 0 || roads.part_of(b) != 0)
                continue;
            const double km = distance(point(a), point(b)).metres() / 1000;
            if (km >= least_km && km <= most_km)
                out.push_back({middle(a), middle(b)});
        }
        return out;
    }

    RoadGraph graph;
    VehicleRoads roads;
    Hierarchy hierarchy;
    std::vector<std::uint32_t> hard, length, cost;

private:
    static VehicleView tractor() {
        VehicleView v;
        v.width = Length::from_metres(2.8);
        v.height = Length::from_metres(3.4);
        v.length = Length::from_metres(7);
        v.mass = v.axle = Mass::from_tonnes(16);
        v.top_speed = Speed::from_kmh(40);
        return v;
    }
    [[nodiscard]] GeoPoint point(EdgeId e) const {
        return graph.region().node_point(NodeId{graph.region().edges[e.index()].head});
    }
    [[nodiscard]] RoadPoint middle(EdgeId e) const {
        RoadPoint p;
        p.edge = e;
        p.offset_dm = graph.region().edges[e.index()].length_dm / 2;
        return p;
    }

    std::vector<float> m_bearing;
};

void bench_turns(const Map& map) {
    const TurnPrices turns = map.turns();
    const HierarchyMetric metric(map.hierarchy, through_weights(map.roads, map.cost), 2);
    FastRoute fast(map.roads, map.hierarchy);
    RouteFinder plain(map.roads);
    std::vector<double> free, priced, dijkstra, states;
    for (const Move& m : map.moves(60, 3, 30, 1)) {
        std::optional<Route> route, expected;
        free.push_back(least_of(3, [&] { route = fast.find(m.from, m.to, map.cost, metric); }));
        priced.push_back(
            least_of(3, [&] { route = fast.find(m.from, m.to, map.cost, metric, no_cap, turns); }));
        states.push_back(static_cast<double>(fast.last_effort()));
        dijkstra.push_back(
            least_of(3, [&] { expected = plain.find(m.from, m.to, map.cost, no_cap, turns); }));
        demand(
            route.has_value() == expected.has_value() &&
                (!route || (route->primary == expected->primary && route->length_dm == expected->length_dm)),
            "the fast and the plain route disagree about turns");
    }
    std::printf(
        "| turns priced, 3-30 km | %.1f us | free: %.1f us | %.1f x | plain search over arcs: %.0f us | %.0f states |\n",
        median(priced) * 1e6, median(free) * 1e6, median(priced) / median(free), median(dijkstra) * 1e6,
        median(states));
}

struct Offers {
    StopOffers offers;
    std::vector<std::uint32_t> prices;
};

/// One road in `sparse` has a place, at 25 min of driving.
Offers make_offers(const Map& map, std::uint32_t sparse) {
    Offers o;
    TestRandom random(3);
    for (std::uint32_t e = 0; e < map.graph.region().edge_count(); ++e)
        if (random.below(sparse) == 0)
            o.offers.beside.push_back({EdgeId{e}, map.graph.region().edges[e].length_dm / 2, false});
    o.prices.assign(o.offers.size(), 250'000);
    return o;
}

/// Route first, then the fewest stops on it: its weight with stops; nothing where places are too sparse.
std::optional<std::uint64_t> route_then_stops(const Map& map, const Offers& o, const StopSearchQuestion& q,
                                              RouteFinder& finder) {
    const auto route = finder.find(q.from, q.to, q.primary);
    if (!route)
        return std::nullopt;
    std::vector<StopCandidate> candidates;
    std::uint64_t at = 0;
    for (const RoutePiece& p : route->pieces) {
        const auto place =
            std::lower_bound(o.offers.beside.begin(), o.offers.beside.end(), map.graph.edge_of(p.arc),
                             [](const BesideOffer& b, EdgeId e) { return b.edge < e; });
        if (place != o.offers.beside.end() && place->edge == map.graph.edge_of(p.arc))
            candidates.push_back({at + p.length_dm() / 2, 0, 0});
        at += p.length_dm();
    }
    StopQuestion alone;
    alone.length_dm = route->length_dm;
    alone.interval_dm = q.interval_dm;
    alone.candidates = candidates;
    const StopChoice choice = choose_stops(alone);
    if (choice.missing)
        return std::nullopt;
    return route->primary + 250'000 * choice.chosen.size();
}

void bench_stops(const Map& map, std::uint32_t sparse, double least_km, double most_km) {
    const Offers o = make_offers(map, sparse);
    RouteFinder finder(map.roads);
    const HierarchyMetric metric(map.hierarchy, through_weights(map.roads, map.cost), 2);
    const HierarchyMetric lengths(map.hierarchy, through_weights(map.roads, map.length), 2);
    std::vector<double> joint, swept, first, labels;
    int dearer = 0, saved = 0, moves = 0;
    for (const Move& m : map.moves(map.large() ? 5 : 15, least_km, most_km, 2)) {
        StopSearchQuestion q;
        q.from = m.from;
        q.to = m.to;
        q.primary = map.cost;
        q.prices = o.prices;
        q.interval_dm = 150'000;
        std::optional<std::uint64_t> alone;
        first.push_back(least_of(2, [&] { alone = route_then_stops(map, o, q, finder); }));
        StopSearchResult result;
        swept.push_back(least_of(2, [&] { result = find_route_with_stops(map.roads, o.offers, q); }));
        const std::optional<RouteWithStops> expected = result.found;
        q.metric = &metric;
        q.length_metric = &lengths;
        joint.push_back(least_of(2, [&] { result = find_route_with_stops(map.roads, o.offers, q); }));
        demand(result.found.has_value() == expected.has_value() &&
                   (!expected || result.found->total_primary == expected->total_primary),
               "looking bounds up changes the answer");
        labels.push_back(static_cast<double>(result.labels));
        demand(!alone || (result.found && result.found->total_primary <= *alone),
               "the joint search is dearer");
        dearer += alone && result.found->total_primary < *alone ? 1 : 0;
        saved += !alone && result.found ? 1 : 0;
        ++moves;
    }
    if (moves > 0)
        std::printf(
            "| route and stops, 1 road in %u has a place, %.0f-%.0f km | %.1f ms | swept bounds: %.1f ms | route first: "
            "%.1f ms | dearer %d, no placing %d of %d | %.0f labels |\n",
            sparse, least_km, most_km, median(joint) * 1e3, median(swept) * 1e3, median(first) * 1e3, dearer,
            saved, moves, median(labels));
}

// From one end of a road to the far end of another, so that the reference answers the same question. Moves
// for which its states do not suffice (private ground, restrictions over several roads) are left out, and
// counted.
void bench_front(const Map& map, double least_km, double most_km, std::size_t moves) {
    RouteFinder finder(map.roads);
    bench::TextbookFront textbook(map.roads, map.hard);
    std::vector<double> times, beside, points, labels;
    int ended = 0;  // by the budget of labels
    int apart = 0;  // the reference's states do not suffice
    double longest = 0;
    for (const Move& m : map.moves(map.large() ? 3 : moves, least_km, most_km, 4)) {
        FrontQuestion q;
        q.from = m.from;
        q.to = m.to;
        for (RoadPoint* p : {&q.from, &q.to})
            p->offset_dm = map.graph.region().edges[p->edge.index()].length_dm;
        q.primary = map.hard;
        const auto shortest = finder.find(q.from, q.to, map.length);
        if (!shortest)
            continue;
        q.cap_dm = shortest->length_dm * 8 / 5;
        std::optional<Front> front;
        const double time = least_of(2, [&] { front = find_front(map.roads, q); });
        if (!front->exact()) {
            ++ended;
            longest = std::max(longest, time);
            continue;
        }
        std::vector<std::pair<std::uint64_t, std::uint64_t>> expected;
        const double reference =
            least_of(2, [&] { expected = textbook.run(m.from.edge, m.to.edge, q.cap_dm); });
        const auto same = [](const FrontSums& a, const std::pair<std::uint64_t, std::uint64_t>& b) {
            return a.primary == b.first && a.length_dm == b.second;
        };
        if (!std::equal(front->points().begin(), front->points().end(), expected.begin(), expected.end(),
                        same)) {
            ++apart;
            continue;
        }
        times.push_back(time);
        beside.push_back(reference);
        points.push_back(static_cast<double>(front->points().size()));
        labels.push_back(static_cast<double>(front->labels()));
    }
    if (!times.empty())
        std::printf(
            "| front, %.0f-%.0f km | %.1f ms (slowest %.1f) | textbook bi-objective A*: %.1f ms | %.1f x | %.0f "
            "points, %.0f labels | %zu moves, %d left out |\n",
            least_km, most_km, median(times) * 1e3, *std::max_element(times.begin(), times.end()) * 1e3,
            median(beside) * 1e3, median(beside) / median(times), median(points), median(labels),
            times.size(), apart);
    else if (apart > 0)
        std::printf("| front, %.0f-%.0f km | | | | | %d moves, all left out |\n", least_km, most_km, apart);
    if (ended > 0)
        std::printf("| front, %.0f-%.0f km, given up at %zu labels | at most %.0f ms | | | | %d moves |\n",
                    least_km, most_km, FrontQuestion().label_budget, longest * 1e3, ended);
}

void bench_composition(const Map& map, std::uint32_t places) {
    std::vector<std::uint32_t> low_bed = map.length;
    for (std::uint32_t& w : low_bed)
        w = w * 3 / 2;
    const auto driving = through_weights(map.roads, map.cost), hauling = through_weights(map.roads, low_bed);
    const HierarchyMetric drive(map.hierarchy, driving, 2), haul(map.hierarchy, hauling, 2);
    CompositionFinder finder(map.hierarchy);
    TestRandom random(5);
    std::vector<double> times, layered;
    int hauled = 0;
    for (const Move& m : map.moves(15, 20, 200, 6)) {
        const auto from = nodes_from(map.roads, m.from, map.cost), to = nodes_to(map.roads, m.to, map.cost);
        std::vector<TransferPlace> place(places);
        for (TransferPlace& p : place)
            p = {NodeId{random.below(static_cast<std::uint32_t>(map.graph.node_count()))},
                 pack_weight(random.below(20'000), 0), pack_weight(random.below(20'000), 0)};
        CompositionQuestion q;
        q.from = from;
        q.to = to;
        q.places = place;
        std::optional<Composition> fast, plain;
        times.push_back(least_of(3, [&] { fast = finder.find(q, drive, haul); }));
        layered.push_back(
            least_of(3, [&] { plain = find_composition_plainly(map.graph, q, driving, hauling); }));
        demand(fast == plain, "the hierarchy and the layered search disagree");
        hauled += fast && fast->hauled ? 1 : 0;
    }
    if (!times.empty())
        std::printf("| mixed, %u loading places | %.2f ms | three layers: %.1f ms | %.1f x | %d hauled | |\n",
                    places, median(times) * 1e3, median(layered) * 1e3, median(layered) / median(times),
                    hauled);
}

void measure(const std::string& path) {
    const Region region = path.ends_with(".region")
                              ? Region::open(path)
                              : Region::from_data(assemble(read_extract(path, {}), Recipe{}, "bench", {}));
    const Map map(region);
    std::printf(
        "\n%s: %zu nodes, %zu arcs\n\n| what | median | beside it | | | |\n|---|---|---|---|---|---|\n",
        path.substr(path.rfind('/') + 1).c_str(), map.graph.node_count(), map.graph.arc_count());
    bench_turns(map);
    for (const std::uint32_t sparse : {4u, 20u})
        for (const auto& [least, most] :
             {std::pair(20.0, 60.0), std::pair(90.0, 110.0), std::pair(180.0, 220.0)})
            bench_stops(map, sparse, least, most);
    bench_front(map, 10, 30, 11);
    bench_front(map, 90, 110, 11);
    bench_front(map, 180, 220, 5);
    bench_front(map, 380, 420, 3);
    for (const std::uint32_t places : {20u, 100u, 500u})
        bench_composition(map, places);
    std::fflush(stdout);
}

}  // namespace
}  // namespace loamway

int main(int argc, char** argv) {
    try {
        for (int i = 1; i < argc; ++i)
            if (std::string(argv[i]) == "--cpu")
                loamway::count_processor_time = true;
            else
                loamway::measure(argv[i]);
    } catch (const loamway::Error& e) {
        std::fprintf(stderr, "moves_bench: %s\n", e.what());
        return 1;
    }
    return 0;
}
