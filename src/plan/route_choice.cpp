// SPDX-License-Identifier: Apache-2.0
#include "route_choice.h"

#include <algorithm>
#include <cmath>

#include "loamway/costs/costs.h"
#include "loamway/search/fast_route.h"
#include "path.h"
#include "turns.h"

namespace loamway {

namespace {

struct Aim {
    std::string id;
    std::vector<std::uint32_t> weights;
    std::vector<std::uint32_t> prices;  // of each offer, in the unit of the weights
    std::uint64_t cap_dm = no_cap;
    TurnPrices turns = {};
};

class RouteChooser {
public:
    RouteChooser(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                 const RoadPoint& from, const RoadPoint& to)
        : m_setting(setting), m_roads(roads), m_places(places), m_from(from), m_to(to), m_finder(roads) {}

    ChosenRoutes choose(const std::vector<std::uint32_t>& cost_weights) {
        const auto shortest = m_finder.find(m_from, m_to, m_setting.length_weights());
        if (!shortest)
            return {};
        m_shortest = Length::from_decimetres(static_cast<std::int64_t>(shortest->length_dm));
        const auto cap = static_cast<std::uint64_t>(
            std::floor(static_cast<double>(shortest->length_dm) * (1.0 + m_setting.in().detour_cap)));
        ChosenRoutes out;
        out.cap_dm = cap;
        std::vector<RoutePlan>& found = out.routes;
        add(found, {"least-hard", m_setting.hard_weights(), hard_prices(), cap, {}});
        add(found, {"least-cost", cost_weights, cost_prices(), no_cap, m_setting.turns().cost_prices()});
        add(found, {"least-time", m_setting.time_weights(m_roads), time_prices(), no_cap,
                    m_setting.turns().time_prices()});
        return out;
    }

private:
    template <class Price>
    [[nodiscard]] std::vector<std::uint32_t> prices(Price&& price) const {
        const StopOffers& offers = m_places.offers();
        std::vector<std::uint32_t> out(offers.beside.size(), price(nullptr));
        for (const MouthOffer& m : offers.mouths)
            out.push_back(price(&m));
        return out;
    }
    [[nodiscard]] Duration waiting(const MouthOffer* m) const {
        const Rates& r = m_setting.in().rates;
        return r.stop_time(m_setting.in().machine.belts.count) + (m != nullptr ? r.turn_out : Duration());
    }
    [[nodiscard]] Stretch into_and_out(const MouthOffer& m) const {
        const Speed v = spur_speed(m_setting, m_roads, m.spur);
        const Length depth = Length::from_decimetres(m.depth_dm);
        Stretch both = m_setting.drive(m.spur, depth, v);
        const Stretch out = m_setting.drive(m_setting.graph().twin(m.spur), depth, v);
        both.length += out.length;
        both.takes += out.takes;
        both.fuel += out.fuel;
        both.fuel_upper += out.fuel_upper;
        return both;
    }

    // One unit a stop, 1/2000 m of paved road: among equal ways the one with fewer stops.
    [[nodiscard]] std::vector<std::uint32_t> hard_prices() const {
        return prices([&](const MouthOffer* m) {
            return 1u + (m == nullptr ? 0u : 2 * m->depth_dm * m_setting.graph().edge(m->spur).odds.hard);
        });
    }
    [[nodiscard]] std::vector<std::uint32_t> time_prices() const {
        return prices([&](const MouthOffer* m) {
            const Duration spur = m == nullptr ? Duration() : into_and_out(*m).takes;
            return static_cast<std::uint32_t>(std::llround((waiting(m) + spur).seconds() * 1000));
        });
    }
    // As drive_cost adds a stop up: the driver's time, idling, powder, and the way in and out.
    [[nodiscard]] std::vector<std::uint32_t> cost_prices() const {
        const Rates& r = m_setting.in().rates;
        const double waiting_per_h = r.wage_per_h.units() * r.labour_factor + r.delay_per_h.units() +
                                     m_setting.escorts() * r.escort_per_h.units() +
                                     r.idle_per_h.litres() * r.fuel_per_l.units() * (1 + r.oil_share);
        return prices([&](const MouthOffer* m) {
            double cost = waiting(m).hours() * waiting_per_h + r.lubricant_per_stop.units();
            if (m != nullptr)
                cost += m_setting.driving_cost(into_and_out(*m)).units();
            return static_cast<std::uint32_t>(std::llround(cost * 1e4));
        });
    }

    void add(std::vector<RoutePlan>& found, const Aim& aim) {
        auto plan = plan_for(aim);
        if (!plan)
            return;
        for (RoutePlan& f : found)
            if (same(f, *plan)) {
                f.also.push_back(aim.id);
                return;
            }
        found.push_back(std::move(*plan));
    }

    [[nodiscard]] static bool same(const RoutePlan& a, const RoutePlan& b) {
        const auto& x = a.stops.stops;
        const auto& y = b.stops.stops;
        return a.route.pieces == b.route.pieces &&
               std::equal(x.begin(), x.end(), y.begin(), y.end(),
                          [](const ChosenStop& s, const ChosenStop& t) {
                              return s.offer == t.offer && s.route_dm == t.route_dm && s.kind == t.kind;
                          });
    }

    [[nodiscard]] StopSearchQuestion question(const Aim& aim) const {
        StopSearchQuestion q;
        q.from = m_from;
        q.to = m_to;
        q.primary = aim.weights;
        q.prices = aim.prices;
        q.turns = aim.turns;
        q.interval_dm = m_setting.interval_dm();
        q.since_dm = since_at_start_dm(m_setting.in());
        q.cap_dm = aim.cap_dm;
        return q;
    }
    [[nodiscard]] static std::vector<PlacedStop> lubrications(const StopPlan& plan) {
        std::vector<PlacedStop> out;
        for (const ChosenStop& s : plan.stops)
            if (s.kind == "relube")
                out.push_back({s.offer, s.route_dm, s.piece});
        return out;
    }
    [[nodiscard]] std::uint64_t weight_of(const RoutePlan& plan, const StopSearchQuestion& q) const {
        return weight_with_stops(m_roads.graph(), m_places.offers(), q, plan.route.pieces,
                                 lubrications(plan.stops));
    }
    [[nodiscard]] static bool stands(const StopPlan& stops) { return stops.answer_needed.empty(); }

    std::optional<RoutePlan> plan_for(const Aim& aim) {
        const auto route = m_finder.find(m_from, m_to, aim.weights, aim.cap_dm, aim.turns);
        if (!route)
            return std::nullopt;
        RoutePlan plan;
        plan.id = aim.id;
        plan.route = *route;
        plan.stops = plan_stops(m_setting, m_places, *route);
        // Without a stop nothing can be better: the route alone is best already.
        if (stands(plan.stops) && lubrications(plan.stops).empty())
            return plan;
        StopSearchQuestion q = question(aim);
        if (stands(plan.stops))
            q.known_primary = weight_of(plan, q);
        const StopSearchResult result = q.known_primary == StopSearchQuestion().known_primary
                                            ? find_step_by_step(q, *route)
                                            : find_with_stops(q);
        if (!result.exact) {
            plan.exact = false;
            if (aim.id == "least-hard" && stands(plan.stops))
                plan.gap_m =
                    static_cast<double>(q.known_primary - result.lower_bound) / (10.0 * probability_steps);
            return plan;
        }
        if (result.found)
            take(*result.found, q, plan);
        return plan;
    }

    // Where no route with stops is known yet, most are little worse than the route alone: looking for those
    // first keeps the search near it. What is found so is best all the same.
    [[nodiscard]] StopSearchResult find_step_by_step(StopSearchQuestion& q, const Route& alone) {
        const std::uint64_t no_limit = q.known_primary;
        const std::uint64_t stops = alone.length_dm / q.interval_dm + 2;
        const std::uint64_t dearest =
            q.prices.empty() ? 0 : *std::max_element(q.prices.begin(), q.prices.end());
        for (const std::uint64_t quarters : {5, 8, 16}) {
            q.known_primary = std::min(alone.primary * quarters / 4 + stops * dearest, no_limit);
            StopSearchResult result = find_with_stops(q);
            if (result.found || !result.exact)
                return result;
        }
        q.known_primary = no_limit;
        return find_with_stops(q);
    }

    // The stop search sweeps the map backwards for its bounds unless it can look them up. What a sweep costs
    // grows with the square of the way, what weighing the hierarchy costs with the map.
    [[nodiscard]] bool looking_up_pays() const {
        constexpr double even_nodes_per_km2 = 70;  // where both took as long, measured on prairie grids
        const RegionView& region = m_setting.region();
        return Hierarchy::stored_in(region) && m_shortest.km() * m_shortest.km() * even_nodes_per_km2 >
                                                   static_cast<double>(region.node_count());
    }
    [[nodiscard]] StopSearchResult find_with_stops(StopSearchQuestion& q) {
        if (!looking_up_pays())
            return find_route_with_stops(m_roads, m_places.offers(), q);
        if (!m_hierarchy) {
            m_hierarchy.emplace(m_setting.region());
            m_by_length.emplace(*m_hierarchy, through_weights(m_roads, m_setting.length_weights()));
        }
        const HierarchyMetric metric(*m_hierarchy, through_weights(m_roads, q.primary));
        q.metric = &metric;
        q.length_metric = &*m_by_length;
        return find_route_with_stops(m_roads, m_places.offers(), q);
    }

    // On the best route the places that people like best are used where they cost no more. Where the machine
    // turns round at a place it has to stop there.
    void take(const RouteWithStops& found, const StopSearchQuestion& q, RoutePlan& plan) const {
        plan.route = found.route;
        const bool turns =
            std::any_of(found.stops.begin(), found.stops.end(), [](const PlacedStop& s) { return s.turns; });
        if (!turns)
            plan.stops = plan_stops(m_setting, m_places, found.route);
        if (turns || !stands(plan.stops) || weight_of(plan, q) > found.total_primary)
            plan.stops = plan_found_stops(m_setting, m_places, found);
    }

    const Setting& m_setting;
    const VehicleRoads& m_roads;
    const StopPlaces& m_places;
    RoadPoint m_from, m_to;
    RouteFinder m_finder;
    Length m_shortest;
    std::optional<Hierarchy> m_hierarchy;  // made when it is first wanted
    std::optional<HierarchyMetric> m_by_length;
};

}  // namespace

ChosenRoutes choose_routes(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                           const std::vector<std::uint32_t>& cost_weights, const RoadPoint& from,
                           const RoadPoint& to) {
    return RouteChooser(setting, roads, places, from, to).choose(cost_weights);
}

}  // namespace loamway
