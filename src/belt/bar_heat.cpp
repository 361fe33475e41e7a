// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/bar_heat.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "lag.h"
#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr double crank_nicolson = 0.5;
constexpr double backward_euler = 1.0;

}  // namespace

BarHeat::BarHeat(const BeltLoad& belt, const RubberData& rubber, Temperature start, BarSolver solver)
    : m_rubber(rubber),
      m_solver(solver),
      m_height(belt.bar_height.metres()),
      m_thickness(belt.bar_thickness.metres()),
      m_lag_time(lag_time_s(rubber, belt.bar_thickness.metres())) {
    if (solver.cells < 2 || !(solver.longest_step.seconds() > 0.0))
        throw Error(ErrorKind::internal, "a bar heat solver without cells or steps");
    const auto n = static_cast<std::size_t>(solver.cells);
    m_cells.assign(n, start.celsius());
    m_own.resize(n);
    m_source.resize(n);
    m_right.resize(n);
    m_sweep.resize(n);
}

void BarHeat::prepare(const HeatRegime& r) {
    const std::size_t n = m_cells.size();
    const double dx = m_height / static_cast<double>(n);
    const double k = m_rubber.k;
    const double to_flank = 2.0 * r.u_f / m_thickness;
    // The source falls as the rubber warms: that part acts like a sink.
    const double sink = (to_flank + m_rubber.beta * r.q0) * dx;
    const double source = (r.q0 * (1.0 + m_rubber.beta * m_rubber.reference_c) + to_flank * r.t_f) * dx;
    m_capacity = m_rubber.rho * m_rubber.c * dx;
    m_between = k / dx;
    for (std::size_t i = 0; i < n; ++i) {
        const bool at_face = i == 0 || i + 1 == n;
        m_own[i] = sink + (at_face ? 1.0 : 2.0) * m_between;
        m_source[i] = source;
    }
    const double root = 1.0 / (1.0 / r.u_c + dx / (2.0 * k));
    m_own.front() += root;
    m_source.front() += root * r.t_c;
    const double tip = 1.0 / (1.0 / r.h_o + dx / (2.0 * k));
    m_own.back() += tip;
    m_source.back() += tip * (r.t_o + r.q_tip / r.h_o);
    m_regime = r;
}

void BarHeat::run(const HeatRegime& regime, Duration time, const AfterStep& after_step) {
    const double seconds = time.seconds();
    if (!(seconds > 0.0))
        return;
    const bool changed = !m_started || !(regime == m_regime);
    if (changed)
        prepare(regime);
    m_started = true;
    // A hair less than one: a whole number of steps must not become one more by rounding.
    const double steps = std::max(1.0, std::ceil(seconds / m_solver.longest_step.seconds() - 1e-9));
    const double each = seconds / steps;
    const auto go = [&](double dt, double implicit) {
        step(dt, implicit);
        if (after_step)
            after_step(Duration::from_seconds(dt));
    };
    const double scheme = m_solver.backward_euler ? backward_euler : crank_nicolson;
    const auto count = static_cast<long>(steps);
    for (long i = 0; i < count; ++i) {
        if (i == 0 && changed && !m_solver.backward_euler) {
            go(each / 2.0, backward_euler);
            go(each / 2.0, backward_euler);
        } else {
            go(each, scheme);
        }
    }
}

void BarHeat::step(double seconds, double implicit) {
    const double per_kelvin = lag_per_kelvin(m_regime, m_rubber, m_thickness);
    const double before = per_kelvin * (hottest_c() - m_regime.t_f);
    solve(seconds, implicit);
    const double after = per_kelvin * (hottest_c() - m_regime.t_f);
    m_lag = follow(m_lag, before, after, m_lag_time / seconds, std::exp(-seconds / m_lag_time));
}

void BarHeat::solve(double seconds, double implicit) {
    const std::size_t n = m_cells.size();
    const double later = implicit * seconds, now = (1.0 - implicit) * seconds;
    for (std::size_t i = 0; i < n; ++i) {
        double gain = -m_own[i] * m_cells[i];
        if (i > 0)
            gain += m_between * m_cells[i - 1];
        if (i + 1 < n)
            gain += m_between * m_cells[i + 1];
        m_right[i] = m_capacity * m_cells[i] + now * gain + seconds * m_source[i];
    }
    // Thomas' elimination; the matrix is diagonally dominant, so no pivot is needed.
    const double beside = -later * m_between;
    double pivot = m_capacity + later * m_own[0];
    m_sweep[0] = beside / pivot;
    m_right[0] /= pivot;
    for (std::size_t i = 1; i < n; ++i) {
        pivot = m_capacity + later * m_own[i] - beside * m_sweep[i - 1];
        m_sweep[i] = beside / pivot;
        m_right[i] = (m_right[i] - beside * m_right[i - 1]) / pivot;
    }
    m_cells[n - 1] = m_right[n - 1];
    for (std::size_t i = n - 1; i-- > 0;)
        m_cells[i] = m_right[i] - m_sweep[i] * m_cells[i + 1];
}

double BarHeat::hottest_c() const {
    return *std::max_element(m_cells.begin(), m_cells.end());
}

Temperature BarHeat::hottest() const {
    return Temperature::from_celsius(hottest_c());
}

Temperature BarHeat::core() const {
    return Temperature::from_celsius(hottest_c() + m_lag);
}

Temperature BarHeat::mean() const {
    return Temperature::from_celsius(std::accumulate(m_cells.begin(), m_cells.end(), 0.0) /
                                     static_cast<double>(m_cells.size()));
}

Temperature BarHeat::tip() const {
    if (!m_started)
        return Temperature::from_celsius(m_cells.back());
    const double inward = 2.0 * m_rubber.k * static_cast<double>(m_cells.size()) / m_height;
    return Temperature::from_celsius(
        (inward * m_cells.back() + m_regime.h_o * m_regime.t_o + m_regime.q_tip) / (inward + m_regime.h_o));
}

Temperature BarHeat::flank() const {
    const double mean = m_cells[m_cells.size() / 2];
    if (!m_started)
        return Temperature::from_celsius(mean);
    return Temperature::from_celsius(m_regime.t_f + (mean - m_regime.t_f) * m_regime.u_f / m_regime.h_f);
}

}  // namespace loamway
