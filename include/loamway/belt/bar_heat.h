// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_BAR_HEAT_H
#define LOAMWAY_BELT_BAR_HEAT_H

// The full solver of the tread-bar heat equation (see heat_model.h): cell-centred finite volumes, half-cell
// resistances at both faces, Crank-Nicolson, two half-size backward-Euler steps after every change of regime
// (they damp what Crank-Nicolson would let ring), one tridiagonal solve a step. The lag follows a target that
// moves linearly within a step, exactly. Stable for any step. 40 cells and 10 s stand within 0.22 K of 80
// cells and 5 s. With backward Euler throughout the scheme keeps order: a bar that starts hotter stays
// hotter. A value type: copy it to branch off. Not to be shared between threads while running.

#include <functional>
#include <span>
#include <vector>

#include "loamway/base/units.h"
#include "loamway/belt/heat_model.h"

namespace loamway {

struct BarSolver {
    int cells = 40;
    Duration longest_step = Duration::from_seconds(10);
    bool backward_euler = false;  // throughout
};

class BarHeat {
public:
    BarHeat(const BeltLoad& belt, const RubberData& rubber, Temperature start, BarSolver solver = {});

    /// Called after every step with the step's length; the bar then stands at the end of that step.
    using AfterStep = std::function<void(Duration)>;
    /// Keeps `regime` up for `time`, in equal steps. Going on in the same regime is no change.
    void run(const HeatRegime& regime, Duration time, const AfterStep& after_step = {});

    [[nodiscard]] Temperature core() const;     // hottest of the section: what limits are for
    [[nodiscard]] Temperature hottest() const;  // of the means over the thickness
    [[nodiscard]] Temperature mean() const;
    /// The surface of the tip.
    [[nodiscard]] Temperature tip() const;
    /// The surface of the flank half-way up: what an infrared thermometer should be pointed at. Taken at the
    /// cell just above the middle.
    [[nodiscard]] Temperature flank() const;
    [[nodiscard]] Temperature lag() const { return Temperature::from_celsius(m_lag); }
    [[nodiscard]] std::span<const double> cells_c() const { return m_cells; }  // root first

private:
    void prepare(const HeatRegime& regime);
    void step(double seconds, double implicit);
    void solve(double seconds, double implicit);
    [[nodiscard]] double hottest_c() const;

    RubberData m_rubber;
    BarSolver m_solver;
    double m_height, m_thickness, m_lag_time;
    HeatRegime m_regime;
    bool m_started = false;
    // The operator: heat gained by cell i = between (T[i-1] + T[i+1]) - own[i] T[i] + source[i], per kelvin
    // of `capacity`.
    double m_capacity = 0.0, m_between = 0.0;
    std::vector<double> m_own, m_source;
    std::vector<double> m_cells, m_right, m_sweep;
    double m_lag = 0.0;
};

}  // namespace loamway

#endif
