// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_TURNS_H
#define LOAMWAY_PLAN_TURNS_H

// What turning at a junction does to a tracked machine: scrub of the bars and time lost. The searches and the
// printed sums take it from here, so that a route is chosen by what its turns will cost.

#include <array>

#include "loamway/base/surface.h"
#include "loamway/graph/arc_bearings.h"
#include "loamway/search/turn_prices.h"

namespace loamway {

class Setting;

struct TurnEffect {
    double wear_mm = 0;       // of the bars, on the surface that is left
    Duration lost;            // slowing down, turning, getting up to speed
    bool sharp_hard = false;  // a sharp turn on paved road
};

/// Thread-safe. Keeps a reference to the setting.
class Turns {
public:
    explicit Turns(const Setting& setting);

    /// Of going on from one arc to the next; onto its twin: of turning round.
    [[nodiscard]] TurnEffect at(ArcId in, ArcId out) const;

    [[nodiscard]] TurnPrices time_prices() const;  // ms
    [[nodiscard]] TurnPrices cost_prices() const;  // 1e-4 units; as drive_cost adds them up

private:
    const Setting& m_setting;
    std::array<double, 3> m_right_angle_mm;  // by surface class
};

}  // namespace loamway

#endif
