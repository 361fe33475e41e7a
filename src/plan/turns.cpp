// SPDX-License-Identifier: Apache-2.0
#include "turns.h"

#include <algorithm>
#include <cmath>

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

}  // namespace

Turns::Turns(const Setting& setting) : m_setting(setting) {
    for (const SurfaceClass c : {SurfaceClass::hard, SurfaceClass::gravel, SurfaceClass::earth})
        m_right_angle_mm[static_cast<std::size_t>(c)] =
            turn_wear_mm(c, setting.in().machine, setting.load_ratio(), setting.in().wear.rates);
}

TurnEffect Turns::at(ArcId in, ArcId out) const {
    const RoadGraph& graph = m_setting.graph();
    const SurfaceClass surface = m_setting.surface(in);
    const ArcId back = graph.twin(in);
    const ArcBearings& bearings = m_setting.bearings();
    // An arc ends in the direction in which its twin does not begin.
    const double turn =
        out == back ? half_turn_deg
                    : std::abs(turn_deg(bearings.at_start(back) + half_turn_deg, bearings.at_start(out)));
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
