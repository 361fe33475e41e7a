// SPDX-License-Identifier: Apache-2.0
#include "setting.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "heat.h"
#include "loamway/base/sun.h"
#include "loamway/belt/break_in.h"
#include "loamway/costs/costs.h"
#include "loamway/graph/snap.h"
#include "turns.h"

namespace loamway {

namespace {

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
      m_roads(inputs.kept_roads && inputs.corrections == nullptr
                  ? inputs.kept_roads
                  : std::make_shared<KeptRoads>(inputs.view())),
      m_state(&m_in.machine.state(m_in.state)),
      m_zone(inputs.region->meta().time_zone),
      m_weather(inputs.conditions, middle(inputs.from.point, inputs.to.point)),
      m_motion(m_in.machine, *m_state, m_in.rates) {
    // The first working state is the one the belts' wear figures stand for.
    const double base = m_in.machine.states.front().heaviest_track_axle().kg();
    m_load_ratio = base > 0 ? m_state->heaviest_track_axle().kg() / base : 1.0;
    m_interval_dm =
        static_cast<std::uint64_t>(std::llround(relube_interval(m_in, *m_state, m_weather).metres() * 10));
    for (const SurfaceClass c : {SurfaceClass::hard, SurfaceClass::gravel, SurfaceClass::earth})
        m_tread[static_cast<std::size_t>(c)] = settled_tread(m_in, *m_state, m_weather, c, cap_on(c));
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
    if (const std::optional<Speed> young = young_paved_cap(m_in.belts); young && c == SurfaceClass::hard)
        v = std::min(v, *young);
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

void Setting::suppose(std::vector<EdgeId> edges, bool hard) {
    m_supposed = std::move(edges);
    m_supposed_hard = hard;
}

SurfaceClass Setting::surface(ArcId a, AssumedAs how) const {
    const SurfaceOdds odds = graph().edge(a).odds;
    if (known(a))
        return odds.likeliest();
    if (!m_supposed.empty() && std::binary_search(m_supposed.begin(), m_supposed.end(), graph().edge_of(a)))
        return m_supposed_hard ? SurfaceClass::hard
                               : (odds.gravel >= odds.earth ? SurfaceClass::gravel : SurfaceClass::earth);
    if (how == AssumedAs::likeliest)
        return odds.likeliest();
    if (how == AssumedAs::hard)
        return SurfaceClass::hard;
    return odds.earth > 0 ? SurfaceClass::earth : odds.gravel > 0 ? SurfaceClass::gravel : SurfaceClass::hard;
}

Money Setting::belt_set_value() const {
    return m_in.rates.belt_set + m_in.rates.belt_fitting - m_in.rates.belt_residual;
}

std::vector<std::uint32_t> Setting::length_weights() const {
    std::vector<std::uint32_t> w(graph().arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = graph().arc(ArcId{a}).length_dm;
    return w;
}

std::vector<std::uint32_t> Setting::hard_weights() const {
    std::vector<std::uint32_t> w(graph().arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = graph().arc(ArcId{a}).length_dm * graph().edge(ArcId{a}).odds.hard;
    return w;
}

Slope Setting::slope(ArcId a) const {
    if (!graph().has_heights())
        return {};
    return slope_of(graph().climb(a), Length::from_decimetres(graph().arc(a).length_dm));
}

Stretch Setting::drive(ArcId a, Length length, Speed allowed) const {
    return m_motion.drive(surface(a), length, slope(a), allowed);
}

Money Setting::driving_cost_per_hour() const {
    const Rates& r = m_in.rates;
    return r.wage_per_h * r.labour_factor + r.ownership_per_h() + r.repair_per_h + r.delay_per_h +
           r.escort_per_h * escorts();
}

Money Setting::fuel_cost(Volume used) const {
    return m_in.rates.fuel_per_l * (used.litres() * (1 + m_in.rates.oil_share));
}

Money Setting::driving_cost(const Stretch& s) const {
    const Rates& r = m_in.rates;
    const double cars = escorts();
    const double car_h = 1.0 / r.car_speed.kmh();
    const double per_km =
        cars * (2 * r.escort_per_km.units() + r.escort_per_h.units() * car_h) +
        (r.shuttle ? 2 * car_h * r.shuttle_per_h.units() + 2 * r.shuttle_per_km.units() : 0.0);
    const Temperature tread = m_tread[static_cast<std::size_t>(s.surface)];
    const double share = wear_share(
        wear_mm(s.surface, s.length, s.speed(), m_load_ratio, tread, m_in.wear.rates), m_in.machine.belts);
    return driving_cost_per_hour() * s.takes.hours() + fuel_cost(s.fuel) +
           Money::from_units(per_km * s.length.km()) + belt_set_value() * share;
}

// What each open arc weighs, driven from end to end; zero where it is closed. Where there are no hills a
// length weighs the same wherever surface and speed are the same.
template <class Weigh>
std::vector<std::uint32_t> Setting::drive_weights(const VehicleRoads& roads, const Weigh& weigh) const {
    const Length km = Length::from_km(1);
    std::map<std::pair<SurfaceClass, double>, double> level;  // of one km
    std::vector<std::uint32_t> w(graph().arc_count(), 0);
    for (std::size_t i = 0; i < w.size(); ++i) {
        const ArcId a{i};
        const Length length = Length::from_decimetres(graph().arc(a).length_dm);
        if (!roads.open(a) || !(length.metres() > 0))
            continue;
        const Speed allowed = machine_speed(roads, a);
        const Slope hills = slope(a);
        if (hills.grade > 0) {
            w[i] = rounded_weight(weigh(m_motion.drive(surface(a), length, hills, allowed)));
            continue;
        }
        const auto [known, is_new] = level.try_emplace({surface(a), allowed.mps()}, 0.0);
        if (is_new)
            known->second = weigh(m_motion.drive(surface(a), km, {}, allowed));
        w[i] = rounded_weight(known->second * length.km());
    }
    return w;
}

std::vector<std::uint32_t> Setting::time_weights(const VehicleRoads& roads) const {
    return drive_weights(roads, [](const Stretch& s) { return s.takes.seconds() * 1000; });
}

std::vector<std::uint32_t> Setting::cost_weights(const VehicleRoads& roads) const {
    return drive_weights(roads, [this](const Stretch& s) { return driving_cost(s).units() * 1e4; });
}

std::vector<std::uint32_t> Setting::truck_weights(const VehicleRoads& roads, Speed top, Money per_h,
                                                  Money per_km) const {
    std::vector<std::uint32_t> w(graph().arc_count(), 0);
    for (std::size_t i = 0; i < w.size(); ++i)
        if (const ArcId a{i}; roads.open(a)) {
            const Length length = Length::from_decimetres(graph().arc(a).length_dm);
            const Duration t = length / truck_speed(roads, a, top);
            w[i] = rounded_weight((per_h.units() * t.hours() + per_km.units() * length.km()) * 1e4);
        }
    return w;
}

GeoPoint Setting::point_on(ArcId a, std::uint32_t along_dm) const {
    const ArcRecord& r = graph().arc(a);
    return point_on_edge(graph(), EdgeId{r.edge}, r.reversed != 0 ? r.length_dm - along_dm : along_dm);
}

std::string Setting::road_name(ArcId a) const {
    const std::string_view name = region().string(graph().edge(a).name);
    // A number alone says nothing in a sentence: "turn left into 225".
    const bool number = !name.empty() && name.find_first_not_of("0123456789") == std::string_view::npos;
    return number ? fmt::format("road {}", name) : std::string(name);
}

}  // namespace loamway
