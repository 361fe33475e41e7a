// SPDX-License-Identifier: Apache-2.0
#include "setting.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "heat.h"
#include "loamway/base/sun.h"
#include "loamway/costs/costs.h"
#include "loamway/graph/snap.h"
#include "turns.h"

namespace loamway {

namespace {

// Without a heat model the tread is taken at the temperature where wear has no correction (assumption).
const Temperature neutral_tread = Temperature::from_celsius(50);
// Belts below this many hours keep to a lower paved speed (assumption).
constexpr double young_belt_hours = 50;
const Speed young_belt_speed = Speed::from_kmh(25);

// What a loaded low-bed averages on a class of road where nothing lower is posted (assumption).
struct ClassSpeed {
    std::string_view highway;
    double kmh;
};
constexpr std::array<ClassSpeed, 15> truck_class_speeds{{{"motorway", 80},
                                                         {"motorway_link", 45},
                                                         {"trunk", 70},
                                                         {"trunk_link", 40},
                                                         {"primary", 60},
                                                         {"primary_link", 35},
                                                         {"secondary", 55},
                                                         {"secondary_link", 35},
                                                         {"tertiary", 45},
                                                         {"tertiary_link", 30},
                                                         {"unclassified", 35},
                                                         {"residential", 25},
                                                         {"living_street", 7},
                                                         {"service", 10},
                                                         {"track", 8}}};

std::uint32_t rounded_weight(double value) {
    return static_cast<std::uint32_t>(std::llround(std::clamp(value, 0.0, 4.0e9)));
}

// The sun stands alike at both ends of a move; its middle speaks for it.
GeoPoint middle(GeoPoint from, GeoPoint to) {
    return interpolate(from, to, 0.5);
}

}  // namespace

Setting::Setting(const PlanInputs& inputs)
    : m_in(inputs),
      m_graph(inputs.view()),
      m_state(&m_in.machine.state(m_in.state)),
      m_zone(inputs.region->meta().time_zone),
      m_weather(inputs.conditions, middle(inputs.from.point, inputs.to.point)) {
    // The first working state is the one the belts' wear figures stand for.
    const double base = m_in.machine.states.front().heaviest_track_axle().kg();
    m_load_ratio = base > 0 ? m_state->heaviest_track_axle().kg() / base : 1.0;
    m_interval_dm =
        static_cast<std::uint64_t>(std::llround(relube_interval(m_in, *m_state, m_weather).metres() * 10));
    LocalTime day = m_zone.local(m_in.depart);
    const auto times = sun_times(m_in.from.point, day.day_of_year);
    if (const SunTimes* t = std::get_if<SunTimes>(&times)) {
        const std::int64_t offset = day.utc_offset_minutes * 60;
        const std::int64_t midnight_utc = (m_in.depart.unix_seconds + offset) / 86400 * 86400;
        // Rise and set belong to the local calendar day; near the date line they may fall outside it in UTC.
        const auto place = [&](double minutes) {
            std::int64_t at = midnight_utc + std::llround(minutes * 60);
            const std::int64_t local = at + offset - midnight_utc;
            if (local < 0)
                at += 86400;
            else if (local >= 86400)
                at -= 86400;
            return Instant{at};
        };
        m_sunrise = place(t->rise_utc_min);
        m_sunset = place(t->set_utc_min);
    }
    m_turns = std::make_unique<Turns>(*this);
}

Setting::~Setting() = default;

Moment Setting::moment(Instant at) const {
    Moment m;
    m.time = m_zone.local(at);
    if (m_sunrise && m_sunset) {
        const std::int64_t day = 86400;
        const auto of_day = [&](Instant t) { return ((t.unix_seconds % day) + day) % day; };
        const std::int64_t rise = of_day(*m_sunrise), set = of_day(*m_sunset), now = of_day(at);
        m.daylight = rise <= set ? (now >= rise && now < set) : (now >= rise || now < set);
    }
    m.wet = m_in.conditions.ground_assumed ? std::optional<bool>()
                                           : std::optional(m_in.conditions.ground == Ground::wet);
    return m;
}

int Setting::escorts() const {
    const bool wide = m_state->width >= m_in.recipe.escort_from_width;
    return std::max(m_in.rates.escorts, wide ? 1 : 0);
}

Speed Setting::cap_on(SurfaceClass c) const {
    Speed v = std::min(m_in.machine.speed_on(c), m_in.machine.top);
    const bool young = m_in.belts.hours && *m_in.belts.hours < young_belt_hours;
    if (c == SurfaceClass::hard && (young || m_in.belts.condition == BeltsNow::Condition::not_run_in))
        v = std::min(v, young_belt_speed);
    return v;
}

Speed Setting::machine_speed(const VehicleRoads& roads, ArcId a) const {
    Speed v = cap_on(surface(a));
    if (const auto& posted = roads.reading(a).posted)
        v = std::min(v, *posted);
    return std::max(v, Speed::from_kmh(3));
}

Speed Setting::truck_speed(const VehicleRoads& roads, ArcId a, Speed top) const {
    const RoadReading& reading = roads.reading(a);
    double kmh = 20;
    for (const ClassSpeed& c : truck_class_speeds)
        if (reading.highway == c.highway)
            kmh = c.kmh;
    Speed v = std::min(Speed::from_kmh(kmh), top);
    if (reading.posted)
        v = std::min(v, *reading.posted);
    return std::max(v, Speed::from_kmh(3));
}

SurfaceClass Setting::surface(ArcId a, AssumedAs how) const {
    const SurfaceOdds odds = m_graph.edge(a).odds;
    if (how == AssumedAs::likeliest || known(a))
        return odds.likeliest();
    if (how == AssumedAs::hard)
        return SurfaceClass::hard;
    return odds.earth > 0 ? SurfaceClass::earth : odds.gravel > 0 ? SurfaceClass::gravel : SurfaceClass::hard;
}

Money Setting::belt_set_value() const {
    return m_in.rates.belt_set + m_in.rates.belt_fitting - m_in.rates.belt_residual;
}

std::vector<std::uint32_t> Setting::length_weights() const {
    std::vector<std::uint32_t> w(m_graph.arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = m_graph.arc(ArcId{a}).length_dm;
    return w;
}

std::vector<std::uint32_t> Setting::hard_weights() const {
    std::vector<std::uint32_t> w(m_graph.arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = m_graph.arc(ArcId{a}).length_dm * m_graph.edge(ArcId{a}).odds.hard;
    return w;
}

std::vector<std::uint32_t> Setting::time_weights(const VehicleRoads& roads) const {
    std::vector<std::uint32_t> w(m_graph.arc_count(), 0);
    for (std::size_t i = 0; i < w.size(); ++i)
        if (const ArcId a{i}; roads.open(a))
            w[i] = rounded_weight(m_graph.arc(a).length_dm * 100.0 / machine_speed(roads, a).mps());
    return w;
}

Money Setting::driving_cost_per_hour() const {
    const Rates& r = m_in.rates;
    const double litres = fuel_per_hour(m_in.machine.engine, r.load_fraction, r.speed_reduction_pct).litres();
    return Money::from_units(r.wage_per_h.units() * r.labour_factor +
                             litres * r.fuel_per_l.units() * (1 + r.oil_share) + r.ownership_per_h().units() +
                             r.repair_per_h.units() + r.delay_per_h.units() + escorts() * r.escort_per_h.units());
}

Money Setting::driving_cost(Length length, Speed v, SurfaceClass surface) const {
    const Rates& r = m_in.rates;
    const double cars = escorts();
    const double per_hour = driving_cost_per_hour().units();
    const double car_h = 1.0 / r.car_speed.kmh();
    const double per_km =
        cars * (2 * r.escort_per_km.units() + r.escort_per_h.units() * car_h) +
        (r.shuttle ? 2 * car_h * r.shuttle_per_h.units() + 2 * r.shuttle_per_km.units() : 0.0);
    const double share =
        wear_share(wear_mm(surface, length, v, m_load_ratio, neutral_tread), m_in.machine.belts);
    return Money::from_units(per_hour * (length / v).hours() + per_km * length.km() +
                             share * belt_set_value().units());
}

std::vector<std::uint32_t> Setting::cost_weights(const VehicleRoads& roads) const {
    std::vector<std::uint32_t> w(m_graph.arc_count(), 0);
    for (std::size_t i = 0; i < w.size(); ++i)
        if (const ArcId a{i}; roads.open(a))
            w[i] = rounded_weight(driving_cost(Length::from_decimetres(m_graph.arc(a).length_dm),
                                               machine_speed(roads, a), surface(a))
                                      .units() *
                                  1e4);
    return w;
}

std::vector<std::uint32_t> Setting::truck_time_weights(const VehicleRoads& roads, Speed top) const {
    std::vector<std::uint32_t> w(m_graph.arc_count(), 0);
    for (std::size_t i = 0; i < w.size(); ++i)
        if (const ArcId a{i}; roads.open(a))
            w[i] = rounded_weight(m_graph.arc(a).length_dm * 100.0 / truck_speed(roads, a, top).mps());
    return w;
}

GeoPoint Setting::point_on(ArcId a, std::uint32_t along_dm) const {
    const ArcRecord& r = m_graph.arc(a);
    return point_on_edge(m_graph, EdgeId{r.edge}, r.reversed != 0 ? r.length_dm - along_dm : along_dm);
}

std::string Setting::road_name(ArcId a) const {
    return std::string(region().string(m_graph.edge(a).name));
}

}  // namespace loamway
