// SPDX-License-Identifier: Apache-2.0
// Pairs of loading places against their definition: every pair tried, distances by relaxing all arcs until
// nothing changes, the low-bed's bill worked out run by run. And the bound against the search in three
// layers.
#include "mixed_search.h"

#include <gtest/gtest.h>

#include <cmath>
#include <tuple>

#include "loamway/base/file.h"
#include "loamway/search/fast_route.h"
#include "manner.h"
#include "support/ordered_region.h"
#include "support/random_map.h"
#include "support/random_points.h"

namespace loamway {
namespace {

using Weights = std::vector<RouteWeight>;

// By definition: relaxes every arc until nothing changes. Backwards: to the targets.
Weights relaxed(const RoadGraph& graph, const Weights& arcs, const std::vector<WeightedNode>& starts,
                bool backwards) {
    Weights best(graph.node_count(), infinite_weight);
    for (const WeightedNode& s : starts)
        best[s.node.index()] = std::min(best[s.node.index()], s.weight);
    for (bool changed = true; changed;) {
        changed = false;
        for (std::uint32_t a = 0; a < arcs.size(); ++a) {
            const std::size_t from = graph.tail(ArcId{a}).index(), to = graph.head(ArcId{a}).index();
            const RouteWeight by = add_weights(best[backwards ? to : from], arcs[a]);
            RouteWeight& known = best[backwards ? from : to];
            changed = changed || by < known;
            known = std::min(known, by);
        }
    }
    return best;
}

struct World {
    explicit World(std::uint64_t seed)
        : region(Region::from_data(seed % 2 == 0 ? random_region_data(seed, 5, 6)
                                                 : ordered(random_region_data(seed, 5, 6)))) {
        TestRandom random(seed * 7);
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.region = &region;
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.from = {"A", region.view().node_point(NodeId{0u})};
        in.to = {"B", region.view().node_point(NodeId{region.view().node_count() - 1})};
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
        in.rates.truck_minimum = Money::from_units(random.chance(50) ? 0 : 400);
        in.rates.truck_per_h = Money::from_units(random.chance(20) ? 0 : 95);
        in.rates.billing_step = Duration::from_minutes(random.chance(50) ? 1 : 15);
        if (random.chance(50))
            in.low_bed_base = NamedPoint{"base", region.view().node_point(NodeId{random.below(30)})};
        if (random.chance(20)) {
            AlsoMoves header;
            header.name = "header";
            header.how = AlsoMoves::How::own_trip;
            in.also_moves.push_back(header);
        }
    }
    Region region;
    PlanInputs in;
};

struct Question {
    MixedQuestion q;
    std::vector<LoadingPlace> places;
};

Question random_question(const VehicleRoads& driven, const Hauling& hauling, TestRandom& random) {
    Question out;
    for (std::uint32_t n = random.below(7); n > 0; --n) {
        LoadingPlace p;
        p.at = test::random_point(driven, random);
        out.places.push_back(p);
    }
    out.q.from = test::random_point(driven, random);
    out.q.to = test::random_point(driven, random);
    if (random.chance(50))
        out.q.haul_from = test::random_point(hauling.loaded(), random);
    if (random.chance(50))
        out.q.haul_to = test::random_point(hauling.loaded(), random);
    out.q.places = out.places;
    return out;
}

// All pairs, from the rules alone.
class Definition {
public:
    Definition(const Setting& setting, const VehicleRoads& driven, const Hauling& hauling, const Question& q)
        : m_setting(setting), m_driven(driven), m_hauling(hauling), m_q(q.q) {
        const RoadGraph& graph = setting.graph();
        m_cost = setting.cost_weights(driven);
        m_drive = through_weights(driven, m_cost);
        m_haul = through_weights(hauling.loaded(), hauling.loaded_weights());
        m_to = relaxed(graph, m_drive, nodes_from(driven, m_q.from, m_cost), false);
        m_from = relaxed(graph, m_drive, nodes_to(driven, m_q.to, m_cost), true);
        if (hauling.base()) {
            const auto empty = hauling.empty_weights();
            const Weights arcs = through_weights(hauling.empty(), empty);
            m_out = relaxed(graph, arcs, nodes_from(hauling.empty(), *hauling.base(), empty), false);
            m_back = relaxed(graph, arcs, nodes_to(hauling.empty(), *hauling.base(), empty), true);
        } else {
            m_out = m_back = Weights(graph.node_count(), 0);
        }
    }

    // Cost by pair of places (0: the end itself); the bill as it is sent, or without minimum and steps.
    std::map<std::pair<std::size_t, std::size_t>, double> pairs(bool plain) {
        m_plain = plain;
        m_found.clear();
        if (m_q.haul_from)
            load(0, *m_q.haul_from, 0);
        for (std::size_t p = 0; p < m_q.places.size(); ++p) {
            const RoadPoint& at = m_q.places[p].at;
            load(p + 1, at, std::min(nearest(m_to, nodes_to(m_driven, at, m_cost)), one_road(m_q.from, at)));
        }
        return m_found;
    }

private:
    static RouteWeight nearest(const Weights& weights, const std::vector<WeightedNode>& nodes) {
        RouteWeight best = infinite_weight;
        for (const WeightedNode& n : nodes)
            best = std::min(best, add_weights(weights[n.node.index()], n.weight));
        return best;
    }
    RouteWeight empty_out(const RoadPoint& at) const {
        return m_hauling.base() ? nearest(m_out, nodes_to(m_hauling.empty(), at, m_hauling.empty_weights()))
                                : 0;
    }
    RouteWeight empty_back(const RoadPoint& at) const {
        return m_hauling.base()
                   ? nearest(m_back, nodes_from(m_hauling.empty(), at, m_hauling.empty_weights()))
                   : 0;
    }
    RouteWeight one_road(const RoadPoint& a, const RoadPoint& b) const {
        const RoadGraph& graph = m_setting.graph();
        const ArcId arc = graph.arc_of(a.edge, b.offset_dm < a.offset_dm);
        if (a.edge != b.edge || !m_driven.open(arc))
            return infinite_weight;
        const auto [from, to] = std::minmax(a.offset_dm, b.offset_dm);
        return pack_weight(static_cast<std::uint32_t>(
                               weight_between(m_cost[arc.index()], graph.arc(arc).length_dm, from, to)),
                           to - from);
    }

    void load(std::size_t number, const RoadPoint& at, RouteWeight driven) {
        const RouteWeight out = empty_out(at);
        if (driven == infinite_weight || out == infinite_weight)
            return;
        const Weights hauled = relaxed(m_setting.graph(), m_haul,
                                       nodes_from(m_hauling.loaded(), at, m_hauling.loaded_weights()), false);
        const auto to = [&](const RoadPoint& there) {
            return nearest(hauled, nodes_to(m_hauling.loaded(), there, m_hauling.loaded_weights()));
        };
        for (std::size_t p = 0; p < m_q.places.size(); ++p) {
            const RoadPoint& there = m_q.places[p].at;
            pair(number, p + 1, driven, out, to(there), empty_back(there),
                 std::min(nearest(m_from, nodes_from(m_driven, there, m_cost)), one_road(there, m_q.to)));
        }
        if (number != 0 && m_q.haul_to)
            pair(number, 0, driven, out, to(*m_q.haul_to), empty_back(*m_q.haul_to), 0);
    }

    void pair(std::size_t from, std::size_t to, RouteWeight before, RouteWeight out, RouteWeight hauled,
              RouteWeight back, RouteWeight after) {
        if (from == to || hauled == infinite_weight || back == infinite_weight || after == infinite_weight)
            return;
        const HaulFigures f = runs(out, hauled, back);
        const double bill = (m_plain ? m_hauling.plain_cost(f) : m_hauling.cost(f).total()).units();
        DriveFigures ready;
        ready.lubrications = 0;
        ready.shuttle = false;
        double cost = bill + drive_cost(ready, m_setting.in().rates).total().units() +
                      static_cast<double>(primary_of(before) + primary_of(after)) / 1e4;
        if (from != 0 && to != 0)
            cost += drive_cost(second_preparation(m_setting), m_setting.in().rates).total().units();
        const auto [at, is_new] = m_found.try_emplace({from, to}, cost);
        at->second = std::min(at->second, cost);
    }

    HaulFigures runs(RouteWeight out, RouteWeight hauled, RouteWeight back) const {
        HaulFigures f = m_hauling.assumed_runs();
        const auto set = [](RouteWeight w, RunPrices p, Length& length, Duration& time) {
            length = Length::from_metres(static_cast<double>(length_of(w)) / 10);
            const double paid = static_cast<double>(primary_of(w)) / 1e4 - p.per_km.units() * length.km();
            time = Duration::from_hours(std::max(0.0, paid / p.per_h.units()));
        };
        set(hauled, m_hauling.loaded_prices(), f.loaded, f.loaded_time);
        if (m_hauling.base()) {
            set(out, m_hauling.empty_prices(), f.to_pickup, f.to_pickup_time);
            set(back, m_hauling.empty_prices(), f.back, f.back_time);
        }
        return f;
    }

    const Setting& m_setting;
    const VehicleRoads& m_driven;
    const Hauling& m_hauling;
    const MixedQuestion& m_q;
    std::vector<std::uint32_t> m_cost;
    Weights m_drive, m_haul, m_to, m_from, m_out, m_back;
    bool m_plain = false;
    std::map<std::pair<std::size_t, std::size_t>, double> m_found;
};

TEST(MixedSearch, EqualsEveryPairOfFiveHundredQuestions) {
    int asked = 0, none = 0, capped = 0, at_places = 0, at_an_end = 0, minimum_decides = 0;
    for (std::uint64_t seed = 1; seed <= 25; ++seed) {
        const World world(seed);
        const Setting setting(world.in);
        const VehicleRoads driven(setting.graph(), world.in.machine.vehicle(setting.state()),
                                  setting.moment(world.in.depart));
        const Hauling hauling(setting);
        const std::vector<std::uint32_t> weights = setting.cost_weights(driven);
        MixedSearch search(setting, driven, weights, hauling);
        TestRandom random(seed * 31);
        for (int i = 0; i < 20; ++i) {
            SCOPED_TRACE(testing::Message() << "seed " << seed << " question " << i);
            Question question = random_question(driven, hauling, random);
            Definition definition(setting, driven, hauling, question);
            auto expected = definition.pairs(false);
            // Every third has a cap that about half of its pairs keep below.
            if (i % 3 == 2 && expected.size() > 1) {
                std::vector<double> costs;
                for (const auto& [pair, cost] : expected)
                    costs.push_back(cost);
                std::nth_element(costs.begin(), costs.begin() + static_cast<std::ptrdiff_t>(costs.size() / 2),
                                 costs.end());
                question.q.cap = costs[costs.size() / 2] + 1e-6;
                std::erase_if(expected, [&](const auto& e) { return e.second >= question.q.cap; });
                ++capped;
            }
            const MixedAnswer answer = search.find(question.q);
            ASSERT_EQ(answer.pairs.size(), expected.size());
            double last = 0;
            for (const MixedPair& p : answer.pairs) {
                const auto found = expected.find({p.load ? *p.load + 1 : 0, p.unload ? *p.unload + 1 : 0});
                ASSERT_NE(found, expected.end());
                EXPECT_NEAR(p.cost, found->second, 1e-9);
                EXPECT_GE(p.cost, last);
                last = p.cost;
            }
            ++asked;
            if (expected.empty()) {
                ++none;
                EXPECT_EQ(answer.others, std::numeric_limits<double>::infinity());
                continue;
            }
            // The bound is the least plain price: that of the composition in three layers.
            double plain = std::numeric_limits<double>::infinity();
            for (const auto& [pair, cost] : definition.pairs(true))
                plain = std::min(plain, cost);
            EXPECT_LE(answer.bound, plain + 5e-3);
            EXPECT_LE(answer.bound, answer.pairs.front().cost + 5e-3);
            const MixedPair& best = answer.pairs.front();
            ++(best.load && best.unload ? at_places : at_an_end);
            minimum_decides += best.cost > plain + 50 ? 1 : 0;
        }
    }
    EXPECT_EQ(asked, 500);
    EXPECT_GT(capped, 80);
    EXPECT_GT(none, 20);
    EXPECT_GT(at_places, 60);
    EXPECT_GT(at_an_end, 60);
    EXPECT_GT(minimum_decides, 20);
}

// With the low-bed at its plain price, no minimum and no steps, the cheapest pair is the composition's answer
// over three layers of the map, to the last digit the weights have.
TEST(MixedSearch, PlainPricesAreThoseOfThreeLayers) {
    int compared = 0;
    for (std::uint64_t seed = 101; seed <= 130; ++seed) {
        World world(seed);
        world.in.rates.truck_minimum = Money();
        world.in.low_bed_base.reset();
        const Setting setting(world.in);
        const VehicleRoads driven(setting.graph(), world.in.machine.vehicle(setting.state()),
                                  setting.moment(world.in.depart));
        const Hauling hauling(setting);
        const std::vector<std::uint32_t> weights = setting.cost_weights(driven);
        MixedSearch search(setting, driven, weights, hauling);
        TestRandom random(seed);
        for (int i = 0; i < 20; ++i) {
            Question question = random_question(driven, hauling, random);
            question.q.haul_from.reset();
            question.q.haul_to.reset();
            const auto cost = setting.cost_weights(driven);
            // The layers know nodes alone: places stand at them, on roads open both ways, and on none where
            // the move begins or ends.
            std::vector<TransferPlace> places;
            const RoadGraph& graph = setting.graph();
            std::erase_if(question.places, [&](const LoadingPlace& p) {
                for (const bool reversed : {false, true})
                    for (const VehicleRoads* roads : {&driven, &hauling.loaded()})
                        if (const ArcId a = graph.arc_of(p.at.edge, reversed);
                            !roads->open(a) || roads->ends_only(a))
                            return true;
                return p.at.edge == question.q.from.edge || p.at.edge == question.q.to.edge;
            });
            for (LoadingPlace& p : question.places) {
                const EdgeRecord& e = world.region.view().edges[p.at.edge.index()];
                const bool tail = random.chance(50);
                p.at.offset_dm = tail ? 0 : e.length_dm;
                places.push_back({NodeId{tail ? e.tail : e.head}, 0, 0});
            }
            question.q.places = question.places;
            CompositionQuestion layers;
            const auto from = nodes_from(driven, question.q.from, cost),
                       to = nodes_to(driven, question.q.to, cost);
            layers.from = from;
            layers.to = to;
            layers.places = places;
            layers.must_haul = true;
            const auto drive = through_weights(driven, cost),
                       haul = through_weights(hauling.loaded(), hauling.loaded_weights());
            const auto expected = find_composition_plainly(setting.graph(), layers, drive, haul);
            const MixedAnswer answer = search.find(question.q);
            ASSERT_EQ(answer.bound == std::numeric_limits<double>::infinity(), !expected)
                << "seed " << seed << " question " << i;
            if (!expected)
                continue;
            DriveFigures ready;
            ready.lubrications = 0;
            ready.shuttle = false;
            const double fixed = hauling.plain_cost(hauling.assumed_runs()).units() +
                                 drive_cost(ready, world.in.rates).total().units() +
                                 drive_cost(second_preparation(setting), world.in.rates).total().units();
            EXPECT_NEAR(answer.bound, fixed + static_cast<double>(primary_of(expected->total)) / 1e4, 2e-4)
                << "seed " << seed << " question " << i;
            ++compared;
        }
    }
    EXPECT_GT(compared, 200);
}

}  // namespace
}  // namespace loamway
