// SPDX-License-Identifier: Apache-2.0
#include "turns.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "loamway/base/error.h"
#include "setting.h"

namespace loamway {

namespace {

// Turns this sharp scrub the bars; gentler ones are driven in a curve (assumption).
constexpr double scrub_from_deg = 20;
constexpr double sharp_from_deg = 60;
// What a sharp turn takes longer than driving straight on: down to walking pace, round, up to speed again
// (assumptions). A machine that turns by driving its belts against each other does it slowest.
const Duration sharp_turn_differential = Duration::from_seconds(12);
const Duration sharp_turn_articulated = Duration::from_seconds(10);
const Duration sharp_turn_rear_wheel = Duration::from_seconds(8);

constexpr double half_turn_deg = 180;

Duration sharp_turn_time(Steering s) {
    switch (s) {
        case Steering::differential:
            return sharp_turn_differential;
        case Steering::articulated:
            return sharp_turn_articulated;
        case Steering::rear_wheel:
            return sharp_turn_rear_wheel;
    }
    throw Error(ErrorKind::internal, "a kind of steering without a time for turns");
}

// The bearing of the last (or first) stretch of about 20 m.
double bearing_near_end(const std::vector<GeoPoint>& points, bool at_start) {
    constexpr double reach_m = 20;
    const std::size_t n = points.size();
    const auto point = [&](std::size_t i) { return at_start ? points[i] : points[n - 1 - i]; };
    double metres = 0;
    GeoPoint far = point(0);
    for (std::size_t i = 1; i < n; ++i) {
        const double piece = distance(point(i - 1), point(i)).metres();
        if (metres + piece >= reach_m && piece > 0) {
            far = interpolate(point(i - 1), point(i), (reach_m - metres) / piece);
            break;
        }
        metres += piece;
        far = point(i);
    }
    return at_start ? bearing_deg(point(0), far) : bearing_deg(far, point(0));
}

}  // namespace

double turn_between(const RoadGraph& graph, ArcId in, ArcId out) {
    return turn_deg(bearing_near_end(graph.arc_points(in), false),
                    bearing_near_end(graph.arc_points(out), true));
}

Turns::Turns(const Setting& setting) : m_setting(setting), m_bearing(setting.graph().arc_count()) {
    for (const SurfaceClass c : {SurfaceClass::hard, SurfaceClass::gravel, SurfaceClass::earth})
        m_right_angle_mm[static_cast<std::size_t>(c)] =
            turn_wear_mm(c, setting.in().machine, setting.load_ratio(), setting.in().wear.rates);
    for (std::atomic<float>& b : m_bearing)
        b.store(std::numeric_limits<float>::quiet_NaN(), std::memory_order_relaxed);
}

// Two threads that ask at once work out the same.
float Turns::bearing_at_start(ArcId a) const {
    float b = m_bearing[a.index()].load(std::memory_order_relaxed);
    if (std::isnan(b)) {
        b = static_cast<float>(bearing_near_end(m_setting.graph().arc_points(a), true));
        m_bearing[a.index()].store(b, std::memory_order_relaxed);
    }
    return b;
}

TurnEffect Turns::at(ArcId in, ArcId out) const {
    const RoadGraph& graph = m_setting.graph();
    const SurfaceClass surface = m_setting.surface(in);
    const ArcId back = graph.twin(in);
    // An arc ends in the direction in which its twin does not begin.
    const double turn =
        out == back ? half_turn_deg
                    : std::abs(turn_deg(bearing_at_start(back) + half_turn_deg, bearing_at_start(out)));
    TurnEffect effect;
    if (turn > scrub_from_deg)
        effect.wear_mm = m_right_angle_mm[static_cast<std::size_t>(surface)] * turn / 90.0;
    if (out == back)
        effect.lost = m_setting.in().rates.turn_out;
    else if (turn > sharp_from_deg)
        effect.lost = sharp_turn_time(m_setting.in().machine.steering);
    effect.sharp_hard = turn > sharp_from_deg && surface == SurfaceClass::hard;
    return effect;
}

TurnPrices Turns::time_prices() const {
    return TurnPrices([this](ArcId in, ArcId out) {
        return static_cast<std::uint32_t>(std::llround(at(in, out).lost.seconds() * 1000));
    });
}

TurnPrices Turns::cost_prices() const {
    // The engine idles through a turn, as in the printed sums.
    const double per_h =
        (m_setting.driving_cost_per_hour() + m_setting.fuel_cost(m_setting.in().rates.idle_per_h)).units();
    const double per_share = m_setting.belt_set_value().units();
    return TurnPrices([this, per_h, per_share](ArcId in, ArcId out) {
        const TurnEffect e = at(in, out);
        const double cost =
            e.lost.hours() * per_h + wear_share(e.wear_mm, m_setting.in().machine.belts) * per_share;
        // A set worth less than what it fetches used would make turning pay; that is no reason to turn.
        return static_cast<std::uint32_t>(std::llround(std::clamp(cost * 1e4, 0.0, 4.0e9)));
    });
}

}  // namespace loamway
